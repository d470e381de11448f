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

type monitor struct {
	bad     float64 // s that the fault has been there without a break
	failed  bool    // in this driving cycle
	ran     bool    // in this driving cycle
	pending bool
	stored  bool
	clean   uint8 // good driving cycles in a row since stored
	everRan bool  // since codes were erased: readiness
}

// Frame is the freeze frame: the readings when a fault was first seen.
type Frame struct {
	Set    bool
	Source int8
	Values [len(framePIDs)]float64
}

// State is everything in the controller that changes.
type State struct {
	key      bool
	keyS     float64 // s since key-on
	crankS   float64
	RunS     float64 // s since the engine started; 0 when not running
	started  bool
	keyVolts float64
	allowed  bool    // secondary air was allowed at this start
	airS     float64 // s that it may run
	startK   float64
	Fuel     bool // fuel pump relay commanded
	Fire     bool
	Pump     bool // pump relay driver on
	Sol      bool // solenoid driver on
	Heating  bool
	AirDone  float64 // RunS at which the air stopped, 0 while it runs
	Lambda   float64 // commanded
	Short    float64 // fuel trims, -1 to 1
	Long     float64
	FuelRate float64 // kg/s
	maf      float64 // kg/s, filtered
	closed   bool
	judgeS   float64
	flowSum  float64
	mon      [monitors]monitor
	lampOn   bool
	frame    Frame
	test     Actuator
	testS    float64
	spent    bool // a test has run and is not armed again
	engRan   bool
	last     Inputs
}

// Inputs are what the controller's pins and sensors see.
type Inputs struct {
	Dt       float64
	Key      bool
	Crank    bool
	Rpm      float64
	CoolantK float64
	IntakeK  float64
	SupplyV  float64 // its own supply against its ground
	PumpPinV float64 // relay driver pin
	SolPinV  float64 // solenoid driver pin
	FuelV    float64 // fuel pump relay output
	MafKgS   float64
	CylKgS   float64
	MapPa    float64
	BaroPa   float64
	Lambda   float64 // sensor's reading
	SensorK  float64
	CatK     float64
	PumpShut bool // driver's own over-current flag
	SolShut  bool
	Throttle float64 // share open
	AFR      float64
	Air      Mixture
}

// Mixture is the fuelling calibration that Step needs.
type Mixture struct {
	Start, AirEnd, TailS, TrimMax, TrimRate, TrimSoft, LongRate, ReadyK float64
}

// Refusals of the scan services.
var (
	ErrKeyOff     = errors.New("the controller does not answer: the key is off")
	ErrEngineRuns = errors.New("the controller refuses while the engine runs")
	ErrNotArmed   = errors.New("the controller refuses: that test has to be armed again first")
)

// Actuate starts or stops an actuator test.
func Actuate(p *Spec, s *State, a Actuator) error {
	switch {
	case a == NoTest:
		s.test = NoTest
		return nil
	case !s.key:
		return ErrKeyOff
	case s.started:
		return ErrEngineRuns
	case s.spent:
		return ErrNotArmed
	}
	s.test, s.testS = a, 0
	return nil
}

// Testing is the actuator test that runs.
func (s *State) Testing() Actuator { return s.test }

// Erase clears codes, freeze frame and readiness; key on, engine off.
func Erase(s *State) error {
	if !s.key {
		return ErrKeyOff
	}
	if s.started {
		return ErrEngineRuns
	}
	s.mon = [monitors]monitor{}
	s.frame = Frame{}
	s.lampOn = false
	return nil
}

// Codes lists the stored or the pending codes.
func ListCodes(p *Spec, s *State, pending bool) []string {
	var out []string
	for i := range s.mon {
		m := &s.mon[i]
		if (pending && m.pending || !pending && m.stored) && p.Codes.name(i) != "" {
			out = append(out, p.Codes.name(i))
		}
	}
	return out
}

// FrameCode is the code that froze the frame, "" when there is none.
func FrameCode(p *Spec, s *State) (string, []byte, []float64) {
	if !s.frame.Set {
		return "", nil, nil
	}
	return p.Codes.name(int(s.frame.Source)), framePIDs[:], append([]float64(nil), s.frame.Values[:]...)
}

// Lamp says whether the malfunction lamp is lit: bulb check with the key on and the engine off, or a stored fault.
func (s *State) Lamp() bool { return s.key && (!s.started || s.lampOn) }

// Ready says whether the secondary air monitor has run since the codes were erased.
func (s *State) Ready() bool { return s.mon[flowLow].everRan }

// Asleep says whether the controller has seen the key go off and done what it does then.
func (s *State) Asleep() bool { return !s.key }

// Started says whether the controller counts the engine as running.
func (s *State) Started() bool { return s.started }
