package bench_test

import (
	"slices"
	"strings"
	"testing"

	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// What a thorough mechanic does with a car, in pieces that each begin with the car as it came in.
var survey = []string{
	"look front\nlook pump bend\nlook valve bend\nlook solenoid bend\nlook manifold bend",
	"remove fuse40\nremove fuse15\nremove relay\nlook fusebox\nmeter ohms rel_85 rel_86",
	"open pump_plug\nlook pump\nopen sol_plug\nmeter ohms sol_1 sol_2",
	"pull inlet_hose.a\npull inlet_hose.b\nlook pump\npull pressure_pipe.b\nlook valve\npull line_supply.b\nlook solenoid",
	"pull line_valve.a\npull pressure_pipe.b\nremove valve\nlook valve",
	"pull line_valve.b\nsmoke line_valve.b\nsmoke sol_out\nblow sol_out",
	"pull pressure_pipe.b\nsmoke valve_inlet",
	"scan on\nkey on\ncodes stored\ncodes pending\ndata 05 0F 42\nmeter volts bat_pos bat_neg\nmeter volts sol_1h bat_neg\nmeter volts rly_86 bat_neg",
	"scan on\nkey on\nmeter volts pump_1h pump_2h\nactuator both\nlisten pump\nlisten solenoid\nfeel tailpipe\nclamp w_feed zero\nread clamp",
	"listen pump\nlisten fusebox\nmeter volts bat_pos bat_neg\nmeter volts pump_2h bat_neg\nextract on\nstart\nlisten pump\nread meter\nlook dash\nscan on\ndata 06 07 34\nwatch 100\nlisten solenoid\ndata 06 07 34\nfeel pressure_pipe\nanalyse\nstop\nlisten solenoid",
	"pull line_supply.b\nhandpump line_supply.b\nextract on\nstart\nwatch 10\nread gauge\nstop\nwatch 60\nread gauge",
	"pull line_valve.a\nhandpump line_valve.a\nextract on\nstart\nwatch 10\nread gauge\nwatch 90\nread gauge",
	"pull line_manifold.b\nhandpump line_manifold.b\nextract on\nstart\nwatch 10\nread gauge",
}

// Every fault of the catalogue, at its worst, changes something that the senses or an instrument get.
func TestEveryFaultIsFelt(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	c, err := lib.Car("car_a")
	require.NoError(t, err)
	classes := func(id string) []string {
		s := session(t, "cold_whisper", id, 1)
		var out []string
		for _, part := range survey {
			l := s.Clone()
			tryPlay(t, l, part)
			for _, f := range l.Ledger() {
				for _, c := range f.Classes() {
					out = append(out, c.String())
				}
			}
			out = append(out, "--")
		}
		return out
	}
	healthy := classes("no_fault_found")
	require.Greater(t, len(healthy), 60)
	seen := map[string]string{strings.Join(healthy, "\n"): "no_fault_found"}
	var alike []string
	for _, id := range c.Layout.SuspectIDs() {
		if id == "no_fault_found" {
			continue
		}
		got := classes(id)
		require.False(t, slices.Equal(healthy, got), id)
		key := strings.Join(got, "\n")
		if twin, ok := seen[key]; ok {
			alike = append(alike, id+" and "+twin)
		}
		seen[key] = id
	}
	t.Log("alike in this survey:", alike)
	require.LessOrEqual(t, len(alike), 10)
}

// A history in the wet: a hose that was left off has worn the pump, computed, by the time the trainee gets the car.
func TestHistoryOfWetWeeks(t *testing.T) {
	cfg := config(t, "cold_whisper", "inlet_hose_off", 1)
	o := *cfg.Order
	o.History = append([]bench.HistoryEvent{{Text: "A wet autumn.", Do: "wear", Hours: 120, Wet: true}}, o.History...)
	cfg.Order = &o
	s, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	require.ElementsMatch(t, []string{"inlet_hose", "air_pump"}, s.World().UnitsAtFault())
	play(t, s, "scan on\nkey on\nactuator pump")
	require.NotEqual(t, "smooth", percept(t, do(t, s, "listen pump"), "bearing").Word)
	dry := session(t, "cold_whisper", "inlet_hose_off", 1)
	require.Equal(t, []string{"inlet_hose"}, dry.World().UnitsAtFault())
}

// What rattles and what gurgles.
func TestPumpNoises(t *testing.T) {
	for id, want := range map[string]string{"pump_rivets_out": "rattles", "water_in_pump": "gurgles"} {
		s := session(t, "cold_whisper", id, 0.6)
		play(t, s, "scan on\nkey on\nactuator pump")
		require.Equal(t, want, percept(t, do(t, s, "listen pump"), "noise").Word, id)
	}
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "scan on\nkey on\nactuator pump")
	for _, p := range do(t, s, "listen pump").Percepts {
		require.NotEqual(t, "noise", p.Key)
	}
}

// Welded contacts run the pump through the night: the car comes in with a flat battery and does not start until it has another.
func TestWeldedRelayComesInFlat(t *testing.T) {
	s := session(t, "cold_whisper", "relay_welded", 1)
	require.Less(t, percept(t, do(t, s, "meter volts bat_pos bat_neg"), "volts").Value, 9.0)
	play(t, s, "meter off\nextract on")
	require.Equal(t, "does not start", percept(t, do(t, s, "start"), "start").Word)
	play(t, s, "key off\nrepair pump_relay\nrepair battery")
	require.Equal(t, "starts", percept(t, do(t, s, "start"), "start").Word)
}

// The scan tool offers the outputs that the car has drivers for: car B has no solenoid, and nothing talks to car D.
func TestOutputsOfTheCars(t *testing.T) {
	require.Equal(t, []string{"pump", "solenoid", "both"}, session(t, "quiet_pump", "", 0).Catalogue().Outputs)
	require.Equal(t, []string{"pump"}, session(t, "half_a_breath", "", 0).Catalogue().Outputs)
	require.Equal(t, []string{"pump", "solenoid", "both"}, session(t, "left_bank", "", 0).Catalogue().Outputs)
	require.Empty(t, session(t, "burnt_hose", "", 0).Catalogue().Outputs)
}
