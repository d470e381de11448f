package circuit

// solveAgain bounds how often a step looks for the straight pieces that agree with their own solution: first it moves all that don't agree
// at once, in the last oneByOne tries one alone, since two that answer each other may go round in circles. The solutions of the very last
// lastTries tell whether what still moves makes a difference.
const (
	solveAgain = 40
	oneByOne   = 24
	lastTries  = 8
)

// try solves with the straight pieces as they are, moves them to where the solution asks for and notes whether they were there.
func (n *Net) try(s *State, par []float64, in *Inputs, src *[MaxNodes]float64, one bool) error {
	if s.dirty || s.fac == nil {
		if err := n.refactor(s, par, in); err != nil {
			return err
		}
	}
	n.solve(s, src)
	if s.agreed = !n.repiece(s, par, in, one); s.agreed { // on the way there a load may draw its current through next to nothing
		return n.sound(s)
	}
	return nil
}

// chatter is a step's last tries. Where they don't agree either, their solutions must not differ by more than chatterV.
func (n *Net) chatter(s *State, par []float64, in *Inputs, src *[MaxNodes]float64) error {
	var seen spread
	for again := 1; ; again++ {
		before := s.piece
		if err := n.try(s, par, in, src, true); err != nil || s.agreed {
			return err
		}
		if again > oneByOne-lastTries {
			seen.add(n, s, &before)
		}
		if again == oneByOne {
			if err := seen.check(n); err != nil {
				return err
			}
			return n.sound(s)
		}
		s.dirty = true
		n.sources(s, par, in, src)
	}
}

// repiece moves each kinked branch to the straight piece that its own current asks for; true when one moved.
func (n *Net) repiece(s *State, par []float64, in *Inputs, one bool) bool {
	moved := false
	set := func(i int, p int8) {
		if at := &s.piece[n.branches[i].emf]; *at != p && !(one && moved) {
			*at = p
			moved = true
		}
	}
	if i := n.batt; i >= 0 {
		if n.amps(s, i) > 0 {
			set(i, 2)
		} else {
			set(i, 1)
		}
	}
	if i := n.alt; i >= 0 {
		b := &n.branches[i]
		p := par[b.p:]
		v := s.volt[b.a] - s.volt[b.b]
		switch s.piece[b.emf] {
		case 1: // voltage source
			if c := n.amps(s, i); c > 0 {
				set(i, 0)
			} else if -c > p[altLimit] {
				set(i, 2)
			}
		case 2: // at its limit
			if v > s.emf[b.emf]-float64(p[altLimit]*p[altOhm]) {
				set(i, 1)
			}
		default: // blocked by its diodes
			if v < s.emf[b.emf] {
				set(i, 1)
			}
		}
	}
	for _, i := range n.loads {
		b := &n.branches[i]
		switch v, piece := s.volt[b.a]-s.volt[b.b], s.piece[b.emf]; {
		case !in.On[b.aux]:
		case piece == 1 && v < loadKnee-1e-9:
			set(i, 0)
		case piece == 0 && v > loadKnee+1e-9:
			set(i, 1)
		}
	}
	for _, i := range n.motors {
		switch c, piece := n.amps(s, i), s.piece[n.branches[i].emf]; {
		case piece == 1 && c > brushKnee:
			set(i, 2)
		case piece == 1 && c < -brushKnee:
			set(i, 0)
		case piece == 2 && c < 0.9*brushKnee, piece == 0 && c > -0.9*brushKnee:
			set(i, 1)
		}
	}
	return moved
}
