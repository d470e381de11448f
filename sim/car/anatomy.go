package car

import "slices"

// Anatomy is where the air system of a car can be looked at, found by following its networks: no name of a particular car is in it, so what
// is asked of one car can be asked of every other. Hoses count as being where they belong.
type Anatomy struct {
	Pump        string   // part that moves the air
	Motor       string   // element that turns it; empty when the engine does by a belt
	Plus, Minus string   // the motor's terminals
	Relay       string   // element that switches pump motors; empty when the car has none
	Battery     string   // element
	Pipe        string   // volume or hose into which the pump blows
	Pumped      []string // volumes and hoses that hold pumped air, from the open air to the exhaust
	Inlets      []string // parts through which the air comes in
	Dumps       []string // ports at which air goes back into the open
	Valves      []string // parts that lift to let air through
	Chambers    []string // volumes that pull a valve open; fewer than valves where pressure opens them
}

// Anatomy follows the networks. What a car does not have stays empty.
func (c *Car) Anatomy() Anatomy {
	var a Anatomy
	for _, e := range c.Electrical.Elements {
		switch {
		case e.Kind == "battery" && a.Battery == "":
			a.Battery = e.ID
		case e.Kind == "relay" && a.Relay == "":
			a.Relay = e.ID
		}
	}
	from, to := "", ""
	for _, p := range c.Pneumatic.Parts {
		if (p.Kind == "pump" || p.Kind == "belt_pump") && a.Pump == "" {
			a.Pump, a.Motor, from, to = p.ID, p.Motor, c.room(p.A), c.room(p.B)
		}
	}
	for _, e := range c.Electrical.Elements {
		if e.ID == a.Motor && a.Motor != "" {
			a.Plus, a.Minus = e.A, e.B
		}
	}
	if a.Pump == "" {
		return a
	}
	seen := []string{from, to}
	visit := func(place string) {
		if place != "" && !slices.Contains(seen, place) {
			seen = append(seen, place)
		}
	}
	for i := 0; i < len(seen); i++ {
		here := seen[i]
		if here == "ambient" || here == "exhaust" || here == "exhaust_2" {
			continue
		}
		for _, h := range c.Pneumatic.Hoses {
			if ends := []string{c.room(h.A), c.room(h.B)}; here == h.ID {
				visit(ends[0])
				visit(ends[1])
			} else if slices.Contains(ends, here) {
				visit(h.ID)
			}
		}
		for _, p := range c.Pneumatic.Parts {
			switch {
			case p.A == "" || p.B == "":
			case c.room(p.A) == here:
				visit(c.room(p.B))
			case c.room(p.B) == here:
				visit(c.room(p.A))
			}
		}
	}
	holds := func(id string) bool { return slices.Contains(seen, id) }
	for _, v := range c.Pneumatic.Volumes {
		if holds(v.ID) {
			a.Pumped = append(a.Pumped, v.ID)
		}
	}
	for _, h := range c.Pneumatic.Hoses {
		if holds(h.ID) {
			a.Pumped = append(a.Pumped, h.ID)
			if a.Pipe == "" && (h.A == to || h.B == to) {
				a.Pipe = h.ID
			}
		}
	}
	if slices.Contains(a.Pumped, to) {
		a.Pipe = to
	}
	for _, p := range c.Pneumatic.Parts {
		if p.A == "ambient" && holds(c.room(p.B)) {
			a.Inlets = append(a.Inlets, p.ID)
		}
		if p.Dump != "" {
			a.Dumps = append(a.Dumps, p.Dump)
		}
		if _, lifts := p.Params["lift_m"]; lifts {
			a.Valves = append(a.Valves, p.ID)
		}
		if p.Chamber != "" && !slices.Contains(a.Chambers, p.Chamber) {
			a.Chambers = append(a.Chambers, p.Chamber)
		}
	}
	return a
}

// room is the volume on which a port is, or the place itself.
func (c *Car) room(place string) string {
	for _, p := range c.Pneumatic.Ports {
		if p.ID == place && p.On != "" {
			return p.On
		}
	}
	return place
}
