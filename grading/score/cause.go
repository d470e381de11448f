package score

import (
	"math"
	"slices"
	"strings"

	"coldbay/sim/air"
	"coldbay/sim/car"
	"coldbay/sim/circuit"
)

// cause is what a change does to a car, in the terms of physics: a leak, a bad joint, a coil that gets no current. It is told from the
// parameter that is changed, from what the part is, and from where in the networks it sits. The words for it are messages.
type cause string

// What causes lead to: a valve without vacuum stays shut, a pump without current stands.
var leadsTo = map[cause][]cause{
	"line_off": {"line_leak", "valve_shut"}, "line_leak": {"valve_shut"}, "line_clog": {"valve_shut"}, "lines_swapped": {"valve_shut"},
	"torn": {"line_leak", "valve_shut"}, "leak_through": {"line_leak"}, "coil_rest": {"valve_shut"}, "coil_open": {"valve_shut"},
	"coil_high": {"valve_shut"}, "valve_stiff": {"valve_shut"},
	"check_open": {"line_leak"}, "coil_on": {"valve_open"}, "driver_ground": {"coil_on", "valve_open"}, "vent_clog": {"valve_open"},
	"feed_open": {"no_pump"}, "feed_short": {"no_pump"}, "control_open": {"no_pump"}, "seized": {"no_pump"},
	"joint": {"slow_pump"}, "stiff": {"slow_pump"}, "water": {"slow_pump"}, "motor_weak": {"slow_pump"}, "worn": {"slow_pump"}, "slips": {"slow_pump"},
	"battery": {"slow_pump"}, "inlet_clog": {"narrow"}, "carbon": {"narrow"}, "pipe_clog": {"narrow"}, "pump_leak": {"pipe_open"},
}

// sides are the parts of the system that a cause belongs to, for those readings that it leaves as they are.
var sides = map[string][]cause{
	"vacuum":   {"line_off", "line_leak", "line_clog", "lines_swapped", "torn", "check_open"},
	"solenoid": {"coil_rest", "coil_on", "coil_open", "coil_high", "coil_low", "driver_ground", "vent_clog", "leak_through"},
	"air": {"valve_shut", "valve_part", "valve_open", "valve_stiff", "diverter", "exhaust_back", "carbon", "pipe_clog", "pipe_open", "inlet_open", "inlet_clog",
		"pump_leak"},
	"pump":    {"seized", "stiff", "worn", "slips", "water", "motor_weak"},
	"circuit": {"feed_open", "feed_short", "control_open", "relay_on", "joint", "battery"},
	"sensor":  {"temperature", "oxygen", "pressure"},
	"exhaust": {"exhaust_leak"},
}

func (c cause) side() string {
	for _, name := range []string{"vacuum", "solenoid", "air", "pump", "circuit", "sensor", "exhaust"} {
		if slices.Contains(sides[name], c) {
			return name
		}
	}
	return ""
}

// broken is a resistance above which a path counts as open, ohm.
const broken = 1e6

// wiring is where in a car's circuits and airways a cause may sit.
type wiring struct {
	car                 *car.Car
	body                car.Anatomy
	pump                loop
	motor, relay, coils []string // terminals, in the order of their distance from the motor, the relay's coil and the solenoids
}

func wire(c *car.Car) *wiring {
	w := &wiring{car: c, body: c.Anatomy(), pump: pumpLoop(c.Electrical.Elements)}
	var ends []string
	all := c.Electrical.Elements
	for i := range all {
		if all[i].Kind == "battery" {
			ends = append(ends, all[i].A, all[i].B)
		}
	}
	for i := range all {
		switch e := &all[i]; {
		case e.Kind == "motor":
			w.motor = append(w.motor, around(all, e, ends)...)
		case e.Kind == "relay" && e.ID == w.body.Relay:
			w.relay = append(w.relay, around(all, e, ends)...)
		case e.Kind == "coil":
			w.coils = append(w.coils, around(all, e, ends)...)
		}
	}
	return w
}

