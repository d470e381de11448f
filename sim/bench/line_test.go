package bench_test

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

func TestParseLine(t *testing.T) {
	for _, c := range []struct {
		line string
		want bench.Action
	}{
		{"", bench.Action{}},
		{"   # only a comment", bench.Action{}},
		{"look pump", bench.Action{Verb: bench.Look, On: "pump"}},
		{"  look   valve  bend # underneath", bench.Action{Verb: bench.Look, On: "valve", Mode: "bend"}},
		{"listen fusebox 12", bench.Action{Verb: bench.Listen, On: "fusebox", N: 12}},
		{"hold idle", bench.Action{Verb: bench.Hold}},
		{"hold 2000", bench.Action{Verb: bench.Hold, N: 2000}},
		{"watch 0.5", bench.Action{Verb: bench.Watch, N: 0.5}},
		{"fit line_valve.a", bench.Action{Verb: bench.Fit, On: "line_valve.a"}},
		{"fit line_valve.a valve_nipple", bench.Action{Verb: bench.Fit, On: "line_valve.a", To: "valve_nipple"}},
		{"meter volts pump_2h bat_neg", bench.Action{Verb: bench.MeterOn, Mode: "volts", On: "pump_2h", To: "bat_neg"}},
		{"meter off", bench.Action{Verb: bench.MeterOff}},
		{"clamp w_feed zero", bench.Action{Verb: bench.ClampOn, On: "w_feed", Mode: "zero"}},
		{"clamp off", bench.Action{Verb: bench.ClampOff}},
		{"lamp rly_30 bat_neg 5", bench.Action{Verb: bench.LampOn, On: "rly_30", To: "bat_neg", Mode: "5"}},
		{"lamp off", bench.Action{Verb: bench.LampOff}},
		{"jump bat_pos pump_1h 12awg 30A", bench.Action{Verb: bench.Jump, On: "bat_pos", To: "pump_1h", Mode: "12awg 30A"}},
		{"jump bat_pos pump_1h 18awg none", bench.Action{Verb: bench.Jump, On: "bat_pos", To: "pump_1h", Mode: "18awg none"}},
		{"unjump", bench.Action{Verb: bench.Unjump}},
		{"handpump off", bench.Action{Verb: bench.PumpOff}},
		{"handpump valve_nipple", bench.Action{Verb: bench.HandPump, On: "valve_nipple"}},
		{"scan on", bench.Action{Verb: bench.ScanOn}},
		{"scan off", bench.Action{Verb: bench.ScanOff}},
		{"data 0C 12", bench.Action{Verb: bench.Data, List: []string{"0C", "12"}}},
		{"data", bench.Action{Verb: bench.Data, List: []string{}}},
		{"codes", bench.Action{Verb: bench.Codes}},
		{"repair line_valve", bench.Action{Verb: bench.Repair, On: "line_valve"}},
		{"note valve #2 is stiff", bench.Action{Verb: bench.Note, Text: "valve #2 is stiff"}},
		{"predict no vacuum at the valve splits valve_line_split supply_line_off", bench.Action{Verb: bench.Predict,
			Text: "no vacuum at the valve", List: []string{"valve_line_split", "supply_line_off"}}},
		{"finish supply_line_off unit line_supply proof 7", bench.Action{Verb: bench.Finish, List: []string{"supply_line_off"}, On: "line_supply", N: 7}},
		{"finish a b", bench.Action{Verb: bench.Finish, List: []string{"a", "b"}}},
	} {
		a, err := bench.ParseLine(c.line)
		require.NoError(t, err, c.line)
		require.Equal(t, c.want, a, c.line)
		if a.Verb != "" {
			back, err := bench.ParseLine(bench.FormatLine(a))
			require.NoError(t, err, bench.FormatLine(a))
			require.Equal(t, bench.FormatLine(a), bench.FormatLine(back))
			if len(a.List) == 0 {
				a.List, back.List = nil, nil
			}
			require.Equal(t, a, back)
		}
	}
}

func TestParseLineErrors(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"sniff tailpipe", `"sniff" is no action; there are: actuator, analyse, blow,`},
		{"key", "key: write it as: key on|off"},
		{"key maybe", `key: found "maybe"; write it as: key on|off`},
		{"watch soon", `"soon" is no number`},
		{"watch NaN", `"NaN" is no number`},
		{"watch -3", `"-3" is no number`},
		{"meter volts bat_pos", "two terminals are needed"},
		{"jump a b 12awg", "write it as: jump"},
		{"jump a b 13awg 30A", `"13awg 30A" is no lead of this bay`},
		{"jump a b 12awg 31A", "no lead of this bay"},
		{"start now", "write it as: start"},
		{"finish a proof", `"proof" needs a word after it`},
		{"note", "write it as: note TEXT"},
	} {
		_, err := bench.ParseLine(c.line)
		require.ErrorContains(t, err, c.want, c.line)
	}
}

