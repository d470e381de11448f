package plan

import (
	"container/heap"
	"context"
	"fmt"
)

// Proof is a proof line: what it would have taken, in hindsight, to leave only
// the truth's unit (or what no test can tell from it), repair and verify.
type Proof struct {
	Steps []Step
	// Readings is the seconds up to and with the last reading, set-ups
	// included; Seconds adds set-up, repair and verification.
	Readings, Seconds int64
	// Least is a proven lower bound of Seconds; Exact reports equality.
	Least int64
	Exact bool
}

// proofStates bounds the states a proof line may look at.
const proofStates = 200_000

// breathStates + 1 states of a proof line are looked at between two breaths: a millisecond's worth.
const breathStates = 15

// ProofLine finds the cheapest set of readings, with set-ups, that from all
// hypotheses and configuration q leaves only hypothesis h's unit, followed by
// its repair and verification. It is what a clairvoyant would do to convince
// everybody else, and never longer than a path of the plan on
// which no part was replaced in vain. It searches states (suspects
// still to be ruled out, configuration) by best first with the pair table as
// an admissible guide; when that grows past a fixed bound or the context ends
// it returns a greedy line and a lower bound.
func (p *Planner) ProofLine(ctx context.Context, h, q int) (Proof, error) {
	if err := p.checkState(p.m.all, q); err != nil {
		return Proof{}, err
	}
	if h < 0 || h >= p.m.n {
		return Proof{}, fmt.Errorf("%w: hypothesis %d is not among 0 to %d", ErrQuestion, h, p.m.n-1)
	}
	// The model is read only; no lock is needed.
	l := newLine(p.m, h)
	l.breathe = p.opts.Breathe
	goal, least := l.search(ctx, q)
	out := Proof{Exact: goal >= 0, Least: least}
	if goal < 0 {
		goal = l.greedy(q)
	}
	p.spell(l, goal, &out)
	if out.Exact {
		out.Least = out.Seconds
	}
	return out, nil
}

// line is the search for one hypothesis.
type line struct {
	m     *model
	h     int
	atom  int
	other Set   // suspects that must be ruled out
	keeps []Set // keeps[t]: suspects showing the same as h in test t
	nodes []lineNode
	index map[state]int32
	queue lineQueue

	breathe func()
}

type lineNode struct {
	at     state
	cost   int64
	from   int32
	test   int32 // -1 at the start, -2 for the repair that ends the line
	way    option
	closed bool
}

func newLine(m *model, h int) *line {
	l := &line{m: m, h: h, atom: int(m.atomOf[h]), index: map[state]int32{}}
	l.other = m.all.Minus(m.unitSet[m.unitOf[h]]).Minus(m.class[m.atoms[m.atomOf[h]].class])
	for t, test := range m.d.Tests {
		for k, mask := range m.masks[t] {
			if int(m.label[t][k]) == test.Row[h] {
				l.keeps = append(l.keeps, mask)
			}
		}
	}
	return l
}

// guide is a lower bound on what is left to spend.
func (l *line) guide(s state) int64 {
	b := &l.m.bound
	row := b.need[(int(s.q)*b.atoms+l.atom)*b.atoms:][:b.atoms]
	worst := b.base[int(s.q)*b.atoms+l.atom]
	for i := range s.set.All() {
		worst = max(worst, row[l.m.atomOf[i]])
	}
	return int64(worst)
}

func (l *line) push(n lineNode) {
	if k, ok := l.index[n.at]; ok {
		if old := &l.nodes[k]; old.closed || old.cost <= n.cost {
			return
		}
		l.nodes[k] = n
		heap.Push(&l.queue, lineItem{n.cost + l.guide(n.at), k})
		return
	}
	k := int32(len(l.nodes))
	l.nodes, l.index[n.at] = append(l.nodes, n), k
	heap.Push(&l.queue, lineItem{n.cost + l.guide(n.at), k})
}

