package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"coldbay/scenarios"
	"coldbay/sim"
	"coldbay/sim/car"
	"coldbay/sim/trace"
	"coldbay/sim/units"
)

const traceUsage = `Usage: coldbay trace CAR [OPTIONS]

Runs a car and records what happens inside it, with units: as a table, as a
sheet of curves, or as a summary. CAR is one of the program's own (see: coldbay
list) or a YAML file. The same options give the same numbers every time.

What is run:
  --scenario NAME   cold_start  key, starter, the whole cold run (130 s)
                    warm_idle   idle of a warm engine (60 s)
                    actuator    engine off, actuator test of pump and valve (40 s)
                    hand_pump   six strokes on the valve's nipple, then hold (75 s)
                    soak        engine off after a run (3600 s)
                    Without it: cold_start. A car has those that it can do.
  --fault ID[:S]    a fault or fault set, at severity S, above 0 to 1 (default 1);
                    may stand several times
  --compare ID[:S]  a second run of the same car with this fault instead, drawn
                    and written beside the first; "healthy" for none
  --ambient C       surroundings in degrees Celsius (default 20)
  --altitude M      metres above sea level, -500 to 5000 (default 0)
  --draw N          this car's own deviation from the model; 0 is the nominal car
  --seconds S       length of the record, 0.1 to 86400

What is recorded:
  --channels A,B,.. what to record; "list" shows all that the car has
  --every S         seconds between samples: whole tenths, or 0.001, 0.002, 0.004,
                    0.005, 0.01, 0.02, 0.025, 0.05

What comes out (a summary on standard output when nothing else is asked for):
  --csv FILE        a table, units in the header; "-" is standard output
  --plot FILE       curves, drawn as FILE says: .svg or .png
  --json            the summary as JSON

Exit codes: 0 done, 1 the run failed, 2 wrong use.

Examples:
  coldbay trace car_a
  coldbay trace car_a --compare pump_fuse_blown --plot start.svg
  coldbay trace car_a --fault valve_line_split:0.3 --csv split.csv
  coldbay trace car_a --scenario actuator --every 0.005 --channels pump_current,chamber_vacuum --csv -
  coldbay trace car_a --channels list
`

func traceCommand() command {
	return command{name: "trace", summary: "run a car and write tables and curves", usage: traceUsage, run: runTrace}
}

// traceOptions are the options as they were written.
type traceOptions struct {
	scenario, compare, channels, csv, plot string
	faults                                 listFlag
	ambient, altitude, seconds, every      float64
	draw                                   uint64
	json                                   bool
}

// listFlag is an option that may stand several times.
type listFlag []string

func (l *listFlag) String() string     { return strings.Join(*l, ",") }
func (l *listFlag) Set(v string) error { *l = append(*l, v); return nil }

func runTrace(ctx context.Context, p *Program, args []string) error {
	var o traceOptions
	flags := newFlags("trace")
	flags.StringVar(&o.scenario, "scenario", "cold_start", "")
	flags.StringVar(&o.compare, "compare", "", "")
	flags.StringVar(&o.channels, "channels", "", "")
	flags.StringVar(&o.csv, "csv", "", "")
	flags.StringVar(&o.plot, "plot", "", "")
	flags.Var(&o.faults, "fault", "")
	flags.Float64Var(&o.ambient, "ambient", 20, "")
	flags.Float64Var(&o.altitude, "altitude", 0, "")
	flags.Float64Var(&o.seconds, "seconds", math.NaN(), "")
	flags.Float64Var(&o.every, "every", math.NaN(), "")
	flags.Uint64Var(&o.draw, "draw", 0, "")
	flags.BoolVar(&o.json, "json", false, "")
	names, err := flags.parse(args)
	if err != nil {
		return err
	}
	if len(names) != 1 {
		return flags.wrong(usagef("trace runs one car; found %d", len(names)))
	}
	c, err := traceCar(names[0])
	if err != nil {
		return err
	}
	if o.channels == "list" {
		return listChannels(p.Stdout, c)
	}
	setup, err := o.setup(c)
	if err != nil {
		return flags.wrong(err)
	}
	return o.carryOut(ctx, p, setup)
}

