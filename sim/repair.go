package sim

import (
	"fmt"
	"math"
	"slices"
)

// RepairUnit makes a service unit as good as this car's healthy one: its parameters return to their values, a hose of the
// unit and the hose ends on its list of routes go where they belong. What the unit does not include stays as it is.
func (w *World) RepairUnit(unit string) error {
	u, ok := w.car.Unit(unit)
	if !ok {
		return fmt.Errorf("no service unit %q", unit)
	}
	w.wake()
	par := own(&w.par)
	for i, p := range w.car.Params {
		if p.Unit == unit || p.Unit != "" && slices.Contains(u.Includes, p.Unit) {
			par[i] = w.healthy[i]
		}
	}
	for i := range maxLate {
		if ch := w.lateAt(i).change; ch != nil {
			if of := w.unitOf(ch); of == unit || slices.Contains(u.Includes, of) {
				own(&w.late)[i] = late{}
			}
		}
	}
	for _, e := range w.car.Electrical.Elements {
		if e.Kind == "battery" && e.Unit == unit {
			w.el.Charge = 1
		}
	}
	for _, e := range u.Eases {
		if i, ok := w.car.Param(e.Set); ok {
			par[i] += float64((w.healthy[i] - par[i]) * e.Share)
		}
	}
	ends := slices.Clone(u.Routes)
	for _, h := range w.car.Pneumatic.Hoses {
		if h.Unit == unit {
			ends = append(ends, h.ID+".a", h.ID+".b")
		}
	}
	n := w.car.Air
	for _, id := range ends {
		e, err := w.end(id)
		if err != nil {
			return err
		}
		n.Pull(&w.pn, e)
		if has := w.pn.Has(n.Home(e)); has >= 0 {
			n.Pull(&w.pn, has)
		}
	}
	for _, id := range ends {
		e, _ := w.end(id)
		if err := n.Fit(&w.pn, e, n.Home(e)); err != nil {
			return fmt.Errorf("%s: %w", id, err)
		}
	}
	w.touch()
	return nil
}

// UnitsAtFault lists the service units that differ from this car's healthy state, for the grader: changed parameters, hose
// ends on a wrong port, and hose ends that hang free, except those named as taken off by the trainee.
func (w *World) UnitsAtFault(takenOff ...string) []string {
	var out []string
	add := func(u string) {
		if u != "" && !slices.Contains(out, u) {
			out = append(out, u)
		}
	}
	for i, p := range w.car.Params {
		if math.Abs(w.par.v[i]-w.healthy[i]) > 1e-12*math.Abs(w.healthy[i]) {
			add(p.Unit)
		}
	}
	w.lateUnits(add)
	n := w.car.Air
	for _, u := range w.car.Units {
		for _, id := range u.Routes {
			if e := n.End(id); e >= 0 && w.pn.At(e) >= 0 && w.pn.At(e) != n.Home(e) {
				add(u.ID)
			}
		}
	}
	for _, h := range w.car.Pneumatic.Hoses {
		for _, s := range []string{".a", ".b"} {
			if e := n.End(h.ID + s); w.pn.At(e) < 0 && !slices.Contains(takenOff, h.ID+s) {
				add(h.Unit)
			}
		}
	}
	return out
}
