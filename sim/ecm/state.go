package ecm

import "sync/atomic" //samebits:ok a mark that copies share; it decides who may write in place, never what is written

// State is everything in the controller that changes. It is kept small: worlds are copied by the thousand.
type State struct {
	file *file // nil: nothing on it

	// This key cycle.
	key      bool
	started  bool
	keyVolts float64
	keyS     float64 // s since key-on
	crankS   float64
	bulb     bool // bulb check
	Fuel     bool // fuel pump relay commanded
	Fire     bool
	Pump     bool // pump relay driver on
	Sol      bool // solenoid driver on
	Heating  bool

	// This driving cycle: from the engine's start until it stops.
	RunS     float64 // s since the engine started; 0 when not running
	startK   float64 // coolant at the start
	airS     float64 // s that the air may run
	AirDone  float64 // RunS at which the air stopped, 0 while it runs
	allowed  bool    // secondary air was allowed at this start
	closed   bool    // closed loop
	warmed   bool    // this cycle's warm-up is counted
	judged   bool    // the passive flow monitor has ended
	tried    bool    // the active flow monitor has ended
	probing  bool    // the active flow monitor has pump and valve on
	done     uint8   // what has completed in this cycle, bits of the other monitors
	counted  uint8   // what the in-use counters have got from this cycle
	Lambda   float64 // commanded
	Short    float64 // fuel trims, -1 to 1, of the first bank where there are two
	Long     float64
	Short2   float64 // of the second
	Long2    float64
	FuelRate float64 // kg/s
	Fuel2    float64 // kg/s of it that the second bank gets
	maf      float64 // kg/s, filtered
	judgeS   float64
	flowSum  [2]float64 // kg/s s, by bank
	hopeSum  float64    // kg/s s that were expected
	loadS    float32    // s of high load while the air runs
	leanS    float32    // s of air after the air
	probeS   float32    // s of warm idle, or of the active test
	probeAt  [2]float32 // short trims when the active test began
	closedS  float32    // s in closed loop
	hotS     float32    // s in closed loop with the catalyst hot
	idleS    float32    // s idling without a break
	longIdle bool       // 30 s of it
	driveS   float32    // s driven
	blownS   float32    // s that the air ran
	shutPa   float32    // pipe pressure against the shut valve
	piped    uint8      // how far the pipe monitor has come

	// Kept when the key is off.
	mon     [tests]monitor
	ready   uint8 // what has completed since codes were erased, bits of the other monitors
	warmUps uint8 // since codes were erased
	inUse   [inUseCount]uint16

	// Actuator test.
	hasPump bool // outputs that there are
	hasSol  bool
	banks   uint8
	test    Actuator
	testS   float64
	shutS   float32 // s that a driver under test has been shut down by over-current
	shut    bool    // long enough to be told
	spent   bool    // a test has run and is not armed again

	seen seen
}

// file is what the controller has written down. It is changed a few times in a drive, so copies of a state share it until one of them does.
type file struct {
	shared  atomic.Bool
	frame   frozen
	results [resultCount]result
}

// Share must be called on a state that is about to be copied.
func (s *State) Share() {
	if s.file != nil && !s.file.shared.Load() {
		s.file.shared.Store(true)
	}
}

// ownFile is the file for writing.
func (s *State) ownFile() *file {
	switch f := s.file; {
	case f == nil:
		s.file = &file{}
	case f.shared.Load():
		s.file = &file{frame: f.frame, results: f.results}
	}
	return s.file
}

// frame is the freeze frame; without an owner when there is none.
func (s *State) frame() frozen {
	if s.file == nil {
		return frozen{}
	}
	return s.file.frame
}

// result is what a test has last given, zero when it has not run since codes were erased.
func (s *State) result(i int) result {
	if s.file == nil {
		return result{}
	}
	return s.file.results[i]
}

// seen is what a scan tool may ask for of the last inputs.
type seen struct {
	rpm, coolantK, intakeK, mapPa, baroPa, throttle, load, supplyV float64
	lambda, catK                                                   [2]float64 // by bank
	oxygenV                                                        [2]float32
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
	HasPump  bool    // it drives a pump relay
	HasSol   bool    // it drives a solenoid
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
	Banks    int        // 2: the second bank has a sensor and a catalyst of its own; else 1
	Lambda2  float64    //
	Sensor2K float64    //
	Cat2K    float64    //
	OxygenV  [2]float64 // voltage of narrow-band sensors, V; 0: of the typical curve
	HasPipe  bool       // it has a pressure sensor in the pipe between pump and valve
	PipePa   float64    // which reports this, absolute
	PumpShut bool       // driver's own over-current flag
	SolShut  bool       //
	Throttle float64    // share open
	Load     float64    // air over what the engine could take at this speed and outside pressure, 0 to 1
	AFR      float64
	Air      Mixture
}

// Mixture is the fuelling calibration that Step needs.
type Mixture struct {
	Start, AirEnd, TailS, TrimMax, TrimRate, TrimSoft, LongRate, ReadyK float64
}

// Asleep says whether the controller has seen the key go off and done what it does then.
func (s *State) Asleep() bool { return !s.key }

// Started says whether the controller counts the engine as running.
func (s *State) Started() bool { return s.started }
