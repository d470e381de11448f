package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/grading/score"
	"coldbay/scenarios"
)

const checkUsage = `Usage: coldbay check [ORDER ...] [--school DIR] [--tariff FILE] [--json] [--write DIR]

An author's friend. Loads each order (all that come with the program when none
is named; a YAML file counts too), runs every procedure in every suspect's car,
solves the shortest diagnostic sequence, and tells: par, how many steps the plan
takes, whether the order can be solved with its tools, the best first steps,
which suspects no allowed test can tell apart, and what looks like a slip, such
as a complaint of a lamp in a car whose fault lights none, tools that are both
allowed and withheld, or a guide of minutes far from par. Some ten seconds an
order. Ends with 1 when there is a warning.

Options:
` + schoolOptions + `  --write DIR   write each order's dictionary to DIR (in the source tree:
                scenarios/dictionaries)
  --json        the findings as a JSON array of objects: order, suspects, cells
                (suspects at their severities), tests, parMinutes, exact, gap (%),
                nodes (states that the planner looked at), steps (tests and
                repairs of the plan: least, mean, most), solvable (every fault
                can be told from those of other units), first, alike, warnings

Examples:
  coldbay check
  coldbay check my_order.yaml
  coldbay check --write scenarios/dictionaries
`

func checkCommand() command {
	return command{name: "check", summary: "load, solve and warn: for authors of orders", usage: checkUsage, run: runCheck}
}

type checked struct {
	Order      string            `json:"order"`
	Suspects   int               `json:"suspects"`
	Cells      int               `json:"cells"`
	Tests      int               `json:"tests"`
	ParMinutes float64           `json:"parMinutes"`
	Exact      bool              `json:"exact"`
	Gap        float64           `json:"gap"`      // by how much less the least possible could be at most, %; 0 when exact
	Nodes      int64             `json:"nodes"`    // states that the planner looked at for par
	Steps      dictionary.Length `json:"steps"`    // of the plan
	Solvable   bool              `json:"solvable"` // with the order's tools
	First      []string          `json:"first"`
	Alike      [][]string        `json:"alike"` // groups of suspects of different units that no allowed test tells apart
	Warnings   []string          `json:"warnings"`
}

func runCheck(ctx context.Context, p *Program, args []string) error {
	flags := newFlags("check")
	asJSON := flags.Bool("json", false, "")
	write := flags.String("write", "", "")
	own := flags.school()
	names, err := flags.parse(args)
	if err != nil {
		return err
	}
	if *write != "" && *own.dir+*own.rubric+*own.tariff != "" {
		return flags.wrong(usagef("--write writes what comes with the program, which a school's files are no part of"))
	}
	if len(names) == 0 {
		lib, err := own.library()
		if err != nil {
			return err
		}
		names = lib.OrderIDs()
	}
	var all []checked
	failed := false
	for _, name := range names {
		c, err := checkOrder(ctx, p, own, name, *write)
		if err != nil {
			return err
		}
		failed = failed || len(c.Warnings) > 0
		all = append(all, c)
		if !*asJSON {
			printChecked(p, c)
		}
	}
	if *asJSON {
		if err := p.writeJSON(all); err != nil {
			return err
		}
	}
	if failed {
		return errCheckFailed
	}
	return nil
}

