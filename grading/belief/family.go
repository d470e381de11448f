package belief

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// A family is cut into worlds before anything is read. More worlds make the belief and the dictionary dearer, not surer: what lies
// between two of them is found by bisection where it matters.
const (
	// rungs are the severities of a family, both ends of its span among them.
	rungs = 5
	// scan steps look for the span of severities that explain what is known of the car; halvings narrow each end of it, to a
	// severity of 1/128.
	scan, halvings = 8, 4
	// draws are the cars of the model's spread that a family is told in: the order's own, 0, and others. Every rung has the order's
	// own car; the others stand on one rung each, between the middle and the ends, or share the one rung of a fault without severity.
	draws = 3
)

// Seed is the seed of a family's draw: the order's own for 0, and others that depend on it.
func Seed(cfg *bench.Config, draw int) uint64 {
	own := cfg.Order.Truth.Draw
	if draw == 0 {
		return own
	}
	// Any odd multiplier keeps the draws of one order apart; zero would be the nominal car.
	return (own+1)*0x9E3779B97F4A7C15 + uint64(draw)
}

// families are the worlds that suspects are first tried in: what of each one's severities explains the car as it is brought in, in even
// steps, and other cars of its spread.
//
// A severity explains the car when its history leaves the malfunction lamp as the order's car has it, since that is what every complaint
// tells. Where the lamp is off the customer came for something else, and a severity explains the car only if something differs from a
// healthy one to whoever starts it cold and listens. A suspect that explains the car at no severity is on the board all the same: it
// keeps its whole range, and falls when the codes are read.
func families(ctx context.Context, cfg *bench.Config, truth bench.Truth, suspects []Suspect, workers int, offGrid bool) ([][]plan.World, error) {
	k := &known{cfg: cfg}
	l, err := k.arrive(truth.Fault, truth.Severity, 0)
	if err != nil {
		return nil, err
	}
	if k.lit = lit(l); !k.lit {
		if l, err = k.arrive(cfg.Car.NoFault.ID, 1, 0); err != nil {
			return nil, err
		}
		if k.healthy, err = k.heard(ctx, l); err != nil {
			return nil, err
		}
	}
	out := make([][]plan.World, len(suspects))
	err = each(ctx, workers, len(suspects), func(i int) error {
		var err error
		out[i], err = k.family(ctx, &suspects[i])
		return err
	})
	if err != nil || offGrid {
		return out, err
	}
	for i, s := range suspects {
		own := plan.World{Severity: truth.Severity}
		if s.ID == truth.Fault && !s.Fixed && own.Severity > 0 && !slices.Contains(out[i], own) {
			out[i] = append(out[i], own)
			slices.SortStableFunc(out[i], byDraw)
		}
	}
	return out, nil
}

// byDraw sorts worlds by draw and rising severity.
func byDraw(a, b plan.World) int {
	switch {
	case a.Draw != b.Draw:
		return a.Draw - b.Draw
	case a.Severity < b.Severity:
		return -1
	case a.Severity > b.Severity:
		return 1
	}
	return 0
}

// known is what everybody knows of the order's car before touching it.
type known struct {
	cfg     *bench.Config
	lit     bool
	healthy []bench.Class // what a healthy car would be heard to do; only where the lamp is off
}

func (k *known) arrive(suspect string, severity float64, draw int) (*bench.Local, error) {
	cfg := *k.cfg
	cfg.Truth = &bench.Truth{Fault: suspect, Severity: severity, Draw: Seed(k.cfg, draw)}
	return bench.NewLocal(cfg)
}

// lit says whether the car's history has left the malfunction lamp on.
func lit(l *bench.Local) bool { return len(l.World().Codes(false)) > 0 }

// heard is what a cold start gives to whoever turns the key and then listens all round the car.
func (k *known) heard(ctx context.Context, l *bench.Local) ([]bench.Class, error) {
	actions := []bench.Action{{Verb: bench.Start}}
	for _, p := range k.cfg.Layout.PlaceIDs() {
		actions = append(actions, bench.Action{Verb: bench.Listen, On: p})
	}
	l = l.Clone()
	var out []bench.Class
	for _, a := range actions {
		f, err := l.Do(ctx, a)
		var no *bench.Refusal
		if errors.As(err, &no) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("a cold start: %w", err)
		}
		out = append(out, f.Classes()...)
	}
	return out, nil
}

func (k *known) explains(ctx context.Context, suspect string, severity float64, draw int) (bool, error) {
	l, err := k.arrive(suspect, severity, draw)
	if err != nil {
		return false, err
	}
	if lit(l) != k.lit {
		return false, nil
	}
	if k.lit {
		return true, nil
	}
	heard, err := k.heard(ctx, l)
	return !slices.Equal(heard, k.healthy), err
}

// family is one suspect's worlds, sorted by draw and severity.
func (k *known) family(ctx context.Context, s *Suspect) ([]plan.World, error) {
	var out []plan.World
	if s.Fixed {
		for draw := range draws {
			out = append(out, plan.World{Severity: 1, Draw: draw})
		}
		return k.alike(ctx, s, out)
	}
	lo, hi, err := k.span(ctx, s)
	if err != nil {
		return nil, err
	}
	for i := range rungs {
		out = append(out, plan.World{Severity: lo + (hi-lo)*float64(i)/(rungs-1)})
	}
	for draw := 1; draw < draws; draw++ {
		at := draw * rungs / draws // between the ends
		out = append(out, plan.World{Severity: out[at].Severity, Draw: draw})
	}
	return k.alike(ctx, s, out)
}

// alike leaves other draws out that explain the car when the order's own does not, or the other way round: they would fall with the
// first look at the codes.
func (k *known) alike(ctx context.Context, s *Suspect, worlds []plan.World) ([]plan.World, error) {
	does := map[float64]bool{}
	out := worlds[:0]
	for _, w := range worlds {
		own, ok := does[w.Severity]
		if w.Draw == 0 || !ok {
			var err error
			if own, err = k.explains(ctx, s.ID, w.Severity, 0); err != nil {
				return nil, err
			}
			does[w.Severity] = own
		}
		if w.Draw > 0 {
			other, err := k.explains(ctx, s.ID, w.Severity, w.Draw)
			if err != nil {
				return nil, err
			}
			if other != own {
				continue
			}
		}
		out = append(out, w)
	}
	return out, nil
}

// span is the range of severities that explain the car, its ends found by bisection: from the least to the greatest that does among even
// steps of (0, 1], or all of it where none does.
func (k *known) span(ctx context.Context, s *Suspect) (lo, hi float64, err error) {
	first, last := 0, 0
	for i := 1; i <= scan; i++ {
		ok, err := k.explains(ctx, s.ID, float64(i)/scan, 0)
		if err != nil {
			return 0, 0, err
		}
		if ok {
			last = i
			if first == 0 {
				first = i
			}
		}
	}
	if last == 0 {
		return 1. / rungs, 1, nil
	}
	lo, err = k.edge(ctx, s, float64(first-1)/scan, float64(first)/scan)
	if err != nil || last == scan {
		return lo, 1, err
	}
	hi, err = k.edge(ctx, s, float64(last+1)/scan, float64(last)/scan)
	return lo, hi, err
}

// edge halves the stretch between a severity that does not explain the car and one that does, and returns the last one that does.
func (k *known) edge(ctx context.Context, s *Suspect, not, does float64) (float64, error) {
	for range halvings {
		mid := (not + does) / 2
		ok, err := k.explains(ctx, s.ID, mid, 0)
		if err != nil {
			return 0, err
		}
		if ok {
			does = mid
		} else {
			not = mid
		}
	}
	return does, nil
}
