package score

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coldbay/grading/belief"
	"coldbay/sim/bench"
)

// Thought is the car that the trainee thought it was: the attempt's actions in the world of a suspect beside the true one, up to
// where the readings part.
type Thought struct {
	Suspect  string        `json:"suspect"`
	Name     string        `json:"name"`
	Severity float64       `json:"severity"`       // of the suspect's world that comes nearest to what was read
	Draw     int           `json:"draw,omitempty"` // of that world: the car of the model\'s spread, 0 the order\'s own
	Why      string        `json:"why"`            // named, kept or asked: why it is shown
	Lines    []ThoughtLine `json:"lines"`
	PartsAt  int           `json:"partsAt"` // ledger line where the readings part; 0 when they never do
	Says     string        `json:"says"`
}

// Why a suspect's world is shown.
const (
	ThoughtNamed = "named" // named as the cause at the finish, and it was not
	ThoughtKept  = "kept"  // left on the board though a reading had ruled it out
	ThoughtAsked = "asked" // asked for by whoever reads the debrief
)

// ThoughtLine is what was done up to a reading, and what both cars showed.
type ThoughtLine struct {
	Seq    int      `json:"seq"`
	Did    string   `json:"did"`
	True   []string `json:"true"`
	Theirs []string `json:"theirs"`
}

// maxKept bounds how many suspects that were merely kept are shown beside the true car: each costs a life through the attempt.
const maxKept = 3

// whom lists the suspects to show beside the true car: those named wrongly, those kept against the readings on a board that was used,
// and those asked for.
func (g *grader) whom() (ids, why []string, err error) {
	truth := g.Config.Order.Truth.Fault
	add := func(id, reason string) {
		if id != truth && !slices.Contains(ids, id) {
			ids, why = append(ids, id), append(why, reason)
		}
	}
	if last := g.findings[len(g.findings)-1].Action; !g.named(last.List) {
		for _, id := range last.List {
			add(id, ThoughtNamed)
		}
	}
	for _, id := range g.Thought {
		if err := g.other(id); err != nil {
			return nil, nil, err
		}
		add(id, ThoughtAsked)
	}
	if !slices.ContainsFunc(g.d.Board, func(l BoardLine) bool { return l.Struck }) {
		return ids, why, nil
	}
	// Suspects that fell on the same reading would tell the same story: one of them will do.
	var told []int
	for _, id := range ids {
		if i := g.b.Find(id); i >= 0 {
			_, at := g.b.Nearest(i, 1)
			told = append(told, at)
		}
	}
	kept := 0
	for i, l := range g.d.Board {
		if l.Struck || !l.Out || slices.Contains(ids, l.Suspect) || kept == maxKept {
			continue
		}
		if _, at := g.b.Nearest(i, 1); !slices.Contains(told, at) {
			told = append(told, at)
			kept++
			add(l.Suspect, ThoughtKept)
		}
	}
	return ids, why, nil
}

// thoughts plays the attempt in the worlds of the suspects that the trainee held to be the cause.
func (g *grader) thoughts(ctx context.Context) error {
	g.d.Thought = []Thought{}
	ids, why, err := g.whom()
	if err != nil {
		return err
	}
	for k, id := range ids {
		g.tell(PartThought, k, len(ids))
		t, err := g.thought(ctx, id)
		if err != nil {
			return fmt.Errorf("in the world of %s: %w", id, err)
		}
		t.Why = why[k]
		g.d.Thought = append(g.d.Thought, t)
	}
	return nil
}

// Think plays the findings of an attempt in the world of one suspect beside the true one. The case's belief must have seen them all,
// see [Believe]. Errors: a suspect that the order does not have, or the fault itself.
func Think(ctx context.Context, c Case, findings []bench.Finding, suspect string) (Thought, error) {
	if c.Belief == nil || len(c.Belief.Steps()) != len(findings) {
		return Thought{}, errors.New("the belief has not seen the whole attempt")
	}
	g := &grader{Case: c, b: c.Belief, findings: findings}
	if err := g.speak(); err != nil {
		return Thought{}, err
	}
	if err := g.other(suspect); err != nil {
		return Thought{}, err
	}
	t, err := g.thought(ctx, suspect)
	if err != nil {
		return t, fmt.Errorf("in the world of %s: %w", suspect, err)
	}
	t.Why = ThoughtAsked
	return t, nil
}