func checkOrder(ctx context.Context, p *Program, own school, name, write string) (checked, error) {
	lib, o, err := own.order(name)
	if err != nil {
		return checked{}, err
	}
	defer p.progress("checking " + o.Order.ID)()
	file, data, err := scenarios.ProceduresFile(o.Order.Car)
	if err != nil {
		return checked{}, err
	}
	procs, err := dictionary.Parse(file, data)
	if err != nil {
		return checked{}, err
	}
	cfg := lib.Config(o, versionOf(buildVersion).Version)
	b, err := dictionary.Build(ctx, cfg, procs, runtime.NumCPU())
	if err != nil {
		return checked{}, err
	}
	d := b.Dictionary
	if write != "" {
		packed, err := dictionary.Pack(d)
		if err != nil {
			return checked{}, err
		}
		if err := os.WriteFile(filepath.Join(write, o.Order.ID+".json.gz"), packed, 0o644); err != nil {
			return checked{}, err
		}
		if err := writePractise(ctx, filepath.Join(write, "practise.json"), o.Order.ID, d, packed, procs); err != nil {
			return checked{}, err
		}
	}
	pl, err := plan.New(d, plan.Options{Nodes: d.Effort()})
	if err != nil {
		return checked{}, err
	}
	par, err := pl.Par(ctx)
	if err != nil {
		return checked{}, err
	}
	nodes := pl.Stats().Nodes
	best, _, err := pl.Best(ctx, d.All(), d.Start)
	if err != nil {
		return checked{}, err
	}
	c := checked{Order: o.Order.ID, Cells: len(d.Hypotheses), Suspects: len(o.Order.SuspectIDs(o.Car.Layout)), Tests: len(d.Tests),
		ParMinutes: float64(par.Hi) / float64(d.Weight(d.All())) / 60, Exact: par.Exact(), Nodes: nodes, First: []string{}, Warnings: []string{}}
	for _, x := range best {
		if x.Act == plan.ActTest {
			c.First = append(c.First, d.Tests[x.Index].Name)
		}
	}
	root, _, err := pl.Policy(ctx, d.All(), d.Start)
	if err != nil {
		return checked{}, err
	}
	c.Steps = dictionary.Steps(d, root)
	// Nobody can find that there is no fault where one is too slight to be told: that stands under what can't be told apart.
	hidden := slices.DeleteFunc(dictionary.Hidden(d), func(id string) bool { return id == o.Car.Car.NoFault.ID })
	c.Solvable = len(hidden) == 0
	if !c.Solvable {
		c.Warnings = append(c.Warnings, "not solvable with its tools: no allowed test finds "+strings.Join(hidden, ", "))
	}
	if slip := dictionary.Guide(o.Order.Minutes, c.ParMinutes); slip != "" {
		c.Warnings = append(c.Warnings, slip)
	}
	c.Alike = dictionary.Alike(d)
	c.Warnings = append(c.Warnings, dictionary.Slips(cfg)...)
	c.Gap = 100 * float64(par.Hi-par.Lo) / float64(par.Hi)
	if c.Gap > gapAllowed {
		c.Warnings = append(c.Warnings, fmt.Sprintf("par is not proven to %.0f %%: at least %.1f minutes", gapAllowed, float64(par.Lo)/float64(d.Weight(d.All()))/60))
	}
	return c, nil
}

// gapAllowed is the gap of par that an order of many suspects may have, %.
const gapAllowed = 5.0

// writePractise keeps what an order's plan spends its time on beside the dictionaries.
func writePractise(ctx context.Context, path, order string, d *plan.Dictionary, packed []byte, procs *dictionary.Procedures) error {
	before, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	after, err := score.Reckon(ctx, before, order, d, packed, procs)
	if err != nil {
		return err
	}
	return os.WriteFile(path, after, 0o644)
}

func printChecked(p *Program, c checked) {
	exact := "exact"
	if !c.Exact {
		exact = fmt.Sprintf("proven to be within %.1f %% of the least possible", c.Gap)
	}
	fmt.Fprintf(p.Stdout, "%s: %d suspects (%d with their severities), %d tests that tell something apart; par %.1f minutes (%s)\n",
		c.Order, c.Suspects, c.Cells, c.Tests, c.ParMinutes, exact)
	solvable := "solvable with its tools"
	if !c.Solvable {
		solvable = "not solvable with its tools"
	}
	fmt.Fprintf(p.Stdout, "  the plan takes %d to %d steps, %.1f in the mean; %s\n", c.Steps.Least, c.Steps.Most, c.Steps.Mean, solvable)
	for _, f := range c.First {
		fmt.Fprintf(p.Stdout, "  best first step: %s\n", f)
	}
	for _, a := range c.Alike {
		fmt.Fprintf(p.Stdout, "  no allowed test tells apart: %v\n", a)
	}
	for _, w := range c.Warnings {
		fmt.Fprintf(p.Stdout, "  warning: %s\n", w)
	}
}
