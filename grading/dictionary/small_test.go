package dictionary

import (
	"context"
	"slices"
	"strings"
	"testing"

	"coldbay/grading/plan"
	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// few is an order with a short board, so that its dictionary is built quickly, changed by change.
func few(t testing.TB, change func(*bench.Order)) (bench.Config, *Procedures) {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load("quiet_pump")
	require.NoError(t, err)
	name, data, err := scenarios.ProceduresFile(o.Order.Car)
	require.NoError(t, err)
	p, err := Parse(name, data)
	require.NoError(t, err)
	cfg := lib.Config(o, "test")
	short := *o.Order
	short.Suspects = []string{"pump_ground_corroded", "solenoid_open", "valve_stuck", "no_fault_found"}
	short.History = nil
	if change != nil {
		change(&short)
	}
	cfg.Order = &short
	return cfg, p
}

func build(t testing.TB, cfg bench.Config, p *Procedures, workers int) *Built {
	t.Helper()
	b, err := Build(context.Background(), cfg, p, workers)
	require.NoError(t, err)
	return b
}

func TestBuildingTwiceGivesTheSame(t *testing.T) {
	cfg, p := few(t, nil)
	one, err := build(t, cfg, p, 1).Dictionary.Digest()
	require.NoError(t, err)
	two, err := build(t, cfg, p, 2).Dictionary.Digest()
	require.NoError(t, err)
	require.Equal(t, one, two)
}

// Nobody reaches to a hot exhaust: what burns on a warm car is planned on the cold one only, be it a look or a repair.
func TestNothingUnsafeIsPlanned(t *testing.T) {
	cfg, p := few(t, nil)
	d := build(t, cfg, p, 2).Dictionary
	ids := make([]string, len(d.Tests))
	for i := range d.Tests {
		ids[i] = d.Tests[i].ID
	}
	require.Contains(t, ids, "valve_off@cold")
	require.NotContains(t, ids, "valve_off@warm")
	require.Contains(t, ids, "valve_open_tailpipe@warm")
	for _, u := range d.Units {
		if u.ID == "air_valve" {
			require.Equal(t, []plan.Placement{{Pre: Cold, Post: Cold}, {Pre: ColdScan, Post: ColdScan}}, u.RepairAt)
		} else {
			require.Empty(t, u.RepairAt, u.ID)
		}
	}
}

// Car A's procedures themselves: an engine runs only with the extraction hose on, every lead is fused and as thick as its wire, and
// none touches a controller pin. Common practice, no source.
func TestProceduresAreSafe(t *testing.T) {
	cfg, p := few(t, nil)
	terminals := map[string]bool{}
	for _, x := range cfg.Car.Bay.Terminals {
		terminals[x.ID] = x.Driver
	}
	for _, q := range p.List {
		extract := false
		for _, a := range q.actions {
			switch a.Verb {
			case bench.Extract:
				extract = a.Mode == "on"
			case bench.Start:
				require.True(t, extract, "%s starts the engine without extraction", q.ID)
				require.True(t, q.Runs, "%s runs the engine and does not say so", q.ID)
			case bench.Jump:
				require.NotContains(t, a.Mode, "none", "%s: a lead without a fuse", q.ID)
				require.False(t, terminals[a.On] || terminals[a.To], "%s: a lead on a controller pin", q.ID)
				if strings.HasPrefix(a.On, "rly") {
					require.Equal(t, "12awg 40A", a.Mode, "%s: the pump's circuit is 12 AWG behind 40 A", q.ID)
				}
			}
			require.Equal(t, q.Scan, q.Scan || a.Verb == bench.Actuator || a.Verb == bench.Codes || a.Verb == bench.Data, "%s needs the scan tool", q.ID)
		}
		require.False(t, extract, "%s leaves the extraction hose on", q.ID)
	}
}

func TestAlike(t *testing.T) {
	d := &plan.Dictionary{
		Hypotheses: []plan.Hypothesis{{ID: "a", Unit: 0}, {ID: "b", Unit: 1}, {ID: "c", Unit: 1}, {ID: "d", Unit: 2}, {ID: "e", Unit: 2}},
		Tests:      []plan.Test{{Row: []int{0, 0, 1, 2, 2}}, {Row: []int{1, 1, 1, 0, 0}}},
	}
	require.Equal(t, [][]string{{"a", "b"}}, Alike(d), "d and e are alike too, but one repair serves both")
}

func TestSlips(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		require.Empty(t, Slips(lib.Config(o, "test")), id)
	}
	o, err := lib.Load("cold_whisper")
	require.NoError(t, err)
	slip := func(change func(*bench.Order)) string {
		cfg := lib.Config(o, "test")
		c := *o.Order
		change(&c)
		cfg.Order = &c
		return strings.Join(Slips(cfg), "\n")
	}
	require.Contains(t, slip(func(o *bench.Order) { o.Title, o.Complaint = "Whistle", "It whistles." }), "light the lamp, but the complaint does not say so")
	require.Contains(t, slip(func(o *bench.Order) { o.Truth = bench.Truth{Fault: "inlet_hose_off"} }), "leave no stored code")
	require.Contains(t, slip(func(o *bench.Order) { o.Suspects = []string{"valve_stuck", "pump_worn"} }), "not on the suspect board")
	require.Contains(t, slip(func(o *bench.Order) {
		o.History = append(slices.Clone(o.History), bench.HistoryEvent{Do: "repair", Unit: "line_valve"})
	}), "mended the fault already")
}

