package air

// Spec is the pneumatic network as a car file describes it. Lengths and areas in SI units.
type Spec struct {
	Volumes []Volume `yaml:"volumes"`
	Ports   []Port   `yaml:"ports"`
	Hoses   []Hose   `yaml:"hoses"`
	Parts   []Part   `yaml:"parts"`
}

// Volume is a space with one pressure.
type Volume struct {
	ID    string  `yaml:"id"`
	M3    float64 `yaml:"m3"`
	WarmK float64 `yaml:"warm_k"` // K above the surroundings while the pump turns at its design speed
	Unit  string  `yaml:"unit"`
}

// Port is a nipple or stub where a hose end goes: on a volume with its own bore, or belonging to the part that names it.
type Port struct {
	ID        string  `yaml:"id"`
	On        string  `yaml:"on"`         // volume
	CdA       float64 `yaml:"cda_m2"`     // effective area of the bore together with the hose that belongs there
	LaminarPa float64 `yaml:"laminar_pa"` // difference below which flow is laminar; small bores
}

// Hose joins two ports, at least one of them on a volume.
type Hose struct {
	ID    string  `yaml:"id"`
	M3    float64 `yaml:"m3"`
	Bore  float64 `yaml:"bore_cda_m2"` // effective area of an open end
	A     string  `yaml:"a"`           // port where end a belongs
	B     string  `yaml:"b"`
	WarmK float64 `yaml:"warm_k"`
	Unit  string  `yaml:"unit"`
}

// Part is a component between two places; which numbers it needs depends on its kind.
type Part struct {
	ID      string             `yaml:"id"`
	Kind    string             `yaml:"kind"`
	A       string             `yaml:"a"` // volume, port, ambient, exhaust
	B       string             `yaml:"b"`
	Supply  string             `yaml:"supply"`  // three_way: port
	Out     string             `yaml:"out"`     // three_way: port
	Coil    string             `yaml:"coil"`    // three_way: the coil that moves it
	Motor   string             `yaml:"motor"`   // pump: the motor that turns it
	Dump    string             `yaml:"dump"`    // diverter: port where air goes that is not sent to the exhaust
	Chamber string             `yaml:"chamber"` // diaphragm_valve, diverter: the volume that pulls it open
	Vent    bool               `yaml:"vent"`    // three_way: has a vent to the air
	Unit    string             `yaml:"unit"`
	Params  map[string]float64 `yaml:",inline"`
}

// Param is a named number of a kind.
type Param struct {
	Name     string
	Default  float64
	Need     bool
	Min, Max float64
}

// What keeps a step solvable. A valve that opens at no difference at all, or fully over none, has no slope that a step could follow; and a diaphragm
// that sweeps more than its chamber holds would leave less than nothing in it.
const (
	leastCrack = 1.0   // Pa
	leastSpan  = 100.0 // Pa, between where a stem begins to lift and where it is at full lift
	mostSwept  = 0.9   // share of its chamber that a diaphragm may sweep
)

func need(name string, lo, hi float64) Param     { return Param{name, 0, true, lo, hi} }
func opt(name string, def, lo, hi float64) Param { return Param{name, def, false, lo, hi} }

