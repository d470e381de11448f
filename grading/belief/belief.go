package belief

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// Suspect is one hypothesis of the order.
type Suspect struct {
	ID     string
	Name   string
	Units  []string // service units that a complete repair includes; none for "no fault found"
	Root   string   // of a fault set: the unit of the root cause
	Weight float64
	Fixed  bool // no severity of its own
	Chance bool // comes and goes by chance
}

// Cell is the planner's hypothesis: worlds of one suspect that no test of the order's dictionary tells apart.
type Cell struct {
	Suspect int
	Worlds  []plan.World // at least one
}

// Severity is that of the first of the cell's worlds.
func (c *Cell) Severity() float64 { return c.Worlds[0].Severity }

// world is a suspect's fault at a severity in one car, with its own bench.
type world struct {
	plan.World
	cell    int          // cell it counts for
	b       *bench.Local // nil once the world need not go on
	out     bool         // has been struck, or could not follow
	stood   bool         // had not been out before the last action
	last    []bench.Percept
	at      int // number of actions seen when last was given
	refused string
}

// Strike is a suspect that fell: what was seen, and what its nearest world would have given.
type Strike struct {
	Suspect   int
	Severity  float64
	Draw      int // of the world, see [Seed]
	Seen      bench.Percept
	Predicted bench.Percept
	Refused   string // the action could not even have been done in that world
}

// Step is what one action did to the belief.
type Step struct {
	Finding bench.Finding
	Before  plan.Set // cells that fitted before
	After   plan.Set
	Parts   []plan.Set // how the action's outcomes divide Before; the seen part first
	Strikes []Strike
}

// Options change how a belief is built.
type Options struct {
	// Cells are the order's cells as its dictionary has them. None: families are made anew, every world a cell of its own.
	Cells []Cell
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
	worlds   [][]*world // by suspect, by draw and rising severity
	dead     []bool     // suspects
	next     []int      // by suspect, the draw to be tried next of a fault that comes and goes by chance
	seen     []bench.Finding
	steps    []Step
	workers  int
	waiting  *waiting
	alone    bool // try no other car of the spread: for tests
}

// New builds the suspects' worlds as they stand when the car comes in. cfg.Log is not used; cfg.Truth takes the place of the order's
// truth.
func New(ctx context.Context, cfg bench.Config, opts Options) (*Belief, error) {
	cfg.Log = nil
	b := &Belief{cfg: cfg, workers: max(1, opts.Workers), cells: opts.Cells, waiting: &waiting{cars: map[guess]*bench.Local{}}}
	truth := cfg.Order.Truth
	if cfg.Truth != nil {
		truth = *cfg.Truth
	}
	if truth.Severity == 0 {
		truth.Severity = 1
	}
	b.cfg.Truth = nil
	weights := cfg.Order.Weights(cfg.Layout)
	for i, id := range cfg.Order.SuspectIDs(cfg.Layout) {
		s, err := suspect(&cfg, id, weights[i])
		if err != nil {
			return nil, err
		}
		b.suspects = append(b.suspects, s)
	}
	b.dead, b.next = make([]bool, len(b.suspects)), make([]int, len(b.suspects))
	for i := range b.next {
		b.next[i] = draws
	}
	b.worlds = make([][]*world, len(b.suspects))
	if b.cells == nil {
		all, err := families(ctx, &b.cfg, truth, b.suspects, b.workers, opts.OffGrid)
		if err != nil {
			return nil, err
		}
		for i, family := range all {
			for _, w := range family {
				w.cell = len(b.cells)
				b.cells = append(b.cells, Cell{Suspect: i, Worlds: []plan.World{w.World}})
			}
		}
		b.worlds = all
		return b, nil
	}
	for c, cell := range b.cells {
		if cell.Suspect < 0 || cell.Suspect >= len(b.suspects) || len(cell.Worlds) == 0 {
			return nil, fmt.Errorf("order %s: cell %d is of no suspect, or has no world", cfg.Order.ID, c)
		}
		for _, w := range cell.Worlds {
			b.worlds[cell.Suspect] = insert(b.worlds[cell.Suspect], &world{World: w, cell: c})
		}
	}
	for i, family := range b.worlds {
		if len(family) == 0 {
			return nil, fmt.Errorf("order %s: suspect %s has no cell", cfg.Order.ID, b.suspects[i].ID)
		}
		if b.suspects[i].ID == truth.Fault && !opts.OffGrid {
			b.worlds[i] = withTruth(family, &b.suspects[i], truth.Severity)
		}
	}
	var jobs []job
	for i, family := range b.worlds {
		for _, w := range family {
			jobs = append(jobs, job{i, w})
		}
	}
	err := each(ctx, b.workers, len(jobs), func(k int) error {
		l, err := b.bench(jobs[k].suspect, jobs[k].w.World)
		jobs[k].w.b = l
		return err
	})
	return b, err
}

