package phrase_test

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
	"coldbay/sim/units"
)

func book(t *testing.T) *phrase.Book {
	t.Helper()
	msg, err := messages.Load("en")
	require.NoError(t, err)
	return phrase.New(msg, bench.Catalogue{
		Places:    []bench.Named{{ID: "pump", Name: "air pump corner"}, {ID: "tailpipe", Name: "tailpipe"}},
		Parts:     []bench.Spot{{ID: "pump", Name: "air pump"}},
		Terminals: []bench.Spot{{ID: "bat_pos", Name: "positive post"}, {ID: "body", Name: "body stud"}},
		Ports:     []bench.Spot{{ID: "res_out", Name: "reservoir outlet"}, {ID: "sol_supply", Name: "supply port"}},
		Hoses:     []bench.HoseInfo{{ID: "line_supply", Name: "supply line", PortA: "res_out", PortB: "sol_supply"}},
		Units:     []bench.UnitInfo{{ID: "air_pump", Name: "air pump unit"}},
		Suspects:  []bench.Suspect{{ID: "worn", Name: "pump worn"}},
		PIDs:      []bench.PIDInfo{{PID: "0C", Name: "engine speed", Unit: "rpm"}},
	})
}

func TestLine(t *testing.T) {
	b := book(t)
	for _, c := range []struct {
		name string
		f    bench.Finding
		want string
	}{
		{"look", bench.Finding{Action: bench.Action{Verb: bench.Look, On: "pump"}, Percepts: []bench.Percept{{Sense: bench.Eye, Key: "sign", Of: "pump", Word: "nothing unusual"}}},
			"Look at the air pump corner. Nothing unusual."},
		{"look, bending", bench.Finding{Action: bench.Action{Verb: bench.Look, On: "pump", Mode: "bend"}},
			"Look at the air pump corner, moving hoses and covers."},
		{"meter", bench.Finding{Action: bench.Action{Verb: bench.MeterOn, On: "bat_pos", To: "body", Mode: "volts"},
			Percepts: []bench.Percept{{Sense: bench.Meter, Key: "volts", Of: "bat_pos/body", Value: 12.6, Unit: "V"}}},
			"Meter, volts, red on positive post, black on body stud. The meter shows 12.6 V."},
		{"ohms on a live circuit", bench.Finding{Action: bench.Action{Verb: bench.Read, On: "meter"},
			Percepts: []bench.Percept{{Sense: bench.Meter, Key: "ohms", Of: "bat_pos/body", Value: 3, Unit: "ohm", Flag: "live circuit"}}},
			"Read the meter again. The meter shows 3 Ω (live circuit)."},
		{"pull", bench.Finding{Action: bench.Action{Verb: bench.Pull, On: "line_supply.b"}}, "Pull off the supply line, end at the supply port."},
		{"fit", bench.Finding{Action: bench.Action{Verb: bench.Fit, On: "line_supply.b", To: "sol_supply"}}, "Fit the supply line, end at the supply port, to the supply port."},
		{"feel", bench.Finding{Action: bench.Action{Verb: bench.Feel, On: "tailpipe"}, Percepts: []bench.Percept{{Sense: bench.Hand, Key: "flow", Of: "tailpipe", Word: "clear"}}},
			"Feel the tailpipe. Air at the tailpipe: clear."},
		{"jumper", bench.Finding{Action: bench.Action{Verb: bench.Jump, On: "bat_pos", To: "body", Mode: "12awg 30A"}, Hazards: []bench.Hazard{{Kind: "short_arc", Of: "bat_pos/body", Grave: true}}},
			"12 AWG lead with a 30 A fuse from positive post to body stud. A short circuit between positive post and body stud: flash and bang."},
		{"unfused", bench.Finding{Action: bench.Action{Verb: bench.Jump, On: "bat_pos", To: "body", Mode: "18awg none"}}, "Unfused 18 AWG lead from positive post to body stud."},
		{"data", bench.Finding{Action: bench.Action{Verb: bench.Data, List: []string{"0C"}}, Percepts: []bench.Percept{{Sense: bench.Scan, Key: "pid.0C", Of: "Engine speed", Value: 1250, Unit: "rpm"}}},
			"Read live data: engine speed. Engine speed: 1250 rpm."},
		{"freeze frame", bench.Finding{Action: bench.Action{Verb: bench.Freeze}, Percepts: []bench.Percept{{Sense: bench.Scan, Key: "freeze.0C", Of: "Engine speed", Value: 1250, Unit: "rpm"}}},
			"Read the freeze frame. Engine speed, in the freeze frame: 1250 rpm."},
		{"monitor results", bench.Finding{Action: bench.Action{Verb: bench.Results}, Percepts: []bench.Percept{{Sense: bench.Scan, Key: "result", Of: "Air flow", Word: "pass"},
			{Sense: bench.Scan, Key: "result.81", Of: "Air flow", Value: 2, Unit: "kg/h"}}}, "Read the monitor results. Air flow, monitor result: pass. Air flow, monitor result: 2 kg/h."},
		{"repair", bench.Finding{Action: bench.Action{Verb: bench.Repair, On: "air_pump"}}, "Repair: air pump unit."},
		{"one stroke", bench.Finding{Action: bench.Action{Verb: bench.Stroke, N: 1}}, "Pump 1 stroke."},
		{"strokes", bench.Finding{Action: bench.Action{Verb: bench.Stroke, N: 12}}, "Pump 12 strokes."},
		{"strike", bench.Finding{Action: bench.Action{Verb: bench.Strike, On: "worn"}}, "Strike: pump worn."},
		{"unknown verb and percept", bench.Finding{Action: bench.Action{Verb: "sniff", On: "pump"}, Percepts: []bench.Percept{{Sense: "tail", Key: "tone_of", Of: "pump", Value: 3, Unit: "Hz"}}},
			"Sniff air pump. Air pump, tone of: 3 Hz."},
	} {
		require.Equal(t, c.want, b.Line(c.f), c.name)
	}
}

