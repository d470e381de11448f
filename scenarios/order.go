package scenarios

import (
	"slices"

	"coldbay/sim/bench"
	"coldbay/sim/car/strict"
)

// ParseOrder reads and checks an order against the library's cars.
func (l *Library) ParseOrder(file string, data []byte) (*Order, error) {
	var o bench.Order
	doc, err := strict.Decode(file, data, &o)
	if err != nil {
		return nil, err
	}
	k := orderCheck{doc: doc, o: &o}
	if o.Format != bench.OrderFormat {
		return nil, k.bad([]any{"format"}, "found %q; allowed is %q", o.Format, bench.OrderFormat)
	}
	c, ok := l.cars[o.Car]
	if !ok {
		return nil, k.bad([]any{"car"}, "found %q; %s", o.Car, strict.OneOf(o.Car, l.CarIDs()))
	}
	k.suspects, k.units, k.noFault = c.Layout.SuspectIDs(), c.Layout.UnitIDs(), c.Car.NoFault.ID
	for _, check := range []func() error{k.head, k.history, k.truth, k.board, k.tools} {
		if err := check(); err != nil {
			return nil, err
		}
	}
	return &Order{File: file, Digest: digest(data), Order: &o, Car: c}, nil
}

// orderCheck holds what the checks of one order share.
type orderCheck struct {
	doc             *strict.Doc
	o               *bench.Order
	suspects, units []string
	noFault         string
}

func (k *orderCheck) bad(path []any, format string, a ...any) error {
	return k.doc.Errorf(path, format, a...)
}

// among refuses a name that is not one of the allowed.
func (k *orderCheck) among(path []any, found string, allowed []string) error {
	if slices.Contains(allowed, found) {
		return nil
	}
	return k.bad(path, "found %q; %s", found, strict.OneOf(found, allowed))
}

func (k *orderCheck) within(path []any, v, low, high float64) error {
	if v >= low && v <= high {
		return nil
	}
	return k.bad(path, "found %g; allowed are %g to %g", v, low, high)
}

func (k *orderCheck) head() error {
	if !plainID(k.o.ID) {
		return k.bad([]any{"id"}, "found %q; an id is made of 1 to 40 small letters, digits and underscores", k.o.ID)
	}
	if err := k.within([]any{"minutes"}, float64(k.o.Minutes), 1, 600); err != nil {
		return err
	}
	if err := k.within([]any{"conditions", "ambient_c"}, k.o.Conditions.AmbientC, -40, 50); err != nil {
		return err
	}
	if err := k.within([]any{"conditions", "altitude_m"}, k.o.Conditions.AltitudeM, 0, 3000); err != nil {
		return err
	}
	if len(k.o.Cautions) == 0 {
		return k.bad([]any{"cautions"}, "found none; every order opens with the cautions of its work")
	}
	return nil
}

func plainID(id string) bool {
	if id == "" || len(id) > 40 {
		return false
	}
	for _, r := range id {
		if r != '_' && (r < '0' || r > '9') && (r < 'a' || r > 'z') {
			return false
		}
	}
	return true
}

func (k *orderCheck) history() error {
	for i, e := range k.o.History {
		at := func(key string) []any { return []any{"history", i, key} }
		if e.Do == "" {
			if e.Text == "" {
				return k.bad([]any{"history", i}, "an event needs a text, a do, or both")
			}
			if e.Times != 0 || e.Minutes != 0 || e.Hours != 0 || e.Unit != "" {
				return k.bad([]any{"history", i}, "an event that is only told takes no times, minutes, hours or unit")
			}
			continue
		}
		if err := k.among(at("do"), e.Do, bench.HistoryKinds()); err != nil {
			return err
		}
		if err := k.within(at("times"), float64(max(1, e.Times)), 1, 20); err != nil {
			return err
		}
		if e.Times < 0 {
			return k.bad(at("times"), "found %d; allowed are 1 to 20", e.Times)
		}
		for _, own := range []struct {
			do, key   string
			v         float64
			low, high float64
		}{{"drive", "minutes", e.Minutes, 0.5, 60}, {"wait", "hours", e.Hours, 0.1, 240}, {"wear", "hours", e.Hours, 0.1, 2000}} {
			if own.key == "hours" && e.Do != own.do && (e.Do == "wait" || e.Do == "wear") {
				continue
			}
			if e.Do == own.do {
				if err := k.within(at(own.key), own.v, own.low, own.high); err != nil {
					return err
				}
			} else if own.v != 0 {
				return k.bad(at(own.key), "only %q takes %s", own.do, own.key)
			}
		}
		if e.Wet && e.Do != "wear" {
			return k.bad(at("wet"), "only \"wear\" takes wet")
		}
		if e.Do == "repair" {
			if err := k.among(at("unit"), e.Unit, k.units); err != nil {
				return err
			}
		} else if e.Unit != "" {
			return k.bad(at("unit"), "only \"repair\" takes a unit")
		}
	}
	return nil
}

func (k *orderCheck) truth() error {
	t := k.o.Truth
	if err := k.among([]any{"truth", "fault"}, t.Fault, k.suspects); err != nil {
		return err
	}
	if k.doc.Has("truth", "severity") {
		if !(t.Severity > 0 && t.Severity <= 1) {
			return k.bad([]any{"truth", "severity"}, "found %g; allowed is more than 0 and at most 1", t.Severity)
		}
		if t.Fault == k.noFault {
			return k.bad([]any{"truth", "severity"}, "%q has no severity", t.Fault)
		}
	}
	return nil
}

// board checks suspects and their shifts; the truth must be on the board, or no work could find it.
func (k *orderCheck) board() error {
	seen := map[string]bool{}
	for i, s := range k.o.Suspects {
		if err := k.among([]any{"suspects", i}, s, k.suspects); err != nil {
			return err
		}
		if seen[s] {
			return k.bad([]any{"suspects", i}, "%q stands in the list twice", s)
		}
		seen[s] = true
	}
	board := k.o.Suspects
	if len(board) == 0 {
		board = k.suspects
	} else if len(board) < 2 {
		return k.bad([]any{"suspects"}, "found one; a board needs two at least")
	}
	if !slices.Contains(board, k.o.Truth.Fault) {
		return k.bad([]any{"truth", "fault"}, "%q is not among the order's suspects, so nobody could find it", k.o.Truth.Fault)
	}
	for i, s := range k.o.Shifts {
		if err := k.among([]any{"shifts", i, "suspect"}, s.Suspect, board); err != nil {
			return err
		}
		if err := k.within([]any{"shifts", i, "times"}, s.Times, 0.01, 100); err != nil {
			return err
		}
	}
	return nil
}

func (k *orderCheck) tools() error {
	for i, t := range k.o.Tools {
		if err := k.among([]any{"tools", i}, t, bench.AllTools()); err != nil {
			return err
		}
	}
	for i, t := range k.o.Withheld {
		if err := k.among([]any{"withheld", i}, t, bench.AllTools()); err != nil {
			return err
		}
	}
	return nil
}