// withTruth puts the true car among its suspect's worlds where the cells were made for another severity: it never leaves the belief.
func withTruth(family []*world, s *Suspect, severity float64) []*world {
	if s.Fixed {
		severity = 1
	}
	near := family[0]
	for _, w := range family {
		if w.Draw == 0 && (near.Draw != 0 || math.Abs(w.Severity-severity) < math.Abs(near.Severity-severity)) {
			near = w
		}
	}
	own := plan.World{Severity: severity}
	if near.World == own {
		return family
	}
	return insert(family, &world{World: own, cell: near.cell})
}

func suspect(cfg *bench.Config, id string, weight float64) (Suspect, error) {
	members, err := cfg.Car.Members(id)
	if err != nil {
		return Suspect{}, fmt.Errorf("order %s: %w", cfg.Order.ID, err)
	}
	s := Suspect{ID: id, Name: cfg.Car.NoFault.Name, Weight: weight, Fixed: true}
	for _, m := range members {
		s.Fixed = s.Fixed && m.Fixed
		for _, ch := range m.Changes {
			s.Chance = s.Chance || ch.Onset.When == "random"
		}
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
func (b *Belief) bench(suspect int, w plan.World) (*bench.Local, error) {
	k := known{cfg: &b.cfg}
	return k.arrive(b.suspects[suspect].ID, w.Severity, w.Draw)
}

type job struct {
	suspect int
	w       *world
}

// all lists the worlds that go on.
func (b *Belief) all() []job {
	var jobs []job
	for i, family := range b.worlds {
		for _, w := range family {
			if !b.dead[i] && w.b != nil {
				jobs = append(jobs, job{i, w})
			}
		}
	}
	return jobs
}

// each runs f for 0 to n-1 on a number of workers. What f is called for shares nothing, so the order does not matter.
func each(ctx context.Context, workers, n int, f func(k int) error) error {
	errs := make([]error, n)
	var wg sync.WaitGroup
	next := make(chan int)
	for range workers {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range next {
				errs[k] = f(k)
			}
		}()
	}
	for k := range n {
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
	c.next = slices.Clone(b.next)
	c.dead, c.seen, c.steps = slices.Clone(b.dead), slices.Clip(b.seen), slices.Clip(b.steps)
	return &c
}

// Suspects of the order, in the order of its board.
func (b *Belief) Suspects() []Suspect { return b.suspects }

// Cells are what the sets of steps count.
func (b *Belief) Cells() []Cell { return b.cells }

// Steps so far.
func (b *Belief) Steps() []Step { return b.steps }

// Left are the cells with a world that fits everything seen so far.
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

// CellOf is the cell of the true car when a suspect is at fault at a severity: that of the world of the order's own draw whose severity is
// nearest; -1 for a suspect that is not on the board.
func (b *Belief) CellOf(id string, severity float64) int {
	best, off := -1, math.Inf(1)
	for c, cell := range b.cells {
		if b.suspects[cell.Suspect].ID != id {
			continue
		}
		for _, w := range cell.Worlds {
			if d := math.Abs(w.Severity - severity); w.Draw == 0 && d < off {
				best, off = c, d
			}
		}
	}
	return best
}

// Bench is the bench of a cell's first world as it stands when the car comes in, for building a dictionary; nil once a step was seen.
func (b *Belief) Bench(cell int) *bench.Local {
	if len(b.seen) > 0 {
		return nil
	}
	for _, w := range b.worlds[b.cells[cell].Suspect] {
		if w.World == b.cells[cell].Worlds[0] {
			return w.b
		}
	}
	return nil
}