// Every verb of the bench can be written as a line, and the help speaks of all of them.
func TestEveryVerbHasALine(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	gen := newActor(s.Catalogue(), rand.New(rand.NewPCG(3, 3)))
	seen := map[bench.Verb]bool{}
	for range 4000 {
		a := gen.next()
		line := bench.FormatLine(a)
		b, err := bench.ParseLine(line)
		if err != nil {
			continue // a mode that the verb does not take
		}
		require.Equal(t, a.Verb, b.Verb, line)
		seen[a.Verb] = true
	}
	seen[bench.Finish] = true
	for _, v := range bench.VerbWords() {
		require.True(t, seen[bench.Verb(v)], v)
		word, _, _ := strings.Cut(bench.FormatLine(bench.Action{Verb: bench.Verb(v), On: "x"}), " ")
		require.Contains(t, bench.LineHelp, word)
	}
}

func TestRunnerScript(t *testing.T) {
	var out bytes.Buffer
	s := session(t, "cold_whisper", "", 0)
	r := bench.Runner{Session: s, Out: &out, Echo: true}
	script := `# the trade's way
look valve bend
meter volts pump_1 bat_neg

scan on
key on
codes
view
list units
finish valve_line_split unit line_valve proof 1
`
	require.NoError(t, r.Script(context.Background(), "good.txt", strings.NewReader(script)))
	text := out.String()
	for _, want := range []string{
		"> look valve bend\n  1  0:00  look valve bend  (40 s)\n       vacuum line, solenoid to air valve: line split on its underside\n",
		"  can't: pump pin 1 (feed) can be reached only with pump plug open; open pump_plug first\n",
		"       stored codes: P0491\n", "malfunction lamp on", "at the bench, bill 0.00", "air_valve              air valve with reed and gasket, part 145.00, 45 min",
		"  5  ",
	} {
		require.Contains(t, text, want)
	}
	require.True(t, s.Closed())

	r = bench.Runner{Session: session(t, "cold_whisper", "", 0), Out: &out, Strict: true}
	err := r.Script(context.Background(), "bad.txt", strings.NewReader("look valve\n\nread meter\n"))
	var no *bench.Refusal
	require.ErrorAs(t, err, &no)
	require.ErrorContains(t, err, "bad.txt:3: the meter is not connected")
	err = r.Script(context.Background(), "bad.txt", strings.NewReader("look valve\nloook pump\n"))
	require.ErrorContains(t, err, `bad.txt:2: "loook" is no action`)
	err = r.Script(context.Background(), "bad.txt", strings.NewReader("list cars"))
	require.ErrorContains(t, err, "bad.txt:1: list what?")
	err = r.Script(context.Background(), "long.txt", strings.NewReader("note "+strings.Repeat("x", 1<<17)))
	require.ErrorContains(t, err, "long.txt:1:")
	r.Out = &full{}
	require.True(t, errors.Is(r.Line(context.Background(), "order"), errFull))
}

// Every percept and hazard of a wild attempt comes out as a sentence with names, not ids of percepts.
func TestSayerHasWordsForEverything(t *testing.T) {
	s := session(t, "second_pump", "", 0)
	say := bench.NewSayer(s.Catalogue())
	gen := newActor(s.Catalogue(), rand.New(rand.NewPCG(11, 5)))
	said := 0
	for range 400 {
		f, err := s.Do(context.Background(), gen.next())
		if err != nil {
			continue
		}
		for _, p := range f.Percepts {
			text := say.Percept(p)
			require.NotContains(t, text, "%!")
			require.NotContains(t, text, "_", "%+v", p)
			said++
		}
		for _, h := range f.Hazards {
			require.NotContains(t, say.Hazard(h), "_", "%+v", h)
		}
	}
	require.Greater(t, said, 100)
	require.Equal(t, "3:07", bench.Clock(187.9))
	require.Equal(t, "12.05", bench.Money(1205))
}

// What is in the way of a repair is told or taken care of: a plugged nipple, a part that is off.
func TestRepairWithThingsApart(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	play(t, s, "pull line_valve.a\nplug valve_nipple\nplug line_valve.a\nrepair line_valve\nopen pump_plug\npull inlet_hose.b\npull pressure_pipe.a\nremove pump")
	play(t, s, "repair air_pump\nremove fuse40\nrepair pump_fuse\nremove relay\nrepair pump_relay")
	require.Equal(t, []string{"inlet_hose", "pressure_pipe"}, s.World().UnitsAtFault(), "a new pump does not bring its hoses")
	play(t, s, "fit inlet_hose.b\nfit pressure_pipe.a\nclose pump_plug")
	require.Empty(t, s.World().UnitsAtFault())
	for _, p := range s.View().Parts {
		require.False(t, p.On, p.ID)
	}
}

func FuzzParseLine(f *testing.F) {
	for _, line := range strings.Split(someWork, "\n") {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, line string) {
		a, err := bench.ParseLine(line)
		if err != nil || a.Verb == "" {
			return
		}
		if b, err := bench.ParseLine(bench.FormatLine(a)); err == nil && b.Verb != a.Verb {
			t.Fatalf("%q became %q", line, bench.FormatLine(a))
		}
	})
}
