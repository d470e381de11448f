package sim

import (
	"slices"

	"coldbay/sim/air"
	"coldbay/sim/car"
	"coldbay/sim/circuit"
)

// SignatureProbes names the terminals and hoses of a car that a signature is read at. Empty is what the car does not have.
type SignatureProbes struct {
	Motor, PlugPlus, PlugMinus    string // the pump's motor and the two sides of its plug
	Pipe, Chamber, Valve          string // volume or hose behind the pump, the valve's chamber, the valve
	Chamber2, Valve2              string // of the second bank
	Reservoir                     string // of the vacuum
	LineEnd                       string // hose end of the valve's vacuum line at the solenoid
	CoilPlug, CoilPlus, CoilMinus string
}

// ProbesOf finds where to read a car: at its pump and the plug of that one's motor, its first valve in the way of the air, and the first
// three-way solenoid. In a car with two banks the second valve is read too.
func ProbesOf(c *car.Car) SignatureProbes {
	a := c.Anatomy()
	p := SignatureProbes{Motor: a.Motor, Pipe: a.Pipe}
	_, p.PlugPlus, p.PlugMinus = plugOf(c, a.Motor)
	if len(a.Valves) > 0 {
		p.Valve = a.Valves[0]
	}
	if c.Banks == 2 && len(a.Valves) > 1 {
		p.Valve2 = a.Valves[1]
	}
	for _, part := range c.Pneumatic.Parts {
		if part.ID == p.Valve {
			p.Chamber = part.Chamber
		}
		if part.ID == p.Valve2 {
			p.Chamber2 = part.Chamber
		}
		if part.Kind != "three_way" || p.LineEnd != "" {
			continue
		}
		if h, end := hoseAt(c, part.Out); h != nil {
			p.LineEnd = h.ID + end
		}
		p.Reservoir = reservoir(c, part.Supply)
		if plug, _, _ := plugOf(c, part.Coil); plug != "" {
			coil := element(c, part.Coil)
			p.CoilPlug, p.CoilPlus, p.CoilMinus = plug, coil.A, coil.B
		}
	}
	return p
}

// reservoir is the volume from which a hose feeds a solenoid's port, "" where that is the manifold itself.
func reservoir(c *car.Car, supply string) string {
	h, end := hoseAt(c, supply)
	if h == nil {
		return ""
	}
	far := h.A
	if end == ".a" {
		far = h.B
	}
	for _, port := range c.Pneumatic.Ports {
		if port.ID == far && port.On != "manifold" {
			return port.On
		}
	}
	return ""
}

func element(c *car.Car, id string) *circuit.Element {
	i := slices.IndexFunc(c.Electrical.Elements, func(e circuit.Element) bool { return e.ID == id })
	if i < 0 {
		return nil
	}
	return &c.Electrical.Elements[i]
}

// plugOf finds the connector on both terminals of an element, and its harness side. An element without a plug is read at its own terminals.
func plugOf(c *car.Car, id string) (plug, plus, minus string) {
	e := element(c, id)
	if e == nil {
		return "", "", ""
	}
	for _, k := range c.Electrical.Elements {
		for _, pins := range k.Pins {
			switch pins[1] {
			case e.A:
				plug, plus = k.ID, pins[0]
			case e.B:
				minus = pins[0]
			}
		}
	}
	if plus == "" || minus == "" {
		return "", e.A, e.B
	}
	return plug, plus, minus
}

// hoseAt finds the hose that belongs on a port, and which of its ends.
func hoseAt(c *car.Car, port string) (h *air.Hose, end string) {
	for i := range c.Pneumatic.Hoses {
		switch h := &c.Pneumatic.Hoses[i]; port {
		case "":
		case h.A:
			return h, ".a"
		case h.B:
			return h, ".b"
		}
	}
	return nil, ""
}
