package ecm

// Spec is a controller's calibration as a car file describes it.
type Spec struct {
	VehicleNumber string  `yaml:"vehicle_number"` // 17 characters, service 09
	Calibration   string  `yaml:"calibration"`    // at most 16
	StartRpm      float64 `yaml:"start_rpm"`      // engine counted as started
	FireS         float64 `yaml:"fire_s"`         // first combustion after cranking begins
	HeatEnd       float64 `yaml:"heat_end_s"`     // late ignition heats the exhaust until then
	Prime         float64 `yaml:"prime_s"`        // fuel pump relay at key-on
	BulbS         float64 `yaml:"bulb_s"`         // lamp lit at key-on, engine off; 0: until the start
	Enable        Enable  `yaml:"enable"`
	Circuit       Circuit `yaml:"circuit"`
	NarrowBand    bool    `yaml:"narrow_band"` // the oxygen sensors tell only rich from lean
	Flow          Flow    `yaml:"flow"`
	Pipe          Pipe    `yaml:"pipe"`
	Active        Active  `yaml:"active"`
	Other         Other   `yaml:"other"`
	Actuator      Outputs `yaml:"actuator"`
	Codes         Codes   `yaml:"codes"`
}

// Enable says when the secondary air runs after a start.
type Enable struct {
	CoolantMinK float64    `yaml:"coolant_min_k"` // at the start
	CoolantMaxK float64    `yaml:"coolant_max_k"`
	IntakeMinK  float64    `yaml:"intake_min_k"`
	IntakeMaxK  float64    `yaml:"intake_max_k"`  // 0: no limit
	BatteryMin  float64    `yaml:"battery_min_v"` // at key-on, before cranking
	BatteryMax  float64    `yaml:"battery_max_v"` // 0: no limit
	DelayS      float64    `yaml:"delay_s"`       // after the start
	Run         []RunPoint `yaml:"run"`           // how long, by coolant at the start
	OffCoolantK float64    `yaml:"off_coolant_k"` // stops early above it
	OffLoad     float64    `yaml:"off_load"`      // stops early above this share of full load; 0: never
	OffLoadS    float64    `yaml:"off_load_s"`    // for so long
	OffThrottle float64    `yaml:"off_throttle"`  // stops early above this share open; 0: never
}

// RunPoint is one point of the run-time curve; between two it is a straight line, beyond the ends it stays.
type RunPoint struct {
	CoolantK float64 `yaml:"coolant_k"`
	S        float64 `yaml:"s"`
}

// Circuit holds the limits by which the low-side drivers' pins are judged.
type Circuit struct {
	DebounceS float64 `yaml:"debounce_s"`
	FeedMinV  float64 `yaml:"feed_min_v"` // below it the load's feed counts as dead and nothing is judged
	LowV      float64 `yaml:"low_v"`      // off, below it: short to ground
	OpenMinV  float64 `yaml:"open_min_v"` // off, between these: open, the pin floats to the bias
	OpenMaxV  float64 `yaml:"open_max_v"`
	OnMaxV    float64 `yaml:"on_max_v"` // on, above it: the driver does not pull
}

// Flow is the passive flow monitor.
type Flow struct {
	SettleS   float64  `yaml:"settle_s"` // after the sensor is ready
	JudgeS    float64  `yaml:"judge_s"`
	Low       float64  `yaml:"low"`  // share of the expected flow
	High      float64  `yaml:"high"` //
	Expected  Expected `yaml:"expected"`
	RpmMax    float64  `yaml:"rpm_max"`     // judged only below; 0: no limit
	LoadMax   float64  `yaml:"load_max"`    //
	BaroMinPa float64  `yaml:"baro_min_pa"` // judged only above
	SupplyMin float64  `yaml:"supply_min_v"`
	After     After    `yaml:"after"`
}

// Expected is the flow that a sound system gives: KgH at the reference, by powers of the ratios to it.
type Expected struct {
	KgH      float64 `yaml:"kg_h"`
	BaroPa   float64 `yaml:"baro_pa"`
	IntakeK  float64 `yaml:"intake_k"`
	SupplyV  float64 `yaml:"supply_v"`
	BaroExp  float64 `yaml:"baro_exp"`
	IntakeEx float64 `yaml:"intake_exp"`
	SupplyEx float64 `yaml:"supply_exp"`
}

// After looks for air that still comes when it should have stopped.
type After struct {
	DelayS float64 `yaml:"delay_s"` // after the stop; 0: no such monitor
	LeanS  float64 `yaml:"lean_s"`  // lean without a break for so long
	Share  float64 `yaml:"share"`   // of the expected flow
}

// Pipe is the monitor of a car with a pressure sensor between pump and valve: each run begins with the pump against the shut valve. Pressures
// are over the outside one, at sea level; they are judged in proportion to the outside pressure.
type Pipe struct {
	TestS    float64 `yaml:"test_s"`     // pump alone, valve shut; 0: no such monitor
	OffPa    float64 `yaml:"off_pa"`     // pump alone, below it: the pump does not run
	ShutPa   float64 `yaml:"shut_pa"`    // pump alone, below it: the valve stands open
	OpenPart float64 `yaml:"open_share"` // valve open, above this share of the pressure before: it did not open
	SettleS  float64 `yaml:"settle_s"`   // from the valve's command until it is judged, and from the pump's end
	RestPa   float64 `yaml:"rest_pa"`    // pump off, above it: the pump does not stop
	RangePa  float64 `yaml:"range_pa"`   // before the start, further from the outside pressure: the sensor is wrong
}

