package samebits

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"coldbay/sim"
	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

var record = flag.Bool("record", false, "write the recordings anew")

const recordings = "testdata/recordings.txt"

// every is the number of ticks between two recorded states.
const every = 25

// tape plays an exercise and writes down the state as it goes.
type tape struct {
	t   *testing.T
	w   *sim.World
	out *bytes.Buffer
	id  string
	n   int
}

func (p *tape) step(ticks int) {
	for range ticks {
		p.w.Step(1)
		p.n++
		if p.n%every == 0 {
			p.note()
		}
	}
}

func (p *tape) note() {
	require.NoError(p.t, p.w.Err(), p.id)
	fmt.Fprintf(p.out, "%s %d %016x\n", p.id, p.n, p.w.Hash())
}

func (p *tape) must(err error) { require.NoError(p.t, err, p.id) }

// crank starts the engine, or tries to for five seconds.
func (p *tape) crank() {
	p.w.SetKey(true)
	p.step(10)
	p.w.SetStarter(true)
	for i := 0; i < 50 && !p.w.Running(); i++ {
		p.step(1)
	}
	p.w.SetStarter(false)
}

// The exercises, by name. Together they use every way in which hands and time reach a world.
var exercises = []struct {
	name string
	play func(p *tape)
}{
	{"coldstart", func(p *tape) {
		p.crank()
		p.step(1000)
		p.w.HoldSpeed(2500)
		p.step(100)
		p.w.HoldSpeed(0)
		p.step(100)
		p.w.SetKey(false)
		p.step(100)
	}},
	{"actuator", func(p *tape) {
		p.crank()
		p.step(150)
		p.w.SetKey(false)
		p.step(50)
		p.w.SetKey(true)
		p.step(20)
		for _, test := range []string{"both", "pump", "solenoid"} {
			p.must(p.w.Actuate(test))
			p.step(130)
			p.must(p.w.Actuate("off"))
			p.step(20)
		}
		p.must(p.w.EraseCodes())
		p.step(10)
	}},
	{"soak", func(p *tape) {
		for range 2 {
			p.crank()
			p.step(400)
			p.w.Soak(9)
			p.note()
		}
		p.step(20)
	}},
	{"parked", func(p *tape) {
		p.crank()
		p.step(300)
		p.w.SetKey(false)
		p.step(3137)
		p.must(p.w.PullEnd("line_supply.b"))
		p.step(200)
		p.w.SetKey(true)
		p.step(50)
	}},
	{"handpump", func(p *tape) {
		p.must(p.w.PullEnd("line_valve.a"))
		p.must(p.w.AttachTool(sim.HandPump, "valve_nipple"))
		for range 5 {
			p.w.Stroke()
			p.step(10)
		}
		p.step(300)
		p.w.ToolVent(true)
		p.step(20)
		p.w.DetachTool()
		p.must(p.w.FitEnd("line_valve.a", "valve_nipple"))
		p.must(p.w.PullEnd("line_supply.b"))
		p.must(p.w.SetPlug("line_supply.b", true))
		p.must(p.w.AttachTool(sim.Breath, "sol_supply"))
		p.step(50)
		p.w.SetKey(true)
		p.step(10)
		p.must(p.w.Actuate("solenoid"))
		p.step(60)
	}},
	{"meter", func(p *tape) {
		p.must(p.w.Attach(0, sim.Instrument{Kind: sim.Voltmeter, A: "pump_1h", B: "pump_2h"}))
		p.must(p.w.Attach(1, sim.Instrument{Kind: sim.TestLamp, A: "f40_out", B: "bat_neg", Watts: 21}))
		p.crank()
		p.step(200)
		p.w.SetKey(false)
		p.step(30)
		p.must(p.w.SetConnector("sol_plug", true))
		p.must(p.w.Attach(0, sim.Instrument{Kind: sim.Ohmmeter, A: "sol_1", B: "sol_2"}))
		p.step(30)
		p.must(p.w.SetConnector("sol_plug", false))
		p.must(p.w.SetElementOut("fuse15", true))
		p.must(p.w.Attach(0, sim.Instrument{Kind: sim.Ammeter, A: "fp_out", B: "f15_out"}))
		p.w.SetKey(true)
		p.step(10)
		p.must(p.w.Actuate("solenoid"))
		p.step(60)
	}},
	{"jumper", func(p *tape) {
		p.must(p.w.SetConnector("pump_plug", true))
		p.must(p.w.Attach(2, sim.Instrument{Kind: sim.JumperLead, A: "bat_pos", B: "pump_1", AWG: 14, LengthM: 2, FuseA: 40}))
		p.must(p.w.Attach(3, sim.Instrument{Kind: sim.JumperLead, A: "pump_2", B: "bat_neg", AWG: 18, LengthM: 2}))
		p.step(600)
		p.w.Detach(2)
		p.step(20)
		p.must(p.w.Attach(2, sim.Instrument{Kind: sim.JumperLead, A: "bat_pos", B: "bat_neg", AWG: 18, LengthM: 1, FuseA: 10}))
		p.step(20)
		p.must(p.w.SetPartOff("air_pump", true))
		p.must(p.w.RepairUnit("pump_fuse"))
		p.step(20)
	}},
}

