// Package sparse solves the small linear systems of a circuit or a pneumatic network. Such networks are nearly trees,
// so eliminating the node with the fewest neighbours first leaves hardly any fill; a system of thirty nodes then
// costs about a hundred multiplications instead of nine thousand.
//
// The package uses only + - * / in a fixed order and never fuses a product with a sum, so the same system gives the
// same bits on every architecture. Tests compare it with gonum's dense LU.
package sparse

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
)

// Max is the largest number of unknowns: neighbours are kept as bits of one word.
const Max = 64

// ErrSingular is returned by Factor when a pivot is zero, negative or not finite: for a network with conductances to a
// reference that means a node which nothing ties down.
var ErrSingular = errors.New("singular network")

// SingularError is the [ErrSingular] of one unknown: the one whose pivot is no good.
type SingularError struct{ Unknown int }

func (e *SingularError) Error() string {
	return fmt.Sprintf("%v at unknown %d", ErrSingular, e.Unknown)
}

// Unwrap gives ErrSingular.
func (e *SingularError) Unwrap() error { return ErrSingular }

// Plan is an elimination order for a structurally symmetric matrix. It is immutable once made and may be shared.
//
// A value slice holds the diagonal first, unknown by unknown, then the entries below the diagonal in the order in which they are eliminated,
// then those above it likewise, so that factoring and solving run through it from one end to the other.
type Plan struct {
	n     int
	off   int     // off-diagonal entries on either side
	order []uint8 // unknowns in the order of elimination
	runs  []run
	to    []uint8  // the neighbours that each still has when its turn comes
	dst   []uint16 // positions of what each changes: for each neighbour's row every neighbour's column
	at    []int16  // at[i*n+j]: position of entry (i, j) in a value slice, or -1
}

// run is a stretch of the order, of unknowns with the same number of neighbours: the loops over it have nothing to decide.
type run struct{ lo, hi, degree, e, u uint16 }

// NewPlan makes the elimination order for n unknowns; adj[i] has bit j set when entries (i, j) and (j, i) may be non-zero.
// The diagonal is always present. n must be at most Max.
func NewPlan(n int, adj []uint64) (*Plan, error) {
	if n > Max {
		return nil, errors.New("sparse: more than 64 unknowns")
	}
	p := &Plan{n: n, at: make([]int16, n*n), order: make([]uint8, 0, n)}
	var work, near [Max]uint64
	for i := range n {
		work[i] = adj[i] &^ (1 << uint(i))
	}
	alive := ^uint64(0)
	if n < 64 {
		alive = 1<<uint(n) - 1
	}
	updates := 0
	var first [Max]uint8
	for k := range n {
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
		near[best] = work[best] & alive
		for m := near[best]; m != 0; m &= m - 1 {
			j := bits.TrailingZeros64(m)
			work[j] |= near[best] &^ (1 << uint(j))
		}
		first[k] = uint8(best)
		p.off += deg
		updates += deg * deg
	}
	if updates > math.MaxUint16 {
		return nil, errors.New("sparse: the unknowns are tied together too closely")
	}
	p.arrange(first[:n], &near)
	p.place(&near, updates)
	return p, nil
}

// arrange puts unknowns with the same number of neighbours beside each other. What is added to an entry is still added in the order of
// first, so that the sums are the same to the bit.
func (p *Plan) arrange(first []uint8, near *[Max]uint64) {
	var last [Max]int8 // step that changed an unknown last, -1
	var before [Max][]int8
	for i := range last {
		last[i] = -1
	}
	for k, i := range first {
		for m := near[i] | 1<<i; m != 0; m &= m - 1 {
			j := bits.TrailingZeros64(m)
			if last[j] >= 0 {
				before[k] = append(before[k], last[j])
			}
			last[j] = int8(k)
		}
	}
	var done uint64
	degree := -1
	for range first {
		best, most := -1, 0
		var count, sample [Max]int
	steps:
		for k := len(first) - 1; k >= 0; k-- {
			if done&(1<<uint(k)) != 0 {
				continue
			}
			for _, b := range before[k] {
				if done&(1<<uint(b)) == 0 {
					continue steps
				}
			}
			d := bits.OnesCount64(near[first[k]])
			count[d]++
			sample[d] = k
		}
		for d, c := range count {
			if c > 0 && d == degree {
				best, most = d, len(first)
			}
			if c > most {
				best, most = d, c
			}
		}
		k := sample[best]
		done |= 1 << uint(k)
		if best != degree {
			degree = best
			p.runs = append(p.runs, run{lo: uint16(len(p.order)), degree: uint16(degree)})
		}
		p.order = append(p.order, first[k])
		p.runs[len(p.runs)-1].hi = uint16(len(p.order))
	}
}

