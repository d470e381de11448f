package belief

import "math"

// Nearest is the severity of the suspect's world that comes nearest to the attempt, and the ledger line at which the suspect fell, 0 for
// one that still fits. Of the worlds that fit, the one with the severity nearest to like is taken; of a suspect that fell, a world
// that had fitted up to that line.
func (b *Belief) Nearest(suspect int, like float64) (severity float64, fell int) {
	for _, st := range b.steps {
		for _, s := range st.Strikes {
			if s.Suspect == suspect {
				return s.Severity, st.Finding.Seq
			}
		}
	}
	off := math.Inf(1)
	for _, w := range b.worlds[suspect] {
		if d := math.Abs(w.severity - like); !w.out && d < off {
			severity, off = w.severity, d
		}
	}
	return severity, 0
}

// Find is the index of a suspect on the order's board, -1 for one that is not on it.
func (b *Belief) Find(id string) int {
	for i, s := range b.suspects {
		if s.ID == id {
			return i
		}
	}
	return -1
}