// The cars that play them: fault, severity, surroundings.
var cars = []struct {
	name string
	cond sim.Conditions
	f    []sim.FaultChoice
	only string // exercise, "" for all
}{
	{"healthy", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, nil, ""},
	{"drawn", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325, Draw: 12345}, nil, "coldstart"},
	{"hill-frost", sim.Conditions{AmbientK: 266.65, AmbientPa: 84307}, nil, "coldstart"},
	{"pump-worn", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, []sim.FaultChoice{{ID: "pump_worn", Severity: 0.6}}, ""},
	{"split", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, []sim.FaultChoice{{ID: "valve_line_split", Severity: 0.3}}, "handpump"},
	{"torn", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, []sim.FaultChoice{{ID: "diaphragm_torn", Severity: 1}}, "handpump"},
	{"swapped", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, []sim.FaultChoice{{ID: "lines_swapped", Severity: 1}}, "coldstart"},
	{"ground", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, []sim.FaultChoice{{ID: "pump_ground_corroded", Severity: 0.7}}, "meter"},
	{"open-coil", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, []sim.FaultChoice{{ID: "solenoid_open", Severity: 1}}, "soak"},
	{"inlet-off", sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, []sim.FaultChoice{{ID: "inlet_off_worn_pump", Severity: 0.4}}, "actuator"},
}

func TestSameBits(t *testing.T) {
	data, err := os.ReadFile("testdata/car.yaml")
	require.NoError(t, err)
	c, err := car.Parse("testdata/car.yaml", data)
	require.NoError(t, err)
	out := &bytes.Buffer{}
	fmt.Fprintf(out, "# exercise/car tick state; model version %d, every %d ticks\n", sim.ModelVersion, every)
	for _, e := range exercises {
		for _, k := range cars {
			if k.only != "" && k.only != e.name {
				continue
			}
			w, err := sim.New(c, k.cond, k.f...)
			require.NoError(t, err)
			p := &tape{t: t, w: w, out: out, id: e.name + "/" + k.name}
			e.play(p)
			p.note()
		}
	}
	if *record {
		require.NoError(t, os.WriteFile(recordings, out.Bytes(), 0o644))
		return
	}
	want, err := os.ReadFile(recordings)
	require.NoError(t, err)
	compare(t, want, out.Bytes())
}

// compare reports, for each exercise, the first state that differs.
func compare(t *testing.T, want, got []byte) {
	t.Helper()
	a, b := bufio.NewScanner(bytes.NewReader(want)), bufio.NewScanner(bytes.NewReader(got))
	told := map[string]bool{}
	lines := 0
	for a.Scan() {
		lines++
		require.True(t, b.Scan(), "only %d of the recorded lines were played", lines)
		if id, _, _ := strings.Cut(a.Text(), " "); a.Text() != b.Text() && !told[id] {
			told[id] = true
			t.Errorf("recorded %q, now %q", a.Text(), b.Text())
		}
	}
	require.False(t, b.Scan(), "more was played than is recorded")
	require.Greater(t, lines, 200)
}
