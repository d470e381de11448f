package phrase

import (
	"slices"

	"coldbay/assets/messages"
	"coldbay/sim/bench"
)

// Named is an order's catalogue with its words and the names of the car's things in a language. The catalogue that is given stays as it is.
func Named(msg *messages.Catalogue, car string, c bench.Catalogue) bench.Catalogue {
	c.Car = msg.Name(car, "car", car, c.Car)
	c.Places = slices.Clone(c.Places)
	for i, p := range c.Places {
		c.Places[i].Name = msg.Name(car, "place", p.ID, p.Name)
	}
	for _, list := range []struct {
		kind  string
		spots *[]bench.Spot
	}{{"terminal", &c.Terminals}, {"port", &c.Ports}, {"connector", &c.Connectors}, {"part", &c.Parts}, {"clamp", &c.Clamps}} {
		*list.spots = slices.Clone(*list.spots)
		for i, s := range *list.spots {
			(*list.spots)[i].Name = msg.Name(car, list.kind, s.ID, s.Name)
		}
	}
	units := map[string]string{}
	plain := c.Units
	c.Units = slices.Clone(c.Units)
	for i, u := range c.Units {
		c.Units[i].Name = msg.Name(car, "unit", u.ID, u.Name)
		units[plain[i].Name] = c.Units[i].Name
	}
	// What is heard is called after the unit that it belongs to.
	c.Devices = slices.Clone(c.Devices)
	for i, d := range c.Devices {
		if name, ok := units[d.Name]; ok {
			c.Devices[i].Name = name
		}
	}
	c.Hoses = slices.Clone(c.Hoses)
	for i, h := range c.Hoses {
		c.Hoses[i].Name = msg.Name(car, "hose", h.ID, h.Name)
	}
	c.Suspects = slices.Clone(c.Suspects)
	for i, s := range c.Suspects {
		c.Suspects[i].Name = msg.Name(car, "fault", s.ID, s.Name)
	}
	c.PIDs = slices.Clone(c.PIDs)
	for i, p := range c.PIDs {
		c.PIDs[i].Name = msg.Said("data", p.Name)
	}
	c.Spec = slices.Clone(c.Spec)
	for i, row := range c.Spec {
		c.Spec[i] = [2]string{msg.Said("spec", row[0]), msg.Said("spec", row[1])}
	}
	o := msg.Order(c.Order.ID, messages.OrderText{Title: c.Order.Title, Customer: c.Order.Customer, Vehicle: c.Order.Vehicle,
		Complaint: c.Order.Complaint, History: c.Order.History, Cautions: c.Cautions})
	c.Order.Title, c.Order.Customer, c.Order.Vehicle, c.Order.Complaint, c.Order.History = o.Title, o.Customer, o.Vehicle, o.Complaint, o.History
	c.Cautions = o.Cautions
	return c
}

// Order is what an order says in a language.
func Order(msg *messages.Catalogue, o *bench.Order) messages.OrderText {
	return msg.Order(o.ID, messages.OrderText{Title: o.Title, Customer: o.Customer, Vehicle: o.Vehicle, Complaint: o.Complaint,
		History: o.Told(), Cautions: o.Cautions})
}
