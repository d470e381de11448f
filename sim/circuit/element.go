package circuit

// Element is one part of the electrical network as a car file describes it. Its numbers (ohms, volts, amps) are named
// parameters; which ones a kind has, and which may be left out, is in [Kinds].
type Element struct {
	ID    string      `yaml:"id"`
	Kind  string      `yaml:"kind"`
	A     string      `yaml:"a"`    // first terminal
	B     string      `yaml:"b"`    // second terminal
	C     string      `yaml:"c"`    // relay: contact, common side
	D     string      `yaml:"d"`    // relay: contact, switched side
	Pins  [][2]string `yaml:"pins"` // connector: pairs of terminals, harness side first
	When  string      `yaml:"when"` // load, switch: key, run, crank, fuel
	Drive string      `yaml:"drive"`
	Unit  string      `yaml:"unit"` // service unit
	AWG   int         `yaml:"awg"`  // wire
	// A joint whose heat is followed (of a relay its contact, of a connector each of its pins): J/K and W/K. 0: it is not followed.
	JointJK float64 `yaml:"joint_j_k"`
	JointWK float64 `yaml:"joint_w_k"`

	Params map[string]float64 `yaml:",inline"`
}

// Param is a named number of a kind. A parameter without a default must be given.
type Param struct {
	Name    string
	Default float64
	Need    bool
	Min     float64
	Max     float64
}

const big = 1e12

func need(name string, lo, hi float64) Param { return Param{name, 0, true, lo, hi} }
func opt(name string, def, lo, hi float64) Param {
	return Param{name, def, false, lo, hi}
}

// Kinds lists the elements a circuit can have and their parameters with the values allowed (SI units: V, A, ohm, s, ...).
var kinds = []struct {
	name   string
	params []Param
}{
	{"resistor", []Param{need("ohm", 1e-6, big)}},
	{"wire", []Param{need("length_m", 0.01, 100), opt("add_ohm", 0, 0, big)}},
	{"battery", []Param{need("emf_v", 0, 60), need("discharge_ohm", 1e-5, 100), need("charge_ohm", 1e-5, 100), need("capacity_ah", 0.1, 1000),
		opt("taper_s", 600, 1, 1e5)}},
	{"alternator", []Param{need("emf_v", 0, 60), need("ohm", 1e-5, 10), need("limit_a", 0.1, 1000), opt("field_lag_s", 0.3, 0, 10)}},
	{"load", []Param{need("amps", 0, 1000)}},
	{"switch", []Param{need("ohm", 1e-6, 100), opt("open", 0, 0, 1)}},
	{"fuse", []Param{need("ohm", 1e-6, 100), need("rating_a", 0.1, 500), opt("blown", 0, 0, 1)}},
	{"relay", []Param{need("coil_ohm", 0.1, big), need("contact_ohm", 1e-6, big), need("pull_a", 1e-4, 10), need("drop_a", 0, 10), opt("welded", 0, 0, 1),
		opt("heat_j_k", 12, 0.1, 1e4), opt("cool_w_k", 0.045, 0.001, 100)}},
	{"coil", []Param{need("ohm", 0.1, big), need("pull_a", 1e-4, 10), need("drop_a", 0, 10), opt("stuck", 0, -1, 1),
		opt("heat_j_k", 25, 0.1, 1e4), opt("cool_w_k", 0.09, 0.001, 100)}},
	{"motor", []Param{need("ra_ohm", 1e-4, big), need("brush_v", 0, 10), need("ke_v_s", 1e-6, 10), need("j_kgm2", 1e-9, 10),
		need("bearing_nm", 0, 100), need("cv_nms", 0, 1), opt("heat_j_k", 200, 1, 1e6), opt("cool_w_k", 1, 0.001, 1e4)}},
	{"driver", []Param{need("on_ohm", 1e-4, 100), need("limit_a", 0.01, 100), opt("dead", 0, 0, 1), opt("bias_v", 2.5, 0, 12), opt("bias_ohm", 47000, 100, 1e7)}},
	{"connector", []Param{need("ohm", 1e-6, big)}},
	{"stray", []Param{opt("ohm", big, 1e-6, big)}}, // a slip between two wires that touch only when something has gone wrong
}

// KindParams gives the parameters of a kind; ok is false for an unknown kind.
func KindParams(kind string) (params []Param, ok bool) {
	for _, k := range kinds {
		if k.name == kind {
			return k.params, true
		}
	}
	return nil, false
}

// KindNames lists the kinds in a fixed order, for error messages.
func KindNames() []string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.name
	}
	return names
}
