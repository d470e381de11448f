package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"os"
	"runtime"

	"coldbay/grading/ladder"
	"coldbay/grading/plan"
	"coldbay/grading/score"
	"coldbay/scenarios"
)

const ladderUsage = `Usage: coldbay ladder [ORDER ...] [--plays N] [--seed N] [--write FILE] [--json]

Shows that the score ranks skill and not luck: students whose rule of choice is
known (the plan, most information per minute, the trade's sheet, chance, the
likeliest part) do each order with every suspect as the truth, and are scored as
trainees are. Prints minutes against par, mean scores with their 95 % intervals,
the share of jobs with 90 or more, and where the trade's own order of work leaves
the plan and why. When none is named: all orders of the program but those with
every suspect of the car, which take the best part of an hour; a YAML file counts
too. Ends with 1 when something that must hold does not.

Options:
` + schoolOptions + `  --plays N     how often students that draw lots are played (default 40)
  --seed N      where their lots start (default 1)
  --write FILE  write everything as Markdown; in the source tree FILE is
                testdata/ladder/RESULT.md
  --json        the summary and one object an order, with every job of every
                student and every divergence from the plan

Examples:
  coldbay ladder
  coldbay ladder quiet_pump --plays 200
  coldbay ladder my_order.yaml --json
  coldbay ladder --write testdata/ladder/RESULT.md
`

func ladderCommand() command {
	return command{name: "ladder", summary: "simulated students: does the score rank skill?", usage: ladderUsage, run: runLadder}
}

type laddered struct {
	Summary *ladder.Summary  `json:"summary"`
	Orders  []*ladder.Report `json:"orders"`
}

func runLadder(ctx context.Context, p *Program, args []string) error {
	flags := newFlags("ladder")
	asJSON := flags.Bool("json", false, "")
	plays := flags.Int("plays", 40, "")
	seed := flags.Uint64("seed", 1, "")
	write := flags.String("write", "", "")
	own := flags.school()
	names, err := flags.parse(args)
	if err != nil {
		return err
	}
	if *plays < 2 || *plays > 10_000 {
		return flags.wrong(usagef("--plays %d: allowed are 2 to 10000", *plays))
	}
	if len(names) == 0 {
		lib, err := scenarios.Builtin()
		if err != nil {
			return err
		}
		if names, err = narrow(lib); err != nil {
			return err
		}
	}
	opts := ladder.Options{Plays: *plays, Seed: *seed}
	var all laddered
	for _, name := range names {
		r, err := climb(ctx, p, own, name, opts)
		if err != nil {
			return err
		}
		all.Orders = append(all.Orders, r)
	}
	all.Summary = ladder.Sum(all.Orders, opts)
	if *write != "" {
		if err := os.WriteFile(*write, ladder.Page(all.Summary, all.Orders), 0o644); err != nil {
			return err
		}
	}
	if *asJSON {
		err = p.writeJSON(all)
	} else {
		err = printLadder(p, all)
	}
	if err != nil {
		return err
	}
	for _, c := range all.Summary.Claims {
		// One order alone need not keep the order of the students.
		if !c.Holds && (c.Kind == ladder.Theorem || c.Kind == ladder.Ladder && len(all.Orders) > 1) {
			return errCheckFailed
		}
	}
	return nil
}

// narrow are the orders of the program that are played when none is named.
func narrow(lib *scenarios.Library) ([]string, error) {
	var out []string
	for _, id := range lib.OrderIDs() {
		_, packed, err := scenarios.DictionaryFile(id)
		if err != nil {
			return nil, err
		}
		z, err := gzip.NewReader(bytes.NewReader(packed))
		if err != nil {
			return nil, fmt.Errorf("dictionary of %s: %w", id, err)
		}
		d, err := plan.Decode(z)
		if err != nil {
			return nil, fmt.Errorf("dictionary of %s: %w", id, err)
		}
		if !d.Wide() {
			out = append(out, id)
		}
	}
	return out, nil
}

func climb(ctx context.Context, p *Program, own school, name string, opts ladder.Options) (*ladder.Report, error) {
	lib, o, err := own.order(name)
	if err != nil {
		return nil, err
	}
	defer p.progress("playing " + o.Order.ID)()
	c, err := score.OpenOrBuild(ctx, lib, o, versionOf(buildVersion).Version, runtime.NumCPU())
	if err != nil {
		return nil, err
	}
	sheets, err := ladder.SheetsFor(c.Config.Order)
	if err != nil {
		return nil, err
	}
	g, err := ladder.NewGround(o.Order.ID, c.Dictionary, c.Dictionary.Effort())
	if err != nil {
		return nil, err
	}
	return g.Run(ctx, sheets, opts)
}

func printLadder(p *Program, all laddered) error {
	w := func(format string, a ...any) {
		fmt.Fprintf(p.Stdout, format+"\n", a...)
	}
	for _, r := range all.Orders {
		w("%s: %d cells, %d procedures; par %.1f minutes, proof line %.1f", r.Order, r.Cells, r.Procedures, r.Par, r.Proof)
		w("  %-62s %9s %6s  %-24s %5s  %s", "student", "minutes", "/ par", "score", ">= 90", "no tolerance")
		for _, x := range r.Rungs {
			w("  %-62s %9.1f %6.3f  %-24s %4.0f%%  %s", x.Name, x.Minutes.Mean, x.Ratio.Mean, x.Score, 100*x.Good.Mean, x.Bare)
		}
		for _, c := range r.Courses {
			w("  %s: %s", c.Name, c.Says())
			if len(c.Divergences) > 0 {
				w("    %s", c.Divergences[0].Says())
			}
		}
		w("")
	}
	if len(all.Orders) > 1 {
		w("in the mean over %d orders", len(all.Orders))
		for _, m := range all.Summary.Means {
			w("  %-62s %9s %6.3f  %-24s %4.0f%%  %s", m.Name, "", m.Ratio.Mean, m.Score, 100*m.Good.Mean, m.Bare)
		}
		w("")
	}
	for _, c := range all.Summary.Claims {
		holds := "holds"
		if !c.Holds {
			holds = "DOES NOT HOLD"
		}
		if _, err := fmt.Fprintf(p.Stdout, "%s: %s: %s: %s\n", c.Kind, holds, c.Text, c.Says); err != nil {
			return err
		}
	}
	return nil
}
