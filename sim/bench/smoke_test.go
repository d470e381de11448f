package bench_test

import (
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// smokeAt lists where smoke came out.
func smokeAt(f bench.Finding) map[string]string {
	out := map[string]string{}
	for _, p := range f.Percepts {
		if p.Key == "smoke" {
			out[p.Of] = p.Word
		}
	}
	return out
}

func TestSmoke(t *testing.T) {
	// A tight line takes none.
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "pull line_valve.b")
	f := do(t, s, "smoke line_valve.b")
	require.Equal(t, "none", percept(t, f, "smoke_in").Word)
	require.Empty(t, smokeAt(f))
	require.InDelta(t, 90+10, f.Seconds, 40)
	// Into the solenoid at rest it leaves by the vent; driven, by the supply port.
	require.Equal(t, map[string]string{"solenoid.vent": "thick"}, smokeAt(do(t, s, "smoke sol_out")))
	// Into the pump's outlet it goes back through the standing pump to the filter.
	play(t, s, "fit line_valve.b\npull pressure_pipe.a")
	require.Contains(t, smokeAt(do(t, s, "smoke pump_outlet")), "air_filter")

	for fault, c := range map[string]struct{ pull, at, out string }{
		"valve_line_split":      {"line_valve.b", "line_valve.b", "line_valve"},
		"diaphragm_torn":        {"line_valve.b", "line_valve.b", "air_valve"},
		"supply_line_split":     {"line_supply.b", "line_supply.b", "line_supply"},
		"reservoir_cracked":     {"line_supply.b", "line_supply.b", "reservoir"},
		"pressure_pipe_cracked": {"pressure_pipe.a", "pressure_pipe.a", "pressure_pipe"},
		"pump_rivets_out":       {"pressure_pipe.a", "pump_outlet", "pump_body"},
		"valve_stuck_open":      {"pressure_pipe.b", "valve_inlet", "tailpipe"},
	} {
		s := session(t, "cold_whisper", fault, 1)
		play(t, s, "pull "+c.pull)
		f := do(t, s, "smoke "+c.at)
		require.Contains(t, smokeAt(f), c.out, fault)
		require.NotEqual(t, "none", percept(t, f, "smoke_in").Word, fault)
		say := bench.NewSayer(s.Catalogue())
		for _, p := range f.Percepts {
			require.NotContains(t, say.Percept(p), "_", p)
		}
	}
}

// A hose that is off without anybody having noticed shows by its smoke.
func TestSmokeShowsALooseHose(t *testing.T) {
	s := session(t, "cold_whisper", "valve_line_off", 1)
	play(t, s, "pull line_valve.b")
	require.Equal(t, map[string]string{"line_valve.a": "thick"}, smokeAt(do(t, s, "smoke line_valve.b")))
}

func refusal(t *testing.T, s bench.Session, line string) string {
	t.Helper()
	a, err := bench.ParseLine(line)
	require.NoError(t, err)
	_, err = s.Do(t.Context(), a)
	var no *bench.Refusal
	require.ErrorAs(t, err, &no)
	return no.Missing
}

func TestSmokeIsRefused(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	require.NotEmpty(t, refusal(t, s, "smoke line_valve.b"), "the end is on its port")
	require.NotEmpty(t, refusal(t, s, "smoke nowhere"))
	play(t, s, "pull line_valve.b\nextract on\nstart")
	require.Contains(t, refusal(t, s, "smoke line_valve.b"), "stop the engine")
	cfg := config(t, "cold_whisper", "no_fault_found", 1)
	o := *cfg.Order
	o.Withheld = []string{bench.ToolSmoke, bench.ToolGas}
	cfg.Order = &o
	l, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	require.Contains(t, refusal(t, l, "smoke line_valve.b"), "without the smoke generator")
	require.Contains(t, refusal(t, l, "analyse"), "without the exhaust gas analyser")
	require.NotContains(t, l.Catalogue().Tools, bench.ToolSmoke)
	require.Contains(t, s.Catalogue().Tools, bench.ToolGas)
}

func gas(t *testing.T, f bench.Finding) (o2, co, co2, hc, lambda float64) {
	t.Helper()
	return percept(t, f, "gas.o2").Value, percept(t, f, "gas.co").Value, percept(t, f, "gas.co2").Value, percept(t, f, "gas.hc").Value, percept(t, f, "gas.lambda").Value
}

// Air with the engine off; lean with oxygen while the secondary air runs, rich without it (tables of exhaust composition for the mixture that
// this car has in its cold run); clean and near 1 when warm. Instrument within its 2 %.
func TestAnalyser(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	f := do(t, s, "analyse")
	require.InDelta(t, 20.9, percept(t, f, "gas.o2").Value, 0.45)
	require.Zero(t, percept(t, f, "gas.co").Value)
	require.Equal(t, "out of range", percept(t, f, "gas.lambda").Word)

	play(t, s, "helper on\nextract on\nstart")
	o2, co, _, _, lambda := gas(t, do(t, s, "analyse"))
	require.Greater(t, lambda, 1.1)
	require.Greater(t, o2, 2.0)
	require.Less(t, co, 4.0)
	play(t, s, "watch 150")
	o2, co, co2, hc, lambda := gas(t, do(t, s, "analyse"))
	require.InDelta(t, 1, lambda, 0.03)
	require.Less(t, o2, 0.8)
	require.Less(t, co, 0.5)
	require.InDelta(t, 15.4, co2, 0.6)
	require.Less(t, hc, 100.0)

	s = session(t, "cold_whisper", "valve_stuck", 1)
	play(t, s, "helper on\nextract on\nstart")
	o2, co, _, hc, lambda = gas(t, do(t, s, "analyse"))
	require.Less(t, lambda, 0.9, "rich exhaust without air")
	require.Greater(t, co, 4.0)
	require.Less(t, o2, 1.0)
	require.Greater(t, hc, 100.0, "a cold catalyst")

	// The same finding is the same class with the same instrument, whatever the car.
	a, b := session(t, "cold_whisper", "valve_stuck", 1), session(t, "cold_whisper", "passages_shut", 1)
	play(t, a, "extract on\nstart")
	play(t, b, "extract on\nstart")
	require.Equal(t, do(t, a, "analyse").Classes(), do(t, b, "analyse").Classes())
}
