package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/score"
	"coldbay/grading/tongue"
	"coldbay/scenarios"
	"coldbay/sim/bench"
)

const gradeUsage = `Usage: coldbay grade ATTEMPT [--order FILE] [--school DIR] [--rubric FILE] [--tariff FILE]
                      [--thought SUSPECT] [--lang CODE] [--json]

Grades a closed attempt: replays it in the true car and in the car of every
suspect, compares the path with the shortest diagnostic sequence, and prints
marks and debrief. The attempt must have been played on the same order, car and
model; one that was changed by hand, or is still open, is not graded.

Options:
` + schoolOptions + `  --order FILE   the YAML file of the order, when it is one of your own
  --thought SUSPECT
                 show the same actions in this suspect's car beside the true
                 one, up to where the readings part; several are divided by
                 commas. Suspects named wrongly, or kept on the board against
                 the readings, are shown without asking
  --lang CODE    the language of the debrief: en (English, unless given), de
                 (German) or es (Spanish)
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
                 rules (sentences) when a school's own rubric or tariff was
                 gone by, or another rubric than it was played under,
                 retake (after, of) when it is a second try from the middle
                 of an earlier attempt; program (played, graded) when it was
                 played with another version

Examples:
  coldbay grade mine.attempt
  coldbay grade mine.attempt --json
  coldbay grade mine.attempt --html debrief.html
  coldbay grade mine.attempt --html auswertung.html --lang de
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
	rules := flags.school()
	html := flags.String("html", "", "")
	csv := flags.String("csv", "", "")
	thought := flags.String("thought", "", "")
	lang := flags.String("lang", english, "")
	rest, err := flags.parse(args)
	if err != nil {
		return err
	}
	msg, err := language(*lang)
	if err != nil {
		return flags.wrong(err)
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
	lib, o, err := rules.order(name)
	if err != nil && *own == "" {
		return withHint(fmt.Errorf("%s:1: key \"order\": %w", rest[0], err), "--order FILE names the file of an order of your own")
	}
	if err != nil {
		return err
	}
	// A log that was edited by hand earns no mark: every percept is computed again and compared.
	if _, err := bench.Replay(ctx, lib.Config(o, a.Header.Program), a); err != nil {
		if errors.Is(err, bench.ErrTariff) {
			err = withHint(err, "--tariff FILE, or --school DIR, names the school's own")
		}
		return err
	}
	d, err := gradeFindings(ctx, p, msg, lib, o, &a.Header, a.Findings, *thought)
	if err != nil {
		return err
	}
	d.Retake = a.Header.Retake
	if here := versionOf(buildVersion).Version; a.Header.Program != here {
		d.Program = &score.Program{Played: a.Header.Program, Graded: here}
	}
	if d.Retake != nil {
		fmt.Fprintf(p.Stderr, "coldbay: notice: %s is a second try that goes on after line %d of an earlier attempt, after whose end the fault was known; its marks are practice and do not count as a first attempt\n",
			rest[0], d.Retake.After)
	}
	if done, err := writeDebrief(p, msg, d, *html, *csv); done || err != nil {
		return err
	}
	if *asJSON {
		return p.writeJSON(d)
	}
	return printDebrief(p.Stdout, msg, d)
}

func gradeFindings(ctx context.Context, p *Program, msg *messages.Catalogue, lib *scenarios.Library, o *scenarios.Order, played *bench.Header, findings []bench.Finding, thought string) (*score.Debrief, error) {
	defer p.progress("grading")()
	c, err := score.OpenOrBuild(ctx, lib, o, versionOf(buildVersion).Version, runtime.NumCPU())
	if err != nil {
		return nil, err
	}
	l, err := bench.NewLocal(c.Config)
	if err != nil {
		return nil, err
	}
	c.Speaker, c.Words = speaker(msg, o.Order.Car, l.Catalogue()), msg
	if c.Dictionary, err = tongue.Dictionary(msg, o.Order.Car, l.Catalogue(), c.Dictionary); err != nil {
		return nil, err
	}
	c.Workers, c.Played = runtime.NumCPU(), played
	if c.Candidates, err = score.Candidates(ctx, lib); err != nil {
		return nil, err
	}
	if err := tongue.Case(msg, lib, c); err != nil {
		return nil, err
	}
	if thought != "" {
		c.Thought = strings.Split(thought, ",")
	}
	return score.Grade(ctx, *c, findings)
}
