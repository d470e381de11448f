package score

import (
	"coldbay/sim/bench"
)

// Kinds of decision, by what the hands and senses do; ids are stable.
const (
	KindLooking  = "looking"
	KindElectric = "electrics"
	KindVacuum   = "vacuum"
	KindAir      = "air"
	KindScan     = "scan"
	KindParts    = "parts"
	KindSetUp    = "setup"
)

// kinds are all of them in a fixed order.
var kinds = [...]string{KindLooking, KindElectric, KindVacuum, KindAir, KindScan, KindParts, KindSetUp}

// kindOf sorts an action; what only prepares or undoes is set-up.
func kindOf(a bench.Action) string {
	switch a.Verb {
	case bench.Look, bench.Listen, bench.Watch:
		return KindLooking
	case bench.Feel, bench.Blow, bench.SmokeIn, bench.Analyse:
		return KindAir
	case bench.MeterOn, bench.ClampOn, bench.LampOn:
		return KindElectric
	case bench.Read:
		if a.On == "gauge" {
			return KindVacuum
		}
		return KindElectric
	case bench.Stroke, bench.HoldVac, bench.HandPump:
		return KindVacuum
	case bench.Codes, bench.Freeze, bench.Data, bench.Actuator, bench.Erase, bench.Readiness, bench.Results:
		return KindScan
	case bench.Repair, bench.Drive:
		return KindParts
	}
	return KindSetUp
}

// instrument says which kind of instrument gave a reading, where that tells more than what the hands did last; a pump driven by the
// scan tool and measured with a meter is a decision about electrics.
func instrument(p bench.Percept) string {
	switch p.Sense {
	case bench.Meter, bench.Clamp, bench.Lamp:
		return KindElectric
	case bench.Gauge:
		return KindVacuum
	case bench.Hand, bench.Analyser:
		if p.Key == "vibration" || p.Key == "heat" {
			return KindLooking
		}
		return KindAir
	}
	return ""
}

// kindOfStretch is the kind of a step of the timeline: that of the instrument that was read, or of the last action.
func (g *grader) kindOfStretch(s stretch) string {
	f := g.findings[s.last]
	kind := kindOf(f.Action)
	if kind == KindParts {
		return kind
	}
	for _, p := range f.Percepts {
		if k := instrument(p); k != "" {
			return k
		}
	}
	return kind
}

// kindOfCost is the kind of the decision that a step of the timeline began: what only set up belongs to what the steps joined to it read.
func (g *grader) kindOfCost(i int) string {
	kind := g.kindOfStretch(g.path[i])
	for k := i + 1; k < len(g.path) && kind == KindSetUp && g.path[k].step.Joined; k++ {
		kind = g.kindOfStretch(g.path[k])
	}
	return kind
}

// kindOfSteps is the kind of a procedure as it is written: that of its last line that is more than set-up, an instrument before what
// drives it.
func kindOfSteps(lines []string) string {
	kind := KindSetUp
	for _, line := range lines {
		a, err := bench.ParseLine(line)
		if err != nil {
			continue
		}
		k := kindOf(a)
		if k == KindSetUp || k == KindScan && kind != KindSetUp {
			continue
		}
		kind = k
	}
	return kind
}
