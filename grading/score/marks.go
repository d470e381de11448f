package score

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// bill lists repairs, whether they were needed, and whether the readings had proven them.
func (g *grader) bill(ctx context.Context) {
	seen := map[string]bool{}
	for _, s := range g.path {
		f := g.findings[s.last]
		if f.Action.Verb != bench.Repair {
			continue
		}
		line := BillLine{Seq: f.Seq, Unit: f.Action.On, Name: g.Speaker.Name(f.Action.On), Cents: f.Cost}
		if u, ok := g.Config.Car.Unit(f.Action.On); ok {
			line.Name = g.called("unit", u.ID, u.Name)
		}
		line.Needed = slices.Contains(g.at[s.last].atFault, f.Action.On) || g.asksFor(f.Action.On) && !seen[f.Action.On]
		seen[f.Action.On] = true
		before := s.before
		if !s.graded {
			before = g.b.Steps()[s.last].Before
		}
		line.Proven = asked(g.Dictionary, before, f.Action.On)
		if !line.Proven && s.graded {
			if best, ok, err := g.p.Best(ctx, before, s.config); err == nil && ok && len(best) > 0 && best[0].Act == plan.ActRepair {
				// No allowed test can split what is left: a part may go on to find out.
				line.Proven = true
			}
		}
		g.d.Bill = append(g.d.Bill, line)
	}
	for _, f := range g.findings {
		g.d.BillCents += f.Cost
		for _, h := range f.Hazards {
			g.d.Hazards = append(g.d.Hazards, g.Speaker.Hazard(h))
		}
	}
}

// asksFor says whether the repair of what is wrong with the car includes a unit. It does so even where hands have put a hose back on
// in the course of a test, or where there is too little wrong with the unit to be seen.
func (g *grader) asksFor(unit string) bool {
	h := g.truthCell()
	return h >= 0 && slices.Contains(strings.Split(g.Dictionary.Units[g.Dictionary.Hypotheses[h].Unit].ID, "+"), unit)
}

// board holds the trainee's strikes against the readings.
func (g *grader) board() {
	struck := g.struck
	for i, s := range g.b.Suspects() {
		line := BoardLine{Suspect: s.ID, Name: g.called("fault", s.ID, s.Name), Struck: slices.Contains(struck, s.ID), Out: !g.b.Fits(i), Truth: s.ID == g.Config.Order.Truth.Fault}
		switch {
		case line.Struck && line.Truth:
			line.Why = g.Words.T("grade.board.struck.truth")
		case line.Struck && !line.Out:
			line.Why = g.Words.T("grade.board.struck.blind")
		case !line.Struck && line.Out:
			line.Why = g.Words.T("grade.board.kept", "line", g.when(i))
		}
		g.d.Board = append(g.d.Board, line)
	}
}

// when names the ledger line that ruled a suspect out.
func (g *grader) when(suspect int) string {
	for _, st := range g.b.Steps() {
		for _, s := range st.Strikes {
			if s.Suspect == suspect {
				return g.Words.T("grade.line", "n", strconv.Itoa(st.Finding.Seq))
			}
		}
	}
	return ""
}

