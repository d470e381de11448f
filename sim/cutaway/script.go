package cutaway

import (
	"fmt"

	"coldbay/sim"
	"coldbay/sim/car"
)

// Run is what is done to the car while a film is made.
type Run string

// The runs.
const (
	ColdStart Run = "cold_start" // key on at 0 s, starter at 1 s, then idle until the cold run is over
	Actuator  Run = "actuator"   // after a cold start and with the engine off: output test of pump and valve, 5 s on and 5 s off
	TwoTrips  Run = "two_trips"  // two cold starts with a night between them: the second one is filmed
)

// Runs lists the runs.
func Runs() []string { return []string{string(ColdStart), string(Actuator), string(TwoTrips)} }

// RunsOf lists the runs that a car can be put through: an output test needs a socket for a scan tool.
func RunsOf(c *car.Car) []string {
	if c.ScanPort {
		return Runs()
	}
	return []string{string(ColdStart), string(TwoTrips)}
}

// Seconds is the length of a run's film, s.
func (r Run) Seconds() float64 {
	if r == Actuator {
		return 100
	}
	return 130
}

const (
	startAt  = 1.0  // s between key and starter
	crankMax = 6.0  // s, the longest cranking
	testAt   = 2.0  // s after key-on
	warmRun  = 30.0 // s that the engine runs before an output test: it fills the reservoir
	night    = 8.0  // h
	tripS    = 150  // s, the first of two trips
)

// before brings the car to where the film begins. It yields between slices of time.
func (r Run) before(w *sim.World, yield func() error) error {
	switch r {
	case ColdStart:
		return nil
	case Actuator:
		if err := drive(w, warmRun, yield); err != nil {
			return err
		}
		w.SetKey(false)
		return pass(w, 100, yield)
	case TwoTrips:
		if err := drive(w, tripS, yield); err != nil {
			return err
		}
		w.SetKey(false)
		w.Soak(night)
		return yield()
	}
	return fmt.Errorf("run %q; allowed are %v", r, Runs())
}

// drive turns the key, starts the engine and lets it idle for seconds.
func drive(w *sim.World, seconds float64, yield func() error) error {
	for t := 0; t < int(seconds*10); t++ {
		crank(w, t)
		w.Step(1)
		if t%slice == 0 {
			if err := yield(); err != nil {
				return err
			}
		}
	}
	w.SetStarter(false)
	return nil
}

func pass(w *sim.World, ticks int, yield func() error) error {
	for t := range ticks {
		w.Step(1)
		if t%slice == 0 {
			if err := yield(); err != nil {
				return err
			}
		}
	}
	return nil
}

// crank works key and starter at a tick of a start.
func crank(w *sim.World, t int) {
	switch now := float64(t) / 10; {
	case t == 0:
		w.SetKey(true)
	case now == startAt:
		w.SetStarter(true)
	case now > startAt && (w.Running() || now >= startAt+crankMax):
		w.SetStarter(false)
	}
}

// at does what a run wants at a tick of its film. Nothing is done twice: what is refused, such as an output test of a weak battery, shows
// in the film by not happening.
func (r Run) at(w *sim.World, t int) {
	if r != Actuator {
		if t <= int((startAt+crankMax)*10) {
			crank(w, t)
		}
		return
	}
	switch t {
	case 0:
		w.SetKey(true)
	case int(testAt * 10):
		if w.Actuate("both") != nil {
			_ = w.Actuate("pump") // a car without a solenoid has that test alone; for the rest see above
		}
	}
}
