package dictionary

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"coldbay/grading/belief"
	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// The bench configurations of a plan: engine cold as it came in or warm after a run, scan tool plugged in or not. An order that
// withholds the scan tool has the first two only.
const (
	Cold = iota
	Warm
	ColdScan
	WarmScan
	configs
)

// scanned is how much further on a configuration with the scan tool stands than the same one without.
const scanned = ColdScan - Cold

// At is the configuration of a bench.
func At(warm, scan bool) int {
	q := Cold
	if warm {
		q = Warm
	}
	if scan {
		q += scanned
	}
	return q
}

// Built is a dictionary with what is needed to read it.
type Built struct {
	Dictionary *plan.Dictionary
	// Cells are the hypotheses in the belief's terms: worlds that no test tells apart are one.
	Cells []belief.Cell
	// Procedure gives the procedure's id for each test.
	Procedure []string
}

// Build runs every procedure that the order's tools allow in every world of the order's suspects. Tests that tell nothing apart are left
// out. A procedure with a step that needs a withheld tool is no procedure, whatever its other steps would show: the bench would refuse it
// half way, with its undoing still to do.
func Build(ctx context.Context, cfg bench.Config, procs *Procedures, workers int) (*Built, error) {
	b, err := belief.New(ctx, cfg, belief.Options{Workers: workers})
	if err != nil {
		return nil, err
	}
	cells := b.Cells()
	bases := make([]base, len(cells))
	err = each(ctx, workers, len(cells), func(i int) error {
		var err error
		bases[i], err = newBase(ctx, b.Bench(i), procs, cfg.Order.Allows(bench.ToolScan))
		return err
	})
	if err != nil {
		return nil, err
	}
	var scanS, warmS, unplugS float64
	for i := range bases {
		scanS, warmS, unplugS = max(scanS, bases[i].scanS), max(warmS, bases[i].warmS), max(unplugS, bases[i].unplugS)
	}
	out := &Built{Cells: cells, Dictionary: frame(Name(cfg, procs.source), cfg, b, scanS, unplugS, warmS)}
	if err := coolFirst(ctx, out.Dictionary, bases[0].at); err != nil {
		return nil, err
	}
	var trials []*trial
	for i := range procs.List {
		p := &procs.List[i]
		if p.withheld(cfg.Order) {
			continue
		}
		for _, q := range startConfigs(p, cfg.Order.Allows(bench.ToolScan)) {
			trials = append(trials, &trial{proc: p, config: q, runs: make([]run, len(cells))})
		}
	}
	trees := trunks(trials)
	err = each(ctx, workers, len(cells), func(i int) error {
		for q, tree := range trees {
			if tree == nil {
				continue
			}
			if err := tree.grow(ctx, i, bases[i].at[q].Clone(), run{}); err != nil {
				return fmt.Errorf("%s: %w", configID(q), err)
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	say := bench.NewSayer(bases[0].at[Cold].Catalogue())
	for _, t := range trials {
		test, err := t.test(say)
		if err != nil {
			return nil, fmt.Errorf("procedure %s: %w", t.proc.ID, err)
		}
		if test == nil {
			continue
		}
		test.At = placements(t.proc, t.config, len(out.Dictionary.Configs))
		out.Dictionary.Tests = append(out.Dictionary.Tests, *test)
		out.Procedure = append(out.Procedure, t.proc.ID)
	}
	out.hypotheses(b)
	if err := out.Dictionary.Validate(); err != nil {
		return nil, err
	}
	return out, nil
}

// base is one cell's bench in every configuration, and the seconds that it takes to get there.
type base struct {
	at                    [configs]*bench.Local
	scanS, warmS, unplugS float64
}

func newBase(ctx context.Context, cold *bench.Local, procs *Procedures, scan bool) (base, error) {
	var b base
	b.at[Cold] = cold
	warm := cold.Clone()
	// A car that does not start, with a flat battery say, can't be run warm: what of it can be done is done, and its warm base is
	// the car as that leaves it.
	for _, a := range procs.warmUp {
		r, err := perform(ctx, []bench.Action{a}, warm)
		if err != nil {
			return b, fmt.Errorf("warm-up: %w", err)
		}
		b.warmS += r.seconds
	}
	b.at[Warm] = warm
	if !scan {
		return b, nil
	}
	for _, from := range []int{Cold, Warm} {
		l := b.at[from].Clone()
		f, err := l.Do(ctx, bench.Action{Verb: bench.ScanOn})
		if err != nil {
			return b, fmt.Errorf("scan tool: %w", err)
		}
		b.scanS = max(b.scanS, f.Seconds)
		b.at[from+scanned] = l
		f, err = l.Clone().Do(ctx, bench.Action{Verb: bench.ScanOff})
		if err != nil {
			return b, fmt.Errorf("scan tool: %w", err)
		}
		b.unplugS = max(b.unplugS, f.Seconds)
	}
	return b, nil
}

// coolFirst lets a repair that hurts whoever does it on a warm car be done on the cold one only.
func coolFirst(ctx context.Context, d *plan.Dictionary, base [configs]*bench.Local) error {
	for i := range d.Units {
		u := &d.Units[i]
		if u.Repair == 0 {
			continue
		}
		hurts := false
		for _, id := range strings.Split(u.ID, "+") {
			r, err := perform(ctx, []bench.Action{{Verb: bench.Repair, On: id}}, base[Warm].Clone())
			if err != nil {
				return fmt.Errorf("repair of %s: %w", id, err)
			}
			hurts = hurts || r.hurt
		}
		if hurts {
			for q := Cold; q < len(d.Configs); q += scanned {
				u.RepairAt = append(u.RepairAt, plan.Placement{Pre: q, Post: q})
			}
		}
	}
	return nil
}

// startConfigs are the configurations whose worlds a procedure is run in. Whether the scan tool is plugged in makes no difference
// to a procedure that doesn't use it.
func startConfigs(p *Procedure, scan bool) []int {
	var out []int
	switch {
	case p.Scan && !scan:
	case p.Scan:
		out = []int{ColdScan, WarmScan}
	default:
		out = []int{Cold, Warm}
	}
	if p.Cold {
		out = out[:min(1, len(out))]
	}
	return out
}

// run is what a procedure gave in one world.
type run struct {
	seen    []bench.Percept
	seconds float64
	hurt    bool   // something unsafe happened
	refused string // what was missing, where the bench would not do it
}

// perform does actions on a bench. A refusal ends them and is an outcome like another.
func perform(ctx context.Context, actions []bench.Action, l *bench.Local) (run, error) {
	var r run
	for _, a := range actions {
		f, err := l.Do(ctx, a)
		var no *bench.Refusal
		if errors.As(err, &no) {
			r.refused = no.Missing
			return r, nil
		}
		if err != nil {
			return r, err
		}
		r.seen = append(r.seen, f.Percepts...)
		r.seconds += f.Seconds
		r.hurt = r.hurt || len(f.Hazards) > 0
	}
	return r, nil
}

// test is what a trial makes of its runs; nil when it tells nothing apart, can't be done at all, or is unsafe whatever is wrong with the
// car.
func (c *trial) test(say *bench.Sayer) (*plan.Test, error) {
	t := &plan.Test{ID: c.proc.ID + "@" + configID(c.config), Name: c.proc.Name, Row: make([]int, len(c.runs))}
	var shown []run
	longest, safe := 0.0, false
	for i, r := range c.runs {
		longest = max(longest, r.seconds)
		safe = safe || !r.hurt
		at := slices.IndexFunc(shown, func(o run) bool { return o.refused == r.refused && sameClasses(o.seen, r.seen) })
		if at < 0 {
			at = len(shown)
			shown = append(shown, r)
		}
		t.Row[i] = at
	}
	if len(shown) < 2 || !safe {
		return nil, nil
	}
	if len(shown) > plan.MaxOutcomes {
		return nil, fmt.Errorf("%d outcomes, at most %d are allowed", len(shown), plan.MaxOutcomes)
	}
	t.Seconds = int64(math.Ceil(longest))
	t.Outcomes = labels(say, shown)
	return t, nil
}

// labels tells the outcomes of a test, each otherwise. Where two differ only in when, or how often, a thing was seen, every time that it
// was is told: "hangs free" against "hangs free, then hangs free", of which the second hung free already before something was done.
func labels(say *bench.Sayer, shown []run) []string {
	out := make([]string, len(shown))
	for k := range shown {
		out[k] = label(say, shown, k, false)
	}
	for _, k := range twins(out) {
		out[k] = label(say, shown, k, true)
	}
	same := twins(out)
	texts := slices.Clone(out)
	for _, k := range same {
		var group []int
		for _, i := range same {
			if texts[i] == texts[k] {
				group = append(group, i)
			}
		}
		if out[k] = inOrder(say, shown, group, k); texts[k] != nothing {
			out[k] = texts[k] + "; " + out[k]
		}
	}
	return out
}

// twins are the places of the texts that stand more than once.
func twins(texts []string) []int {
	var out []int
	for k := range texts {
		if i := slices.Index(texts, texts[k]); i != k || slices.Contains(texts[k+1:], texts[k]) {
			out = append(out, k)
		}
	}
	return out
}

// inOrder tells what one of the outcomes in a group showed, one thing after another, from where they begin to differ: in another order.
func inOrder(say *bench.Sayer, shown []run, group []int, k int) string {
	from := 0
	for at := shown[k].seen; from < len(at); from++ {
		if slices.ContainsFunc(group, func(i int) bool {
			return from >= len(shown[i].seen) || shown[i].seen[from].Class() != at[from].Class()
		}) {
			break
		}
	}
	var words []string
	for _, p := range shown[k].seen[from:] {
		words = append(words, say.Percept(p))
	}
	return strings.Join(words, "; ")
}

func sameClasses(a, b []bench.Percept) bool {
	return slices.EqualFunc(a, b, func(x, y bench.Percept) bool { return x.Class() == y.Class() })
}

// spot is one thing that is read, perhaps several times.
type spot struct{ key, of string }

// nothing is what an outcome is called that shows nothing that others don't.
const nothing = "nothing unusual"

// label tells an outcome by the things that not every outcome shows alike, in the order in which they were first read; a thing
// read again is told as a row: "12.6 V, then 5.8 V", in which what stays the same is left out unless all of it is asked for.
func label(say *bench.Sayer, shown []run, k int, all bool) string {
	if shown[k].refused != "" {
		return "can't be done: " + shown[k].refused
	}
	var done []spot
	var words []string
	for _, p := range shown[k].seen {
		s := spot{p.Key, p.Of}
		if slices.Contains(done, s) {
			continue
		}
		done = append(done, s)
		mine := row(shown[k].seen, s)
		if !slices.ContainsFunc(shown, func(r run) bool { return r.refused == "" && !sameClasses(row(r.seen, s), mine) }) {
			continue
		}
		text, last := say.Percept(p), value(p)
		for _, q := range mine[1:] {
			if v := value(q); all || v != last {
				text += ", then " + v
				last = v
			}
		}
		if !all && len(mine) > 1 && last == value(p) && p.Word == "" {
			text += " and stays"
		}
		words = append(words, text)
	}
	if len(words) == 0 {
		return nothing
	}
	return strings.Join(words, "; ")
}

// row is what one thing showed, time after time.
func row(seen []bench.Percept, s spot) []bench.Percept {
	var out []bench.Percept
	for _, p := range seen {
		if p.Key == s.key && p.Of == s.of {
			out = append(out, p)
		}
	}
	return out
}

// value is a reading's number or word alone.
func value(p bench.Percept) string {
	if p.Word != "" {
		return p.Word
	}
	v := strings.TrimSpace(strconv.FormatFloat(p.Value, 'f', -1, 64) + " " + p.Unit)
	if p.Flag != "" {
		v += " (" + p.Flag + ")"
	}
	return v
}

func configID(q int) string { return [configs]string{"cold", "warm", "cold_scan", "warm_scan"}[q] }

// placements says where a procedure, run in a configuration, may be done and how it leaves the bench: one that doesn't use the scan
// tool is the same with it plugged in.
func placements(p *Procedure, config, of int) []plan.Placement {
	pres := []int{config}
	if !p.Scan && config+scanned < of {
		pres = append(pres, config+scanned)
	}
	var out []plan.Placement
	for _, q := range pres {
		out = append(out, plan.Placement{Pre: q, Post: after(q, p.Runs)})
	}
	return out
}

// after is the configuration that is left when something was done in q.
func after(q int, runs bool) int { return At(runs || q%scanned == Warm, q >= scanned) }

// frame is the dictionary without its tests: hypotheses, units, configurations and set-ups.
func frame(name string, cfg bench.Config, b *belief.Belief, scanS, unplugS, warmS float64) *plan.Dictionary {
	d := &plan.Dictionary{Name: name, Start: Cold}
	names := []string{"cold car", "warm car", "cold car, scan tool plugged in", "warm car, scan tool plugged in"}
	if !cfg.Order.Allows(bench.ToolScan) {
		names = names[:scanned]
	}
	for q, name := range names {
		d.Configs = append(d.Configs, plan.Config{ID: configID(q), Name: name})
	}
	sec := func(s float64) int64 { return int64(math.Ceil(s)) }
	add := func(id, name string, from, to int, s int64) {
		d.SetUps = append(d.SetUps, plan.SetUp{ID: fmt.Sprintf("%s_%d", id, from), Name: name, From: from, To: to, Seconds: s})
	}
	if cfg.Order.Allows(bench.ToolScan) {
		for _, q := range []int{Cold, Warm} {
			add("plug", "plug the scan tool in", q, q+scanned, sec(scanS))
			add("unplug", "unplug the scan tool", q+scanned, q, sec(unplugS))
		}
	}
	night := sec(cfg.Tariff.Seconds.SoakBench) + int64(cfg.Tariff.Prices.NightPar)*60
	for q := Cold; q < len(d.Configs); q += scanned {
		add("run", "run the engine warm", q, after(q, true), sec(warmS))
		add("night", "leave the car overnight", after(q, true), Cold, night)
	}
	verify := sec(cfg.Tariff.Seconds.Drive) + night
	units := map[string]bool{}
	for _, s := range b.Suspects() {
		id := unitID(s.Units)
		if units[id] {
			continue
		}
		units[id] = true
		u := plan.Unit{ID: id, Name: "nothing to repair", Verify: verify}
		var names []string
		for _, x := range s.Units {
			if cu, ok := cfg.Car.Unit(x); ok {
				u.Repair += int64(math.Ceil(cu.Minutes * 60))
				names = append(names, cu.Name)
			}
		}
		if len(names) > 0 {
			u.Name = strings.Join(names, " and ")
		}
		// The verifying drive is a cold start and leaves a warm car.
		for q := range d.Configs {
			u.VerifyAt = append(u.VerifyAt, plan.Placement{Pre: q, Post: Warm})
		}
		d.Units = append(d.Units, u)
	}
	return d
}
