package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"runtime"
	"strings"

	"coldbay/grading/score"
	"coldbay/scenarios"
	"coldbay/sim/bench"
)

const gradeUsage = `Usage: coldbay grade ATTEMPT [--order FILE] [--thought SUSPECT] [--json]

Grades a closed attempt: replays it in the true car and in the car of every
suspect, compares the path with the shortest diagnostic sequence, and prints
marks and debrief. The attempt must have been played on the same order, car and
model; one that was changed by hand, or is still open, is not graded.

Options:
  --order FILE   the YAML file of the order, when it is one of your own
  --thought SUSPECT
                 show the same actions in this suspect's car beside the true
                 one, up to where the readings part; several are divided by
                 commas. Suspects named wrongly, or kept on the board against
                 the readings, are shown without asking
  --html FILE    write the debrief as one printable page
  --csv FILE     write the timeline as a table
  --json         the debrief as a JSON object: order, title, customer, truth,
                 truthSays, severity, total, passed, verdict, caps, marks, steps,
                 seconds, countedMinutes, par, faultPar, proofLine,
                 choicesMinutes, luckMinutes, toDoMinutes, exact, bill,
                 billCents, hazards, board,
                 thought (suspect, name, severity, why: named, kept or asked,
                 lines of seq, did, true, theirs; partsAt, says),
                 predictions (seq, text, readingSeq, splitSaid, splitHappened,
                 judged, right, verdict),
                 practise (kind, name, minutes, says, kinds of kind, name,
                 minutes, steps; moments of seq, kind, minutes, did, better;
                 next: order, title, says),
                 retake (after, of) when it is a second try from the middle
                 of an earlier attempt

Examples:
  coldbay grade mine.attempt
  coldbay grade mine.attempt --json
  coldbay grade mine.attempt --html debrief.html
  coldbay grade mine.attempt --thought diaphragm_torn
  coldbay grade mine.attempt --order my_order.yaml
`

func gradeCommand() command {
	return command{name: "grade", summary: "marks and debrief of an attempt", usage: gradeUsage, run: runGrade}
}

func runGrade(ctx context.Context, p *Program, args []string) error {
	flags := newFlags("grade")
	asJSON := flags.Bool("json", false, "")
	own := flags.String("order", "", "")
	html := flags.String("html", "", "")
	csv := flags.String("csv", "", "")
	thought := flags.String("thought", "", "")
	rest, err := flags.parse(args)
	if err != nil {
		return err
	}
	if len(rest) != 1 {
		return flags.wrong(usagef("name one attempt file, found %d", len(rest)))
	}
	f, err := os.Open(rest[0])
	if err != nil {
		return err
	}
	defer f.Close()
	a, err := bench.ReadAttempt(rest[0], f)
	if err != nil {
		return err
	}
	if a.Torn {
		fmt.Fprintf(p.Stderr, "coldbay: notice: %s\n", a.Notice())
	}
	name := a.Header.Order
	if *own != "" {
		name = *own
	}
	lib, o, err := order(name)
	if err != nil && *own == "" {
		return withHint(fmt.Errorf("%s:1: key \"order\": %w", rest[0], err), "--order FILE names the file of an order of your own")
	}
	if err != nil {
		return err
	}
	// A log that was edited by hand earns no mark: every percept is computed again and compared.
	if _, err := bench.Replay(ctx, lib.Config(o, a.Header.Program), a); err != nil {
		return err
	}
	d, err := gradeFindings(ctx, p, lib, o, a.Findings, *thought)
	if err != nil {
		return err
	}
	d.Retake = a.Header.Retake
	if d.Retake != nil {
		fmt.Fprintf(p.Stderr, "coldbay: notice: %s is a second try that goes on after line %d of an earlier attempt, after whose end the fault was known; its marks are practice and do not count as a first attempt\n",
			rest[0], d.Retake.After)
	}
	if done, err := writeDebrief(p, d, *html, *csv); done || err != nil {
		return err
	}
	if *asJSON {
		return p.writeJSON(d)
	}
	return printDebrief(p.Stdout, d)
}

func gradeFindings(ctx context.Context, p *Program, lib *scenarios.Library, o *scenarios.Order, findings []bench.Finding, thought string) (*score.Debrief, error) {
	defer p.progress("grading")()
	c, err := score.OpenOrBuild(ctx, lib, o, versionOf(buildVersion).Version, runtime.NumCPU())
	if err != nil {
		return nil, err
	}
	l, err := bench.NewLocal(c.Config)
	if err != nil {
		return nil, err
	}
	c.Speaker = score.Plain{Sayer: bench.NewSayer(l.Catalogue())}
	c.Workers = runtime.NumCPU()
	if c.Candidates, err = score.Candidates(ctx, lib); err != nil {
		return nil, err
	}
	if thought != "" {
		c.Thought = strings.Split(thought, ",")
	}
	return score.Grade(ctx, *c, findings)
}