// Parameters by kind, in the order in which they are stored. The pseudo-kinds port and hose carry what faults may change.
var kinds = []struct {
	name   string
	params []Param
}{
	{"orifice", []Param{need("cda_m2", 0, 1), opt("clog", 0, 0, 1)}},
	{"check", []Param{need("cda_m2", 0, 1), need("crack_pa", leastCrack, 1e5), opt("stuck_shut", 0, 0, 1), opt("leak_m2", 0, 0, 1),
		opt("back_kg", 0, 0, 1e6)}}, // exhaust that has come back through it so far, where it keeps exhaust out
	{"three_way", []Param{need("cda_m2", 0, 1), need("vent_cda_m2", 0, 1), opt("clog", 0, 0, 1), opt("vent_clog", 0, 0, 1), opt("leak_m2", 0, 0, 1)}},
	{"pump", []Param{need("w0_rad_s", 1, 1e5), need("head_pa", 1, 1e6), need("free_m3_s", 1e-6, 10), need("torque0_nm", 0, 100),
		need("torque1_nm", 0, 100), need("w_reg_rad_s", 0.1, 1e4), opt("wear", 0, 0, 0.99),
		opt("rub_nm", 0, 0, 100), opt("water_nm", 0, 0, 100)}}, // a body that rubs; water thrown about at the design speed
	{"diaphragm_valve", []Param{need("area_m2", 0, 1), need("cd", 0.01, 1), need("reed_cda_m2", 0, 1), need("reed_crack_pa", leastCrack, 1e5), need("dia_m2", 0, 1),
		need("lift0_pa", 0, 1e5), need("lift1_pa", 1, 1e5), need("lift_m", 1e-5, 1), need("tau_s", 1e-4, 10), opt("stuck", 0, -1, 1),
		opt("tear_m2", 0, 0, 1), opt("reed_leak_m2", 0, 0, 1),
		// What a bad seat lets past; exhaust that has come back through it so far.
		opt("seat_m2", 0, 0, 1), opt("back_kg", 0, 0, 1e6)}},
	{"gap", []Param{opt("leak_m2", 0, 0, 1)}}, // a joint that is tight unless a fault has opened it
	{"pressure_valve", []Param{need("area_m2", 0, 1), need("cd", 0.01, 1), need("reed_cda_m2", 0, 1), need("reed_crack_pa", leastCrack, 1e5), need("open0_pa", 100, 1e5),
		need("open1_pa", 100, 1e5), need("lift_m", 1e-5, 1), need("tau_s", 1e-4, 10), opt("stuck", 0, -1, 1), opt("leak_m2", 0, 0, 1), opt("reed_leak_m2", 0, 0, 1),
		opt("back_kg", 0, 0, 1e6)}},
	{"diverter", []Param{need("cda_m2", 0, 1), opt("clog", 0, 0, 1), need("dump_cda_m2", 0, 1), need("relief_pa", 100, 1e6), need("dia_m2", 0, 1),
		need("lift0_pa", 0, 1e5), need("lift1_pa", 1, 1e5), need("lift_m", 1e-5, 1), need("tau_s", 1e-4, 10), opt("stuck", 0, -1, 1),
		opt("tear_m2", 0, 0, 1), opt("leak_m2", 0, 0, 1)}},
	{"belt_pump", []Param{need("w0_rad_s", 1, 1e5), need("head_pa", 1, 1e6), need("free_m3_s", 1e-6, 10), need("torque0_nm", 0, 100),
		need("torque1_nm", 0, 100), need("w_reg_rad_s", 0.1, 1e4), opt("wear", 0, 0, 0.99),
		opt("rub_nm", 0, 0, 100), opt("water_nm", 0, 0, 100), need("ratio", 0.1, 10), opt("slip", 0, 0, 1), need("bearing_nm", 0, 100),
		opt("grip_nm", 1000, 0.1, 1000)}}, // what the belt can pull: it slips over a pulley that takes more to turn
	{"pressure_sensor", []Param{opt("offset_pa", 0, -1e6, 1e6), opt("gain", 1, 0, 10)}},
	{"hose", []Param{opt("split_m2", 0, 0, 1), opt("clog", 0, 0, 1)}},
	{"port", []Param{need("cda_m2", 0, 1)}},
}

// KindParams gives the parameters of a kind of part; ok is false for an unknown kind.
func KindParams(kind string) (params []Param, ok bool) {
	for _, k := range kinds {
		if k.name == kind {
			return k.params, true
		}
	}
	return nil, false
}

// PartKinds lists the kinds of parts in a fixed order, for error messages.
func PartKinds() []string {
	return []string{"orifice", "check", "three_way", "pump", "belt_pump", "diaphragm_valve", "pressure_valve", "diverter", "pressure_sensor", "gap"}
}
