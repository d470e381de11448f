package sim

import (
	"fmt"

	"coldbay/sim/car"
	"coldbay/sim/fault"
)

// maxLate bounds the changes of a car's faults that come later or come and go, so that a copy of a world takes them along at once.
const maxLate = 8

// late is a change that is not there from the start.
type late struct {
	change   *car.Change // nil: none, or mended
	severity float64
	on       bool
}

// Later keeps a change until its onset.
func (s shop) Later(ch *car.Change, severity float64) error {
	for i := range maxLate {
		if s.w.lateAt(i).change == nil {
			own(&s.w.late)[i] = late{change: ch, severity: severity}
			return nil
		}
	}
	return fmt.Errorf("more than %d changes with an onset", maxLate)
}

// onsets lets changes come and go. It is asked at every tick, so how ticks are cut into steps makes no difference.
func (w *World) onsets() {
	if w.late == nil {
		return
	}
	for i := range maxLate {
		l := w.lateAt(i)
		if l.change == nil {
			continue
		}
		on := w.due(&l.change.Onset, i, l.on)
		if on == l.on || l.on && l.change.Onset.Stays {
			continue
		}
		own(&w.late)[i].on = on
		if l.change.Detach != "" {
			if on { // a hose that has come off does not find back by itself
				w.fail(w.PullEnd(l.change.Detach))
				own(&w.late)[i].change = nil
			}
			continue
		}
		p, ok := w.car.Param(l.change.Set)
		if !ok {
			continue
		}
		w.wake()
		par := own(&w.par)
		par[p] = w.healthy[p]
		if on {
			par[p] = fault.Value(l.change, w.healthy[p], l.severity)
		}
		w.touch()
	}
}

// lateAt is a change by its number, the zero value where there is none.
func (w *World) lateAt(i int) late {
	if w.late == nil {
		return late{}
	}
	return w.late.v[i]
}

// due says whether an onset's condition holds now; on, whether it did before. The number tells apart changes of one car that depend on
// chance.
func (w *World) due(o *car.Onset, number int, on bool) bool {
	switch o.When {
	case "time":
		return w.ec.RunS >= o.AfterS
	case "hot":
		k := o.K
		if on {
			k -= o.BackK
		}
		return w.partK(o.Of) >= k
	case "cold":
		k := o.K
		if on {
			k += o.BackK
		}
		return w.partK(o.Of) < k
	case "vibration":
		return w.Rpm() >= o.Rpm
	case "random":
		period := max(int64(float64(o.PeriodS*1000)), 100)
		u := mix(w.cond.Draw^uint64(number+1)<<32, uint64(w.ms/period)) >> 11
		return float64(u)/(1<<53) < o.Duty
	}
	return true
}

// partK is how warm the winding of a motor, relay or coil is, K; without a name the coolant.
func (w *World) partK(winding string) float64 {
	if winding == "" {
		return w.en.CoolantK
	}
	if w.motor(winding) < 0 {
		if e, ok := w.car.Circuit.Elem(winding); ok && w.car.Circuit.Wound(winding) {
			return w.car.Circuit.CoilK(&w.el, e)
		}
	}
	return w.MotorK(winding)
}

// lateUnits calls f with the unit of each change that is still to come or gone for the moment.
func (w *World) lateUnits(f func(unit string)) {
	for i := range maxLate {
		if ch := w.lateAt(i).change; ch != nil {
			f(w.unitOf(ch))
		}
	}
}

// unitOf is the service unit that a change of a parameter or a hose end belongs to.
func (w *World) unitOf(ch *car.Change) string {
	if p, ok := w.car.Param(ch.Set); ok {
		return w.car.Params[p].Unit
	}
	for _, h := range w.car.Pneumatic.Hoses {
		if ch.Detach == h.ID+".a" || ch.Detach == h.ID+".b" {
			return h.Unit
		}
	}
	return ""
}
