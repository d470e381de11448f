package score

import (
	"context"
	"errors"
	"fmt"
	"math/big"
	"slices"

	"coldbay/grading/belief"
	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/grading/regret"
	"coldbay/sim/bench"
)

// Speaker puts actions, percepts and hazards into sentences.
type Speaker interface {
	Action(bench.Action) string
	Percept(bench.Percept) string
	Hazard(bench.Hazard) string
	// Short is a percept's value or word alone.
	Short(bench.Percept) string
	Name(id string) string
	// Refusal is why an action can't be done, given in the bench's words.
	Refusal(text string) string
}

// Words is a catalogue of messages: T fills the places of a message in, N does it for a number of things.
type Words interface {
	T(key string, kv ...string) string
	N(key string, n int, kv ...string) string
	Has(key string) bool
	// Name is what a thing of a car is called, given its kind, its id and what the data calls it.
	Name(car, kind, id, text string) string
	// Decimal writes the numbers of a text, which have a point, with the decimal mark of the language.
	Decimal(text string) string
}

// Case is what an attempt is graded on.
type Case struct {
	Config     bench.Config
	Dictionary *plan.Dictionary
	// Procedures are what the dictionary's tests are made of; nil: whoever stands in the middle of one is not known to.
	Procedures *dictionary.Procedures
	Rubric     *Rubric
	Speaker    Speaker
	// Words are the sentences of the debrief; nil: English.
	Words Words
	// Belief has lived through the findings already; nil: it is built and replayed here.
	Belief  *belief.Belief
	Workers int
	// Progress is told what the grader is at; may be nil. It is called by one goroutine at a time.
	Progress func(Progress)
	// Thought are suspects whose world is to be shown beside the true car, besides those that the trainee named or kept.
	Thought []string
	// Candidates are the orders that may be suggested for practice; none: no order is suggested. See [Candidates].
	Candidates []Candidate
	// Played is the header of the attempt; nil: it is being played under the rubric that it is marked by.
	Played *bench.Header
}

// ErrOpen is returned for an attempt that was not closed: no mark is given that isn't earned.
var ErrOpen = errors.New("the order is still open: close it first, then it is graded")

