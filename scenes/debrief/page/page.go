// Package page is a debrief as plain data: what the grader found, ready to be shown in the window, printed at the
// prompt or written to a file. It draws nothing and imports nothing that draws.
package page

// Document is the debrief of one closed attempt.
type Document struct {
	Order     string // the order's title
	Customer  string
	Truth     string // one sentence: what was wrong with the car
	Verdict   string // one sentence: how the attempt ended
	Total     int    // 0 to 100, after the caps
	Passed    bool
	Caps      []string // what held the total down, one sentence each
	Marks     []Mark
	Steps     []Step
	Minutes   float64 // bench minutes used
	Counted   float64 // what of them is compared with par: with nights, undoing and verification, up to the cure; 0 when not known
	Choices   float64 // minutes lost to choices
	Par       Reference
	FaultPar  Reference
	ProofLine Reference
	Luck      float64    // minutes, positive when fortune helped
	Bill      []BillLine // parts bought, in order
	BillCents int
	Hazards   []string // one sentence each; empty when nothing happened
	Board     []BoardLine

	Retake string // the sentence that says that the attempt began in the middle of another; empty for a first one

	Suspects    []Suspect // whose cars can be shown beside the true one
	Thoughts    []Thought // those that are shown without asking, and those that were asked for
	Predictions []Prediction
	Practise    Practise

	Caution string // the sentence that training is not the vehicle's service information
}

// Suspect is one of whom one may ask what the car would have shown.
type Suspect struct{ ID, Name string }

// Thought is the car that it might have been: the same actions in it and in the true one, up to where the readings part.
type Thought struct {
	Suspect string // id
	Name    string
	Heading string // why it is shown
	Lines   []ThoughtLine
	Marked  bool   // the trainee named or kept it
	PartsAt int    // ledger line where the readings part; 0 when they never do
	Says    string // one sentence
}

// ThoughtLine is what was done up to a reading, and what both cars showed.
type ThoughtLine struct {
	Seq          int
	Did          string
	True, Theirs string // sentences; empty when nothing was to be perceived
}

// Prediction is a reading that was written down beforehand.
type Prediction struct {
	Seq           int
	Text          string
	Verdict       string // one sentence
	Judged, Right bool
}

// Practise is what to practise next.
type Practise struct {
	Says    string
	Kinds   []KindCost // the dearest first
	Moments []Moment   // three at the most, the dearest first
	Next    *Next
}

// KindCost is what decisions of one kind cost.
type KindCost struct {
	Name    string
	Minutes float64
	Steps   int
}

// Moment is a step that cost much.
type Moment struct {
	Seq         int
	Minutes     float64
	Did, Better string
}

// Next is the order suggested for practice.
type Next struct{ Order, Title, Says string }

// Find gives the thought about a suspect.
func (d *Document) Find(suspect string) (*Thought, bool) {
	for i := range d.Thoughts {
		if d.Thoughts[i].Suspect == suspect {
			return &d.Thoughts[i], true
		}
	}
	return nil, false
}

// Mark is one of the five marks with its reason in a sentence. Score runs from 0 to 100.
type Mark struct {
	ID     string // economy, evidence, reasoning, safety, finish
	Name   string
	Score  int
	Passed bool // false when a gate failed, whatever the score
	Reason string
}

// Step is one line of the timeline: everything between two readings.
type Step struct {
	Seq      int     // ledger line
	Minute   float64 // bench minutes when it ended
	Sentence string  // what was done and what it showed
	Ruled    string  // whom it ruled out, and why; empty when nobody
	Left     int     // suspects left after it
	ParLeft  int     // suspects that the best plan would have left by then; -1 when not known
	Regret   float64 // minutes lost against the best choice
	Better   string  // what would have been worth more; empty when nothing
}

// Reference is a number of minutes to compare with, and how it came about. Known is false when it could not be computed.
type Reference struct {
	Minutes float64
	Known   bool
	Note    string
	Steps   []string // the readings of the proof line or the actions of par, one sentence each
}

// BillLine is a part bought.
type BillLine struct {
	Name   string
	Cents  int
	Needed bool
}

// BoardLine holds the trainee's suspect board against the evidence for one suspect.
type BoardLine struct {
	Suspect  string
	Struck   bool   // by the trainee
	RuledOut bool   // by the evidence
	Why      string // one sentence where the two differ, or when it is the fault
	Truth    bool
}

// Agrees tells whether the board and the evidence say the same about the suspect.
func (l BoardLine) Agrees() bool { return l.Struck == l.RuledOut }