// traceCar finds a car by id or reads it from a file.
func traceCar(name string) (*car.Car, error) {
	lib, err := scenarios.Builtin()
	if err != nil {
		return nil, err
	}
	if strings.HasSuffix(name, ".yaml") || strings.HasSuffix(name, ".yml") {
		_, c, err := lib.LoadCarFile(name)
		if err != nil {
			return nil, err
		}
		return c.Car, nil
	}
	c, err := lib.Car(name)
	if err != nil {
		return nil, withHint(usageError{err}, "coldbay list shows the cars; a file's name ends in .yaml")
	}
	return c.Car, nil
}

func listChannels(out io.Writer, c *car.Car) error {
	for _, ch := range trace.Channels(c) {
		if _, err := fmt.Fprintf(out, "%-28s %-6s %s\n", ch.ID, ch.Unit, ch.Name); err != nil {
			return err
		}
	}
	return nil
}

// setup turns the options into a run; all its errors are of wrong use.
func (o *traceOptions) setup(c *car.Car) (trace.Setup, error) {
	s := trace.Setup{Car: c}
	var err error
	if s.Scenario, err = trace.FindScenario(c, o.scenario); err != nil {
		return s, err
	}
	if !(o.altitude >= -500 && o.altitude <= 5000) {
		return s, fmt.Errorf("altitude %g m: allowed are -500 to 5000", o.altitude)
	}
	if !(o.ambient >= -40 && o.ambient <= 60) {
		return s, fmt.Errorf("surroundings of %g degrees: allowed are -40 to 60", o.ambient)
	}
	air, err := units.StandardAtmosphere(o.altitude)
	if err != nil {
		return s, err
	}
	s.Conditions = sim.Conditions{AmbientK: o.ambient + units.ZeroCelsius, AmbientPa: air.Pressure, Draw: o.draw}
	for _, text := range o.faults {
		f, err := faultChoice(c, text)
		if err != nil {
			return s, err
		}
		if id, twice := sharedFault(c, s.Faults, f); twice {
			return s, fmt.Errorf("--fault %s: %s is there already; a fault is allowed once", text, id)
		}
		s.Faults = append(s.Faults, f)
	}
	if o.compare != "" && o.compare != "healthy" {
		if _, err := faultChoice(c, o.compare); err != nil {
			return s, err
		}
	}
	var ids []string
	for _, id := range strings.Split(o.channels, ",") {
		if id = strings.TrimSpace(id); id != "" {
			ids = append(ids, id)
		}
	}
	if s.Channels, err = trace.Select(c, ids); err != nil {
		return s, err
	}
	s.Seconds, s.Every = s.Scenario.Seconds, s.Scenario.Every
	if !math.IsNaN(o.seconds) {
		s.Seconds = o.seconds
	}
	if !math.IsNaN(o.every) {
		s.Every = o.every
	}
	switch ext := strings.ToLower(filepath.Ext(o.plot)); {
	case o.plot != "" && ext != ".svg" && ext != ".png":
		return s, fmt.Errorf("a plot is drawn as .svg or .png, not %q", o.plot)
	case o.csv == "-" && o.json:
		return s, errors.New("table and JSON can't both go to standard output")
	}
	return s, s.Check()
}

// sharedFault finds a fault of one more choice, which may be a set, that the choices before have too.
func sharedFault(c *car.Car, before []sim.FaultChoice, more sim.FaultChoice) (id string, ok bool) {
	had := map[*car.Fault]bool{}
	for _, f := range before {
		members, _ := c.Members(f.ID) // known: faultChoice has looked
		for _, m := range members {
			had[m] = true
		}
	}
	members, _ := c.Members(more.ID)
	for _, m := range members {
		if had[m] {
			return m.ID, true
		}
	}
	return "", false
}

