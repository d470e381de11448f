package air

import (
	"errors"
	"fmt"
	"math"

	"coldbay/sim/sparse"
)

// What nothing on a car comes near: beyond it a solution is none, whether its numbers are finite or not.
const (
	maxPa     = 1e8                // a thousand times the outside pressure
	maxPaBits = 0x4197D78400000000 // its bits: those of what is no number, and of infinity, are above them
	maxLift   = 10.0               // m
)

// SolveError says where a pneumatic network has no solution. Node or Part is "" where it is not about one.
type SolveError struct {
	Node, Part string
	What       string // what is wrong there
	Err        error  // the cause, or nil
}

// Error names the network and the place.
func (e *SolveError) Error() string {
	at := ""
	switch {
	case e.Node != "" && e.Part != "":
		at = fmt.Sprintf(" at %q, part %q", e.Node, e.Part)
	case e.Node != "":
		at = fmt.Sprintf(" at %q", e.Node)
	case e.Part != "":
		at = fmt.Sprintf(" at the part %q", e.Part)
	}
	return "pneumatic network" + at + ": " + e.What
}

// Unwrap gives the cause.
func (e *SolveError) Unwrap() error { return e.Err }

// noGoodAround is the error of surroundings that are no pressures.
func (n *Net) noGoodAround(in *Inputs) error {
	for i, pa := range [fixed]float64{in.AmbientPa, in.ExhaustPa, in.Exhaust2Pa} {
		if !(math.Abs(pa) < maxPa) {
			return &SolveError{Node: n.nodes[i], What: fmt.Sprintf("%.3g Pa", pa)}
		}
	}
	return &SolveError{What: "the pressures around it are beyond sense together"}
}

// singular names the volume of a matrix that has no inverse, and the part by which it has none where one can be told.
func (n *Net) singular(s *State, par []float64, err error) error {
	out := &SolveError{What: err.Error(), Err: err}
	var at *sparse.SingularError
	if errors.As(err, &at) {
		i := at.Unknown + fixed
		out.Node, out.Part, out.What = n.nodes[i], n.culprit(s, par, i), "nothing finite balances the flows into it ("+sparse.ErrSingular.Error()+")"
	}
	return out
}

// unsound names the volume whose pressure is no number or beyond sense.
func (n *Net) unsound(s *State, par []float64) error {
	for i := fixed; i < len(n.nodes); i++ {
		if p := s.P[i]; !(p < maxPa) {
			return &SolveError{Node: n.nodes[i], Part: n.culprit(s, par, i), What: fmt.Sprintf("%.3g Pa", p)}
		}
	}
	return &SolveError{What: "a pressure beyond sense"}
}

// culprit is a part with a number that is none, or else one whose way into a volume carries what is none; "" where there is none such.
func (n *Net) culprit(s *State, par []float64, node int) string {
	for i := range n.parts {
		p := &n.parts[i]
		list, _ := KindParams(p.kind)
		for k := range list {
			if v := par[p.par+k]; math.IsNaN(v) || math.IsInf(v, 0) {
				return p.id
			}
		}
	}
	for i := range s.edges() {
		e := &s.ways.edges[i]
		if (int(e.a) == node || int(e.b) == node) && e.kind > eScaled && e.kind != eThrottle && e.kind != eToolVent {
			if m := s.flow[i]; math.IsNaN(m) || math.IsInf(m, 0) {
				return n.parts[e.part].id
			}
		}
	}
	for i := range n.parts {
		if p := &n.parts[i]; p.chamber == node {
			return p.id
		}
	}
	return ""
}