// around lists the terminals that hang together with the ends of an element, the nearest first.
func around(all []circuit.Element, e *circuit.Element, ends []string) []string {
	a, b := series(all, e.A, ends), series(all, e.B, ends)
	var out []string
	for i := range max(len(a), len(b)) {
		if i < len(a) {
			out = append(out, a[i])
		}
		if i < len(b) {
			out = append(out, b[i])
		}
	}
	return out
}

// feeds says whose current goes through a terminal: that of the pump's motor, of its relay's coil, or of a solenoid's.
func (w *wiring) feeds(terminals ...string) string {
	best, whose := math.MaxInt, ""
	for _, x := range []struct {
		whose string
		list  []string
	}{{"motor", w.motor}, {"relay", w.relay}, {"coil", w.coils}} {
		for _, t := range terminals {
			if at := slices.Index(x.list, t); t != "" && at >= 0 && at < best {
				best, whose = at, x.whose
			}
		}
	}
	return whose
}

// causes are those of a fault's changes, each once.
func (w *wiring) causes(f *car.Fault) []cause {
	var out []cause
	for i := range f.Changes {
		if c := w.cause(&f.Changes[i]); c != "" && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

func (w *wiring) cause(ch *car.Change) cause {
	switch {
	case ch.Detach != "":
		hose, _, _ := strings.Cut(ch.Detach, ".")
		return w.hose(hose, "line_off", "pipe_open", "inlet_open")
	case len(ch.Swap) > 0:
		return "lines_swapped"
	}
	owner, param, _ := strings.Cut(ch.Set, ".")
	healthy := 0.0
	if i, ok := w.car.Param(ch.Set); ok {
		healthy = w.car.Params[i].Value
	}
	for i := range w.car.Electrical.Elements {
		if e := &w.car.Electrical.Elements[i]; e.ID == owner {
			return w.electric(e, param, healthy, ch.To)
		}
	}
	for i := range w.car.Pneumatic.Parts {
		if p := &w.car.Pneumatic.Parts[i]; p.ID == owner {
			return w.part(p, param, ch.To)
		}
	}
	switch param {
	case "split_m2":
		return w.hose(owner, "line_leak", "pipe_open", "inlet_open")
	case "clog":
		return w.hose(owner, "line_clog", "pipe_clog", "inlet_clog")
	case "leak_m2":
		return "exhaust_leak"
	}
	for _, s := range w.car.Sensors {
		switch {
		case s.ID != owner:
		case s.Kind == "oxygen":
			return "oxygen"
		default:
			return "temperature"
		}
	}
	return ""
}

// hose tells a vacuum line from a pipe behind the pump and a hose before it.
func (w *wiring) hose(id string, line, pipe, inlet cause) cause {
	if !slices.Contains(w.body.Pumped, id) {
		return line
	}
	for _, h := range w.car.Pneumatic.Hoses {
		for _, p := range w.car.Pneumatic.Parts {
			if h.ID == id && p.ID == w.body.Pump && (h.A == p.A || h.B == p.A) {
				return inlet
			}
		}
	}
	return pipe
}

// airy says that a place holds pumped air or exhaust, not vacuum.
func (w *wiring) airy(place string) bool {
	if strings.HasPrefix(place, "exhaust") || slices.Contains(w.body.Pumped, place) {
		return true
	}
	for _, p := range w.car.Pneumatic.Ports {
		if p.ID == place && slices.Contains(w.body.Pumped, p.On) {
			return true
		}
	}
	for _, h := range w.car.Pneumatic.Hoses {
		if (h.A == place || h.B == place) && slices.Contains(w.body.Pumped, h.ID) {
			return true
		}
	}
	return false
}

// part sorts changes of the airways' parts.
func (w *wiring) part(p *air.Part, param string, to float64) cause {
	pumped := w.airy(p.A) || w.airy(p.B)
	switch param {
	case "clog":
		switch {
		case slices.Contains(w.body.Inlets, p.ID):
			return "inlet_clog"
		case pumped:
			return "carbon"
		}
		return "line_clog"
	case "vent_clog":
		return "vent_clog"
	case "leak_m2":
		switch {
		case p.Kind == "gap":
			return "pump_leak"
		case p.Kind == "three_way":
			return "leak_through"
		case pumped:
			return "exhaust_back"
		}
		return "check_open"
	case "stuck_shut":
		if pumped {
			return "valve_shut"
		}
		return "line_clog"
	case "cda_m2":
		return "line_leak"
	case "tear_m2":
		return "torn"
	case "reed_leak_m2", "seat_m2":
		return "exhaust_back"
	case "stuck":
		switch {
		case p.Kind == "diverter":
			return "diverter"
		case to > 0:
			return "valve_shut"
		case to > -0.9:
			return "valve_part"
		}
		return "valve_open"
	case "open0_pa", "open1_pa":
		return "valve_stiff"
	case "relief_pa":
		return "pipe_open"
	case "slip":
		return "slips"
	case "wear":
		return "worn"
	case "rub_nm", "bearing_nm":
		return "stiff"
	case "water_nm":
		return "water"
	case "offset_pa", "gain":
		return "pressure"
	}
	return ""
}

// stall is a friction that no pump's motor overcomes, N m.
const stall = 5

// electric sorts changes of the circuits' elements, by what flows through them.
func (w *wiring) electric(e *circuit.Element, param string, healthy, to float64) cause {
	// Ground is everybody's: an element on it is told by its other end.
	ends := slices.DeleteFunc([]string{e.A, e.B}, w.grounded)
	if len(ends) == 0 {
		ends = []string{e.A, e.B}
	}
	for _, p := range e.Pins {
		ends = append(ends, p[0], p[1])
	}
	whose := w.feeds(ends...)
	open := map[string]cause{"motor": "feed_open", "relay": "control_open", "coil": "coil_open"}[whose]
	switch {
	case e.Kind == "battery":
		return "battery"
	case param == "bearing_nm" && to >= stall:
		return "seized"
	case param == "bearing_nm":
		return "stiff"
	case e.Kind == "motor":
		return "motor_weak"
	case param == "contact_ohm":
		return "joint"
	case param == "welded":
		return "relay_on"
	case param == "coil_ohm":
		return "control_open"
	case param == "stuck" && to < 0:
		return "coil_rest"
	case param == "stuck":
		return "coil_on"
	case param == "blown" || param == "dead":
		return open
	case e.Kind == "stray":
		return w.stray(e, open)
	case e.Kind == "coil" && to < healthy:
		return "coil_low"
	case to >= broken:
		return open
	case whose == "motor":
		return "joint"
	}
	return "coil_high"
}

// stray sorts a wire's touching what it should not: ground, or the battery's side.
func (w *wiring) stray(e *circuit.Element, open cause) cause {
	ground := w.grounded(e.A) || w.grounded(e.B)
	switch {
	case !ground:
		return open // held at the battery's voltage no current goes through the coil
	case open == "feed_open":
		return "feed_short"
	case !w.driven(e.A) && !w.driven(e.B):
		return open // its fuse blows
	case open == "control_open":
		return "relay_on"
	}
	return "driver_ground"
}

// grounded says that a terminal is the battery's negative post or hangs together with it.
func (w *wiring) grounded(terminal string) bool {
	for _, e := range w.car.Electrical.Elements {
		if e.Kind == "battery" && (terminal == e.B || slices.Contains(series(w.car.Electrical.Elements, e.B, []string{e.A}), terminal)) {
			return true
		}
	}
	return false
}

// driven says that a terminal is a controller's output.
func (w *wiring) driven(terminal string) bool {
	return slices.ContainsFunc(w.car.Electrical.Elements, func(e circuit.Element) bool {
		return e.Kind == "driver" && (e.A == terminal || e.B == terminal) && !w.grounded(terminal)
	})
}
