package bench

import (
	"math"
	"slices"
	"strings"

	"coldbay/sim/scan"
)

// Allows says whether the order leaves a tool to the trainee.
func (o *Order) Allows(tool string) bool {
	if len(o.Tools) > 0 && !slices.Contains(o.Tools, tool) {
		return false
	}
	return !slices.Contains(o.Withheld, tool)
}

// SuspectIDs are the suspects on the order's board: its own list, or all of the car's.
func (o *Order) SuspectIDs(l *Layout) []string {
	if len(o.Suspects) > 0 {
		return o.Suspects
	}
	return l.SuspectIDs()
}

// Weights are the prior weights of the order's suspects, in the order of [Order.SuspectIDs]: the car's, shifted by the order.
func (o *Order) Weights(l *Layout) []float64 {
	list := o.SuspectIDs(l)
	out := make([]float64, len(list))
	for i, id := range list {
		out[i] = l.suspects[l.suspect[id]].weight
		for _, s := range o.Shifts {
			if s.Suspect == id {
				out[i] = float64(out[i] * s.Times)
			}
		}
	}
	return out
}

// Catalogue is what the trainee may know before touching anything.
func (l *Local) Catalogue() Catalogue {
	o, lay := l.cfg.Order, l.lay
	c := Catalogue{Order: orderInfo(o), Car: lay.carName, Spec: slices.Clone(lay.spec), Cautions: slices.Clone(o.Cautions)}
	for _, p := range lay.places {
		c.Places = append(c.Places, Named{p.id, p.name})
	}
	for _, t := range lay.terminals {
		when := ""
		if t.whenOpen != "" {
			when = "open:" + t.whenOpen
		} else if t.whenRemoved != "" {
			when = "removed:" + t.whenRemoved
		}
		c.Terminals = append(c.Terminals, Spot{t.id, t.name, t.place, when})
	}
	for _, p := range lay.ports {
		c.Ports = append(c.Ports, Spot{p.id, p.name, p.place, ""})
	}
	for _, h := range lay.hoses {
		a, b := lay.ends[h.ends[0]], lay.ends[h.ends[1]]
		c.Hoses = append(c.Hoses, HoseInfo{h.id, h.name, a.home, b.home, a.place, b.place})
	}
	for _, k := range lay.connectors {
		c.Connectors = append(c.Connectors, Spot{k.id, k.name, k.place, ""})
	}
	for _, p := range lay.parts {
		when := ""
		if p.plug {
			when = "open:" + p.connector
		}
		c.Parts = append(c.Parts, Spot{p.id, p.name, p.place, when})
	}
	for _, k := range lay.clamps {
		c.Clamps = append(c.Clamps, Spot{k.id, k.name, k.place, ""})
	}
	for _, list := range [][]device{lay.coils, lay.motors} {
		for _, d := range list {
			c.Devices = append(c.Devices, Spot{d.id, d.name, d.place, ""})
		}
	}
	for _, u := range lay.units {
		c.Units = append(c.Units, UnitInfo{u.id, u.name, u.price, u.minutes, u.mend})
	}
	c.Seen = slices.Clone(lay.seen)
	c.Pins = slices.Clone(lay.pins)
	for _, t := range AllTools() {
		if o.Allows(t) && (t != ToolScan || lay.scanPort) {
			c.Tools = append(c.Tools, t)
		}
	}
	c.Suspects = l.commonCauses()
	c.Outputs = l.outputs()
	for _, pid := range l.w.PIDs() {
		if p, ok := scan.Lookup(pid); ok {
			unit := ""
			if len(p.Fields) == 1 {
				unit = p.Fields[0].Unit
			}
			c.PIDs = append(c.PIDs, PIDInfo{hexPID(pid), p.Name, unit})
		}
	}
	return c
}

// outputs are the modes of an actuator test that the controller has drivers for.
func (l *Local) outputs() []string {
	var out []string
	for _, e := range l.cfg.Car.Electrical.Elements {
		if e.Kind == "driver" && l.lay.scanPort && !slices.Contains(out, e.Drive) {
			out = append(out, e.Drive)
		}
	}
	if len(out) == 2 {
		out = append(out, "both")
	}
	return out
}

