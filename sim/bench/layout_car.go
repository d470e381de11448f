package bench

import (
	"fmt"
	"slices"
	"strings"

	"coldbay/sim/air"
	"coldbay/sim/car"
	"coldbay/sim/circuit"
)

// NewLayout indexes what of a car can be reached in the bay. It refuses a bay that leaves the trainee without what every car needs: a
// dash, a tailpipe, a place for each hose end.
func NewLayout(c *car.Car) (*Layout, error) {
	l := &Layout{carID: c.ID, carName: c.Name, scanPort: c.ScanPort, reference: c.Electrical.Reference}
	for _, p := range c.Bay.Places {
		l.places = append(l.places, place{p.ID, p.Name, ticksOf(p.WalkS), p.Warm})
	}
	for _, t := range c.Bay.Terminals {
		l.terminals = append(l.terminals, terminal{spot{t.ID, t.Name, t.Place}, t.WhenOpen, t.WhenRemoved, t.Driver})
	}
	for _, k := range c.Bay.Connectors {
		l.connectors = append(l.connectors, spot{k.ID, k.Name, k.Place})
	}
	for _, k := range c.Bay.Clamps {
		l.clamps = append(l.clamps, clampPoint{spot{k.ID, k.Name, k.Place}, k.Element})
	}
	for _, p := range c.Bay.Ports {
		l.ports = append(l.ports, port{spot: spot{p.ID, p.Name, p.Place}})
	}
	l.reindex()
	if err := l.addHoses(c); err != nil {
		return nil, err
	}
	l.reindex()
	if err := l.addParts(c); err != nil {
		return nil, err
	}
	l.addDevices(c)
	for _, s := range c.Spec {
		l.spec = append(l.spec, [2]string{s.Item, s.Value})
	}
	for _, u := range c.Units {
		l.units = append(l.units, unit{u.ID, u.Name, u.Part, int(u.Minutes), u.Mend, u.Place})
	}
	l.addSuspects(c)
	l.reindex()
	if err := l.addSigns(c); err != nil {
		return nil, err
	}
	for _, id := range []string{placeFront, placeDash, placeTailpipe} {
		if _, ok := l.place[id]; !ok {
			return nil, fmt.Errorf("car %s: the bay has no place %q; every car needs %s, %s and %s", c.ID, id, placeFront, placeDash, placeTailpipe)
		}
	}
	return l, nil
}

func (l *Layout) addHoses(c *car.Car) error {
	for _, h := range c.Bay.Hoses {
		i := slices.IndexFunc(c.Pneumatic.Hoses, func(s air.Hose) bool { return s.ID == h.ID })
		if i < 0 {
			return fmt.Errorf("car %s: bay hose %q is no hose of the air network", c.ID, h.ID)
		}
		src := c.Pneumatic.Hoses[i]
		hs := hose{id: h.ID, name: h.Name, unit: src.Unit}
		for k, home := range []string{src.A, src.B} {
			pi, ok := l.port[home]
			if !ok {
				return fmt.Errorf("car %s: hose %s ends at the port %q, which has no place in the bay", c.ID, h.ID, home)
			}
			id := h.ID + []string{".a", ".b"}[k]
			hs.ends[k] = len(l.ends)
			l.ends = append(l.ends, hoseEnd{
				id: id, name: fmt.Sprintf("%s, end at the %s", h.Name, l.ports[pi].name),
				hose: len(l.hoses), home: home, place: l.ports[pi].place, bore: src.Bore,
			})
			l.ports[pi].bore, l.ports[pi].home = src.Bore, id
		}
		l.hoses = append(l.hoses, hs)
	}
	return nil
}

func (l *Layout) addParts(c *car.Car) error {
	for _, p := range c.Bay.Parts {
		world := p.Pump
		if world == "" {
			world = p.Valve
		}
		pt := part{
			spot: spot{p.ID, p.Name, p.Place}, fuse: p.Fuse, connector: p.Connector, world: world,
			off: ticksOf(p.OffS), on: ticksOf(p.OnS), hot: p.Hot,
		}
		_, pt.plug = l.connector[p.Connector]
		if world != "" {
			ports, unit := portsOf(c, world)
			pt.unit = unit
			for _, q := range c.Pneumatic.Parts {
				if q.ID == world && q.Params["lift_m"] > 0 {
					pt.full, pt.ports = q.Params["lift_m"], ports
				}
			}
			for _, e := range l.ends {
				if slices.Contains(p.Hoses, l.hoses[e.hose].id) && slices.Contains(ports, e.home) {
					pt.ends = append(pt.ends, e.id)
				}
			}
			if len(pt.ends) == 0 && len(p.Hoses) > 0 {
				return fmt.Errorf("car %s: part %s names hoses, but none ends on it", c.ID, p.ID)
			}
		}
		for _, e := range c.Electrical.Elements {
			if (p.Fuse != "" && e.ID == p.Fuse) || (world == "" && e.ID == p.Connector) {
				pt.unit = e.Unit
			}
		}
		l.parts = append(l.parts, pt)
	}
	return nil
}