func (g *grader) marks(ctx context.Context) {
	r := g.Rubric
	d := g.d
	add := func(id string, weight, score int, passed bool, reason string) {
		d.Marks = append(d.Marks, Mark{ID: id, Name: g.Words.T("grade.mark." + id), Score: min(max(score, 0), 100), Weight: weight, Passed: passed, Reason: reason})
	}
	add("economy", r.Weights.Economy, g.economy, true, g.economyReason())
	evidence, why := g.evidence()
	add("evidence", r.Weights.Evidence, evidence, evidence >= 50, why)
	reasoning, why := g.reasoning()
	add("reasoning", r.Weights.Reasoning, reasoning, true, why)
	safety, safe, why := g.safety()
	add("safety", r.Weights.Safety, safety, safe, why)
	finish, why := g.finish(ctx)
	add("finish", r.Weights.Finish, finish, finish >= 60, why)
	sum := 0
	for _, m := range d.Marks {
		sum += m.Score * m.Weight
	}
	d.Total = (sum + 50) / 100
	hold := func(limit int, why string) {
		if d.Total > limit {
			d.Total = limit
			d.Caps = append(d.Caps, g.Words.T("grade.cap", "n", strconv.Itoa(limit), "why", why))
		}
	}
	for _, b := range d.Bill {
		if !b.Needed {
			hold(r.Caps.WrongPart, g.Words.T("grade.cap.needless", "part", b.Name))
			break
		}
	}
	if !g.repaired() {
		hold(r.Caps.Unrepaired, g.Words.T("grade.cap.unrepaired"))
	} else if !g.verified() {
		hold(r.Caps.Unverified, g.Words.T("grade.cap.unverified"))
	}
	d.Passed = safe && d.Total >= r.Pass
	switch {
	case !safe:
		d.Verdict = g.Words.T("grade.verdict.unsafe", "n", strconv.Itoa(d.Total))
	case !d.Passed:
		d.Verdict = g.Words.T("grade.verdict.failed", "n", strconv.Itoa(d.Total), "pass", strconv.Itoa(r.Pass))
	default:
		d.Verdict = g.Words.T("grade.verdict.passed", "n", strconv.Itoa(d.Total))
	}
}

func (g *grader) economyReason() string {
	worst, sum, at := 0.0, 0.0, 0
	for _, s := range g.d.Steps {
		sum += tenth(s.Charged) // as it is written
		if s.Charged > worst {
			worst, at = s.Charged, s.Seq
		}
	}
	short, par := g.short(nil, "grade.economy.short"), tenths(g.Words, g.d.Par.Minutes)
	switch {
	case worst >= trifle:
		lost := g.Words.T("grade.economy.lost", "par", par, "counted", tenths(g.Words, sum), "line", strconv.Itoa(at), "n", tenths(g.Words, worst))
		return strings.Join(append([]string{lost}, short...), " ")
	case len(short) > 0:
		return short[0]
	}
	return g.Words.T("grade.economy.good", "par", par) // nothing that would be read as more than 0.0
}

func (g *grader) evidence() (int, string) {
	p := g.Rubric.Points
	score := 100
	var why []string
	for _, b := range g.d.Bill {
		switch {
		case !b.Needed:
			score -= p.Needless
			why = append(why, g.Words.T("grade.evidence.needless", "line", strconv.Itoa(b.Seq), "part", b.Name, "price", g.Words.Decimal(bench.Money(b.Cents))))
		case !b.Proven:
			score -= p.Unproven
			why = append(why, g.Words.T("grade.evidence.unproven", "line", strconv.Itoa(b.Seq), "part", b.Name))
		}
	}
	switch {
	case len(g.d.Bill) == 0 && !g.repaired():
		return 0, g.Words.T("grade.evidence.nothing")
	case len(why) == 0:
		return 100, g.Words.T("grade.evidence.good")
	}
	return score, sentence(why)
}

func (g *grader) reasoning() (int, string) {
	right, struckTrue, blind, kept := 0, false, 0, 0
	used := false
	for _, l := range g.d.Board {
		used = used || l.Struck
		switch {
		case l.Struck && l.Truth:
			struckTrue = true
		case l.Struck && !l.Out:
			blind++
		case !l.Struck && l.Out:
			kept++
		default:
			right++
		}
	}
	n := len(g.d.Board)
	// Keeping a suspect that a reading has ruled out is half a mistake: the board was left behind, nothing false was concluded.
	score := (100*right + 50*kept) / max(n, 1)
	var why []string
	if !used {
		why = append(why, g.Words.T("grade.reasoning.unused"))
	}
	if blind > 0 {
		why = append(why, g.Words.N("grade.reasoning.blind", blind))
	}
	if kept > 0 {
		why = append(why, g.Words.N("grade.reasoning.kept", kept))
	}
	if struckTrue {
		score = min(score, g.Rubric.Points.StruckTrue)
		why = append(why, g.Words.T("grade.reasoning.struck"))
	}
	bonus, say := g.foreseen()
	if !struckTrue {
		score = min(100, score+bonus)
	}
	score = g.part(score)
	why = g.short(why, "grade.reasoning.short")
	if len(why) == 0 {
		why = append(why, g.Words.T("grade.reasoning.good"))
	}
	if say != "" {
		why = append(why, say)
	}
	return score, sentence(why)
}