func TestNumbers(t *testing.T) {
	require.Equal(t, "0:05", phrase.Clock(5.9))
	require.Equal(t, "61:01", strings.Replace(phrase.Clock(3661), "1:01:01", "61:01", 1))
	require.Equal(t, "65.00", phrase.Money(6500))
	require.Equal(t, "-0.05", phrase.Money(-5))
	require.Equal(t, "12.64", phrase.Number(12.64))
}

// Every verb of the bench has its own words.
func TestEveryVerbHasWords(t *testing.T) {
	b := book(t)
	for _, v := range []bench.Verb{bench.Look, bench.Listen, bench.Feel, bench.Start, bench.Stop, bench.Hold, bench.Watch, bench.Soak, bench.Open, bench.Close,
		bench.Pull, bench.Fit, bench.Plug, bench.Unplug, bench.Remove, bench.Refit, bench.MeterOn, bench.MeterOff, bench.ClampOn, bench.ClampOff,
		bench.LampOn, bench.LampOff, bench.Jump, bench.Unjump, bench.Read, bench.HandPump, bench.Stroke, bench.HoldVac, bench.Release, bench.PumpOff, bench.Blow,
		bench.ScanOn, bench.ScanOff, bench.Codes, bench.Freeze, bench.Data, bench.Actuator, bench.Erase, bench.Readiness, bench.Repair, bench.Drive,
		bench.Note, bench.Strike, bench.Unstrike, bench.Predict, bench.Finish} {
		words := b.Doing(bench.Action{Verb: v, On: "zz", To: "yy", Mode: "mm", N: 2, Text: "tt", List: []string{"ll"}})
		require.NotContains(t, words, "[", v)
		require.NotContains(t, words, "{", v)
		require.NotEqual(t, b.T("do.any", "verb", string(v), "on", "zz"), words, v)
	}
	for _, c := range [][2]string{{"key", "on"}, {"key", "off"}, {"helper", "on"}, {"helper", "off"}, {"extract", "on"}, {"extract", "off"}} {
		words := b.Doing(bench.Action{Verb: bench.Verb(c[0]), Mode: c[1]})
		require.Equal(t, b.T("do."+c[0]+"."+c[1]), words, c)
		require.NotContains(t, words, "[", c)
	}
}

// The prompt uses these sentences, so nothing here may reach the graphics engine.
func TestDrawsNothing(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "coldbay/sim/bench/phrase", "coldbay/scenes/debrief/page", "coldbay/assets/messages", "coldbay/scenarios/drawing").Output()
	require.NoError(t, err)
	require.NotContains(t, string(out), "hajimehoshi")
}

// Values change their unit as somebody wants it, and only where there is such a unit. 101.3 kPa is 29.9 inHg (conventional inch of mercury,
// ISO 80000-4); 20 degC is 68 degF.
func TestUnits(t *testing.T) {
	msg, err := messages.Load("en")
	require.NoError(t, err)
	b := phrase.New(msg, bench.Catalogue{})
	require.Equal(t, "60 kPa", b.Vacuum(60))
	require.Equal(t, "Intake air temperature  20 °C", b.Screen("Intake air temperature  20 °C"))
	b.Units.Vacuum, b.Units.Temperature = units.InHg, units.Fahrenheit
	require.Equal(t, "17.5 inHg", b.Vacuum(60))
	require.Equal(t, "Intake air temperature  68 °F", b.Screen("Intake air temperature  20 °C"))
	require.Equal(t, "Barometric pressure  29.9 inHg", b.Screen("Barometric pressure  101.3 kPa"))
	require.Equal(t, "Fuel system 1 status  none", b.Screen("Fuel system 1 status  none"))
	v, u := b.Shown(bench.Meter, "volts", 12.6, "V")
	require.Equal(t, "12.6 V", v+" "+u)
}
