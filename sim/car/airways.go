package car

import (
	"errors"
	"slices"

	"coldbay/sim/air"
	"coldbay/sim/car/strict"
)

// Largest volume, m3, and bore, m2, of anything on a car: ten times what is usual, so that litres or square millimetres taken for SI units show.
const (
	maxM3   = 0.05
	maxBore = 5e-3

	maxWarmK = 200.0
)

// checkAir refuses networks whose hoses and ports do not match: two hoses on a port, a port that belongs to nothing, a hose with both ends
// on one port, volumes and bores in other units than the keys say.
func (c *Car) checkAir(doc *strict.Doc) error {
	for i, v := range c.Pneumatic.Volumes {
		if v.M3 > maxM3 {
			return doc.Errorf([]any{"air", "volumes", i, "m3"}, "volume %q: found %g, allowed is 1e-8 to %g m3", v.ID, v.M3, maxM3)
		}
		if !(v.WarmK >= 0 && v.WarmK <= maxWarmK) {
			return doc.Errorf([]any{"air", "volumes", i, "warm_k"}, "volume %q: found %g, allowed is 0 to %g K above the surroundings", v.ID, v.WarmK, maxWarmK)
		}
	}
	if err := c.Air.Fits(c.values()); err != nil {
		var at *air.ItemError
		errors.As(err, &at)
		return doc.Errorf([]any{"air", at.List, at.Index}, "%v", err)
	}
	user := map[string]string{}
	use := func(port, by string) string {
		if first := user[port]; first != "" {
			return first
		}
		user[port] = by
		return ""
	}
	for i, p := range c.Pneumatic.Parts {
		for _, end := range []string{p.A, p.B, p.Supply, p.Out, p.Dump} {
			if c.Air.Port(end) < 0 {
				continue
			}
			if k := c.Air.Port(end); c.Pneumatic.Ports[k].On != "" {
				return doc.Errorf([]any{"air", "parts", i}, "part %q: the port %q is on the volume %q; a part is joined to the volume itself, or to a port of its own",
					p.ID, end, c.Pneumatic.Ports[k].On)
			}
			if first := use(end, p.ID); first != "" {
				return doc.Errorf([]any{"air", "parts", i}, "part %q: the port %q belongs to %q already", p.ID, end, first)
			}
		}
		if c.Banks < 2 && (p.A == "exhaust_2" || p.B == "exhaust_2") {
			return doc.Errorf([]any{"air", "parts", i}, "part %q leads into exhaust_2, which only a car with banks: 2 has", p.ID)
		}
	}
	for i, p := range c.Pneumatic.Ports {
		if p.On == "" && user[p.ID] == "" {
			return doc.Errorf([]any{"air", "ports", i}, "port %q is on no volume, and no part names it", p.ID)
		}
		if p.On == "" && p.CdA != 0 {
			return doc.Errorf([]any{"air", "ports", i, "cda_m2"}, "port %q: only a port on a volume has a bore of its own", p.ID)
		}
		if p.CdA > maxBore {
			return doc.Errorf([]any{"air", "ports", i, "cda_m2"}, "port %q: found %g, allowed is above 0 to %g m2", p.ID, p.CdA, maxBore)
		}
	}
	for i, h := range c.Pneumatic.Hoses {
		path := []any{"air", "hoses", i}
		switch {
		case h.A == h.B:
			return doc.Errorf(path, "hose %q has both ends on the port %q", h.ID, h.A)
		case !(h.Bore > 0 && h.Bore <= maxBore):
			return doc.Errorf(append(path, "bore_cda_m2"), "hose %q: found %g, allowed is above 0 to %g m2", h.ID, h.Bore, maxBore)
		case !(h.WarmK >= 0 && h.WarmK <= maxWarmK):
			return doc.Errorf(append(path, "warm_k"), "hose %q: found %g, allowed is 0 to %g K above the surroundings", h.ID, h.WarmK, maxWarmK)
		case h.M3 > maxM3:
			return doc.Errorf(append(path, "m3"), "hose %q: found %g, allowed is 1e-8 to %g m3", h.ID, h.M3, maxM3)
		}
		for _, end := range []string{h.A, h.B} {
			if first := use("hose on "+end, h.ID); first != "" {
				return doc.Errorf(path, "hose %q: the port %q has the hose %q already", h.ID, end, first)
			}
		}
	}
	return nil
}

// checkNames refuses two things that would share the name of a parameter, and a number of banks that no car has.
func (c *Car) checkNames(doc *strict.Doc) error {
	if c.Banks < 0 || c.Banks > 2 {
		return doc.Errorf([]any{"banks"}, "found %d, allowed is 1 or 2", c.Banks)
	}
	names := make([]string, 0, len(c.Params))
	for _, p := range c.Params {
		names = append(names, p.Name)
	}
	slices.Sort(names)
	for i := 1; i < len(names); i++ {
		if names[i] == names[i-1] {
			return doc.Errorf([]any{"air"}, "two things give the parameter %q its name; names must differ between the netlist and the pneumatic network", names[i])
		}
	}
	return nil
}
