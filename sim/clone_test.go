package sim

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// Copies share what neither has changed since: whatever one of them goes through, the other and the original go on to the same bits as if
// they were alone.
func TestCopiesDoNotDisturbEachOther(t *testing.T) {
	alone := newWorld(t)
	start(t, alone)
	alone.Step(300)
	base := newWorld(t)
	start(t, base)
	one, two := base.Clone(), base.Clone()
	require.NoError(t, one.PullEnd("line_supply.b"))
	one.SetKey(false)
	for i := range 300 {
		if i%40 == 20 {
			one.SetKey(i%80 == 20)
			require.NoError(t, one.SetElementOut("fuse15", i%80 == 20))
		}
		one.Step(1)
		two.Step(1)
		base.Step(1)
		if i == 100 {
			one.Clone().Step(50)
			two.Clone().Soak(1)
		}
	}
	require.Equal(t, alone.Hash(), two.Hash())
	require.Equal(t, alone.Hash(), base.Hash())
	require.NotEqual(t, alone.Hash(), one.Hash())
}

// Each part that copies share until one of them writes it: copies made and changed in several goroutines leave alone the world that they
// were made of, and each other.
func TestCopiesInGoroutines(t *testing.T) {
	lead := func(slot int) Instrument {
		return Instrument{Kind: JumperLead, A: "bat_pos", B: "bat_neg", AWG: 18, LengthM: 1, FuseA: float64(10 * (1 + slot))}
	}
	healthy := func(t *testing.T) *World { return newWorld(t) }
	for _, c := range []struct {
		name   string
		make   func(t *testing.T) *World
		change func(w *World, i int) error
	}{
		{"parameters", healthy, func(w *World, i int) error { return w.SetParam("w_feed.add_ohm", float64(i)) }},
		{"a fuse that blows", healthy, func(w *World, i int) error {
			return w.Attach(0, Instrument{Kind: JumperLead, A: "f40_out", B: "bat_neg", AWG: 10 + 2*i, LengthM: 1})
		}},
		{"instruments", func(t *testing.T) *World {
			w := newWorld(t)
			require.NoError(t, w.Attach(0, lead(0)))
			return w
		}, func(w *World, i int) error { return w.Attach(i, lead(i)) }},
		{"instruments taken off", func(t *testing.T) *World {
			w := newWorld(t)
			require.NoError(t, w.Attach(3, lead(8)))
			return w
		}, func(w *World, _ int) error { w.Detach(3); return nil }},
		{"a change that comes later", func(t *testing.T) *World { return withFault(t, someOhms+`when: vibration, rpm: 1}}`) },
			func(w *World, i int) error {
				if i%2 == 0 {
					return w.RepairUnit("pump_feed")
				}
				w.SetKey(true)
				w.Step(3)
				w.SetStarter(true)
				return nil
			}},
		{"a second exhaust", func(t *testing.T) *World {
			w, err := New(carFile(t, "car_c"), Conditions{AmbientK: 293.15, AmbientPa: 101325})
			require.NoError(t, err)
			start(t, w)
			return w
		}, func(w *World, i int) error { w.HoldSpeed(1500 + 500*float64(i)); return nil }},
	} {
		t.Run(c.name, func(t *testing.T) {
			alone, base := c.make(t), c.make(t)
			alone.Step(20)
			before := base.Hash()
			const copies = 4
			var changed [copies]*World
			var errs [copies]error
			var wg sync.WaitGroup
			for i := range copies {
				wg.Go(func() {
					w := base.Clone()
					errs[i] = c.change(w, i)
					w.Step(5)
					w.Clone().Step(40)
					w.Step(15)
					changed[i] = w
				})
			}
			wg.Wait()
			require.Equal(t, before, base.Hash())
			fresh := base.Clone()
			for i, w := range changed {
				require.NoError(t, errs[i])
				again := fresh.Clone()
				require.NoError(t, c.change(again, i))
				again.Step(20)
				require.Equal(t, again.Hash(), w.Hash(), i)
			}
			fresh.Step(20)
			require.Equal(t, alone.Hash(), fresh.Hash())
			base.Step(20)
			require.Equal(t, alone.Hash(), base.Hash())
		})
	}
}

// A whole cold start allocates nothing but the copy itself and what it no longer shares once something changes: a matrix, a list of
// ways and what the controller writes down.
func TestColdStartAllocates(t *testing.T) {
	base := newWorld(t)
	start(t, base)
	run := func() { base.Clone().Step(1200) }
	run() // the elimination orders of this car's topologies are made once
	require.LessOrEqual(t, testing.AllocsPerRun(3, run), 4.0)
	w := base.Clone()
	w.Step(1)
	require.Zero(t, testing.AllocsPerRun(3, func() { w.Step(300) }))
}