// portsOf lists the ports of an air part: those that it names and those on a volume that it names.
func portsOf(c *car.Car, id string) (ports []string, unit string) {
	for _, p := range c.Pneumatic.Parts {
		if p.ID != id {
			continue
		}
		unit = p.Unit
		at := []string{p.A, p.B, p.Supply, p.Out, p.Chamber}
		for _, q := range c.Pneumatic.Ports {
			if slices.Contains(at, q.ID) || (q.On != "" && slices.Contains(at, q.On)) {
				ports = append(ports, q.ID)
			}
		}
	}
	return ports, unit
}

// warmEnds are an element's terminals, those first that a hand finds it at.
func warmEnds(e circuit.Element) []string {
	ends := []string{e.A, e.B, e.C, e.D}
	for _, pin := range e.Pins {
		ends = append(ends, pin[0], pin[1])
	}
	return ends
}

func (l *Layout) addDevices(c *car.Car) {
	placeOf := func(terminals ...string) string {
		for _, id := range terminals {
			for _, t := range l.terminals {
				if t.id == id {
					return t.place
				}
			}
		}
		return ""
	}
	for _, e := range c.Electrical.Elements {
		name := e.ID
		for _, u := range c.Units {
			if u.ID == e.Unit {
				name = u.Name
			}
		}
		if at := placeOf(warmEnds(e)...); at != "" && (e.JointJK > 0 || e.Kind == "relay" || e.Kind == "coil") {
			l.warm = append(l.warm, device{e.ID, name, at})
		}
		switch e.Kind {
		case "relay", "coil":
			l.coils = append(l.coils, device{e.ID, name, placeOf(e.A, e.B, e.C, e.D)})
		case "motor":
			l.motors = append(l.motors, device{e.ID, name, placeOf(e.A, e.B)})
		case "driver":
			l.drivers = append(l.drivers, e.ID)
			l.pins = append(l.pins, Output{e.ID, e.A})
		}
	}
	for _, p := range c.Pneumatic.Parts {
		if p.Kind == "belt_pump" {
			l.motors = append(l.motors, l.beltPump(c, p))
		}
		if p.Kind == "three_way" && p.Vent {
			l.vents = append(l.vents, p.ID+".vent")
		}
		if p.Kind == "orifice" || p.Kind == "gap" {
			switch {
			case p.B == "ambient":
				l.leaks = append(l.leaks, device{p.A, p.Unit, ""})
			case p.A == "ambient":
				l.inlets = append(l.inlets, device{p.ID, p.Unit, ""})
			}
		}
		if p.Chamber != "" {
			l.leaks = append(l.leaks, device{p.Chamber, p.Unit, ""})
			at := ""
			for _, b := range l.parts {
				if b.world == p.ID {
					at = b.place
				}
			}
			l.chambers = append(l.chambers, device{p.Chamber, p.ID, at})
		}
	}
}

// beltPump is a pump that the engine turns: it has no terminals, so it stands where it is taken off.
func (l *Layout) beltPump(c *car.Car, p air.Part) device {
	d := device{id: p.ID, name: p.ID, place: placeFront}
	if u, ok := c.Unit(p.Unit); ok {
		d.name = u.Name
	}
	for _, b := range l.parts {
		if b.world == p.ID {
			d.place = b.place
		}
	}
	return d
}

func (l *Layout) addSuspects(c *car.Car) {
	for _, f := range c.Faults {
		if f.InSets {
			continue
		}
		l.suspects = append(l.suspects, suspect{f.ID, f.Name, []string{f.Unit}, float64(f.Weight)})
	}
	for _, s := range c.Sets {
		su := suspect{id: s.ID, name: s.Name, weight: float64(s.Weight)}
		for _, m := range s.Faults {
			if f, ok := c.Fault(m.ID); ok && !slices.Contains(su.units, f.Unit) {
				su.units = append(su.units, f.Unit)
			}
		}
		l.suspects = append(l.suspects, su)
	}
	if c.NoFault.ID != "" {
		l.suspects = append(l.suspects, suspect{c.NoFault.ID, c.NoFault.Name, nil, float64(c.NoFault.Weight)})
	}
}

func (l *Layout) addSigns(c *car.Car) error {
	for _, s := range c.Bay.Signs {
		sg := sign{place: s.Place, of: s.Of, param: s.Param, from: s.From, upto: s.Upto, see: s.See}
		kind, id, _ := strings.Cut(s.When, ":")
		ok := true
		switch kind {
		case "":
		case "bend":
			sg.bend = true
		case "removed":
			sg.removed = id
			_, ok = l.part[id]
		case "open":
			sg.open = id
			_, ok = l.connector[id]
		case "pulled":
			sg.pulled = id
			_, ok = l.port[id]
		default:
			ok = false
		}
		if !ok {
			return fmt.Errorf("car %s: the sign %q shows when %q; allowed: nothing, bend, removed:PART, open:CONNECTOR, pulled:PORT", c.ID, s.See, s.When)
		}
		l.signs = append(l.signs, sg)
		if u := unitOf(c, s.Of); u != "" && !slices.ContainsFunc(l.seen, func(p UnitPart) bool { return p.ID == s.Of }) {
			l.seen = append(l.seen, UnitPart{s.Of, u})
		}
	}
	return nil
}

// unitOf is the service unit to which an element or an air part belongs, or "".
func unitOf(c *car.Car, id string) string {
	for _, e := range c.Electrical.Elements {
		if e.ID == id {
			return e.Unit
		}
	}
	for _, p := range c.Pneumatic.Parts {
		if p.ID == id {
			return p.Unit
		}
	}
	return ""
}
