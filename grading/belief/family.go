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
	scan, halvings = 4, 5
	// draws are the cars of the model's spread that a family is told in: the order's own, 0, and others. Every rung has the order's
	// own car; the others stand on one rung each, between the middle and the ends, or share the one rung of a fault without severity.
	draws = 3
	// A fault that comes and goes by chance is told in more: a draw has its own times too, and what one car shows in its good moments
	// another shows in its bad ones. When none of those that run fits any more, further draws are tried, each once, up to the most.
	chanceDraws, mostDraws = 6, 96
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
func families(ctx context.Context, cfg *bench.Config, truth bench.Truth, suspects []Suspect, workers int, offGrid bool) ([][]*world, error) {
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
	out := make([][]*world, len(suspects))
	err = each(ctx, workers, len(suspects), func(i int) error {
		f := clan{known: k, suspect: suspects[i].ID, came: map[plan.World]*came{}}
		own := truth.Severity
		if suspects[i].ID != truth.Fault || offGrid {
			own = 0
		}
		var err error
		out[i], err = f.worlds(ctx, &suspects[i], own)
		return err
	})
	return out, err
}

// draws is how many cars of the spread the suspect's family is told in to begin with.
func (s *Suspect) draws() int {
	if s.Chance {
		return chanceDraws
	}
	return draws
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
	cfg.Forget = true
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

// clan is one suspect while its family is made.
type clan struct {
	*known
	suspect string
	came    map[plan.World]*came
}

// came is a world as its car comes in, and whether that explains what is known of the order's.
type came struct {
	b        *bench.Local
	explains bool
}

// look lets a world's car come in, once.
func (f *clan) look(ctx context.Context, w plan.World) (*came, error) {
	if c := f.came[w]; c != nil {
		return c, nil
	}
	l, err := f.arrive(f.suspect, w.Severity, w.Draw)
	if err != nil {
		return nil, err
	}
	c := &came{b: l, explains: lit(l) == f.lit}
	if c.explains && !f.lit {
		heard, err := f.heard(ctx, l)
		if err != nil {
			return nil, err
		}
		c.explains = !slices.Equal(heard, f.healthy)
	}
	f.came[w] = c
	return c, nil
}

// worlds are the suspect's, sorted by draw and severity, with one for the order's own severity, if that is above 0.
func (f *clan) worlds(ctx context.Context, s *Suspect, own float64) ([]*world, error) {
	severities := []float64{1}
	if !s.Fixed {
		lo, hi, err := f.span(ctx)
		if err != nil {
			return nil, err
		}
		severities = severities[:0]
		for i := range rungs {
			severities = append(severities, lo+(hi-lo)*float64(i)/(rungs-1))
		}
	}
	var list []plan.World
	for _, v := range severities {
		list = append(list, plan.World{Severity: v})
	}
	if !s.Fixed && own > 0 && !slices.Contains(severities, own) {
		list = append(list, plan.World{Severity: own})
		slices.SortStableFunc(list, byDraw)
	}
	for draw, n := 1, s.draws(); draw < n; draw++ {
		list = append(list, plan.World{Severity: severities[draw*len(severities)/n], Draw: draw})
	}
	var out []*world
	for _, w := range list {
		c, err := f.look(ctx, w)
		if err != nil {
			return nil, err
		}
		if w.Draw > 0 {
			first, err := f.look(ctx, plan.World{Severity: w.Severity})
			if err != nil {
				return nil, err
			}
			if c.explains != first.explains && !(s.Chance && c.explains) {
				continue // it would fall with the first look at the codes
			}
		}
		out = append(out, &world{World: w, b: c.b})
	}
	return out, nil
}

// span is the range of severities that explain the car, its ends found by bisection: from the least to the greatest that does among even
// steps of (0, 1], or all of it where none does.
func (f *clan) span(ctx context.Context) (lo, hi float64, err error) {
	first, last := 0, 0
	for i := 1; i <= scan; i++ {
		c, err := f.look(ctx, plan.World{Severity: float64(i) / scan})
		if err != nil {
			return 0, 0, err
		}
		if c.explains {
			last = i
			if first == 0 {
				first = i
			}
		}
	}
	if last == 0 {
		return 1. / rungs, 1, nil
	}
	lo, err = f.edge(ctx, float64(first-1)/scan, float64(first)/scan)
	if err != nil || last == scan {
		return lo, 1, err
	}
	hi, err = f.edge(ctx, float64(last+1)/scan, float64(last)/scan)
	return lo, hi, err
}

// edge halves the stretch between a severity that does not explain the car and one that does, and returns the last one that does.
func (f *clan) edge(ctx context.Context, not, does float64) (float64, error) {
	for range halvings {
		mid := (not + does) / 2
		c, err := f.look(ctx, plan.World{Severity: mid})
		if err != nil {
			return 0, err
		}
		if c.explains {
			does = mid
		} else {
			not = mid
		}
	}
	return does, nil
}