func (g *grader) safety() (int, bool, string) {
	score, grave := 100, false
	var why []string
	for _, f := range g.findings {
		for _, h := range f.Hazards {
			score -= g.Rubric.Points.MinorRisk
			grave = grave || h.Grave
			why = append(why, g.Words.T("grade.safety.line", "n", strconv.Itoa(f.Seq), "what", strings.TrimSuffix(g.Speaker.Hazard(h), ".")))
		}
	}
	switch {
	case grave:
		return 0, false, sentence(why)
	case !g.mended():
		// Who neither measures nor mends runs into no danger, and shows no care.
		score = g.part(score)
		why = g.short(why, "grade.safety.short")
	}
	if len(why) > 0 {
		return score, true, sentence(why)
	}
	return 100, true, g.Words.T("grade.safety.good")
}

// repaired says whether nothing is at fault any more.
func (g *grader) repaired() bool { return fixed(g.at[len(g.at)-1].atFault) }

// verified says whether a monitor run after the last repair has shown it.
func (g *grader) verified() bool {
	ok := false
	for _, f := range g.findings {
		switch f.Action.Verb {
		case bench.Repair:
			ok = false
		case bench.Drive:
			ok = true
			for _, p := range f.Percepts {
				if p.Key == "code" && p.Of == "pending" && p.Word != "none" || p.Key == "start" && p.Word != "starts" {
					ok = false
				}
			}
		}
	}
	return ok
}

func (g *grader) finish(ctx context.Context) (int, string) {
	p := g.Rubric.Points
	last := g.findings[len(g.findings)-1].Action
	score := 0
	var good, bad []string
	tell := func(ok bool, points int, what, no string) {
		if ok {
			score += points
			good = append(good, g.Words.T("grade.finish.yes."+what))
		} else {
			bad = append(bad, no)
		}
	}
	tell(g.named(last.List), p.Named, "named", g.Words.T("grade.finish.no.named"))
	proven, why := g.proof(ctx, int(last.N))
	tell(proven, p.Proof, "proof", why)
	still := g.at[len(g.at)-1].atFault
	names := make([]string, len(still))
	for i, u := range still {
		names[i] = u
		if cu, ok := g.Config.Car.Unit(u); ok {
			names[i] = g.called("unit", cu.ID, cu.Name)
		}
	}
	tell(len(still) == 0, p.Repaired, "repaired", g.Words.T("grade.finish.no.repaired", "units", strings.Join(names, ", ")))
	tell(g.verified(), p.Verified, "verified", g.Words.T("grade.finish.no.verified"))
	tell(g.at[len(g.at)-1].undo == 0, p.Restored, "restored", g.Words.T("grade.finish.no.restored"))
	says := ""
	if seemed := g.seemed(); len(seemed) > 0 {
		says = " " + sentence(seemed)
	}
	if len(bad) == 0 {
		return score, g.Words.T("grade.finish.all") + says
	}
	if len(good) == 0 {
		return score, sentence(bad) + says
	}
	return score, g.Words.T("grade.finish.but", "bad", sentence(bad), "good", strings.Join(good, "; ")) + says
}

// named says whether the named causes are the fault, or a suspect that the same repair cures and that no reading made has ruled out:
// who stops where the plan stops, with the unit proven, can't know which of them it was.
func (g *grader) named(ids []string) bool {
	truth := g.Config.Order.Truth.Fault
	if len(ids) == 0 {
		return false
	}
	if slices.Contains(ids, truth) && len(ids) == 1 {
		return true
	}
	if len(ids) == 1 && g.standsFor(ids[0]) {
		return true
	}
	// The parts of a fault set, each named, name the set.
	members, err := g.Config.Car.Members(truth)
	if err != nil || len(members) != len(ids) {
		return false
	}
	for _, m := range members {
		if !slices.Contains(ids, m.ID) {
			return false
		}
	}
	return true
}