// faultChoice reads ID or ID:SEVERITY.
func faultChoice(c *car.Car, text string) (sim.FaultChoice, error) {
	id, severity, graded := strings.Cut(text, ":")
	f := sim.FaultChoice{ID: id, Severity: 1}
	if graded {
		v, err := strconv.ParseFloat(severity, 64)
		if err != nil || !(v > 0 && v <= 1) {
			return f, fmt.Errorf("severity %q of %s: allowed is above 0 to 1", severity, id)
		}
		f.Severity = v
	}
	if _, err := c.Members(id); err != nil {
		var known []string
		for _, x := range c.Faults {
			known = append(known, x.ID)
		}
		for _, x := range c.Sets {
			known = append(known, x.ID)
		}
		return f, fmt.Errorf("%w; allowed are %s", err, strings.Join(known, ", "))
	}
	return f, nil
}

// traced is the summary of one or two runs.
type traced struct {
	Car      string      `json:"car"`
	Scenario string      `json:"scenario"`
	AmbientC float64     `json:"ambient_c"`
	Altitude float64     `json:"altitude_m"`
	Draw     uint64      `json:"draw"`
	Seconds  float64     `json:"seconds"`
	Every    float64     `json:"every_s"`
	Runs     []tracedRun `json:"runs"`
	CSV      string      `json:"csv,omitempty"`
	Plot     string      `json:"plot,omitempty"`
}

type tracedRun struct {
	Faults   []string        `json:"faults"`
	Started  *float64        `json:"started_s"`               // null: the engine did not start while recording
	LightOff *float64        `json:"light_off_s"`             // s after the engine's start; null: not reached
	Second   *float64        `json:"light_off_2_s,omitempty"` // the same of the second bank; not there: one bank, or not reached
	Stored   []string        `json:"stored"`
	Pending  []string        `json:"pending"`
	Channels []tracedChannel `json:"channels"`
}

type tracedChannel struct {
	ID     string   `json:"id"`
	Unit   string   `json:"unit"`
	Low    *float64 `json:"low"`
	High   *float64 `json:"high"`
	HighAt float64  `json:"high_at_s"`
	Last   *float64 `json:"last"`
}

func (o *traceOptions) carryOut(ctx context.Context, p *Program, setup trace.Setup) error {
	runs, labels, err := o.runs(ctx, p, setup)
	if err != nil {
		return err
	}
	sum := traced{Car: setup.Car.ID, Scenario: setup.Scenario.Name, AmbientC: o.ambient, Altitude: o.altitude, Draw: o.draw, Seconds: setup.Seconds, Every: setup.Every}
	for i, r := range runs {
		sum.Runs = append(sum.Runs, summary(r, labels[i]))
	}
	switch {
	case o.csv == "-":
		if err := trace.WriteCSV(p.Stdout, labels, runs...); err != nil {
			return err
		}
	case o.csv != "":
		sum.CSV = o.csv
		if err := toFile(o.csv, func(w io.Writer) error { return trace.WriteCSV(w, labels, runs...) }); err != nil {
			return err
		}
	}
	if o.plot != "" {
		sum.Plot = o.plot
		done := p.progress("drawing " + o.plot)
		err := drawTrace(o.plot, sheetTitle(setup, o), labels, runs)
		done()
		if err != nil {
			return err
		}
	}
	switch {
	case o.json:
		return p.writeJSON(sum)
	case o.csv == "-":
		return nil
	}
	return printTraced(p.Stdout, sum, labels)
}

// runs makes the record, and a second one to compare with.
func (o *traceOptions) runs(ctx context.Context, p *Program, setup trace.Setup) ([]*trace.Record, []string, error) {
	defer p.progress(fmt.Sprintf("running %s for %g s", setup.Car.ID, setup.Seconds+setup.Scenario.LeadS))()
	label := strings.Join(o.faults, " + ")
	if label == "" {
		label = "healthy"
	}
	first, err := trace.Run(ctx, setup, nil)
	if err != nil || o.compare == "" {
		return []*trace.Record{first}, []string{label}, err
	}
	setup.Faults = nil
	if o.compare != "healthy" {
		f, err := faultChoice(setup.Car, o.compare)
		if err != nil {
			return nil, nil, err
		}
		setup.Faults = []sim.FaultChoice{f}
	}
	second, err := trace.Run(ctx, setup, nil)
	return []*trace.Record{first, second}, []string{label, o.compare}, err
}

