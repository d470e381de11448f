package bench_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/sim/bench"
)

// stems gives what was seen of a stem, line by line.
func stems(t *testing.T, s *bench.Local, lines ...string) (words []string) {
	t.Helper()
	for _, line := range lines {
		word := ""
		for _, p := range do(t, s, line).Percepts {
			if p.Key == "stem" {
				require.Equal(t, bench.Eye, p.Sense)
				word = p.Word
			}
		}
		words = append(words, word)
	}
	return words
}

// The stem of a valve in the hand goes as the solved lift goes; in its place the valve hides it.
func TestStemOfAValveInTheHand(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	require.Equal(t, []string{"", "", ""}, stems(t, s, "pull line_valve.a", "handpump valve_nipple", "stroke 4"))
	require.Greater(t, s.World().ValveLift("air_valve"), 0.005, "it is lifted, and nobody can see it")
	require.Empty(t, s.View().Stems)
	play(t, s, "release\nhandpump off\npull pressure_pipe.b")
	require.Equal(t, []string{"", "", "lifts part way", "lifts fully", "stays up", "", "falls back", ""},
		stems(t, s, "remove valve", "handpump valve_nipple", "stroke 1", "stroke 1", "stroke 1", "look valve", "release", "handpump off"))
	require.Equal(t, []bench.Stem{{ID: "valve", Share: s.View().Stems[0].Share}}, s.View().Stems)
	require.InDelta(t, 0, s.View().Stems[0].Share, 0.01)
	play(t, s, "handpump valve_nipple\nstroke 1")
	require.InDelta(t, s.World().ValveLift("air_valve")/0.006, s.View().Stems[0].Share, 1e-9)
	require.Equal(t, s.View(), s.Clone().View())
}

// A valve that is stuck stays where it is under the hand pump.
func TestStemTellsWhatTheValveDoes(t *testing.T) {
	const off = "pull line_valve.a\npull pressure_pipe.b\nremove valve\nhandpump valve_nipple"
	s := session(t, "cold_whisper", "valve_stuck", 1)
	play(t, s, off)
	require.Equal(t, []string{"stays down"}, stems(t, s, "stroke 6"))
	require.Zero(t, s.View().Stems[0].Share)
	// Nobody who only took it off has seen where a stuck stem stands, and the view does not say.
	s = session(t, "cold_whisper", "valve_stuck_open", 1)
	play(t, s, off)
	require.Greater(t, s.World().ValveLift("air_valve"), 0.004)
	require.Zero(t, s.View().Stems[0].Share)
	play(t, s, "look valve")
	require.Greater(t, s.View().Stems[0].Share, 0.5, "a look has found it")
	require.Equal(t, []string{"stays up"}, stems(t, s, "stroke 6"))
}

// Car B's valve is pushed open by a breath; car D's diverter lifts under the hand pump; car C's valves go each by itself.
func TestStemsOfOtherCars(t *testing.T) {
	s := session(t, "half_a_breath", "no_fault_found", 1)
	play(t, s, "pull pressure_pipe.b\nremove valve")
	require.Equal(t, []string{"lifts part way", "falls back"}, stems(t, s, "blow valve_inlet", "look valve"))
	s = session(t, "left_bank", "no_fault_found", 1)
	play(t, s, "pull line_valve_2.a\npull branch_pipe_2.b\nremove valve_2\nhandpump valve_nipple_2")
	require.Equal(t, []string{"lifts fully"}, stems(t, s, "stroke 6"))
	require.Zero(t, s.World().ValveLift("air_valve"))
	s = session(t, "burnt_hose", "no_fault_found", 1)
	play(t, s, "pull line_diverter.a\npull pump_hose.b\npull air_hose.b\nremove diverter\nhandpump div_nipple")
	require.Equal(t, []string{"lifts fully"}, stems(t, s, "stroke 6"))
}

// A torn diaphragm leaks in the hand as it does in its place.
func TestTornDiaphragmLeaksInTheHand(t *testing.T) {
	for _, c := range []struct{ order, fault, off, on string }{
		{"cold_whisper", "diaphragm_torn", "pull line_valve.a\npull pressure_pipe.b\nremove valve", "valve_nipple"},
		{"burnt_hose", "diverter_torn", "pull line_diverter.a\npull pump_hose.b\npull air_hose.b\nremove diverter", "div_nipple"},
	} {
		s := session(t, c.order, c.fault, 1)
		play(t, s, c.off+"\nhandpump "+c.on)
		require.Equal(t, []string{"stays down"}, stems(t, s, "stroke 6"), c.order)
		require.Less(t, s.World().ToolVacuum(), 15e3, c.order)
	}
}
