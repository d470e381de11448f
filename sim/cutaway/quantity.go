package cutaway

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"coldbay/sim"
	"coldbay/sim/air"
	"coldbay/sim/car"
	"coldbay/sim/units"
)

// gasR is the gas constant of air, J/(kg K).
const gasR = 287.05

// reader gives a quantity's value in its SI unit. Some remember what they saw a sample before.
type reader func(w *sim.World) float64

// maker makes a fresh reader for one run.
type maker func() reader

// plain are the quantities that belong to the whole car, with what they are measured in.
var plain = map[string]struct {
	of   units.Quantity
	read reader
}{
	"run":           {units.Time, (*sim.World).RunS},
	"speed":         {units.AngularSpeed, func(w *sim.World) float64 { return w.Rpm() * math.Pi / 30 }},
	"air":           {units.MassFlow, (*sim.World).AirFlow},
	"engine_air":    {units.MassFlow, (*sim.World).EngineAir},
	"fuel":          {units.MassFlow, (*sim.World).FuelRate},
	"exhaust":       {units.MassFlow, func(w *sim.World) float64 { return sound(w.FlowOut("tailpipe")) }},
	"mixture":       {units.Ratio, (*sim.World).Lambda},
	"seen":          {units.Ratio, (*sim.World).SeenRatio},
	"conversion":    {units.Ratio, (*sim.World).Conversion},
	"coolant":       {units.Temperature, (*sim.World).CoolantK},
	"exhaust_skin":  {units.Temperature, (*sim.World).ExhaustPartK},
	"port_pressure": {units.Pressure, (*sim.World).PortPa},
	"pump_command":  {units.Ratio, func(w *sim.World) float64 { return bit(w.PumpCommand()) }},
	"valve_command": {units.Ratio, func(w *sim.World) float64 { return bit(w.ValveCommand()) }},
	"pipe_sensor":   {units.Pressure, func(w *sim.World) float64 { pa, _ := w.PipeSensorPa(); return pa - w.AmbientPa() }},
	"lamp":          {units.Ratio, func(w *sim.World) float64 { return bit(w.Lamp()) }},
}

// banked are the quantities of one bank of a car with two, written name_1 and name_2.
var banked = map[string]struct {
	of   units.Quantity
	read func(b sim.Bank) float64
}{
	"air":           {units.MassFlow, func(b sim.Bank) float64 { return b.AirKgS }},
	"exhaust":       {units.MassFlow, func(b sim.Bank) float64 { return b.GasKgS }},
	"mixture":       {units.Ratio, func(b sim.Bank) float64 { return b.Ratio }},
	"seen":          {units.Ratio, func(b sim.Bank) float64 { return b.Seen }},
	"conversion":    {units.Ratio, func(b sim.Bank) float64 { return b.Conversion }},
	"port_pressure": {units.Pressure, func(b sim.Bank) float64 { return b.PortPa }},
}

// heads are the quantities of one thing, written head:thing.
var heads = []string{"amps", "catalyst", "catalyst_2", "coil", "flow", "gain", "leak", "lift", "motor", "off", "open", "out", "param", "pressure", "pulled", "raised", "spin",
	"vacuum", "vent", "volts", "winding"}

func bit(on bool) float64 {
	if on {
		return 1
	}
	return 0
}

// sound is a value whose name was checked before.
func sound(v float64, _ error) float64 { return v }