// place gives every entry its position and lists what each step changes.
func (p *Plan) place(near *[Max]uint64, updates int) {
	n := p.n
	for i := range p.at {
		p.at[i] = -1
	}
	for i := range n {
		p.at[i*n+i] = int16(i)
	}
	p.to = make([]uint8, 0, p.off)
	for _, i := range p.order {
		for m := near[i]; m != 0; m &= m - 1 {
			j := bits.TrailingZeros64(m)
			p.at[j*n+int(i)] = int16(n + len(p.to))
			p.at[int(i)*n+j] = int16(n + p.off + len(p.to))
			p.to = append(p.to, uint8(j))
		}
	}
	p.dst = make([]uint16, 0, updates)
	e := 0
	for r := range p.runs {
		run := &p.runs[r]
		run.e, run.u = uint16(e), uint16(len(p.dst))
		for range run.hi - run.lo {
			to := p.to[e : e+int(run.degree)]
			for _, i := range to {
				for _, j := range to {
					p.dst = append(p.dst, uint16(p.at[int(i)*n+int(j)]))
				}
			}
			e += len(to)
		}
	}
}

// Size is the length of the value slice that holds a matrix of this plan.
func (p *Plan) Size() int { return p.n + 2*p.off }

// N is the number of unknowns.
func (p *Plan) N() int { return p.n }

// At is the position of entry (i, j) in a value slice, or -1 when it is structurally zero. That of (i, i) is i.
func (p *Plan) At(i, j int) int { return int(p.at[i*p.n+j]) }

// Factor replaces a with its LU factors. It allocates nothing but its error, a [SingularError].
func (p *Plan) Factor(a []float64) error {
	lower, upper := a[p.n:p.n+p.off], a[p.n+p.off:p.n+2*p.off]
	for r := range p.runs {
		run := &p.runs[r]
		e, dst := int(run.e), p.dst[run.u:]
		for _, k := range p.order[run.lo:run.hi] {
			d := a[k]
			if !(d > 0) || d > 1e300 {
				return &SingularError{Unknown: int(k)}
			}
			inv := 1 / d
			a[k] = inv
			switch run.degree {
			case 0:
			case 1:
				l := lower[e] * inv
				lower[e] = l
				a[dst[0]] -= float64(l * upper[e])
				dst = dst[1:]
				e++
			case 2:
				l, m := lower[e]*inv, lower[e+1]*inv
				lower[e], lower[e+1] = l, m
				u, v := upper[e], upper[e+1]
				a[dst[0]] -= float64(l * u)
				a[dst[1]] -= float64(l * v)
				a[dst[2]] -= float64(m * u)
				a[dst[3]] -= float64(m * v)
				dst = dst[4:]
				e += 2
			default:
				above := upper[e : e+int(run.degree)]
				for range run.degree {
					l := lower[e] * inv
					lower[e] = l
					for j, u := range above {
						a[dst[j]] -= float64(l * u)
					}
					dst = dst[len(above):]
					e++
				}
			}
		}
	}
	return nil
}

// Solve replaces b with the solution of the factored system. It allocates nothing.
func (p *Plan) Solve(a, b []float64) {
	lower, upper := a[p.n:p.n+p.off], a[p.n+p.off:p.n+2*p.off]
	for r := range p.runs {
		run := &p.runs[r]
		e := int(run.e)
		order := p.order[run.lo:run.hi]
		switch run.degree {
		case 0:
		case 1:
			to, l := p.to[e:e+len(order)], lower[e:e+len(order)]
			for i, k := range order {
				if x := b[k]; x != 0 {
					b[to[i]] -= float64(l[i] * x)
				}
			}
		case 2:
			for _, k := range order {
				if x := b[k]; x != 0 {
					b[p.to[e]] -= float64(lower[e] * x)
					b[p.to[e+1]] -= float64(lower[e+1] * x)
				}
				e += 2
			}
		default:
			for _, k := range order {
				x := b[k]
				if x == 0 {
					e += int(run.degree)
					continue
				}
				for range run.degree {
					b[p.to[e]] -= float64(lower[e] * x)
					e++
				}
			}
		}
	}
	for r := len(p.runs) - 1; r >= 0; r-- {
		run := &p.runs[r]
		order := p.order[run.lo:run.hi]
		e := int(run.e)
		switch run.degree {
		case 0:
			for _, k := range order {
				b[k] *= a[k]
			}
		case 1:
			to, u := p.to[e:e+len(order)], upper[e:e+len(order)]
			for i := len(order) - 1; i >= 0; i-- {
				k := order[i]
				b[k] = (b[k] - float64(u[i]*b[to[i]])) * a[k]
			}
		case 2:
			e += 2 * len(order)
			for i := len(order) - 1; i >= 0; i-- {
				k := order[i]
				e -= 2
				b[k] = (b[k] - float64(upper[e]*b[p.to[e]]) - float64(upper[e+1]*b[p.to[e+1]])) * a[k]
			}
		default:
			e += int(run.degree) * len(order)
			for i := len(order) - 1; i >= 0; i-- {
				k := order[i]
				e -= int(run.degree)
				x := b[k]
				for d := e; d < e+int(run.degree); d++ {
					x -= float64(upper[d] * b[p.to[d]])
				}
				b[k] = x * a[k]
			}
		}
	}
}
