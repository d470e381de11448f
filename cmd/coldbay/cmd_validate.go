package main

import (
	"context"
	"fmt"
	"os"
	"runtime"

	"coldbay/scenarios"
	"coldbay/sim/validate"
	"coldbay/testdata"
)

const validateUsage = `Usage: coldbay validate [--mutate] [--write FILE] [--rows] [--json]

Compares the models of the four cars with what is known outside of them:
handbook tables, standards, results of other programs, conservation laws, and
readings taken at the bench the way a trainee takes them. Every row has its source beside it. Ends with exit
code 1 when a row is out of its tolerance.

Options:
  --mutate      make one important number of a car wrong at a time and tell which
                rows notice (about half a minute)
  --write FILE  write everything as Markdown, the changes of --mutate included;
                in the source tree FILE is testdata/VALIDATION.md
  --rows        print every row, not only the red ones
  --json        rows, changes and counts as JSON

Examples:
  coldbay validate
  coldbay validate --rows
  coldbay validate --mutate
  coldbay validate --write testdata/VALIDATION.md
`

func validateCommand() command {
	return command{name: "validate", summary: "compare the model with outside figures", usage: validateUsage, run: runValidate}
}

type validated struct {
	Summary validate.Summary  `json:"summary"`
	Rows    []validate.Row    `json:"rows"`
	Changes []validate.Turned `json:"changes"`
}

func runValidate(ctx context.Context, p *Program, args []string) error {
	flags := newFlags("validate")
	asJSON := flags.Bool("json", false, "")
	mutate := flags.Bool("mutate", false, "")
	write := flags.String("write", "", "")
	all := flags.Bool("rows", false, "")
	if err := flags.none(args); err != nil {
		return err
	}
	lib, err := scenarios.Builtin()
	if err != nil {
		return err
	}
	car, err := lib.Car("car_a")
	if err != nil {
		return err
	}
	ground := validate.Ground{Car: car.Car, Tariff: lib.Tariff(), Tables: testdata.Files}
	for _, id := range []string{"car_b", "car_c", "car_d"} {
		other, err := lib.Car(id)
		if err != nil {
			return err
		}
		ground.Others = append(ground.Others, other.Car)
	}
	done := p.progress("comparing")
	rows, err := validate.Run(ctx, ground, nil)
	done()
	if err != nil {
		return err
	}
	out := validated{Rows: rows, Changes: []validate.Turned{}}
	if *mutate || *write != "" {
		done := p.progress("making numbers wrong, one at a time")
		out.Changes, err = validate.Mutate(ctx, ground, rows, validate.Changes(), runtime.NumCPU(), nil)
		done()
		if err != nil {
			return err
		}
	}
	out.Summary = validate.Summarise(rows, out.Changes)
	if *write != "" {
		if err := os.WriteFile(*write, validate.Page(rows, out.Changes), 0o644); err != nil {
			return err
		}
	}
	if *asJSON {
		err = p.writeJSON(out)
	} else {
		err = printValidated(p, out, *all)
	}
	if err == nil && out.Summary.Red > 0 {
		err = errCheckFailed
	}
	return err
}

func printValidated(p *Program, v validated, all bool) error {
	for _, r := range v.Rows {
		state := "ok"
		switch {
		case r.Red():
			state = "RED"
		case r.Known != "":
			state = "known"
		}
		if !all && state != "RED" {
			continue
		}
		if _, err := fmt.Fprintf(p.Stdout, "%-5s %s: %s: expected %s %s, computed %s, %s [%s: %s]\n", state, r.ID, r.What, r.Expected, r.Unit, r.Computed, r.Dev, r.Mark, r.Source); err != nil {
			return err
		}
	}
	for _, t := range v.Changes {
		note := ""
		if len(t.Red) == 0 {
			note = "  (not watched)"
		}
		if _, err := fmt.Fprintf(p.Stdout, "%-36s %10.6g -> %-10.6g %3d red%s\n", t.What, t.From, t.To, len(t.Red), note); err != nil {
			return err
		}
	}
	s := v.Summary
	_, err := fmt.Fprintf(p.Stdout, "%d rows, %d of them read at the bench: %d red, %d known differences\n", s.Rows, s.Bench, s.Red, s.Known)
	return err
}