func TestLabels(t *testing.T) {
	say := bench.NewSayer(bench.Catalogue{})
	gauge := func(v float64) bench.Percept {
		return bench.Percept{Sense: bench.Gauge, Key: "vacuum", Of: "port", Value: v, Unit: "kPa"}
	}
	whine := bench.Percept{Sense: bench.Ear, Key: "whine", Of: "pump", Word: "normal"}
	shown := []run{
		{seen: []bench.Percept{whine, gauge(90), gauge(0)}},
		{seen: []bench.Percept{whine, gauge(90), gauge(90)}},
		{seen: []bench.Percept{whine}},
		{refused: "it is off"},
	}
	require.Equal(t, "hand pump on the port: 90 kPa, then 0 kPa", label(say, shown, 0, false))
	require.Equal(t, "hand pump on the port: 90 kPa and stays", label(say, shown, 1, false))
	require.Equal(t, "nothing unusual", label(say, shown, 2, false))
	require.Equal(t, "can't be done: it is off", label(say, shown, 3, false))
}

// A file that is no file of procedures says where and why.
func TestBadProcedures(t *testing.T) {
	const head = "format: coldbay-procedures/1\ncar: car_a\nwarm_up: [start, stop]\nprocedures:\n"
	for _, c := range []struct{ text, want string }{
		{head + "  - {id: a, name: A, steps: [dance]}\n", `p.yaml:5: key "procedures[0].steps[0]"`},
		{head + "  - {id: a, name: A, steps: [look pump]}\n  - {id: a, name: B, steps: [look pump]}\n", `p.yaml:6: key "procedures[1].id": "a" stands twice`},
		{head + "  - {id: a, name: A, stepps: [look pump]}\n", "p.yaml:5"},
		{strings.Replace(head, "procedures/1", "procedures/9", 1) + "  - {id: a, name: A, steps: [look pump]}\n", `p.yaml:1: key "format"`},
	} {
		_, err := Parse("p.yaml", []byte(c.text))
		require.ErrorContains(t, err, c.want)
	}
}

// BenchmarkDictionary builds a dictionary on two workers: that of one shipped order, and that of an order with every suspect of its car on
// the board.
func BenchmarkDictionary(b *testing.B) {
	lib, err := scenarios.Builtin()
	require.NoError(b, err)
	o, err := lib.Load("quiet_pump")
	require.NoError(b, err)
	cfg, p := few(b, nil)
	run := func(name string, o *bench.Order) {
		b.Run(name, func(b *testing.B) {
			cfg := cfg
			cfg.Order = o
			used := usedCPU()
			var d *plan.Dictionary
			for b.Loop() {
				d = build(b, cfg, p, 2).Dictionary
			}
			b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/order")
			b.ReportMetric((usedCPU()-used).Seconds()/float64(b.N), "cpu-s/order")
			b.ReportMetric(float64(len(d.Hypotheses)), "cells")
			b.ReportMetric(float64(len(d.Tests)), "tests")
		})
	}
	run("order", o.Order)
	all := *o.Order
	all.Suspects = nil
	run("all", &all)
}
