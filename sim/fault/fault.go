// Package fault turns a fault and a severity into changed numbers. It knows no fault by name: what a fault does stands in the
// car file.
package fault

import (
	"fmt"

	"coldbay/sim/car"
	"coldbay/sim/dmath"
)

// Value is the parameter after a change at severity s in (0, 1], from its healthy value.
//
// Linear: healthy + (to - healthy) s^curve. Log: from -> to by equal ratios, added to the healthy value's place. Shut: 1 - value
// shrinks by equal ratios from 1 to 1 - to, for clogs that are felt only near total closure.
func Value(ch *car.Change, healthy, s float64) float64 {
	curve := ch.Curve
	if curve == 0 {
		curve = 1
	}
	x := dmath.Pow(s, curve)
	switch ch.Scale {
	case "log":
		l0, l1 := dmath.Log(ch.From), dmath.Log(ch.To)
		return dmath.Exp(l0 + float64((l1-l0)*x))
	case "shut":
		return 1 - dmath.Exp(float64(x*dmath.Log(1-ch.To)))
	}
	return healthy + float64((ch.To-healthy)*x)
}

// Bench is what a change is applied to.
type Bench interface {
	Set(param string, f func(healthy float64) float64) error
	Detach(end string) error
	Swap(a, b string) error
	Later(ch *car.Change, severity float64) error
}

// Apply carries out a fault's changes at severity s.
func Apply(b Bench, f *car.Fault, s float64) error {
	if !(s > 0 && s <= 1) {
		return fmt.Errorf("fault %s: severity %g, allowed is above 0 to 1", f.ID, s)
	}
	if f.Fixed {
		s = 1
	}
	for i := range f.Changes {
		ch := &f.Changes[i]
		var err error
		switch {
		case ch.Onset.Late():
			err = b.Later(ch, s)
		case ch.Set != "":
			err = b.Set(ch.Set, func(h float64) float64 { return Value(ch, h, s) })
		case ch.Detach != "":
			err = b.Detach(ch.Detach)
		default:
			err = b.Swap(ch.Swap[0], ch.Swap[1])
		}
		if err != nil {
			return fmt.Errorf("fault %s: %w", f.ID, err)
		}
	}
	return nil
}
