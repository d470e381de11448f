package circuit

import (
	"errors"
	"fmt"
	"math"

	"coldbay/sim/sparse"
)

// What no circuit of a car comes near: beyond it a solution is none, whether its numbers are finite or not.
const (
	maxSiemens = 1e9 // three orders above the least resistance that an element may have
	maxVolts   = 1e5 // V, three orders above any source
	maxSum     = 1e9 // K and ratios, of all that a state remembers
)

// chatterV is by how many volts the solutions of a step may differ whose straight pieces don't agree with them: a thousandth of the last digit
// of a voltmeter. Then a branch stands on its kink, where both sides of it say the same but for rounding, and the step goes on with either. In the
// four cars with all their faults it is one step in 650, the battery's every time, without a current, and they differ by 3e-10 V at most.
const chatterV = 1e-6

// SolveError says where a circuit has no solution. Node or Element is "" where it is not about one.
type SolveError struct {
	Node, Element string
	What          string // what is wrong there
	Err           error  // the cause, or nil
}

// Error names the network and the place.
func (e *SolveError) Error() string {
	at := ""
	if e.Element != "" {
		at = fmt.Sprintf(" at the element %q", e.Element)
	}
	switch {
	case e.Node != "" && at != "":
		at += fmt.Sprintf(", terminal %q", e.Node)
	case e.Node != "":
		at = fmt.Sprintf(" at the terminal %q", e.Node)
	}
	return "electrical network" + at + ": " + e.What
}

// Unwrap gives the cause.
func (e *SolveError) Unwrap() error { return e.Err }

// noGood is the error of a branch one of whose numbers is beyond sense.
func (n *Net) noGood(branch int, what string, v float64, unit string) error {
	return &SolveError{Element: n.elems[n.branches[branch].elem].ID, What: fmt.Sprintf("%s = %.3g %s", what, v, unit)}
}

// singular names the terminal of a matrix that has no inverse, and what holds it least.
func (n *Net) singular(f *factor, err error) error {
	out := &SolveError{What: err.Error(), Err: err}
	var at *sparse.SingularError
	if !errors.As(err, &at) {
		return out
	}
	node := int16(at.Unknown + 1)
	out.Node, out.What = n.nodes[node], "nothing holds its voltage ("+sparse.ErrSingular.Error()+")"
	least := math.Inf(1)
	for i := range n.branches {
		if b := &n.branches[i]; (b.a == node || b.b == node) && f.g[i] > 0 && f.g[i] < least {
			least, out.Element = f.g[i], n.elems[b.elem].ID
		}
	}
	return out
}

// sound refuses voltages that are no numbers or beyond sense. What is no number, and infinity, have bits above those of every number.
func (n *Net) sound(s *State) error {
	v := s.volt[:len(n.nodes)]
	const most = 0x40F86A0000000000 // the bits of maxVolts
	var bad int64
	for i := range v {
		bad |= most - int64(math.Float64bits(v[i])&^(1<<63))
	}
	if bad >= 0 {
		return nil
	}
	worst := 0
	for i := range v {
		if !(math.Abs(v[i]) <= math.Abs(v[worst])) {
			worst = i
		}
		if math.IsNaN(v[worst]) {
			break
		}
	}
	return &SolveError{Node: n.nodes[worst], What: fmt.Sprintf("%.3g V", v[worst])}
}

// unsoundMemory names what a state remembers that is no number or beyond sense.
func (n *Net) unsoundMemory(s *State) error {
	bad := func(v float64) bool { return !(math.Abs(v) < maxSum/(maxCoils+maxFuses+maxMotors+3)) }
	for k, i := range n.coils {
		if bad(s.coilK[k]) {
			return n.noGood(i, "temperature", s.coilK[k], "K")
		}
	}
	for k, i := range n.fuses {
		if bad(s.heat[k]) {
			return n.noGood(i, "heating", s.heat[k], "times its rating")
		}
	}
	for m, i := range n.motors {
		if bad(s.wound[m]) {
			return n.noGood(i, "winding temperature", s.wound[m], "K")
		}
	}
	if n.batt >= 0 && (bad(s.Charge) || bad(s.taper)) {
		return n.noGood(n.batt, "state of charge", s.Charge+s.taper, "")
	}
	if n.alt >= 0 && bad(s.field) {
		return n.noGood(n.alt, "field", s.field, "")
	}
	return &SolveError{What: "temperatures that are beyond sense together"}
}

// spread is how far the solutions of a step's last tries lie apart, and which branches changed between them.
type spread struct {
	tries     int
	low, high [MaxNodes]float64
	moved     [maxForces]bool
}

func (d *spread) add(n *Net, s *State, before *[maxForces]int8) {
	if d.tries == 0 {
		d.low, d.high = s.volt, s.volt
	}
	d.tries++
	for i := range n.nodes {
		d.low[i], d.high[i] = min(d.low[i], s.volt[i]), max(d.high[i], s.volt[i])
	}
	for i := range d.moved {
		d.moved[i] = d.moved[i] || before[i] != s.piece[i]
	}
}

// check refuses solutions that lie apart.
func (d *spread) check(n *Net) error {
	worst := 0
	for i := range n.nodes {
		if d.high[i]-d.low[i] > d.high[worst]-d.low[worst] {
			worst = i
		}
	}
	if !(d.high[worst]-d.low[worst] > chatterV) {
		return nil
	}
	e := &SolveError{Node: n.nodes[worst], What: fmt.Sprintf("no solution that agrees with itself in %d tries: it goes from %.4g to %.4g V and back", solveAgain, d.low[worst], d.high[worst])}
	for i := range n.branches {
		if b := &n.branches[i]; b.emf >= 0 && d.moved[b.emf] {
			e.Element = n.elems[b.elem].ID
			break
		}
	}
	return e
}
