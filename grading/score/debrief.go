package score

import (
	"math"

	"coldbay/sim/bench"
)

// Debrief is everything that is said about a closed attempt. Its JSON keys are stable.
type Debrief struct {
	Order     string      `json:"order"`
	Title     string      `json:"title"`
	Customer  string      `json:"customer"`
	Truth     string      `json:"truth"`     // id of the fault
	TruthSays string      `json:"truthSays"` // one sentence
	Severity  float64     `json:"severity"`
	Total     int         `json:"total"`
	Passed    bool        `json:"passed"`
	Verdict   string      `json:"verdict"`
	Caps      []string    `json:"caps"` // sentences: what held the total down
	Marks     []Mark      `json:"marks"`
	Steps     []Step      `json:"steps"`
	Seconds   float64     `json:"seconds"`        // bench seconds of the attempt
	Counted   float64     `json:"countedMinutes"` // what is compared with par: with nights, undoing and verification, up to the cure
	Par       Reference   `json:"par"`
	FaultPar  Reference   `json:"faultPar"`
	ProofLine Reference   `json:"proofLine"`
	Choices   float64     `json:"choicesMinutes"`
	Luck      float64     `json:"luckMinutes"`
	ToDo      float64     `json:"toDoMinutes"` // expected minutes still to go when the order was closed unproven
	Exact     bool        `json:"exact"`
	Bill      []BillLine  `json:"bill"`
	BillCents int         `json:"billCents"`
	Hazards   []string    `json:"hazards"`
	Board     []BoardLine `json:"board"`

	Thought     []Thought    `json:"thought"`
	Predictions []Prediction `json:"predictions"`
	Practise    Practise     `json:"practise"`

	// Rules says in sentences which files of a school's own it was marked and reckoned by, and that it was played under another rubric;
	// empty where all are the program's.
	Rules []string `json:"rules,omitempty"`

	// Retake is set by whoever has the attempt's header, when the attempt began in the middle of an earlier one: the marks are
	// practice then and no first attempt's.
	Retake *bench.Retake `json:"retake,omitempty"`
	// Program is set likewise where the attempt was played with another version of the program, on the same model.
	Program *Program `json:"program,omitempty"`
}

// Program are the versions of the program that an attempt was played and graded with.
type Program struct {
	Played string `json:"played"`
	Graded string `json:"graded"`
}

// Account is the sum that an attempt comes to, in minutes rounded to tenths: Counted + ToDo = Par + Choices + Luck, to the tenth.
type Account struct{ Counted, ToDo, Par, Choices, Luck float64 }

// Account rounds the minutes so that they add up as they are written. Luck, which nobody answers for, takes what rounding leaves over.
func (d *Debrief) Account() Account {
	in := func(v float64) float64 { return math.Round(tenth(v) * 10) }
	counted, todo, par, choices := in(d.Counted), max(0, in(d.ToDo)), in(d.Par.Minutes), in(d.Choices)
	luck := counted + todo - par - choices
	return Account{Counted: counted / 10, ToDo: todo / 10, Par: par / 10, Choices: choices / 10, Luck: luck / 10}
}

// Mark is one of the five marks. Score is 0 to 100.
type Mark struct {
	ID     string `json:"id"`
	Name   string `json:"name"`
	Score  int    `json:"score"`
	Weight int    `json:"weight"`
	Passed bool   `json:"passed"`
	Reason string `json:"reason"`
}

// Step is one stretch of the timeline: everything between two readings.
type Step struct {
	Seq     int      `json:"seq"`     // ledger line of its reading
	Minute  float64  `json:"minute"`  // bench minutes when it ended
	Seconds float64  `json:"seconds"` // what it took
	Did     string   `json:"did"`
	Showed  []string `json:"showed"`
	Physics string   `json:"physics,omitempty"`
	Ruled   []Ruled  `json:"ruled"`
	Left    []string `json:"left"`    // names of the suspects that fit afterwards
	ParLeft int      `json:"parLeft"` // how many the plan, had this been its fault, would have left by then; -1 once choices are no longer graded
	Regret  float64  `json:"regretMinutes"`
	Cost    float64  `json:"costMinutes"`    // regret of the step and of those joined to it; 0 on a joined one
	Charged float64  `json:"chargedMinutes"` // what of the cost counts, beyond the tolerance
	Graded  bool     `json:"graded"`         // false once the unit was proven or nothing was left to plan
	Better  string   `json:"better,omitempty"`
}

// Counts says that a step is charged with something that would be read as more than nothing.
func (s Step) Counts() bool { return s.Graded && s.Charged >= trifle }

// Ruled is a suspect that a reading ruled out, and why.
type Ruled struct {
	Suspect   string        `json:"suspect"`
	Name      string        `json:"name"`
	Severity  float64       `json:"severity"`       // of the world that was the nearest
	Draw      int           `json:"draw,omitempty"` // of that world: the car of the model\'s spread, 0 the order\'s own
	Seen      bench.Percept `json:"seen"`
	Predicted bench.Percept `json:"predicted"`
	Says      string        `json:"says"`
}

// Reference is a number of minutes to compare with.
type Reference struct {
	Minutes float64  `json:"minutes"`
	Least   float64  `json:"least"` // proven lower bound; equal to Minutes when exact
	Steps   []string `json:"steps,omitempty"`
}

// BillLine is a part or a repair.
type BillLine struct {
	Seq    int    `json:"seq"`
	Unit   string `json:"unit"`
	Name   string `json:"name"`
	Cents  int    `json:"cents"`
	Needed bool   `json:"needed"` // it was at fault
	Proven bool   `json:"proven"` // and the readings had proven it
}

// BoardLine holds the trainee's board against the evidence for one suspect.
type BoardLine struct {
	Suspect string `json:"suspect"`
	Name    string `json:"name"`
	Struck  bool   `json:"struck"`
	Out     bool   `json:"out"` // ruled out by the readings
	Truth   bool   `json:"truth"`
	Why     string `json:"why,omitempty"`
}