// search returns the goal node, or -1 and the least possible total.
func (l *line) search(ctx context.Context, q int) (int32, int64) {
	l.push(lineNode{at: state{l.other, int32(q)}, from: -1, test: -1})
	best, goal := infinity, int32(-1)
	for steps := 0; l.queue.Len() > 0; steps++ {
		it := heap.Pop(&l.queue).(lineItem)
		if it.f >= best {
			break
		}
		if steps&breathStates == 0 {
			l.breathe()
		}
		n := l.nodes[it.node]
		if n.closed {
			continue
		}
		if len(l.nodes) > proofStates || steps&255 == 0 && ctx.Err() != nil {
			return -1, it.f
		}
		l.nodes[it.node].closed = true
		if n.at.set.Empty() {
			if v := n.cost + l.m.finish[l.m.unitOf[l.h]][n.at.q]; v < best {
				best, goal = v, it.node
			}
			continue
		}
		for t, keep := range l.keeps {
			left := n.at.set.And(keep)
			if left == n.at.set {
				continue
			}
			for _, o := range l.m.ways[n.at.q][t] {
				l.push(lineNode{at: state{left, o.post}, cost: n.cost + o.seconds, from: it.node, test: int32(t), way: o})
			}
		}
	}
	return goal, best
}

// greedy rules out most weight per second, from the start.
func (l *line) greedy(q int) int32 {
	l.nodes = l.nodes[:1]
	at := int32(0)
	for !l.nodes[at].at.set.Empty() {
		n := l.nodes[at]
		var best lineNode
		var gain, seconds int64 = -1, 1
		for t, keep := range l.keeps {
			left := n.at.set.And(keep)
			if left == n.at.set {
				continue
			}
			g := l.m.weigh(n.at.set.Minus(left))
			for _, o := range l.m.ways[n.at.q][t] {
				if gain < 0 || better(g, o.seconds, gain, seconds) {
					gain, seconds = g, o.seconds
					best = lineNode{at: state{left, o.post}, cost: n.cost + o.seconds, from: at, test: int32(t), way: o}
				}
			}
		}
		l.nodes = append(l.nodes, best)
		at = int32(len(l.nodes) - 1)
	}
	return at
}

// spell writes the steps of a line and its repair.
func (p *Planner) spell(l *line, goal int32, out *Proof) {
	var way []lineNode
	for k := goal; k >= 0; k = l.nodes[k].from {
		way = append(way, l.nodes[k])
	}
	left := p.m.all
	q := int(way[len(way)-1].at.q)
	for k := len(way) - 2; k >= 0; k-- {
		n := way[k]
		c := Choice{Act: ActTest, Index: int(n.test), At: int(n.way.pre), After: int(n.way.post), way: n.way}
		steps := p.steps(c, left, q)
		left = left.And(l.keeps[n.test])
		last := &steps[len(steps)-1]
		last.Outcome, last.Left = p.d.Tests[n.test].Row[l.h], left
		out.Steps = append(out.Steps, steps...)
		q = int(n.way.post)
	}
	for _, st := range out.Steps {
		out.Readings += st.Seconds
	}
	u := int(p.m.unitOf[l.h])
	move := p.m.moves[q][u][0]
	steps := p.steps(Choice{Act: ActRepair, Index: u, At: int(move.pre), After: int(move.post), way: move}, left, q)
	last := &steps[len(steps)-1]
	last.Outcome, last.Left = 1, left.And(p.m.unitSet[u])
	out.Steps = append(out.Steps, steps...)
	out.Seconds = out.Readings
	for _, st := range steps {
		out.Seconds += st.Seconds
	}
}

// lineItem orders the open states by bound, then by age.
type lineItem struct {
	f    int64
	node int32
}

type lineQueue []lineItem

func (q lineQueue) Len() int { return len(q) }
func (q lineQueue) Less(a, b int) bool {
	return q[a].f < q[b].f || q[a].f == q[b].f && q[a].node < q[b].node
}
func (q lineQueue) Swap(a, b int) { q[a], q[b] = q[b], q[a] }
func (q *lineQueue) Push(x any)   { *q = append(*q, x.(lineItem)) }
func (q *lineQueue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}