// Told is all that is told of what happened before, one after another.
func (o *Order) Told() string {
	var told []string
	for _, e := range o.History {
		if e.Text != "" {
			told = append(told, e.Text)
		}
	}
	return strings.Join(told, " ")
}

func orderInfo(o *Order) OrderInfo {
	return OrderInfo{
		ID: o.ID, Title: o.Title, Customer: o.Customer, Vehicle: o.Vehicle, Complaint: o.Complaint,
		History: o.Told(), Minutes: o.Minutes,
	}
}

// commonCauses is the suspect board with rough shares in per cent; a suspect never shows less than 1.
func (l *Local) commonCauses() []Suspect {
	list, weights := l.suspectIDs(), l.cfg.Order.Weights(l.lay)
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	out := make([]Suspect, len(list))
	for i, id := range list {
		s := l.lay.suspects[l.lay.suspect[id]]
		share := max(1, int(math.Floor(float64(100*weights[i])/sum+0.5)))
		out[i] = Suspect{id, s.name, slices.Clone(s.units), share}
	}
	return out
}

// View is the bench as the trainee can see it now. It shows nothing of the car that was not perceived before.
func (l *Local) View() View {
	s, lay := &l.s, l.lay
	key := "off"
	if l.w.KeyOn() {
		key = "on"
	}
	v := View{
		Bench: secs(s.ticks), Calendar: secs(s.ticks) + s.calendar, Bill: s.bill, Labour: l.labour(),
		Place: s.place, Key: key, Engine: s.noticed.engine, Rpm: s.noticed.rpm, Lamp: s.noticed.lamp && key == "on",
		Coolant: s.noticed.coolant, Extract: s.extract, Helper: s.helper, PumpRough: s.noticed.rough,
		Struck: slices.Clone(s.struck), Notes: slices.Clip(s.notes), LastHazards: slices.Clone(s.noticed.last), Closed: s.closed,
		Meter:    MeterView{s.meter.mode, s.meter.red, s.meter.black, s.meter.text},
		HandPump: HandPumpView{s.hand.on, s.hand.strokes, s.hand.shown, s.hand.text},
		Scan:     ScanView{s.scan.plugged, s.scan.actuator, slices.Clone(s.scan.lines)},
	}
	if s.clamp.on != "" {
		v.Clamp = MeterView{"amps", s.clamp.on, "", s.clamp.text}
	}
	if s.lamp.red != "" {
		v.Lamp21 = MeterView{map[bool]string{true: "5", false: "21"}[s.lamp.watts == 5], s.lamp.red, s.lamp.black, s.lamp.text}
	}
	for _, on := range s.noticed.pumps {
		v.PumpTurning = v.PumpTurning || on
	}
	for i, e := range lay.ends {
		v.HoseEnds = append(v.HoseEnds, HoseEnd{e.id, s.ends[i].at, s.ends[i].plugged, l.toolOn(e.id)})
	}
	for i, p := range lay.ports {
		ps := PortState{ID: p.id, Plugged: s.plugged[i], Tool: l.toolOn(p.id)}
		if k := l.believedOn(p.id); k >= 0 {
			ps.Hose = lay.ends[k].id
		}
		v.Ports = append(v.Ports, ps)
	}
	for i, c := range lay.connectors {
		v.Connectors = append(v.Connectors, OnOff{c.id, s.connectors[i]})
	}
	for i, p := range lay.parts {
		v.Parts = append(v.Parts, OnOff{p.id, s.parts[i]})
		if p.full > 0 && s.parts[i] {
			v.Stems = append(v.Stems, Stem{p.id, s.noticed.stems[i].seen})
		}
	}
	for _, jp := range s.jumpers {
		if jp.from == "" {
			continue
		}
		state := jp.state
		if jp.blown {
			state = "fuse blown"
		}
		v.Jumpers = append(v.Jumpers, JumperView{jp.from, jp.to, jp.awg, int(jp.fuse), state})
	}
	return v
}

func (l *Local) toolOn(opening string) string {
	if l.s.hand.on == opening {
		return ToolHandPump
	}
	return ""
}

// labour is what the time costs so far, cents: the trainee's, and the helper's.
func (l *Local) labour() int {
	return (l.s.ticks*l.tar.Prices.LabourHour + l.s.helped*l.tar.Prices.HelperHour) / 36000
}