// Grade grades a closed attempt.
func Grade(ctx context.Context, c Case, findings []bench.Finding) (*Debrief, error) {
	if n := len(findings); n == 0 || findings[n-1].Action.Verb != bench.Finish {
		return nil, ErrOpen
	}
	if err := c.speak(); err != nil {
		return nil, err
	}
	b, err := Believe(ctx, c, findings)
	if err != nil {
		return nil, err
	}
	at, struck, err := watchTruth(ctx, c.Config, findings)
	if err != nil {
		return nil, err
	}
	p, err := c.planner(c.Dictionary)
	if err != nil {
		return nil, err
	}
	g := &grader{Case: c, b: b, p: p, findings: findings, at: at, struck: struck}
	night := int64(c.Config.Tariff.Prices.NightPar) * 60
	g.path = stretches(b, c.Dictionary, c.Procedures, night, findings, at)
	var steps []regret.Step
	for _, s := range g.graded() {
		steps = append(steps, s.step)
	}
	acc, other, err := c.accounts(ctx, p, steps)
	if err != nil {
		return nil, err
	}
	g.acc = acc
	score, err := g.acc.ScoreWith(other)
	if err != nil {
		return nil, err
	}
	if g.share, err = g.way(ctx); err != nil {
		return nil, err
	}
	g.economy = regret.Points(score.Mul(score, g.share))
	g.even = other
	if g.d, err = g.debrief(ctx); err == nil {
		// A planner that is stopped answers with what it knows by then; marks are not made of that.
		err = ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	return g.d, nil
}

// Believe is the belief after all findings: the case's own, which is given those that it has not seen, or one made from scratch. The
// order may still be open. It is not safe for concurrent use with the case's.
func Believe(ctx context.Context, c Case, findings []bench.Finding) (*belief.Belief, error) {
	b := c.Belief
	if b == nil {
		c.tell(PartCars, 0, 0)
		var err error
		if b, err = dictionary.Belief(ctx, c.Config, c.Dictionary, c.Workers); err != nil {
			return nil, err
		}
	}
	if len(b.Cells()) != len(c.Dictionary.Hypotheses) {
		return nil, fmt.Errorf("order %s: its dictionary has %d suspects' cells, the order gives %d: build the dictionary again", c.Config.Order.ID, len(c.Dictionary.Hypotheses), len(b.Cells()))
	}
	for _, f := range findings[len(b.Steps()):] {
		c.tell(PartReplay, len(b.Steps()), len(findings))
		if _, err := b.See(ctx, f); err != nil {
			return nil, err
		}
	}
	return b, nil
}

type grader struct {
	Case
	b        *belief.Belief
	p        *plan.Planner
	findings []bench.Finding
	at       []moment
	struck   []string // suspects off the trainee's board at the end
	path     []stretch
	acc      *regret.Account
	even     *regret.Account
	economy  int
	share    *big.Rat // of the way to a proof that readings went, 0 to 1
	d        *Debrief
	loop     loop
	plan     plan.Path                // the plan's path, had this been its fault
	wiring   *wiring                  // made when first asked for
	healthy  map[int][]*bench.Finding // what a healthy car would have shown, by draw; filled when first asked for
}

func minutes(seconds *big.Rat) float64 {
	f, _ := seconds.Float64()
	return f / 60
}

func (g *grader) debrief(ctx context.Context) (*Debrief, error) {
	o := g.Config.Order
	last := g.findings[len(g.findings)-1]
	g.d = &Debrief{Order: o.ID, Title: o.Title, Customer: o.Customer, Truth: o.Truth.Fault, Severity: o.Truth.Severity,
		Seconds: last.Start + last.Seconds, Choices: minutes(g.acc.Choices), Luck: minutes(g.acc.Luck), ToDo: minutes(g.acc.ToDo),
		Counted: float64(g.acc.Seconds) / 60, Exact: g.acc.Exact,
		Caps: []string{}, Bill: []BillLine{}, Hazards: []string{}}
	g.d.TruthSays = g.truthSays()
	g.d.Rules = g.rules()
	g.loop = pumpLoop(g.Config.Car.Electrical.Elements)
	g.tell(PartPlan, 0, 0)
	if err := g.references(ctx); err != nil {
		return nil, err
	}
	if err := g.timeline(ctx); err != nil {
		return nil, err
	}
	g.bill(ctx)
	g.board()
	g.predictions()
	g.marks(ctx)
	g.practise()
	if err := g.thoughts(ctx); err != nil {
		return nil, err
	}
	return g.d, nil
}

// truthCell is the planner's hypothesis for the true car.
func (g *grader) truthCell() int {
	return g.b.CellOf(g.Config.Order.Truth.Fault, severity(g.Config.Order))
}

// severity is the order's own; 0 stands for 1.
func severity(o *bench.Order) float64 {
	if o.Truth.Severity == 0 {
		return 1
	}
	return o.Truth.Severity
}

func (g *grader) truthSays() string {
	o := g.Config.Order
	for _, s := range g.b.Suspects() {
		if s.ID == o.Truth.Fault {
			return g.Words.T("grade.truth", "name", g.called("fault", s.ID, s.Name))
		}
	}
	return g.Words.T("grade.truth", "name", o.Truth.Fault)
}

// references are par, par for this fault and the proof line.
func (g *grader) references(ctx context.Context) error {
	d := g.Dictionary
	w := d.Weight(d.All())
	v, err := g.p.Par(ctx)
	if err != nil {
		return err
	}
	g.d.Par = Reference{Minutes: float64(v.Hi) / float64(w) / 60, Least: float64(v.Lo) / float64(w) / 60}
	h := g.truthCell()
	if h < 0 {
		return nil
	}
	path, err := g.p.PathFor(ctx, h)
	if err != nil {
		return err
	}
	g.plan = path
	m := float64(path.Seconds) / 60
	g.d.FaultPar = Reference{Minutes: m, Least: m, Steps: g.planSteps(path.Steps)}
	proof, err := g.p.ProofLine(ctx, h, d.Start)
	if err != nil {
		return err
	}
	g.d.ProofLine = Reference{Minutes: float64(proof.Seconds) / 60, Least: float64(proof.Least) / 60, Steps: g.planSteps(proof.Steps)}
	return nil
}

// planSteps tells a plan's steps in short sentences.
func (g *grader) planSteps(steps []plan.Step) []string {
	var out []string
	for _, s := range steps {
		d := g.Dictionary
		say := ""
		switch s.Act {
		case plan.ActTest:
			t := d.Tests[s.Index]
			say = t.Name
			if s.Outcome >= 0 && s.Outcome < len(t.Outcomes) {
				say = g.Words.T("grade.step.outcome", "test", t.Name, "outcome", t.Outcomes[s.Outcome])
			}
		case plan.ActRepair:
			if d.Units[s.Index].Repair == 0 {
				continue
			}
			say = g.Words.T("grade.step.repair", "unit", d.Units[s.Index].Name)
		case plan.ActVerify:
			say = g.Words.T("grade.step.verify")
		case plan.ActSetUp:
			say = d.SetUps[s.Index].Name
		case plan.ActMove:
			say = g.Words.T("grade.step.setup", "test", d.Tests[s.Index].Name)
		default:
			continue
		}
		out = append(out, g.Words.T("grade.step.takes", "what", say, "time", lasts(g.Words, s.Seconds)))
	}
	return out
}

// called is what a thing of the order's car is called in the language of the debrief.
func (g *grader) called(kind, id, text string) string {
	if g.Words == nil {
		return text
	}
	return g.Words.Name(g.Config.Car.ID, kind, id, text)
}

// suspect is the name of a suspect by its number.
func (g *grader) suspect(i int) string {
	s := g.b.Suspects()[i]
	return g.called("fault", s.ID, s.Name)
}

// names of the suspects that have a cell in s.
func (g *grader) names(s plan.Set) []string {
	out := []string{}
	for i := range s.All() {
		n := g.suspect(g.b.Cells()[i].Suspect)
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}
