// Package sparse solves the small linear systems of a circuit or a pneumatic network. Such networks are nearly trees,
// so eliminating the node with the fewest neighbours first leaves hardly any fill; a system of thirty nodes then
// costs about a hundred multiplications instead of nine thousand.
//
// The package uses only + - * / in a fixed order and never fuses a product with a sum, so the same system gives the
// same bits on every architecture. Tests compare it with gonum's dense LU.
package sparse

import (
	"errors"
	"math/bits"
)

// Max is the largest number of unknowns: neighbours are kept as bits of one word.
const Max = 64

// ErrSingular is returned by Factor when a pivot is zero, negative or not finite: for a network with conductances to a
// reference that means a node which nothing ties down.
var ErrSingular = errors.New("singular network")

// Plan is an elimination order for a structurally symmetric matrix. It is immutable once made and may be shared.
type Plan struct {
	n     int
	order []int // order[k] is the unknown eliminated k-th
	steps []step
	upd   []update
	at    []int32 // at[i*n+j]: position of entry (i, j) in a value slice, or -1
	size  int
}

// step eliminates one unknown: its off-diagonal neighbours are upper[k] = entry (p, j) and lower[k] = entry (j, p).
type step struct {
	pivot      int32 // position of the diagonal entry
	p          int32 // unknown
	links      []link
	upd0, upd1 int32
}

type link struct{ j, upper, lower int32 }

// update is a[dst] -= a[lower] * a[upper] after lower was divided by the pivot.
type update struct{ dst, lower, upper int32 }

// NewPlan makes the elimination order for n unknowns; adj[i] has bit j set when entries (i, j) and (j, i) may be non-zero.
// The diagonal is always present. n must be at most Max.
func NewPlan(n int, adj []uint64) (*Plan, error) {
	if n > Max {
		return nil, errors.New("sparse: more than 64 unknowns")
	}
	p := &Plan{n: n, at: make([]int32, n*n)}
	work := make([]uint64, n)
	for i := range work {
		work[i] = adj[i] &^ (1 << uint(i))
	}
	for i := range p.at {
		p.at[i] = -1
	}
	for i := range n {
		p.at[i*n+i] = int32(i)
	}
	p.size = n
	alive := ^uint64(0)
	if n < 64 {
		alive = 1<<uint(n) - 1
	}
	entry := func(i, j int) int32 {
		if p.at[i*n+j] < 0 {
			p.at[i*n+j] = int32(p.size)
			p.size++
		}
		return p.at[i*n+j]
	}
	for range n {
		best, deg := -1, 65
		for i := range n {
			if alive&(1<<uint(i)) == 0 {
				continue
			}
			if d := bits.OnesCount64(work[i] & alive); d < deg {
				best, deg = i, d
			}
		}
		alive &^= 1 << uint(best)
		nb := work[best] & alive
		s := step{pivot: p.at[best*n+best], p: int32(best)}
		for m := nb; m != 0; m &= m - 1 {
			j := bits.TrailingZeros64(m)
			s.links = append(s.links, link{int32(j), entry(best, j), entry(j, best)})
			work[j] |= nb &^ (1 << uint(j))
		}
		s.upd0 = int32(len(p.upd))
		for _, li := range s.links {
			for _, lj := range s.links {
				p.upd = append(p.upd, update{entry(int(li.j), int(lj.j)), li.lower, lj.upper})
			}
		}
		s.upd1 = int32(len(p.upd))
		p.steps = append(p.steps, s)
		p.order = append(p.order, best)
	}
	return p, nil
}

// Size is the length of the value slice that holds a matrix of this plan.
func (p *Plan) Size() int { return p.size }

// N is the number of unknowns.
func (p *Plan) N() int { return p.n }

// At is the position of entry (i, j) in a value slice, or -1 when it is structurally zero.
func (p *Plan) At(i, j int) int { return int(p.at[i*p.n+j]) }

// Factor replaces a with its LU factors. It allocates nothing.
func (p *Plan) Factor(a []float64) error {
	for k := range p.steps {
		s := &p.steps[k]
		d := a[s.pivot]
		if !(d > 0) || d > 1e300 {
			return ErrSingular
		}
		inv := 1 / d
		a[s.pivot] = inv
		for _, l := range s.links {
			a[l.lower] *= inv
		}
		for _, u := range p.upd[s.upd0:s.upd1] {
			a[u.dst] -= float64(a[u.lower] * a[u.upper])
		}
	}
	return nil
}

// Solve replaces b with the solution of the factored system. It allocates nothing.
func (p *Plan) Solve(a, b []float64) {
	for k := range p.steps {
		s := &p.steps[k]
		x := b[s.p]
		if x == 0 {
			continue
		}
		for _, l := range s.links {
			b[l.j] -= float64(a[l.lower] * x)
		}
	}
	for k := len(p.steps) - 1; k >= 0; k-- {
		s := &p.steps[k]
		x := b[s.p]
		for _, l := range s.links {
			x -= float64(a[l.upper] * b[l.j])
		}
		b[s.p] = x * a[s.pivot]
	}
}
