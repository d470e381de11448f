package ecm

import "errors"

// Actuator is what an actuator test drives.
type Actuator uint8

// The actuator tests.
const (
	NoTest Actuator = iota
	TestPump
	TestSolenoid
	TestBoth
)

// The re-arm conditions of a car file.
const (
	atOnce    = "at_once"
	keyCycle  = "key_cycle"
	engineRun = "engine_run"
)

// Refusals of the scan services.
var (
	ErrKeyOff     = errors.New("the controller does not answer: the key is off")
	ErrEngineRuns = errors.New("the controller refuses while the engine runs")
	ErrNotArmed   = errors.New("the controller refuses: that test has to be armed again first")
	ErrNoOutput   = errors.New("the controller has no such output test")
	ErrBattery    = errors.New("the controller refuses: the battery is too low")
)

// Actuate starts or stops an actuator test; key on, engine off, battery good enough. With a re-arm condition, a test that was once started can be
// started again only after a key cycle or an engine run.
func Actuate(p *Spec, s *State, a Actuator) error {
	switch {
	case a == NoTest:
		s.test = NoTest
		return nil
	case !s.key:
		return ErrKeyOff
	case p.Actuator.OnS == 0 || a != TestSolenoid && !s.hasPump || a != TestPump && !s.hasSol:
		return ErrNoOutput
	case s.started:
		return ErrEngineRuns
	case s.spent:
		return ErrNotArmed
	case s.seen.supplyV < p.Actuator.BatteryMin:
		return ErrBattery
	}
	s.test, s.testS, s.shutS, s.shut = a, 0, 0, false
	s.spent = p.Actuator.Rearm == keyCycle || p.Actuator.Rearm == engineRun
	return nil
}

// Testing is the actuator test that runs.
func (s *State) Testing() Actuator { return s.test }

// testing ends an actuator test after its time, and notes when an output can't bear what it drives.
func (s *State) testing(p *Spec, in *Inputs) {
	if s.test == NoTest {
		return
	}
	s.testS += in.Dt
	if s.shutS += float32(in.Dt); !(s.Pump && in.PumpShut || s.Sol && in.SolShut) {
		s.shutS = 0
	}
	s.shut = s.shut || s.shutS > float32(p.Circuit.DebounceS)
	if p.Actuator.TotalS > 0 && s.testS > p.Actuator.TotalS {
		s.test = NoTest
	}
}
