package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"coldbay/scenarios"
	"coldbay/sim"
	"coldbay/sim/car"
)

const signaturesUsage = `Usage: coldbay signatures [CAR] [OPTIONS]

Prints a car's table of signatures: what a mechanic's usual readings are with each
fault of its catalogue, at three severities: pump current, voltage at the pump,
flow, pipe pressure, chamber vacuum, how a hand pump holds, coil, mixture,
light-off, codes. The first row is the sound car. Every row is a run of the car,
at 20 degrees Celsius and sea level; the table says which reading means what.
CAR is one of the program's own (see: coldbay list), all of them without it, or a
YAML file.

Options:
  --fault ID[:S]   only this fault or fault set, at severity S, above 0 to 1
                   (without S: 0.3, 0.6 and 1); may stand several times
  --format FORMAT  text  for people (default)
                   csv   a sheet of one car, with every column of every car:
                         blank where this one has nothing to read
                   json  with units; null is open, or never; --json for short
  --write DIR      write DIR/CAR.txt, .csv or .json instead of printing; in the
                   source tree DIR is testdata/signatures

Exit codes: 0 done, 1 a run failed, 2 wrong use.

Examples:
  coldbay signatures car_a
  coldbay signatures car_b --fault blower_worn --fault pipe_cracked:0.5
  coldbay signatures car_c --format csv
  coldbay signatures --write testdata/signatures
`

func signaturesCommand() command {
	return command{name: "signatures", summary: "what each fault of a car shows, in one table", usage: signaturesUsage, run: runSignatures}
}

// signatureOptions are the options as they were written.
type signatureOptions struct {
	format, write string
	faults        listFlag
}

func runSignatures(ctx context.Context, p *Program, args []string) error {
	var o signatureOptions
	flags := newFlags("signatures")
	flags.Var(&o.faults, "fault", "")
	flags.StringVar(&o.format, "format", "text", "")
	flags.StringVar(&o.write, "write", "", "")
	asJSON := flags.Bool("json", false, "")
	names, err := flags.parse(args)
	if err != nil {
		return err
	}
	if *asJSON {
		o.format = "json"
	}
	switch {
	case len(names) > 1:
		return flags.wrong(usagef("signatures reads one car, or all; found %d", len(names)))
	case !slices.Contains([]string{"text", "csv", "json"}, o.format):
		return flags.wrong(usagef("--format %q: allowed are text, csv, json", o.format))
	case len(names) == 0 && len(o.faults) > 0:
		return flags.wrong(usagef("--fault needs the car that can have it"))
	case len(names) == 0 && o.format == "csv" && o.write == "":
		return flags.wrong(usagef("a CSV sheet holds one car: name it, or give --write a folder for all"))
	}
	if len(names) == 0 {
		lib, err := scenarios.Builtin()
		if err != nil {
			return err
		}
		names = lib.CarIDs()
	}
	var jobs []signatureJob
	for _, name := range names {
		j, err := o.job(name)
		if err != nil {
			return err
		}
		jobs = append(jobs, j)
	}
	var tables []*sim.SignatureTable
	for _, j := range jobs {
		t, err := j.run(ctx, p)
		if err != nil {
			return err
		}
		tables = append(tables, t)
	}
	if o.write != "" {
		return o.writeTables(p, tables)
	}
	return o.print(p, tables)
}

// signatureJob is a car with what to read of it.
type signatureJob struct {
	car     *car.Car
	choices []sim.FaultChoice
}

// job turns a car's name and the options into what to run. Errors are of wrong use but those of a file.
func (o *signatureOptions) job(name string) (signatureJob, error) {
	flags := newFlags("signatures")
	var j signatureJob
	var err error
	if j.car, err = traceCar(name); err != nil {
		return j, err
	}
	if len(o.faults) == 0 {
		if j.choices, err = sim.Catalogue(j.car); err != nil {
			return j, err
		}
	}
	for _, text := range o.faults {
		f, err := faultChoice(j.car, text)
		if err != nil {
			return j, flags.wrong(err)
		}
		if !strings.Contains(text, ":") {
			all, err := sim.AtSeverities(j.car, f.ID)
			if err != nil {
				return j, err
			}
			j.choices = append(j.choices, all...)
			continue
		}
		if graded, err := sim.Graded(j.car, f.ID); err != nil {
			return j, err
		} else if !graded {
			return j, flags.wrong(usagef("%s is there or not: it has no severity", f.ID))
		}
		j.choices = append(j.choices, f)
	}
	return j, nil
}

func (j signatureJob) run(ctx context.Context, p *Program) (*sim.SignatureTable, error) {
	defer p.progress(fmt.Sprintf("reading %s with %d faults", j.car.ID, len(j.choices)))()
	return sim.SignAll(ctx, j.car, sim.ProbesOf(j.car), sim.ReferenceConditions(), j.choices, atOnce)
}

// atOnce does n things on all processors; see [sim.SignAll].
func atOnce(n int, do func(i int)) {
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.NumCPU() {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

type signed struct {
	Cars []any `json:"cars"`
}

func (o *signatureOptions) print(p *Program, tables []*sim.SignatureTable) error {
	if o.format == "json" {
		out := signed{}
		for _, t := range tables {
			out.Cars = append(out.Cars, t.JSON())
		}
		return p.writeJSON(out)
	}
	for i, t := range tables {
		if i > 0 {
			if _, err := fmt.Fprintln(p.Stdout); err != nil {
				return err
			}
		}
		write := t.WriteText
		if o.format == "csv" {
			write = t.WriteCSV
		}
		if err := write(p.Stdout); err != nil {
			return err
		}
	}
	return nil
}

func (o *signatureOptions) writeTables(p *Program, tables []*sim.SignatureTable) error {
	if err := os.MkdirAll(o.write, 0o755); err != nil {
		return err
	}
	for _, t := range tables {
		name := filepath.Join(o.write, t.Car.ID)
		var err error
		switch o.format {
		case "csv":
			name += ".csv"
			err = toFile(name, t.WriteCSV)
		case "json":
			name += ".json"
			err = toFile(name, func(out io.Writer) error {
				return (&Program{Stdout: out}).writeJSON(signed{[]any{t.JSON()}})
			})
		default:
			name += ".txt"
			err = toFile(name, t.WriteText)
		}
		if err != nil {
			return err
		}
		if _, err := fmt.Fprintln(p.Stdout, "written:", name); err != nil {
			return err
		}
	}
	return nil
}