// Active is the active flow monitor: pump and valve on at warm idle, the short trim must answer.
type Active struct {
	OnS      float64 `yaml:"on_s"` // 0: no such monitor
	WaitS    float64 `yaml:"wait_s"`
	CoolantK float64 `yaml:"coolant_k"`
	RpmMax   float64 `yaml:"rpm_max"`
	Rise     float64 `yaml:"rise"` // of the short trim, at least
}

// Other holds what the controller watches beside the air: supply voltage, trims, sensor heater, catalyst.
type Other struct {
	SupplyLowV float64 `yaml:"supply_low_v"` // engine running, for SupplyLowS
	SupplyLowS float64 `yaml:"supply_low_s"`
	TrimLimit  float64 `yaml:"trim_limit"` // short and long together, either way, for TrimS
	TrimS      float64 `yaml:"trim_s"`
	SensorS    float64 `yaml:"sensor_s"`     // the sensor must be hot so long after the start
	SensorRunS float64 `yaml:"sensor_run_s"` // closed loop until the sensor's monitor has run
	CatalystK  float64 `yaml:"catalyst_k"`   // its monitor needs it so hot
	CatalystS  float64 `yaml:"catalyst_s"`   // in closed loop for so long
	IdleRpm    float64 `yaml:"idle_rpm"`     // in-use counters: below it the engine idles
	DriveRpm   float64 `yaml:"drive_rpm"`    // and above it the car counts as driven: no speed signal is modelled
	CountMinK  float64 `yaml:"count_min_k"`  // and warmer than this outside
	CountMinPa float64 `yaml:"count_min_pa"` // and at more than this pressure
}

// Outputs are the actuator tests.
type Outputs struct {
	OnS        float64 `yaml:"on_s"`
	OffS       float64 `yaml:"off_s"`
	TotalS     float64 `yaml:"total_s"`
	BatteryMin float64 `yaml:"battery_min_v"`
	Rearm      string  `yaml:"rearm"` // at_once (or empty), key_cycle, engine_run
}

// Codes names the trouble codes (SAE J2012, such as P0491) that this controller can set. A monitor without a code does not run.
type Codes struct {
	FlowLow   string      `yaml:"flow_low"`
	FlowLow2  string      `yaml:"flow_low_2"` // second bank
	FlowHigh  string      `yaml:"flow_high"`
	AirAfter  string      `yaml:"air_after"`
	Pipe      PipeCodes   `yaml:"pipe"`
	Pump      DriverCodes `yaml:"pump"`
	Solenoid  DriverCodes `yaml:"solenoid"`
	SupplyLow string      `yaml:"supply_low"`
	Lean      string      `yaml:"lean"`
	Rich      string      `yaml:"rich"`
	Lean2     string      `yaml:"lean_2"` // second bank
	Rich2     string      `yaml:"rich_2"`
	Heater    string      `yaml:"heater"`
}

// PipeCodes are the codes that a pressure sensor in the pipe allows.
type PipeCodes struct {
	ValveOpen string `yaml:"valve_open"`
	ValveShut string `yaml:"valve_shut"`
	PumpOn    string `yaml:"pump_on"`
	PumpOff   string `yaml:"pump_off"`
	Range     string `yaml:"range"`
}

// DriverCodes are the codes of one low-side driver: Open circuit; Low, the pin shorted to ground; High, shorted to battery, by which
// the driver shuts down; Circuit, the driver does not pull though nothing overloads it.
type DriverCodes struct {
	Open    string `yaml:"open"`
	Low     string `yaml:"low"`
	High    string `yaml:"high"`
	Circuit string `yaml:"circuit"`
}

// The tests that can set a code, in the order in which codes are listed.
const (
	flowLow = iota
	flowLow2
	flowHigh
	airAfter
	valveOpen
	valveShut
	pumpOn
	pumpOff
	pipeRange
	pumpOpen
	pumpLow
	pumpHigh
	pumpDead
	solOpen
	solLow
	solHigh
	solDead
	supplyLow
	tooLean
	tooRich
	tooLean2 // second bank
	tooRich2
	sensorCold
	tests
)

func (c *Codes) of(test int) string {
	switch test {
	case flowLow:
		return c.FlowLow
	case flowLow2:
		return c.FlowLow2
	case flowHigh:
		return c.FlowHigh
	case airAfter:
		return c.AirAfter
	case valveOpen:
		return c.Pipe.ValveOpen
	case valveShut:
		return c.Pipe.ValveShut
	case pumpOn:
		return c.Pipe.PumpOn
	case pumpOff:
		return c.Pipe.PumpOff
	case pipeRange:
		return c.Pipe.Range
	case pumpOpen, pumpLow, pumpHigh, pumpDead:
		return c.Pump.of(test - pumpOpen)
	case solOpen, solLow, solHigh, solDead:
		return c.Solenoid.of(test - solOpen)
	case supplyLow:
		return c.SupplyLow
	case tooLean:
		return c.Lean
	case tooRich:
		return c.Rich
	case tooLean2:
		return c.Lean2
	case tooRich2:
		return c.Rich2
	case sensorCold:
		return c.Heater
	}
	return ""
}

func (c *DriverCodes) of(kind int) string {
	return [...]string{c.Open, c.Low, c.High, c.Circuit}[kind]
}
