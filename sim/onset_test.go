package sim

import (
	"os"
	"strings"
	"testing"

	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// withFault is car A with one more fault of the given changes.
func withFault(t *testing.T, changes string) *World {
	t.Helper()
	data, err := os.ReadFile("../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	text := strings.Replace(string(data), "\nfault_sets:", `
  - {id: made_up, name: made up, unit: pump_feed, weight: 1, changes: [`+changes+`]}
fault_sets:`, 1)
	c, err := car.Parse("made_up.yaml", []byte(text))
	require.NoError(t, err)
	w, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325, Draw: 5}, FaultChoice{"made_up", 1})
	require.NoError(t, err)
	return w
}

const someOhms = `{set: w_feed.add_ohm, to: 0.2, onset: {`

func present(w *World) bool {
	v, _ := w.Param("w_feed", "add_ohm")
	return v > 0.1
}

func TestOnsetByTime(t *testing.T) {
	w := withFault(t, someOhms+`when: time, after_s: 12}}`)
	w.Step(300)
	require.False(t, present(w), "the engine has not run")
	start(t, w)
	until(w, 11.5)
	require.False(t, present(w))
	until(w, 13)
	require.True(t, present(w))
	require.Equal(t, []string{"pump_feed"}, w.UnitsAtFault())
	w.SetKey(false)
	w.Step(20)
	require.False(t, present(w), "gone with the key off")
	require.Equal(t, []string{"pump_feed"}, w.UnitsAtFault(), "but not mended")
	require.NoError(t, w.RepairUnit("pump_feed"))
	require.Empty(t, w.UnitsAtFault())
	w.Soak(12)
	start(t, w)
	until(w, 14)
	require.False(t, present(w), "mended")
}

func TestOnsetByVibrationAndHeat(t *testing.T) {
	w := withFault(t, someOhms+`when: vibration, rpm: 2000}}`)
	start(t, w)
	until(w, 20)
	require.False(t, present(w))
	w.HoldSpeed(2600)
	w.Step(100)
	require.True(t, present(w))
	w.HoldSpeed(0)
	w.Step(200)
	require.False(t, present(w))

	w = withFault(t, someOhms+`when: hot, k: 313}}`)
	start(t, w)
	until(w, 20)
	require.False(t, present(w))
	for w.CoolantK() < 313.1 {
		w.Step(10)
		require.NoError(t, w.Err())
	}
	w.Step(1)
	require.True(t, present(w))
	w.Soak(12)
	w.Step(1)
	require.False(t, present(w))

	w = withFault(t, someOhms+`when: cold, k: 300, of: pump_motor}}`)
	w.Step(1)
	require.True(t, present(w))
	start(t, w)
	until(w, 60)
	require.Greater(t, w.MotorK("pump_motor"), 301.0)
	require.False(t, present(w), "its winding is warm")
}

// A coil that opens when its own winding is warm: it has to be held for a while, comes back only when it has cooled well below, and how the
// steps are cut makes no difference.
func TestOnsetByAWarmCoil(t *testing.T) {
	const opens = `{set: pump_relay.coil_ohm, to: 1.0e9, onset: {when: hot, of: pump_relay, k: 297, back_k: 2}}`
	w, cut := withFault(t, opens), withFault(t, opens)
	open := func() bool {
		ohm, err := w.Param("pump_relay", "coil_ohm")
		require.NoError(t, err)
		return ohm > 1e6
	}
	start(t, w)
	start(t, cut)
	until(w, 10)
	require.False(t, open(), "held for 9 s it is only lukewarm")
	require.Greater(t, w.AirFlow(), 1e-3)
	until(w, 70)
	require.True(t, open())
	require.InDelta(t, 0, w.AirFlow(), 1e-4)
	flips, was := 0, true
	for range 3000 {
		w.Step(1)
		if open() != was {
			was = !was
			flips++
		}
	}
	require.LessOrEqual(t, flips, 1, "it does not chatter")
	require.NoError(t, w.Err())
	require.Equal(t, []string{"pump_relay"}, w.UnitsAtFault())
	for range 10 {
		cut.Step(7)
	}
	cut.Step(int(w.ms-cut.ms) / 100)
	require.Equal(t, w.Hash(), cut.Hash())
	w.SetKey(false)
	w.Step(100)
	w.Soak(12)
	w.Step(1)
	require.False(t, open(), "cold again")
}

// A hose that comes off with an onset does not find back by itself; what stays, stays.
func TestOnsetForGood(t *testing.T) {
	w := withFault(t, `{detach: line_valve.a, onset: {when: vibration, rpm: 2000}}, `+someOhms+`when: vibration, rpm: 2000, stays: true}}`)
	start(t, w)
	until(w, 5)
	at, _, err := w.HoseEndAt("line_valve.a")
	require.NoError(t, err)
	require.Equal(t, "valve_nipple", at)
	require.ElementsMatch(t, []string{"pump_feed", "line_valve"}, w.UnitsAtFault(), "what is to come is at fault already")
	w.HoldSpeed(2600)
	w.Step(100)
	w.HoldSpeed(0)
	w.Step(200)
	at, _, err = w.HoseEndAt("line_valve.a")
	require.NoError(t, err)
	require.Empty(t, at)
	require.True(t, present(w))
	require.ElementsMatch(t, []string{"pump_feed", "line_valve"}, w.UnitsAtFault())
}

// Chance is keyed by the car's seed and world time: the same under Clone and however the steps are cut, and as often as its duty says.
func TestOnsetByChance(t *testing.T) {
	const random = someOhms + `when: random, duty: 0.3, period_s: 7}}`
	long, ticks := withFault(t, random), withFault(t, random)
	start(t, long)
	start(t, ticks)
	var half *World
	on, n := 0, 0
	for i := range 3000 {
		ticks.Step(1)
		if present(ticks) {
			on++
		}
		n++
		if i == 1499 {
			half = ticks.Clone()
		}
	}
	long.Step(1234)
	long.Step(1766)
	half.Step(1500)
	require.Equal(t, long.Hash(), ticks.Hash())
	require.Equal(t, long.Hash(), half.Hash())
	require.InDelta(t, 0.3, float64(on)/float64(n), 0.17) // 43 periods: two standard deviations are 0.14

	// A resting car is cut no differently.
	a, b := withFault(t, random), withFault(t, random)
	a.Step(36000)
	for range 3600 {
		b.Step(10)
	}
	require.Equal(t, a.Hash(), b.Hash())

	other := withFault(t, random)
	other.cond.Draw = 6
	differ := 0
	for range 100 {
		a.Step(70)
		other.Step(70)
		other.ms = a.ms
		if present(a) != present(other) {
			differ++
		}
	}
	require.Greater(t, differ, 10, "another car, another pattern")
}

func TestBadOnsets(t *testing.T) {
	data, err := os.ReadFile("../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	for onset, want := range map[string]string{
		"when: sometimes":                       `when "sometimes", allowed is start, time, hot, cold, vibration, random`,
		"when: time":                            "after_s = 0, must be above 0",
		"when: hot, k: 20":                      "k = 20, allowed is 200 to 1500",
		"when: hot, k: 300, of: fuse40":         `of "fuse40", allowed is a motor, a relay, a coil`,
		"when: hot, k: 300, back_k: -1":         "back_k = -1",
		"when: vibration":                       "rpm = 0",
		"when: random, duty: 2, period_s: 1":    "duty = 2",
		"when: random, duty: 0.5, period_s: 0":  "period_s = 0",
		"when: random, chance: 2, period_s: 10": "chance",
	} {
		text := strings.Replace(string(data), "onset: {when: hot, of: pump_relay, k: 297, back_k: 2}", "onset: {"+onset+"}", 1)
		_, err := car.Parse("bad.yaml", []byte(text))
		require.ErrorContains(t, err, want, onset)
	}
}
