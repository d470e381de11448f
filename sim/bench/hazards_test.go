package bench_test

import (
	"math"
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// An unfused thin lead on a healthy pump: 18 AWG is rated 16 A in chassis wiring (Handbook of Electronic Tables and Formulas), the pump takes
// 25 A and more. It gets hot, softens, and starves the pump: a false "weak pump".
func TestThinLeadOnThePump(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "open pump_plug\njump bat_neg pump_2 10awg 40A")
	f := do(t, s, "jump bat_pos pump_1 18awg none")
	require.Empty(t, f.Hazards)
	require.Equal(t, "whines", percept(t, f, "pump").Word)
	first := do(t, s, "meter volts pump_1 pump_2")
	var all []string
	for range 5 {
		all = append(all, kinds(do(t, s, "watch 60"))...)
	}
	require.Contains(t, all, "lead_hot")
	last := do(t, s, "read meter")
	require.Less(t, percept(t, last, "volts").Value, percept(t, first, "volts").Value-1, "the hot lead starves the pump")
	require.NotEmpty(t, s.View().Jumpers[1].State)
}

// The same work with a fused lead of the wire's own gauge is no hazard for a minute.
func TestProperLeadIsSafe(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	f := play(t, s, "open pump_plug\njump bat_neg pump_2 10awg 40A\njump bat_pos pump_1 10awg 40A\nwatch 60\nunjump\nunjump\nclose pump_plug")
	require.Empty(t, f.Hazards)
	for _, f := range s.Ledger() {
		require.Empty(t, f.Hazards, f.Action)
	}
}

// Minutes of pump from the battery overheat its winding: it is made for a minute and a half at a time.
func TestPumpRunForMinutesOverheats(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "open pump_plug\njump bat_neg pump_2 10awg 40A\njump bat_pos pump_1 10awg 40A")
	f := do(t, s, "watch 900")
	require.Contains(t, kinds(f), "pump_overheated")
	require.Len(t, f.Hazards, 1, "told once")
}

// Battery voltage on a driver pin kills the output as soon as it is switched on, and the car is worse off than before.
func TestJumperOnADriverPinKillsIt(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "scan on\nkey on\njump bat_pos ecm_12 12awg none")
	f := do(t, s, "actuator pump")
	require.Equal(t, []bench.Hazard{{Kind: "driver_killed", Of: "drv_relay", Grave: true}}, f.Hazards)
	require.Contains(t, s.World().UnitsAtFault(), "ecm")
	play(t, s, "unjump\nkey off\nkey on")
	f = do(t, s, "actuator pump")
	for _, p := range f.Percepts {
		require.NotEqual(t, "whines", p.Word)
	}
	require.Empty(t, f.Hazards, "told once")
}

func TestShortAcrossTheBattery(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	f := do(t, s, "jump bat_pos bat_neg 18awg none")
	require.Contains(t, kinds(f), "short_arc")
	require.True(t, f.Hazards[0].Grave)

	s = session(t, "cold_whisper", "", 0)
	f = do(t, s, "jump bat_pos body 14awg 10A")
	require.Equal(t, "fuse blown", percept(t, f, "lead").Word)
	require.Equal(t, 100, f.Cost)
	require.Equal(t, "fuse blown", s.View().Jumpers[0].State)
	for _, h := range f.Hazards {
		require.False(t, h.Grave, "the fuse did what it is for")
	}
}

func TestAmmeterAcrossTheBatteryBlowsItsFuse(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	f := do(t, s, "meter amps bat_pos bat_neg")
	require.Equal(t, "fuse blown", percept(t, f, "amps").Flag)
	require.Equal(t, []string{"meter_fuse"}, kinds(f))
	play(t, s, "meter off\nopen pump_plug")
	f = do(t, s, "meter amps bat_pos pump_1")
	require.Equal(t, 600, f.Cost, "a new fuse")
	require.Empty(t, percept(t, f, "amps").Flag)
}

// Exhaust parts are hot after a run and cold in the morning.
func TestHotParts(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	f := do(t, s, "feel valve")
	require.Equal(t, "cold", percept(t, f, "heat").Word)
	play(t, s, "extract on\nstart\nwatch 120\nstop")
	f = do(t, s, "feel valve")
	require.Equal(t, []string{"burn"}, kinds(f))
	play(t, s, "pull line_valve.a\npull pressure_pipe.b")
	require.Equal(t, []string{"burn"}, kinds(do(t, s, "remove valve")))
	play(t, s, "soak")
	require.Empty(t, do(t, s, "refit valve").Hazards)
}

