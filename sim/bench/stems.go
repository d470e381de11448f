package bench

import (
	"math"
	"slices"
)

// stemState is the stem of a valve that was taken off, as shares of its full lift: where it last was seen to go, and where it was when it was last
// looked at for movement.
type stemState struct{ seen, last float64 }

// stemMoves is the share of its lift by which a stem must have moved before eyes notice [practice]; stemDown and stemUp are the limits of what looks
// shut and fully open.
const (
	stemMoves = 0.05
	stemDown  = 0.05
	stemUp    = 0.92
)

// stemShare is a part's lift now, as a share of the whole.
func (l *Local) stemShare(p *part) float64 { return l.w.ValveLift(p.world) / p.full }

// watchStems sees what the stem of a valve does that is off the car, when one stands there. In its place a valve hides its stem in its housing; in the
// hand it is in plain sight: it goes when vacuum or air comes, it falls back, or it stays though something was done to the valve.
func (l *Local) watchStems(j *job) {
	for i := range l.lay.parts {
		p := &l.lay.parts[i]
		if p.full == 0 || !l.s.parts[i] || p.place != l.s.place {
			continue
		}
		n := &l.s.noticed.stems[i]
		now := l.stemShare(p)
		if j.a.Verb == Remove && j.a.On == p.id {
			*n = stemState{last: now} // just come off: nothing has moved yet
			continue
		}
		moved := now - n.last
		if math.Abs(moved) < stemMoves && !l.worked(j, p) {
			continue
		}
		j.see(Percept{Sense: Eye, Key: "stem", Of: p.id, Word: stemWord(now, moved)})
		*n = stemState{now, now}
	}
}

// worked tells whether the action did something to a valve that could lift it.
func (l *Local) worked(j *job, p *part) bool {
	switch j.a.Verb {
	case Stroke:
		return slices.Contains(p.ports, l.s.hand.on)
	case Blow:
		return slices.Contains(p.ports, j.a.On)
	}
	return false
}

func stemWord(now, moved float64) string {
	at := "part way"
	switch {
	case now < stemDown:
		at = "down"
	case now > stemUp:
		at = "up"
	}
	switch {
	case math.Abs(moved) < stemMoves:
		return "stays " + at
	case moved < 0 && at == "down":
		return "falls back"
	case moved < 0:
		return "sinks part way"
	case at == "up":
		return "lifts fully"
	}
	return "lifts part way"
}
