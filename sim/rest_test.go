package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// parked is a car whose engine ran for a while and was switched off.
func parked(t testing.TB, faults ...FaultChoice) *World {
	w := newWorld(t, faults...)
	start(t, w)
	w.Step(600)
	w.SetKey(false)
	return w
}

// Many ticks at once or one by one, with hands' work in between: the same bits. Contract 3 of the design: skipping stays reproducible.
func TestStepsMayBeCut(t *testing.T) {
	base := parked(t, FaultChoice{"pump_worn", 0.4})
	rapid.Check(t, func(t *rapid.T) {
		w := base.Clone()
		one := base.Clone()
		for range rapid.IntRange(1, 6).Draw(t, "acts") {
			n := rapid.IntRange(1, 900).Draw(t, "ticks")
			for left := n; left > 0; {
				k := rapid.IntRange(1, left).Draw(t, "cut")
				w.Step(k)
				left -= k
			}
			for range n {
				one.Step(1)
			}
			if w.Hash() != one.Hash() {
				t.Fatalf("after %d ticks the states differ", n)
			}
			act := rapid.SampledFrom([]func(*World){
				func(w *World) { w.SetKey(true) },
				func(w *World) { w.SetKey(false) },
				func(w *World) { _ = w.PullEnd("line_valve.a") },
				func(w *World) { _ = w.FitEnd("line_valve.a", "valve_nipple") },
				func(w *World) { _ = w.AttachTool(HandPump, "valve_nipple"); w.Stroke() },
				func(w *World) { w.DetachTool() },
				func(w *World) { _ = w.SetElementOut("fuse40", true) },
			}).Draw(t, "act")
			act(w)
			act(one)
		}
	})
}

// Stepping allocates nothing (contract 3 of the design) but for a new matrix where a conductance or a way has changed: not in a
// running engine whose coils, windings and battery have settled, not in a standing car.
func TestSteppingAllocatesNothing(t *testing.T) {
	running := newWorld(t)
	start(t, running)
	until(running, 100)
	require.LessOrEqual(t, testing.AllocsPerRun(50, func() { running.Step(10) }), 2.0, "a battery that takes up less and less renews the matrix every two seconds")
	running.Step(40000)
	require.Zero(t, testing.AllocsPerRun(20, func() { running.Step(10) }))
	standing := parked(t)
	standing.Step(30000) // until the coils are cold
	require.Zero(t, testing.AllocsPerRun(20, func() { standing.Step(100) }))
	pumping := newWorld(t)
	start(t, pumping)
	until(pumping, 10)
	require.LessOrEqual(t, testing.AllocsPerRun(50, func() { pumping.Step(10) }), 2.0, "a warming winding renews the matrix once in a second or two")
}

// What is refused leaves no trace, also in a car that rests.
func TestRefusalsLeaveNoTrace(t *testing.T) {
	w := parked(t)
	w.Step(313)
	require.Positive(t, w.owed, "the car must be resting, or the test shows nothing")
	for name, refused := range map[string]func() error{
		"fit what is fitted":      func() error { return w.FitEnd("line_valve.a", "valve_nipple") },
		"plug what is taken":      func() error { return w.SetPlug("valve_nipple", true) },
		"tool on what is taken":   func() error { return w.AttachTool(HandPump, "valve_nipple") },
		"pull what is not there":  func() error { return w.PullEnd("line_none.a") },
		"open what is not there":  func() error { return w.SetConnector("none", true) },
		"probe what is not there": func() error { return w.Attach(0, Instrument{Kind: Voltmeter, A: "none", B: "bat_neg"}) },
		"mend what is not there":  func() error { return w.RepairUnit("none") },
		"test with the key off":   func() error { return w.Actuate("pump") },
	} {
		h := w.Hash()
		require.Error(t, refused(), name)
		require.Equal(t, h, w.Hash(), name)
	}
}

// A resting car's long strides against the same car stepped a tenth of a second at a time: within what a gauge or a hand can
// tell (the pressures that a nap may move, and one kelvin).
func TestRestIsAccurate(t *testing.T) {
	w := parked(t)
	fine := w.Clone()
	napped := false
	for minute := range 30 {
		w.Step(600)
		for range 600 {
			fine.nap = 0
			fine.Step(1)
		}
		napped = napped || w.owed > 0
		for _, id := range []string{"reservoir", "chamber", "line_check", "line_manifold"} {
			require.InDelta(t, vac(t, fine, id), vac(t, w, id), 3*napPa, "%s after %d min", id, minute+1)
		}
		require.InDelta(t, fine.CoolantK(), w.CoolantK(), 1, "coolant after %d min", minute+1)
		require.InDelta(t, fine.ExhaustPartK(), w.ExhaustPartK(), 1)
		require.InDelta(t, fine.ex.Cat[3], w.ex.Cat[3], 1)
		require.InDelta(t, fine.MotorK("pump_motor"), w.MotorK("pump_motor"), 1)
	}
	require.True(t, napped)
	require.Less(t, math.Abs(fine.el.Charge-w.el.Charge), 1e-9)
}