// Which places burn follows from the car's parts and the heat of its exhaust: those with a part on the hot side and no other, a work of half an
// hour there too and a shorter one not, and for as long as metal that loses heat in proportion takes to fall to 65 degC (from
// memory, ISO 13732-1: bare metal touched for a second). The manifold's time constant is its heat capacity over its loss; it was between
// 150 and 550 degC hot (a two-minute run; common practice, no source).
func TestPlacesThatBurn(t *testing.T) {
	for _, order := range []string{"cold_whisper", "half_a_breath", "left_bank", "burnt_hose"} {
		t.Run(order, func(t *testing.T) {
			cfg := config(t, order, "no_fault_found", 1)
			hot := map[string]bool{}
			for _, p := range cfg.Car.Bay.Parts {
				hot[p.Place] = hot[p.Place] || p.Hot
			}
			s := session(t, order, "no_fault_found", 1)
			touch := func() (burnt []string) {
				for _, p := range cfg.Car.Bay.Places {
					if p.ID != "tailpipe" && len(kinds(do(t, s.Clone(), "feel "+p.ID))) > 0 {
						burnt = append(burnt, p.ID)
					}
				}
				return burnt
			}
			require.Empty(t, touch(), "in the morning")
			play(t, s, "extract on\nstart\nwatch 120\nstop")
			var want []string
			for _, p := range cfg.Car.Bay.Places {
				if hot[p.ID] {
					want = append(want, p.ID)
				}
			}
			require.NotEmpty(t, want)
			require.Equal(t, want, touch(), "after a run")
			long, short := 0, 0
			for _, u := range cfg.Car.Units {
				if !hot[u.Place] || u.Part > 0 && !u.Mend {
					continue
				}
				if u.Minutes >= 30 {
					require.Contains(t, kinds(do(t, s.Clone(), "repair "+u.ID)), "burn", u.ID)
					long++
				} else {
					require.NotContains(t, kinds(do(t, s.Clone(), "repair "+u.ID)), "burn", u.ID)
					short++
				}
			}
			t.Logf("%d works on the hot side take half an hour, %d less", long, short)
			minutes := 0.0
			for ; len(touch()) > 0; minutes++ {
				require.Less(t, minutes, 60.0)
				play(t, s, "watch 60")
			}
			e := cfg.Car.Exhaust
			tau := e.ManJK / e.ManLoss / 60
			require.GreaterOrEqual(t, minutes, tau*math.Log(130.0/45)-1)
			require.LessOrEqual(t, minutes, tau*math.Log(530.0/45)+1)
			play(t, s, "soak")
			require.Empty(t, touch(), "the next morning")
		})
	}
}

func TestOpenPortWithTheEngineRunning(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "pull line_valve.a\npull pressure_pipe.b\nremove valve\nextract on")
	require.Equal(t, []string{"open_port"}, kinds(do(t, s, "start")))
}

// An engine run without extraction: first the head aches, then the body has enough. With extraction nothing happens, but the tailpipe
// can't be felt.
func TestExhaustInTheBay(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "start")
	f := do(t, s, "watch 240")
	require.Equal(t, []string{"co"}, kinds(f))
	require.Equal(t, "headache", percept(t, f, "fumes").Word)
	f = do(t, s, "watch 600")
	require.Equal(t, []bench.Hazard{{Kind: "co", Of: "dash", Grave: true}}, f.Hazards)
	require.Less(t, f.Action.N, 300.0)
	require.Equal(t, "off", s.View().Engine)
	require.Equal(t, "off", s.View().Key)

	s = session(t, "cold_whisper", "no_fault_found", 1)
	play(t, s, "extract on\nstart")
	require.Empty(t, do(t, s, "watch 900").Hazards)
	a, err := bench.ParseLine("feel tailpipe")
	require.NoError(t, err)
	_, err = s.Do(t.Context(), a)
	require.ErrorContains(t, err, "extraction hose is on the tailpipe")
}

// A thin lead on a dead short: it melts, then glows and burns through, within seconds. 250 A in 18 AWG heat two metres of copper and
// insulation (12 J/K) by some 200 K a second at first (worked out here).
func TestLeadGlowsOnADeadShort(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	all := kinds(do(t, s, "jump bat_pos bat_neg 18awg none"))
	all = append(all, kinds(do(t, s, "watch 30"))...)
	require.Contains(t, all, "short_arc")
	require.Contains(t, all, "lead_melts")
	require.Contains(t, all, "lead_glows")
	require.Empty(t, s.View().Jumpers, "burnt through")
	v := percept(t, do(t, s, "meter volts bat_pos bat_neg"), "volts").Value
	require.Greater(t, v, 12.0, "the short is gone")
}
