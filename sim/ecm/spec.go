// Package ecm is the engine controller as the trade knows it: it decides when the secondary air system runs, watches its
// circuits and its flow, sets codes on two trips (13 CCR 1968.2 (d)(2.2): pending on the first failed driving cycle,
// stored with the lamp on the second in a row), fuels the engine, and answers a scan tool. It sees pins and sensors only.
package ecm

// Spec is a controller's calibration as a car file describes it.
type Spec struct {
	StartRpm   float64 `yaml:"start_rpm"` // engine counted as started
	FireS      float64 `yaml:"fire_s"`    // first combustion after cranking begins
	AirDelay   float64 `yaml:"air_delay_s"`
	RunCold    float64 `yaml:"run_cold_s"`
	RunHot     float64 `yaml:"run_hot_s"`
	RunColdK   float64 `yaml:"run_cold_k"`
	RunHotK    float64 `yaml:"run_hot_k"`
	IntakeMinK float64 `yaml:"intake_min_k"`
	BattMin    float64 `yaml:"battery_min_v"`
	HeatEnd    float64 `yaml:"heat_end_s"`
	AirOffK    float64 `yaml:"air_off_k"`
	Prime      float64 `yaml:"prime_s"`
	Debounce   float64 `yaml:"debounce_s"`
	LowFlow    float64 `yaml:"low_flow"`
	HighFlow   float64 `yaml:"high_flow"`
	Settle     float64 `yaml:"flow_settle_s"`
	Judge      float64 `yaml:"flow_judge_s"`
	Expected   float64 `yaml:"expected_kg_h"`
	ActOn      float64 `yaml:"actuator_on_s"`
	ActOff     float64 `yaml:"actuator_off_s"`
	ActTotal   float64 `yaml:"actuator_total_s"`
	Rearm      string  `yaml:"actuator_rearm"` // at_once, key_cycle, engine_run
	Codes      Codes   `yaml:"codes"`
}

// Codes names the trouble codes (SAE J2012) that this controller can set.
type Codes struct {
	FlowLow       string `yaml:"flow_low"`
	FlowHigh      string `yaml:"flow_high"`
	PumpCircuit   string `yaml:"pump_circuit"`
	SolenoidOpen  string `yaml:"solenoid_open"`
	SolenoidShort string `yaml:"solenoid_short"`
}

// The monitors, in the order of their results.
const (
	flowLow = iota
	flowHigh
	pumpCircuit
	solOpen
	solShort
	monitors
)

func (c *Codes) name(i int) string {
	return [monitors]string{c.FlowLow, c.FlowHigh, c.PumpCircuit, c.SolenoidOpen, c.SolenoidShort}[i]
}
