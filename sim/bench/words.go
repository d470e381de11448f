package bench

import "math"

// grade turns a quantity into a word: the first step whose upper limit it is below.
type grade struct {
	below float64
	word  string
}

func graded(v float64, table []grade) string {
	for _, g := range table {
		if v < g.below {
			return g.word
		}
	}
	return ""
}

var inf = math.Inf(1)

// What the senses make of a quantity. Every threshold is common practice without a source unless one is named; all are steps that
// two people would agree on without an instrument.
var (
	// Air speed at the tailpipe in m/s. A hand feels a draught from about 0.2 m/s (from memory: ISO 7730 rates draughts from 0.1 to
	// 0.3 m/s); the healthy system gives about 1.8 m/s at a 50 mm pipe with the engine off.
	tailpipeWords = []grade{{0.2, "none"}, {0.9, "faint"}, {2.8, "clear"}, {inf, "strong"}}

	// Air at an opened port or hose end, kg/s either way. An open 3 mm line pulls about 6e-4 kg/s from an idling engine, an open pressure
	// pipe carries about 5e-3 kg/s.
	openingWords = []grade{{5e-6, "none"}, {5e-5, "faint"}, {1.5e-3, "clear"}, {inf, "strong"}}

	// Hiss of a leak by mass flow, kg/s, at the place itself.
	hissWords = []grade{{2e-5, "none"}, {1e-4, "faint"}, {1e-3, "clear"}, {inf, "strong"}}

	// Whine of the pump by shaft speed, rad/s. Healthy: about 1080 with the engine off, 1190 with it running; a tone lower by a fourth is
	// heard as slow.
	pumpWords = []grade{{pumpAudible, "silent"}, {900, "slow"}, {1400, "normal"}, {inf, "fast"}}

	// Roughness by bearing torque over the healthy one.
	dragWords = []grade{{2, "smooth"}, {15, "rough"}, {inf, "grinding"}}

	// Heat to a careful hand, K.
	heatWords = []grade{{308, "cold"}, {skinBurnK, "warm"}, {inf, "hot"}}

	// A breath of about 5 kPa through a clean hose, kg/s that goes in; 1.4e-4 through an open solenoid port of 1.5 mm.
	breathWords = []grade{{1e-5, "blocked"}, {6e-5, "hard"}, {inf, "free"}}

	// Where the breath comes out again, kg/s.
	breathOutWords = []grade{{5e-6, "none"}, {4e-5, "faint"}, {inf, "clear"}}

	// Smoke that goes in, by the ball in the generator's tube, kg/s; into the open it gives 2e-4.
	smokeInWords = []grade{{4e-6, "none"}, {4e-5, "little"}, {inf, "much"}}

	// Smoke that comes out, kg/s.
	smokeOutWords = []grade{{2e-6, "none"}, {2e-5, "thin"}, {inf, "thick"}}

	// Test lamp: share of its rated power that it takes. The filament shows red from a few per cent.
	lampWords = []grade{{0.03, "off"}, {0.15, "glimmer"}, {0.6, "dim"}, {inf, "bright"}}

	// Coolant gauge, K.
	coolantWords = []grade{{313.15, "cold"}, {343.15, "warm"}, {inf, "hot"}}
)

// pumpAudible is the shaft speed in rad/s above which a pump is heard at all.
const pumpAudible = 40

// hissAway is what is left of a hiss a few steps off, with other parts of the car between [practice].
const hissAway = 0.2

// idleHunts is how far an idle swings, rpm, before the ear calls it unsteady [practice].
const idleHunts = 80

func coolantWord(kelvin float64) string { return graded(kelvin, coolantWords) }

// round brings a value to the resolution 1/inverse without leaving digits that are not there, and without a negative zero.
func round(v, inverse float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return math.Floor(float64(v*inverse)+0.5)/inverse + 0
}
