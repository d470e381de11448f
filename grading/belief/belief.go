package belief

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// Grid are the severities at which a suspect with a severity is tried first. Below the first a fault changes little that
// a bay's instruments show.
var grid = []float64{0.4, 0.6, 0.75, 0.9, 1}

// Suspect is one hypothesis of the order.
type Suspect struct {
	ID     string
	Name   string
	Units  []string // service units that a complete repair includes; none for "no fault found"
	Root   string   // of a fault set: the unit of the root cause
	Weight float64
	Fixed  bool // no severity of its own
}

// Cell is one severity of a suspect on the grid: the planner's hypothesis.
type Cell struct {
	Suspect  int
	Severity float64
}

// world is one severity of a suspect with its own bench.
type world struct {
	severity float64
	cell     int // grid cell it counts for
	b        *bench.Local
	out      bool            // has been struck, or could not follow
	last     []bench.Percept // of the last action
	refused  string
}

// Strike is a suspect that fell: what was seen, and what its nearest world would have given.
type Strike struct {
	Suspect   int
	Severity  float64
	Seen      bench.Percept
	Predicted bench.Percept
	Refused   string // the action could not even have been done in that world
}

// Step is what one action did to the belief.
type Step struct {
	Finding bench.Finding
	Before  plan.Set // grid cells that fitted before
	After   plan.Set
	Parts   []plan.Set // how the action's outcomes divide Before; the seen part first
	Strikes []Strike
}

// Options change how a belief is built.
type Options struct {
	// OffGrid leaves the order's true severity out of its family, so that bisection has to find it: for tests.
	OffGrid bool
	// Workers is the number of goroutines; 0 means one.
	Workers int
}

// Belief holds the suspects' worlds. It is not safe for concurrent use.
type Belief struct {
	cfg      bench.Config
	suspects []Suspect
	cells    []Cell
	worlds   [][]*world // by suspect, rising severity
	dead     []bool     // suspects
	seen     []bench.Finding
	steps    []Step
	workers  int
}

// New builds the suspects' worlds as they stand when the car comes in. cfg.Truth and cfg.Log are not used.
func New(ctx context.Context, cfg bench.Config, opts Options) (*Belief, error) {
	cfg.Log = nil
	b := &Belief{cfg: cfg, workers: max(1, opts.Workers)}
	truth := cfg.Order.Truth
	if cfg.Truth != nil {
		truth = *cfg.Truth
	}
	b.cfg.Truth = nil
	weights := cfg.Order.Weights(cfg.Layout)
	for i, id := range cfg.Order.SuspectIDs(cfg.Layout) {
		s, err := suspect(&cfg, id, weights[i])
		if err != nil {
			return nil, err
		}
		severities := slices.Clone(grid)
		if s.Fixed {
			severities = []float64{1}
		}
		if true1 := max(truth.Severity, 0); id == truth.Fault && !s.Fixed && !opts.OffGrid && true1 > 0 && !slices.Contains(severities, true1) {
			severities = append(severities, true1)
			slices.Sort(severities)
		}
		var family []*world
		for _, v := range severities {
			family = append(family, &world{severity: v, cell: len(b.cells)})
			b.cells = append(b.cells, Cell{Suspect: i, Severity: v})
		}
		b.suspects = append(b.suspects, s)
		b.worlds = append(b.worlds, family)
	}
	if len(b.cells) > plan.MaxHypotheses {
		return nil, fmt.Errorf("order %s: %d suspects at their severities, at most %d are allowed", cfg.Order.ID, len(b.cells), plan.MaxHypotheses)
	}
	b.dead = make([]bool, len(b.suspects))
	err := b.each(ctx, b.all(), func(i int, w *world) error {
		l, err := b.bench(i, w.severity)
		w.b = l
		return err
	})
	return b, err
}

func suspect(cfg *bench.Config, id string, weight float64) (Suspect, error) {
	members, err := cfg.Car.Members(id)
	if err != nil {
		return Suspect{}, fmt.Errorf("order %s: %w", cfg.Order.ID, err)
	}
	s := Suspect{ID: id, Name: cfg.Car.NoFault.Name, Weight: weight, Fixed: true}
	for _, m := range members {
		s.Fixed = s.Fixed && m.Fixed
		if !slices.Contains(s.Units, m.Unit) {
			s.Units = append(s.Units, m.Unit)
		}
		s.Name = m.Name
	}
	for _, set := range cfg.Car.Sets {
		if set.ID == id {
			s.Name, s.Root = set.Name, set.Root
		}
	}
	return s, nil
}

// bench is a suspect's car at the moment it comes into the bay.
func (b *Belief) bench(suspect int, severity float64) (*bench.Local, error) {
	cfg := b.cfg
	cfg.Truth = &bench.Truth{Fault: b.suspects[suspect].ID, Severity: severity, Draw: b.cfg.Order.Truth.Draw}
	return bench.NewLocal(cfg)
}

type job struct {
	suspect int
	w       *world
}

// all lists the worlds of the suspects that still stand; worlds that fell stay in their family to bracket readings.
func (b *Belief) all() []job {
	var jobs []job
	for i, family := range b.worlds {
		for _, w := range family {
			if !b.dead[i] {
				jobs = append(jobs, job{i, w})
			}
		}
	}
	return jobs
}

// each runs f over worlds on the belief's workers. Worlds share nothing, so the order does not matter.
func (b *Belief) each(ctx context.Context, jobs []job, f func(suspect int, w *world) error) error {
	errs := make([]error, len(jobs))
	var wg sync.WaitGroup
	next := make(chan int)
	for range b.workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range next {
				errs[k] = f(jobs[k].suspect, jobs[k].w)
			}
		}()
	}
	for k := range jobs {
		if ctx.Err() != nil {
			break
		}
		next <- k
	}
	close(next)
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	return errors.Join(errs...)
}

// Clone is a second belief that goes on from the same moment: the suspects' histories are lived once and serve many attempts.
func (b *Belief) Clone() *Belief {
	c := *b
	c.worlds = make([][]*world, len(b.worlds))
	for i, family := range b.worlds {
		for _, w := range family {
			v := *w
			if w.b != nil {
				v.b = w.b.Clone()
			}
			c.worlds[i] = append(c.worlds[i], &v)
		}
	}
	c.dead, c.seen, c.steps = slices.Clone(b.dead), slices.Clip(b.seen), slices.Clip(b.steps)
	return &c
}

// Suspects of the order, in the order of its board.
func (b *Belief) Suspects() []Suspect { return b.suspects }

// Cells are the grid cells that the sets of steps count.
func (b *Belief) Cells() []Cell { return b.cells }

// Steps so far.
func (b *Belief) Steps() []Step { return b.steps }

// Left are the grid cells that fit everything seen so far.
func (b *Belief) Left() plan.Set {
	var s plan.Set
	for i, family := range b.worlds {
		if b.dead[i] {
			continue
		}
		for _, w := range family {
			if !w.out {
				s = s.With(w.cell)
			}
		}
	}
	return s
}

// Fits says whether a suspect fits everything seen so far.
func (b *Belief) Fits(suspect int) bool { return !b.dead[suspect] }

// Bench is the bench of a grid cell as it stands when the car comes in, for building a dictionary; nil once a step was seen.
func (b *Belief) Bench(cell int) *bench.Local {
	if len(b.seen) > 0 {
		return nil
	}
	for _, family := range b.worlds {
		for _, w := range family {
			if w.cell == cell {
				return w.b
			}
		}
	}
	return nil
}