// printDebrief writes a debrief as text.
func printDebrief(w io.Writer, d *score.Debrief) error {
	var b strings.Builder
	say := func(format string, a ...any) { fmt.Fprintf(&b, format, a...) }
	say("\nDebrief: %s\n%s\n%s\n", d.Title, d.TruthSays, d.Verdict)
	for _, c := range d.Caps {
		say("%s.\n", strings.TrimSuffix(c, "."))
	}
	say("\nMarks\n")
	for _, m := range d.Marks {
		flag := ""
		if !m.Passed {
			flag = "  not passed"
		}
		say("  %-10s %3d  (weight %d)%s\n             %s\n", m.Name, m.Score, m.Weight, flag, m.Reason)
	}
	say("\nMinutes\n  At the bench %.1f. Par %s; par for this fault %s; proof line in hindsight %s.\n", d.Seconds/60, ref(d.Par), ref(d.FaultPar), ref(d.ProofLine))
	say("  Counted %.1f (with nights, undoing and verification, up to the cure)", d.Counted)
	if d.ToDo > 0.05 {
		say(" and %.1f still to do", d.ToDo)
	}
	say(" = par %.1f %s choices %.1f %s %s luck %.1f.\n", d.Par.Minutes, sign(d.Choices), math.Abs(d.Choices), sign(d.Luck),
		map[bool]string{true: "good", false: "bad"}[d.Luck < 0], math.Abs(d.Luck))
	say("\nTimeline\n")
	for _, s := range d.Steps {
		say("%4d  %5.1f min  %s\n", s.Seq, s.Minute, s.Did)
		for _, x := range s.Showed {
			say("        %s\n", x)
		}
		if s.Physics != "" {
			say("        %s\n", s.Physics)
		}
		for _, r := range ruledGroups(s.Ruled) {
			say("        ruled out: %s\n", r)
		}
		say("        left: %s%s\n", left(s.Left), parLeft(s))
		if s.Charged > 0 {
			say("        cost %.1f minutes on average\n", s.Cost)
		}
		if s.Charged > 0 && s.Better != "" {
			say("        better: %s\n", s.Better)
		}
	}
	for _, part := range []struct {
		name string
		ref  score.Reference
	}{{"The plan, had this been the fault", d.FaultPar}, {"The shortest proof, in hindsight", d.ProofLine}} {
		say("\n%s (%s)\n", part.name, ref(part.ref))
		for _, s := range part.ref.Steps {
			say("  %s\n", s)
		}
	}
	if len(d.Bill) > 0 {
		say("\nRepairs\n")
		for _, x := range d.Bill {
			verdict := "needed and proven"
			switch {
			case !x.Needed:
				verdict = "not at fault"
			case !x.Proven:
				verdict = "right, but not proven then"
			}
			say("  line %d: %s, %s (%s)\n", x.Seq, x.Name, bench.Money(x.Cents), verdict)
		}
	}
	say("  Parts and nights in all: %s\n", bench.Money(d.BillCents))
	for i, h := range d.Hazards {
		if i == 0 {
			say("\nUnsafe\n")
		}
		say("  %s\n", h)
	}
	say("\nSuspect board against the readings\n")
	for _, l := range boardGroups(d.Board) {
		say("  %s\n", l)
	}
	for _, t := range d.Thought {
		sayThought(say, t)
	}
	sayPredictions(say, d.Predictions)
	sayPractise(say, d.Practise)
	say("\nTraining only: the vehicle's own service information, local rules and licensed practice come first.\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// ruledGroups joins suspects that fell for the same reason.
func ruledGroups(list []score.Ruled) []string {
	var says []string
	names := map[string][]string{}
	for _, r := range list {
		if names[r.Says] == nil {
			says = append(says, r.Says)
		}
		names[r.Says] = append(names[r.Says], r.Name)
	}
	out := make([]string, len(says))
	for i, s := range says {
		out[i] = strings.Join(names[s], "; ") + ": " + s
	}
	return out
}

// boardGroups joins suspects of whom the same is to be said.
func boardGroups(list []score.BoardLine) []string {
	var whys []string
	names := map[string][]string{}
	for _, l := range list {
		why := l.Why
		if why == "" {
			continue
		}
		if names[why] == nil {
			whys = append(whys, why)
		}
		names[why] = append(names[why], l.Name)
	}
	if len(whys) == 0 {
		return []string{"it says what the readings say"}
	}
	out := make([]string, len(whys))
	for i, why := range whys {
		out[i] = why + ": " + strings.Join(names[why], "; ")
	}
	return out
}

func sign(v float64) string {
	if v < 0 {
		return "-"
	}
	return "+"
}

// parLeft compares with the plan when it stands otherwise.
func parLeft(s score.Step) string {
	if s.ParLeft < 0 || s.ParLeft == len(s.Left) {
		return ""
	}
	return fmt.Sprintf(" (the plan: %d)", s.ParLeft)
}

func ref(r score.Reference) string {
	if r.Least < r.Minutes-0.05 {
		return fmt.Sprintf("%.1f (at least %.1f)", r.Minutes, r.Least)
	}
	return fmt.Sprintf("%.1f", r.Minutes)
}

func left(names []string) string {
	switch len(names) {
	case 0:
		return "none; this car is not as any of the suspects would have it"
	case 1, 2, 3, 4:
		return strings.Join(names, "; ")
	}
	return fmt.Sprintf("%d suspects", len(names))
}
