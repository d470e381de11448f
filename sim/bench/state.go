package bench

import (
	"slices"

	"coldbay/sim"
)

// state is the bench apart from the car: what the hands have done, where the trainee stands, what was noticed. What the trainee
// believes about the hoses is kept apart from where they really are, because a view that showed a hanging hose before anybody looked
// would be evidence that never reached the log.
type state struct {
	ticks    int     // bench time, 0.1 s
	calendar float64 // s, nights included
	bill     int     // cents: parts, nights
	helped   int     // ticks with a helper
	place    string
	extract  bool
	helper   bool
	hold     float64 // rpm held, 0 idle

	ends       []endState
	plugged    []bool // ports
	connectors []bool // open
	parts      []bool // removed

	meter   meterState
	clamp   clampState
	lamp    lampState
	jumpers [maxJumpers]jumperState
	hand    handState
	scan    scanState

	noticed noticedState
	hazard  hazardState

	struck []string
	notes  []string
	closed bool
}

// endState is where the trainee takes a hose end to be. At "" it hangs free.
type endState struct {
	at      string
	plugged bool
}

const maxJumpers = 4

type meterState struct {
	mode, red, black string
	ring             ring
	text             string
	blown            bool // the meter's own fuse
}

type clampState struct {
	on, text string
	zeroed   bool
	ring     ring
}

type lampState struct {
	red, black, text string
	watts            float64
	ring             ring
}

type jumperState struct {
	from, to string
	awg      int
	fuse     float64
	blown    bool
	state    string // "", hot, soft
}

type handState struct {
	on      string
	strokes int
	gauge   float64 // Pa below ambient that the needle stands at: it follows with play
	shown   float64 // kPa, last reading
	text    string
}

type scanState struct {
	plugged  bool
	actuator string
	data     []string // parameters on the screen, re-read by a watch
	lines    []string
}

type noticedState struct {
	engine  string // off, running
	rpm     int
	lamp    bool
	coolant string
	pumps   []bool // heard running
	rough   bool   // what listening or feeling told
	last    []Hazard
	stems   []stemState // of parts that are off
}

type hazardState struct {
	dead    []bool // controller outputs known to be dead
	hotPump []bool // pumps reported overheated
	co      int    // ticks of exhaust in the bay, falling again when it is aired
	coSaid  bool
}

// ring holds the last three samples of an instrument, whose display is their mean.
type ring struct {
	v [3]float64
	n int
}

func (r *ring) push(x float64) {
	r.v[0], r.v[1], r.v[2] = r.v[1], r.v[2], x
	r.n = min(r.n+1, 3)
}

func (r *ring) mean() float64 {
	switch r.n {
	case 0:
		return 0
	case 1:
		return r.v[2]
	case 2:
		return (r.v[1] + r.v[2]) / 2
	}
	return (r.v[0] + r.v[1] + r.v[2]) / 3
}

func newState(l *Layout) state {
	s := state{
		place:      placeFront,
		ends:       make([]endState, len(l.ends)),
		plugged:    make([]bool, len(l.ports)),
		connectors: make([]bool, len(l.connectors)),
		parts:      make([]bool, len(l.parts)),
	}
	for i, e := range l.ends {
		s.ends[i].at = e.home
	}
	s.noticed = noticedState{engine: engineOff, coolant: "cold", pumps: make([]bool, len(l.motors)), stems: make([]stemState, len(l.parts))}
	s.hazard = hazardState{dead: make([]bool, len(l.drivers)), hotPump: make([]bool, len(l.motors))}
	return s
}

// clone copies the state so that neither copy sees the other's changes.
func (s state) clone() state {
	s.ends = slices.Clone(s.ends)
	s.plugged = slices.Clone(s.plugged)
	s.connectors = slices.Clone(s.connectors)
	s.parts = slices.Clone(s.parts)
	s.scan.data = slices.Clone(s.scan.data)
	s.scan.lines = slices.Clone(s.scan.lines)
	s.noticed.pumps = slices.Clone(s.noticed.pumps)
	s.noticed.last = slices.Clone(s.noticed.last)
	s.noticed.stems = slices.Clone(s.noticed.stems)
	s.hazard.dead = slices.Clone(s.hazard.dead)
	s.hazard.hotPump = slices.Clone(s.hazard.hotPump)
	s.struck = slices.Clone(s.struck)
	s.notes = slices.Clone(s.notes)
	return s
}

// Words for the engine.
const (
	engineOff     = "off"
	engineRunning = "running"
)

// Slots of the world's instruments.
const (
	slotMeter  = 0
	slotLamp   = 1
	slotJumper = 2
)

// perTick is one tick in s, as the world counts.
const perTick = sim.Tick

// secs turns ticks into seconds. Dividing by ten gives the nearest decimal, which multiplying by 0.1 does not.
func secs(ticks int) float64 { return float64(ticks) / 10 }
