package bench_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Without a scan tool the pump is run by a fused lead in the relay's socket; the same drop shows.
func TestGroundWithoutAScanTool(t *testing.T) {
	s := session(t, "quiet_pump", "", 0)
	play(t, s, "remove relay\njump rly_30 rly_87 12awg 40A")
	f := do(t, s, "meter volts pump_2h bat_neg")
	require.InDelta(t, 7, percept(t, f, "volts").Value, 0.8)
	f = do(t, s, "clamp w_feed zero")
	require.InDelta(t, 7, percept(t, f, "amps").Value, 1.5)
	for _, f := range s.Ledger() {
		require.Empty(t, f.Hazards)
	}
}

// Clamp: without zeroing it is off by 0.4 to 0.8 A and says so; the lamp: a fuse's two sides, a blown one.
func TestClampAndLamp(t *testing.T) {
	s := session(t, "cold_whisper", "pump_fuse_blown", 1)
	p := percept(t, do(t, s, "clamp w_feed"), "amps")
	require.Equal(t, "not zeroed", p.Flag)
	require.InDelta(t, 0.6, p.Value, 0.21)
	p = percept(t, do(t, s, "clamp w_feed zero"), "amps")
	require.Empty(t, p.Flag)
	require.Zero(t, p.Value)
	require.Equal(t, "bright", percept(t, do(t, s, "lamp f40_in bat_neg"), "glow").Word)
	require.Equal(t, "off", percept(t, do(t, s, "lamp f40_out bat_neg"), "glow").Word)
	f := play(t, s, "lamp off\nremove fuse40\nlook fusebox")
	words := []string{}
	for _, p := range f.Percepts {
		words = append(words, p.Word)
	}
	require.Equal(t, []string{"off", "fuse element burnt through"}, words)
}

// An ohmmeter on a coil out of the circuit, and on a live one.
func TestOhms(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "open sol_plug")
	p := percept(t, do(t, s, "meter ohms sol_1 sol_2"), "ohms")
	require.InDelta(t, 30, p.Value, 1.5, "30 ohm within the model's spread of 3 % and the meter's 0.3 %")
	require.Empty(t, p.Flag)
	p = percept(t, do(t, s, "meter ohms bat_pos bat_neg"), "ohms")
	require.Equal(t, "live circuit", p.Flag)
	s = session(t, "cold_whisper", "solenoid_open", 1)
	play(t, s, "open sol_plug")
	p = percept(t, do(t, s, "meter ohms sol_1 sol_2"), "ohms")
	require.Equal(t, "OL", p.Word)
}

// Breath at rest: the outlet breathes through the vent, the supply is shut; clogged or not, only the energised solenoid tells.
func TestBreathThroughTheSolenoid(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	f := play(t, s, "pull line_valve.b\nblow sol_out")
	require.NotEqual(t, "blocked", percept(t, f, "breath").Word)
	require.Equal(t, "solenoid.vent", percept(t, f, "breath_out").Of)
	f = play(t, s, "pull line_supply.b\nblow sol_supply")
	require.Equal(t, "blocked", percept(t, f, "breath").Word)
	f = play(t, s, "scan on\nkey on\nactuator solenoid\nblow sol_supply")
	require.Equal(t, "free", percept(t, f, "breath").Word)
	require.Equal(t, "sol_out", percept(t, f, "breath_out").Of)
}

// Strokes are a finding by themselves: about 24 kPa a stroke on the chamber, about 3 on the reservoir (worked out from 15 cm3 a stroke,
// 25 cm3 and 0.4 l, in the design's bench notes).
func TestStrokes(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "pull line_valve.a\nhandpump valve_nipple")
	require.InDelta(t, 24, percept(t, do(t, s, "stroke 1"), "vacuum").Value, 6)
	play(t, s, "handpump off\nsoak\npull line_supply.b\nhandpump line_supply.b\nrelease")
	first := percept(t, do(t, s, "stroke 5"), "vacuum").Value
	second := percept(t, do(t, s, "stroke 5"), "vacuum").Value
	require.InDelta(t, 3, (second-first)/5, 1.2)
}

// A controller that has been told to erase has nothing left to say, until the fault is seen again.
func TestEraseIsNoRepair(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	f := play(t, s, "scan on\nkey on\nerase\ncodes stored")
	require.Equal(t, "none", percept(t, f, "code").Word)
	f = play(t, s, "readiness")
	require.Equal(t, "not complete", percept(t, f, "monitor").Word)
	f = play(t, s, "key off\ndrive")
	pending := ""
	for _, p := range f.Percepts {
		if p.Key == "code" && p.Of == "pending" {
			pending = p.Word
		}
	}
	require.Equal(t, "P0491", pending, "found again on the first drive")
}