// PlainQuantities lists the quantities that belong to the whole car, sorted.
func PlainQuantities() []string {
	var out []string
	for name := range plain {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}

// compile turns the words for a quantity of a car into what reads it: terms such as "flow:check_valve" joined by + and -, all of one kind. The
// kind tells which units it may be shown in.
func compile(c *car.Car, words string) (maker, units.Quantity, error) {
	var makers []maker
	var signs []float64
	kind, sign, wait := units.Quantity(0), 1.0, true
	for _, f := range strings.Fields(words) {
		switch {
		case f == "-" && wait && len(makers) == 0:
			sign = -1
			continue
		case (f == "+" || f == "-") && !wait:
			sign, wait = 1, true
			if f == "-" {
				sign = -1
			}
			continue
		case !wait:
			return nil, 0, fmt.Errorf("%q: want + or - before %q", words, f)
		}
		m, k, err := term(c, f)
		if err != nil {
			return nil, 0, err
		}
		if kind != 0 && k != kind {
			return nil, 0, fmt.Errorf("%q adds quantities of different kinds", words)
		}
		makers, signs, kind, wait = append(makers, m), append(signs, sign), k, false
	}
	if wait {
		return nil, 0, fmt.Errorf("%q ends where a quantity was expected", words)
	}
	if len(makers) == 1 && signs[0] == 1 {
		return makers[0], kind, nil
	}
	return func() reader {
		readers := make([]reader, len(makers))
		for i, m := range makers {
			readers[i] = m()
		}
		return func(w *sim.World) float64 {
			sum := 0.0
			for i, r := range readers {
				sum += signs[i] * r(w)
			}
			return sum
		}
	}, kind, nil
}

func term(c *car.Car, name string) (maker, units.Quantity, error) {
	if name == "pipe_sensor" && !hasKind(c, "pressure_sensor") {
		return nil, 0, fmt.Errorf("%q: the car has no pressure sensor in its air pipe", name)
	}
	if p, ok := plain[name]; ok {
		return func() reader { return p.read }, p.of, nil
	}
	if m, kind, ok := ofBank(c, name); ok {
		return m, kind, nil
	}
	head, of, ok := strings.Cut(name, ":")
	if !ok {
		return nil, 0, fmt.Errorf("there is no quantity %q; allowed are %s, and %s, each followed by a colon and a name", name,
			strings.Join(PlainQuantities(), ", "), strings.Join(heads, ", "))
	}
	always := func(r reader, k units.Quantity) (maker, units.Quantity, error) {
		return func() reader { return r }, k, nil
	}
	no := func(what string) (maker, units.Quantity, error) {
		return nil, 0, fmt.Errorf("%q: the car has no %s %q", name, what, of)
	}
	element, part, volume := isElement(c, of), isPart(c, of), isVolume(c, of)
	switch head {
	case "amps", "coil", "out", "pulled":
		if !element {
			return no("element")
		}
		switch head {
		case "out":
			return always(func(w *sim.World) float64 { return bit(w.Opened(of)) }, units.Ratio)
		case "amps":
			return always(func(w *sim.World) float64 { return sound(w.Amps(of)) }, units.Current)
		case "coil":
			return always(func(w *sim.World) float64 { return math.Abs(sound(w.CoilAmps(of))) }, units.Current)
		}
		return always(func(w *sim.World) float64 { return bit(w.CoilOn(of)) }, units.Ratio)
	case "motor", "spin", "winding":
		if !slices.Contains(c.Circuit.Motors(), of) && (head != "spin" || !isBelted(c, of)) {
			return no("motor")
		}
		switch head {
		case "motor":
			return always(func(w *sim.World) float64 { return w.MotorAmps(of) }, units.Current)
		case "spin":
			return always(func(w *sim.World) float64 { return w.PumpSpeed(of) }, units.AngularSpeed)
		}
		return always(func(w *sim.World) float64 { return w.MotorK(of) }, units.Temperature)
	case "flow", "lift", "raised", "vent":
		if !part {
			return no("pneumatic part")
		}
		switch head {
		case "flow":
			return always(func(w *sim.World) float64 { return sound(w.PartFlow(of)) }, units.MassFlow)
		case "vent":
			return always(func(w *sim.World) float64 { return sound(w.FlowOut(of + ".vent")) }, units.MassFlow)
		case "raised":
			full := fullLift(c, of)
			if full == 0 {
				return no("part that lifts named")
			}
			return always(func(w *sim.World) float64 { return w.ValveLift(of) / full }, units.Ratio)
		}
		return always(func(w *sim.World) float64 { return w.ValveLift(of) }, units.Length)
	case "vacuum", "pressure", "leak", "gain":
		if !volume {
			return no("volume or hose")
		}
		return ofVolume(c, head, of)
	case "off", "open":
		if !isEnd(c, of) && (head == "off" || !isPort(c, of)) {
			return no("hose end")
		}
		if head == "open" {
			return always(func(w *sim.World) float64 { return sound(w.FlowOut(of)) }, units.MassFlow)
		}
		return always(func(w *sim.World) float64 {
			port, _, _ := w.HoseEndAt(of)
			return bit(port != home(c, of))
		}, units.Ratio)
	case "param":
		owner, param, _ := strings.Cut(of, ".")
		if _, ok := c.Param(of); !ok {
			return no("parameter")
		}
		return always(func(w *sim.World) float64 { return sound(w.Param(owner, param)) }, units.Ratio)
	case "catalyst", "catalyst_2":
		n, err := strconv.Atoi(of)
		if err != nil || n < 0 || n >= c.Exhaust.Catalyst.Cells {
			return nil, 0, fmt.Errorf("%q: the catalyst's cells are 0 to %d", name, c.Exhaust.Catalyst.Cells-1)
		}
		bank := 0
		if head == "catalyst_2" {
			if bank = 1; c.Banks < 2 {
				return nil, 0, fmt.Errorf("%q: the car has one bank", name)
			}
		}
		return always(func(w *sim.World) float64 { return w.BankCatalystK(bank, n) }, units.Temperature)
	case "volts":
		a, b, _ := strings.Cut(of, "/")
		_, okA := c.Circuit.Node(a)
		_, okB := c.Circuit.Node(b)
		if !okA || !okB {
			return nil, 0, fmt.Errorf("%q: want two terminals of the car with a stroke between, such as bat_pos/bat_neg", name)
		}
		return always(func(w *sim.World) float64 { return sound(w.Volts(a, b)) }, units.Voltage)
	}
	return nil, 0, fmt.Errorf("%q: allowed before the colon are %s", name, strings.Join(heads, ", "))
}

// ofBank reads a quantity of one bank.
func ofBank(c *car.Car, name string) (maker, units.Quantity, bool) {
	for bank := range max(1, c.Banks) {
		what, ok := strings.CutSuffix(name, fmt.Sprintf("_%d", bank+1))
		if q, found := banked[what]; ok && found {
			return func() reader { return func(w *sim.World) float64 { return q.read(w.Bank(bank)) } }, q.of, true
		}
	}
	return nil, 0, false
}

// ofVolume reads a volume or hose. Its gain is the air in kg/s that stays in it: V/(R T) dp/dt between two samples.
func ofVolume(c *car.Car, head, of string) (maker, units.Quantity, error) {
	m3 := 0.0
	for _, v := range c.Pneumatic.Volumes {
		if v.ID == of {
			m3 = v.M3
		}
	}
	for _, h := range c.Pneumatic.Hoses {
		if h.ID == of {
			m3 = h.M3
		}
	}
	switch head {
	case "vacuum":
		return func() reader { return func(w *sim.World) float64 { return sound(w.Vacuum(of)) } }, units.Pressure, nil
	case "pressure":
		return func() reader { return func(w *sim.World) float64 { return -sound(w.Vacuum(of)) } }, units.Pressure, nil
	case "leak":
		return func() reader { return func(w *sim.World) float64 { return w.LeakFlow(of) } }, units.MassFlow, nil
	}
	return func() reader {
		last, at, first := 0.0, 0.0, true
		return func(w *sim.World) float64 {
			p, now := w.AmbientPa()-sound(w.Vacuum(of)), w.Time()
			gain := 0.0
			if dt := now - at; !first && dt > 0 {
				gain = (p - last) * m3 / (gasR * w.AmbientK() * dt)
			}
			last, at, first = p, now, false
			return gain
		}
	}, units.MassFlow, nil
}

func isElement(c *car.Car, id string) bool { _, ok := c.Circuit.Elem(id); return ok }
func isPart(c *car.Car, id string) bool    { return c.Air.Part(id) >= 0 }
func isVolume(c *car.Car, id string) bool  { return c.Air.Node(id) >= 0 }
func isEnd(c *car.Car, id string) bool     { return c.Air.End(id) >= 0 }
func isPort(c *car.Car, id string) bool    { return c.Air.Port(id) >= 0 }

func hasKind(c *car.Car, kind string) bool {
	return slices.ContainsFunc(c.Pneumatic.Parts, func(p air.Part) bool { return p.Kind == kind })
}

func isBelted(c *car.Car, id string) bool {
	return slices.ContainsFunc(c.Pneumatic.Parts, func(p air.Part) bool { return p.ID == id && p.Kind == "belt_pump" })
}

// fullLift is how far a part lifts, m; 0 for one that does not.
func fullLift(c *car.Car, id string) float64 {
	for _, p := range c.Pneumatic.Parts {
		if p.ID == id {
			return p.Params["lift_m"]
		}
	}
	return 0
}

// home is the port on which a hose end belongs.
func home(c *car.Car, end string) string {
	id, side, _ := strings.Cut(end, ".")
	for _, h := range c.Pneumatic.Hoses {
		if h.ID == id && side == "a" {
			return h.A
		} else if h.ID == id {
			return h.B
		}
	}
	return ""
}
