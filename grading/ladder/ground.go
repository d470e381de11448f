package ladder

import (
	"context"
	"fmt"
	"strings"

	"coldbay/grading/plan"
	"coldbay/grading/regret"
)

// Ground is a dictionary made ready to be played on: cheapest set-ups, outcome sets, and the planners that price every choice. It
// remembers what it worked out and serves one goroutine at a time.
type Ground struct {
	// Order is the order's id.
	Order string
	// D is the dictionary, P its planner, Even the planner of the same dictionary with equal priors: trainees are charged the
	// smaller regret of the two.
	D       *plan.Dictionary
	P, Even *plan.Planner

	nodes  int64
	all    plan.Set
	dist   [][]int64
	masks  [][]plan.Set
	proc   []string // procedure of each test: its id up to the configuration
	choose map[state][]plan.Choice
}

type state struct {
	left   plan.Set
	config int
}

// NewGround prepares a dictionary. nodes bounds the planner's search per question as plan.Options does; 0 is unbounded.
func NewGround(order string, d *plan.Dictionary, nodes int64) (*Ground, error) {
	p, err := plan.New(d, plan.Options{Nodes: nodes})
	if err != nil {
		return nil, err
	}
	even, err := plan.New(regret.EqualPriors(d), plan.Options{Nodes: nodes})
	if err != nil {
		return nil, err
	}
	g := &Ground{Order: order, D: d, P: p, Even: even, nodes: nodes, all: d.All(), dist: distances(d), choose: map[state][]plan.Choice{}}
	for _, t := range d.Tests {
		masks := make([]plan.Set, len(t.Outcomes))
		for i, o := range t.Row {
			masks[o] = masks[o].With(i)
		}
		g.masks = append(g.masks, masks)
		id, _, _ := strings.Cut(t.ID, "@")
		g.proc = append(g.proc, id)
	}
	return g, nil
}

// far is longer than any set-up of a valid dictionary.
const far = int64(1) << 40

// distances are the cheapest set-up times between configurations, by Floyd and Warshall's rule; a test that moves the bench counts
// as a way.
func distances(d *plan.Dictionary) [][]int64 {
	n := len(d.Configs)
	out := make([][]int64, n)
	for a := range out {
		out[a] = make([]int64, n)
		for b := range out[a] {
			if a != b {
				out[a][b] = far
			}
		}
	}
	for _, s := range d.SetUps {
		out[s.From][s.To] = min(out[s.From][s.To], s.Seconds)
	}
	for _, t := range d.Tests {
		for _, p := range t.At {
			out[p.Pre][p.Post] = min(out[p.Pre][p.Post], t.Seconds)
		}
	}
	for m := range n {
		for a := range n {
			for b := range n {
				out[a][b] = min(out[a][b], out[a][m]+out[m][b])
			}
		}
	}
	return out
}

// Move is one thing done from a standing: a test, or a repair with its verification.
type Move struct {
	Act plan.Act
	// Index is the test or the unit.
	Index int
	// At is the configuration it is done in, After the one it leaves.
	At, After int
	// SetUp is the seconds of setting up for it, Seconds all of it with set-up.
	SetUp, Seconds int64
}

// way is the cheapest way to do test t from configuration q.
func (g *Ground) way(q, t int) Move {
	out := Move{Act: plan.ActTest, Index: t, Seconds: far}
	for _, p := range places(g.D.Tests[t].At, q) {
		if s := g.dist[q][p.Pre] + g.D.Tests[t].Seconds; s < out.Seconds {
			out.At, out.After, out.SetUp, out.Seconds = p.Pre, p.Post, g.dist[q][p.Pre], s
		}
	}
	return out
}

// places is at, or "here, unchanged" for what may be done anywhere.
func places(at []plan.Placement, q int) []plan.Placement {
	if len(at) == 0 {
		return []plan.Placement{{Pre: q, Post: q}}
	}
	return at
}

// cure is the cheapest way to repair and verify unit u from configuration q among those that fit; nil fits all.
func (g *Ground) cure(q, u int, fits func(at, after int) bool) Move {
	unit := g.D.Units[u]
	out := Move{Act: plan.ActRepair, Index: u, Seconds: far}
	for _, a := range places(unit.RepairAt, q) {
		for _, b := range places(unit.VerifyAt, a.Post) {
			setUp := g.dist[q][a.Pre] + g.dist[a.Post][b.Pre]
			if s := setUp + unit.Repair + unit.Verify; s < out.Seconds && (fits == nil || fits(a.Pre, b.Post)) {
				out.At, out.After, out.SetUp, out.Seconds = a.Pre, b.Post, setUp, s
			}
		}
	}
	return out
}

// parts are what the outcomes of test t would leave of a set, empty ones left out.
func (g *Ground) parts(t int, left plan.Set) []plan.Set {
	var out []plan.Set
	for _, m := range g.masks[t] {
		if p := left.And(m); !p.Empty() {
			out = append(out, p)
		}
	}
	return out
}

// splits says whether test t tells some of the suspects left apart. Where they span units it then tells units apart.
func (g *Ground) splits(t int, left plan.Set) bool {
	for _, m := range g.masks[t] {
		if p := left.And(m); !p.Empty() {
			return p != left
		}
	}
	return false
}

// closed says whether nothing is left to find out: the suspects left are of one unit, or no test tells them apart.
func (g *Ground) closed(left plan.Set) bool {
	if left.Within(g.D.InUnit(g.D.Hypotheses[left.First()].Unit)) {
		return true
	}
	for t := range g.masks {
		if g.splits(t, left) {
			return false
		}
	}
	return true
}

// best is everything optimal at a standing.
func (g *Ground) best(ctx context.Context, left plan.Set, q int) ([]plan.Choice, error) {
	key := state{left, q}
	if c, ok := g.choose[key]; ok {
		return c, nil
	}
	c, _, err := g.P.Best(ctx, left, q)
	if err != nil {
		return nil, fmt.Errorf("best of order %s: %w", g.Order, err)
	}
	g.choose[key] = c
	return c, nil
}

// move spells a choice of the planner out, made from configuration q.
func (g *Ground) move(q int, c plan.Choice) Move {
	if c.Act == plan.ActRepair {
		return g.cure(q, c.Index, func(at, after int) bool { return at == c.At && after == c.After })
	}
	return Move{Act: c.Act, Index: c.Index, At: c.At, After: c.After, SetUp: g.dist[q][c.At], Seconds: g.dist[q][c.At] + g.D.Tests[c.Index].Seconds}
}

// step is what a move makes of the suspects left, with the outcome that the truth shows.
func (g *Ground) step(left plan.Set, m Move, truth int) regret.Step {
	s := regret.Step{Seconds: m.Seconds, Repair: m.Act == plan.ActRepair}
	if m.Act == plan.ActRepair {
		cured := left.And(g.D.InUnit(m.Index))
		if !cured.Empty() {
			s.Parts = append(s.Parts, plan.Part{Left: cured, Config: m.After, Done: true})
		}
		if rest := left.Minus(cured); !rest.Empty() {
			s.Parts = append(s.Parts, plan.Part{Left: rest, Config: m.After})
		}
	} else {
		for _, p := range g.parts(m.Index, left) {
			s.Parts = append(s.Parts, plan.Part{Left: p, Config: m.After})
		}
	}
	for k, p := range s.Parts {
		if p.Left.Has(truth) {
			s.Seen = k
		}
	}
	return s
}
