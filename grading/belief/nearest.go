package belief

import (
	"math"

	"coldbay/grading/plan"
)

// Nearest is the suspect's world that comes nearest to the attempt, and the ledger line at which the suspect fell, 0 for one that still
// fits. Of the worlds that fit, the one with the severity nearest to like is taken, in the order's own car if that is among them; of a
// suspect that fell, the world of its strike.
func (b *Belief) Nearest(suspect int, like float64) (w plan.World, fell int) {
	for _, st := range b.steps {
		for _, s := range st.Strikes {
			if s.Suspect == suspect {
				return plan.World{Severity: s.Severity, Draw: s.Draw}, st.Finding.Seq
			}
		}
	}
	off := math.Inf(1)
	for _, v := range b.worlds[suspect] {
		if d := math.Abs(v.Severity - like); !v.out && d < off {
			w, off = v.World, d
		}
	}
	return w, 0
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