// Standing names the suspects that fit before anything was done, and after each finding that the case's belief has seen.
func Standing(c Case) [][]string {
	g := &grader{Case: c, b: c.Belief}
	all := make([]string, 0, len(g.b.Suspects()))
	for i := range g.b.Suspects() {
		all = append(all, g.suspect(i))
	}
	out := [][]string{all}
	for _, st := range g.b.Steps() {
		out = append(out, g.names(st.After))
	}
	return out
}

// other refuses what is not another suspect than the truth.
func (g *grader) other(id string) error {
	if g.b.Find(id) < 0 {
		var all []string
		for _, s := range g.b.Suspects() {
			all = append(all, s.ID)
		}
		return fmt.Errorf("order %s has no suspect %q; there are: %s", g.Config.Order.ID, id, strings.Join(all, ", "))
	}
	if id == g.Config.Order.Truth.Fault {
		return fmt.Errorf("%q is the fault itself: both cars are the same", id)
	}
	return nil
}

func (g *grader) thought(ctx context.Context, id string) (Thought, error) {
	like := severity(g.Config.Order)
	t := Thought{Suspect: id, Name: g.Speaker.Name(id), Severity: like, Lines: []ThoughtLine{}}
	if i := g.b.Find(id); i >= 0 {
		t.Name = g.suspect(i)
		w, _ := g.b.Nearest(i, like)
		t.Severity, t.Draw = w.Severity, w.Draw
	}
	cfg := g.Config
	cfg.Log, cfg.Forget = nil, true
	cfg.Truth = &bench.Truth{Fault: id, Severity: t.Severity, Draw: belief.Seed(&cfg, t.Draw)}
	l, err := bench.NewLocal(cfg)
	if err != nil {
		return t, err
	}
	first := 0
	for i, f := range g.findings {
		if belief.Silent(f.Action.Verb) {
			continue
		}
		theirs, err := l.Do(ctx, f.Action)
		var no *bench.Refusal
		if err != nil && !errors.As(err, &no) {
			return t, err
		}
		if no == nil && len(f.Percepts) == 0 && len(theirs.Percepts) == 0 {
			continue
		}
		line := ThoughtLine{Seq: f.Seq, Did: g.did(first, i), True: g.shows(f.Percepts), Theirs: g.shows(theirs.Percepts)}
		first = i + 1
		if no != nil {
			line.Theirs = []string{g.Words.T("grade.thought.refused", "why", g.Speaker.Refusal(no.Missing))}
		}
		t.Lines = append(t.Lines, line)
		if no != nil || !slices.Equal(f.Classes(), theirs.Classes()) {
			t.PartsAt = f.Seq
			t.Says = g.Words.T("grade.thought.parts", "name", t.Name, "n", strconv.Itoa(f.Seq))
			why, err := g.fellBy(ctx, id, f.Seq)
			if err != nil {
				return t, err
			}
			if why != "" {
				t.Says = g.Words.T("grade.thought.parts.why", "name", t.Name, "n", strconv.Itoa(f.Seq), "why", why)
			}
			return t, nil
		}
	}
	t.Says = g.Words.T("grade.thought.same", "name", t.Name)
	return t, nil
}

// fellBy is why a suspect fell at a ledger line, or nothing when it did not fall there.
func (g *grader) fellBy(ctx context.Context, id string, seq int) (string, error) {
	for _, st := range g.b.Steps()[seq-1].Strikes {
		if g.b.Suspects()[st.Suspect].ID == id {
			return g.why(ctx, seq-1, st)
		}
	}
	return "", nil
}

func (g *grader) shows(list []bench.Percept) []string {
	out := []string{}
	for _, p := range list {
		out = append(out, g.Speaker.Percept(p))
	}
	return out
}