func sheetTitle(s trace.Setup, o *traceOptions) string {
	title := fmt.Sprintf("%s, %s, %g °C", s.Car.Name, strings.ReplaceAll(s.Scenario.Name, "_", " "), o.ambient)
	if o.altitude != 0 {
		title += fmt.Sprintf(", %g m", o.altitude)
	}
	return title
}

func toFile(name string, write func(io.Writer) error) error {
	f, err := os.Create(name)
	if err != nil {
		var at *fs.PathError
		if errors.As(err, &at) {
			err = at.Err
		}
		return fmt.Errorf("can't write %s: %w", name, err)
	}
	if err := write(f); err != nil {
		f.Close()
		return fmt.Errorf("writing %s: %w", name, err)
	}
	return f.Close()
}

func summary(r *trace.Record, label string) tracedRun {
	t := tracedRun{Faults: []string{}, Stored: append([]string{}, r.Stored...), Pending: append([]string{}, r.Pending...), Started: known(r.Started)}
	if label != "healthy" {
		t.Faults = strings.Split(label, " + ")
	}
	if r.LightOff > 0 {
		t.LightOff = known(r.LightOff)
	}
	if r.LitSecond > 0 {
		t.Second = known(r.LitSecond)
	}
	for i, c := range r.Channels {
		v := r.Values[i]
		t.Channels = append(t.Channels, tracedChannel{c.ID, c.Unit, known(r.Low[i]), known(r.High[i]), r.HighAt[i], known(v[len(v)-1])})
	}
	return t
}

// known is a number that JSON can hold, or nil; six significant digits, and nothing below a millionth.
func known(v float64) *float64 {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return nil
	case math.Abs(v) < 1e-6: // rounding, and what dies away without end
		v = 0
	}
	short, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 6, 64), 64)
	if err != nil {
		return nil
	}
	return &short
}

func printTraced(out io.Writer, s traced, labels []string) error {
	w := &strings.Builder{}
	fmt.Fprintf(w, "%s, %s, %g s\n", s.Car, s.Scenario, s.Seconds)
	for i, r := range s.Runs {
		fmt.Fprintf(w, "\n%s\n", labels[i])
		if r.Started != nil && r.LightOff != nil {
			fmt.Fprintf(w, "  light-off %.1f s after the start of the engine\n", *r.LightOff)
		}
		if r.Started != nil && r.Second != nil {
			fmt.Fprintf(w, "  light-off of bank 2 %.1f s after the start of the engine\n", *r.Second)
		}
		fmt.Fprintf(w, "  codes stored: %s; pending: %s\n", orNone(r.Stored), orNone(r.Pending))
		fmt.Fprintf(w, "  %-20s %-5s %10s %10s %8s %10s\n", "channel", "unit", "lowest", "highest", "at s", "at the end")
		for _, c := range r.Channels {
			fmt.Fprintf(w, "  %-20s %-5s %10s %10s %8.2f %10s\n", c.ID, c.Unit, shown(c.Low, c.Unit), shown(c.High, c.Unit), c.HighAt, shown(c.Last, c.Unit))
		}
	}
	for _, f := range []string{s.CSV, s.Plot} {
		if f != "" {
			fmt.Fprintf(w, "\nwritten: %s", f)
		}
	}
	if s.CSV+s.Plot != "" {
		fmt.Fprintln(w)
	}
	_, err := io.WriteString(out, w.String())
	return err
}

// digits are the decimals of a good instrument for the unit.
var digits = map[string]int{"rpm": 0, "A": 2, "V": 2, "kPa": 2, "kg/h": 2, "mm": 2, "°C": 1, "%": 1, "s": 1, "": 3}

// shown is a number with the decimals of its unit. What is far above the instrument's range, the ratio without fuel, has five digits.
func shown(v *float64, unit string) string {
	if v == nil {
		return "-"
	}
	n, ok := digits[unit]
	if !ok || math.Abs(*v) >= 1e6 {
		return strconv.FormatFloat(*v, 'g', 5, 64)
	}
	text := strconv.FormatFloat(*v, 'f', n, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

func orNone(list []string) string {
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, " ")
}
