package plan

// Dictionary is everything the planner knows: what may be wrong, what may be
// done, what each doing takes and what it would show. It is plain data; the
// planner never changes it.
//
// Indices tie the parts together: Hypothesis.Unit is an index into Units, a
// Placement or SetUp names indices into Configs, Test.Row[i] is an index into
// Test.Outcomes for hypothesis i.
type Dictionary struct {
	// Name says which order, car and conditions this dictionary is for.
	Name string `json:"name"`
	// Start is the configuration the job begins in.
	Start      int          `json:"start"`
	Units      []Unit       `json:"units"`
	Hypotheses []Hypothesis `json:"hypotheses"`
	Configs    []Config     `json:"configs"`
	SetUps     []SetUp      `json:"setUps"`
	Tests      []Test       `json:"tests"`
}

// Unit is what one repair cures: a replaceable part, a joint, an adjustment,
// or "no fault found" with a repair of zero seconds.
type Unit struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// Repair is the seconds of the repair itself, without set-up.
	Repair int64 `json:"repair"`
	// RepairAt lists where the repair may be done and how it leaves the bench;
	// empty means anywhere, leaving the configuration as it was.
	RepairAt []Placement `json:"repairAt,omitempty"`
	// Verify is the seconds of the run that shows whether the repair cured it.
	Verify int64 `json:"verify"`
	// VerifyAt lists where that run may be done; empty means anywhere.
	VerifyAt []Placement `json:"verifyAt,omitempty"`
}

// Hypothesis is one suspect cell: a fault within a range of severity.
type Hypothesis struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	Unit int    `json:"unit"`
	// Weight is the prior as a positive integer; only ratios matter.
	Weight int64 `json:"weight"`
	// Worlds are the simulated worlds that stand for it; the planner does not look at them.
	Worlds []World `json:"worlds,omitempty"`
}

// World is a fault at a severity in one car of the model's spread.
type World struct {
	// Severity is in (0, 1].
	Severity float64 `json:"severity"`
	// Draw numbers the cars of the spread, 0 being the order's own.
	Draw int `json:"draw,omitempty"`
}

// Config is one standing of the bench: engine phase, what is unplugged, what
// is rigged.
type Config struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// SetUp is a way of going from one configuration to another without reading
// anything.
type SetUp struct {
	ID      string `json:"id"`
	Name    string `json:"name"`
	From    int    `json:"from"`
	To      int    `json:"to"`
	Seconds int64  `json:"seconds"`
}

// Placement says that something may be done in configuration Pre and leaves
// the bench in configuration Post.
type Placement struct {
	Pre  int `json:"pre"`
	Post int `json:"post"`
}

// Test is a procedure with a reading. A procedure whose readings depend on the
// configuration it is done in is entered once for each kind of reading.
type Test struct {
	ID   string `json:"id"`
	Name string `json:"name"`
	// Seconds is its duration, without set-up.
	Seconds int64 `json:"seconds"`
	// At lists the admissible configurations; empty means anywhere, leaving
	// the configuration as it was.
	At []Placement `json:"at,omitempty"`
	// Outcomes are the labels of the outcome classes.
	Outcomes []string `json:"outcomes"`
	// Row holds the outcome class that each hypothesis shows.
	Row []int `json:"row"`
}

// Limits on a dictionary, checked by Validate.
const (
	// MaxTests bounds the number of tests.
	MaxTests = 4096
	// MaxConfigs bounds the number of configurations.
	MaxConfigs = 256
	// MaxOutcomes bounds the outcome classes of one test.
	MaxOutcomes = 64
	// MaxSeconds bounds any single duration (about 11 days).
	MaxSeconds = 1_000_000
	// MaxSetUps bounds the number of set-up edges.
	MaxSetUps = 65_536
)

// placements returns at, or "anywhere, unchanged" when it is empty.
func placements(at []Placement, configs int) []Placement {
	if len(at) > 0 {
		return at
	}
	out := make([]Placement, configs)
	for q := range out {
		out[q] = Placement{Pre: q, Post: q}
	}
	return out
}

// All returns the set of every hypothesis in the dictionary.
func (d *Dictionary) All() Set { return FirstN(len(d.Hypotheses)) }

// Weight returns P(S), the summed prior weight of the members of s.
func (d *Dictionary) Weight(s Set) int64 {
	var p int64
	for i := range s.All() {
		if i < len(d.Hypotheses) {
			p += d.Hypotheses[i].Weight
		}
	}
	return p
}

// InUnit returns the hypotheses that unit u would cure.
func (d *Dictionary) InUnit(u int) Set {
	var s Set
	for i, h := range d.Hypotheses {
		if h.Unit == u {
			s = s.With(i)
		}
	}
	return s
}