// standsFor says whether a suspect asks for the truth's repair and still fits all readings.
func (g *grader) standsFor(id string) bool {
	h, steps := g.truthCell(), g.b.Steps()
	if h < 0 || len(steps) == 0 {
		return false
	}
	left := steps[len(steps)-1].After.And(g.Dictionary.InUnit(g.Dictionary.Hypotheses[h].Unit))
	for i := range left.All() {
		if g.b.Suspects()[g.b.Cells()[i].Suspect].ID == id {
			return true
		}
	}
	return false
}

// proof says whether the named ledger line proves the cause: after it only the truth's unit was left, or what no allowed test
// tells from it, and its reading either ruled something out or is not what a healthy car would have shown. Else it says why not.
func (g *grader) proof(ctx context.Context, seq int) (bool, string) {
	if seq < 1 || seq > len(g.findings) {
		return false, g.Words.T("grade.proof.none")
	}
	st := g.b.Steps()[seq-1]
	if len(g.findings[seq-1].Percepts) == 0 && len(st.Strikes) == 0 {
		// Where something would have been heard or seen, that nothing was is a reading too.
		return false, g.Words.T("grade.proof.none")
	}
	if !g.enough(ctx, seq) {
		return false, g.Words.N("grade.proof.fits", len(g.names(st.After)), "line", strconv.Itoa(seq))
	}
	if len(st.Strikes) > 0 || st.After.Count() < st.Before.Count() {
		return true, ""
	}
	if same, err := g.asHealthy(ctx, seq); err != nil || same {
		return false, g.Words.T("grade.proof.healthy", "line", strconv.Itoa(seq))
	}
	return true, ""
}

// enough says whether after a ledger line nothing was left but the truth's unit, or what no allowed test tells from the truth, so that the
// plan mends to find out. Left are the suspects of all severities, or those of the cells that the plan knows, since who follows the plan
// is asked for no finer proof than the plan has.
func (g *grader) enough(ctx context.Context, seq int) bool {
	left := []plan.Set{g.b.Steps()[seq-1].After}
	for _, s := range g.path {
		if s.graded && s.first <= seq-1 && seq-1 <= s.last {
			left = append(left, s.step.Parts[s.step.Seen].Left)
		}
	}
	h := g.truthCell()
	for _, l := range left {
		if l.Empty() {
			continue
		}
		if h >= 0 && l.Within(g.Dictionary.InUnit(g.Dictionary.Hypotheses[h].Unit)) {
			return true
		}
		best, done, err := g.p.Best(ctx, l, config(&g.at[seq]))
		if err == nil && done && len(best) > 0 && best[0].Act == plan.ActRepair {
			return true
		}
	}
	return false
}

// asHealthy says whether a healthy car, treated the same, would have shown the same in a ledger line.
func (g *grader) asHealthy(ctx context.Context, seq int) (bool, error) {
	cfg := g.Config
	cfg.Log, cfg.Forget = nil, true
	cfg.Truth = &bench.Truth{Fault: cfg.Car.NoFault.ID, Draw: cfg.Order.Truth.Draw}
	l, err := bench.NewLocal(cfg)
	if err != nil {
		return false, err
	}
	var last bench.Finding
	for _, f := range g.findings[:seq] {
		last, err = l.Do(ctx, f.Action)
		var no *bench.Refusal
		if errors.As(err, &no) {
			continue // its hands would not have had this to do
		}
		if err != nil {
			return false, err
		}
	}
	return err == nil && slices.Equal(last.Classes(), g.findings[seq-1].Classes()), nil
}

func sentence(parts []string) string {
	if len(parts) == 0 {
		return ""
	}
	s := strings.Join(parts, "; ")
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[n:] + "."
}
