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
	Choices   float64 // minutes lost to choices
	Par       Reference
	FaultPar  Reference
	ProofLine Reference
	Luck      float64    // minutes, positive when fortune helped
	Bill      []BillLine // parts bought, in order
	BillCents int
	Hazards   []string // one sentence each; empty when nothing happened
	Board     []BoardLine
	Caution   string // the sentence that training is not the vehicle's service information
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
