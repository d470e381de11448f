package sim

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/sim/car"
)

// An inlet hose left off wears the pump in wet weather, and in no other; computed from how the car stands, so a hose that a hand has
// pulled does the same.
func TestInletHoseOffWearsThePumpInTheWet(t *testing.T) {
	healthy := newWorld(t)
	require.NoError(t, healthy.Use(150, true))
	require.Empty(t, healthy.UnitsAtFault(), "a sound car does not wear")

	dry := newWorld(t, FaultChoice{"inlet_hose_off", 1})
	require.NoError(t, dry.Use(150, false))
	require.Equal(t, []string{"inlet_hose"}, dry.UnitsAtFault())

	wet := newWorld(t)
	require.NoError(t, wet.PullEnd("inlet_hose.b"))
	require.NoError(t, wet.Use(150, true))
	require.ElementsMatch(t, []string{"inlet_hose", "air_pump"}, wet.UnitsAtFault())
	// Four months of wet driving leave about what the fault set has.
	set := newWorld(t, FaultChoice{"inlet_off_worn_pump", 0.9})
	for _, p := range []string{"wear"} {
		a, err := wet.Param("air_pump", p)
		require.NoError(t, err)
		b, err := set.Param("air_pump", p)
		require.NoError(t, err)
		require.InDelta(t, b, a, 0.1)
	}
	require.Greater(t, wet.PumpDrag("pump_motor"), 10.0)
	// More only goes so far.
	require.NoError(t, wet.Use(2000, true))
	v, err := wet.Param("air_pump", "wear")
	require.NoError(t, err)
	require.Equal(t, 0.72, v)
	// The far end off is as bad as the near one; a plug keeps the water out.
	far := newWorld(t)
	require.NoError(t, far.PullEnd("inlet_hose.a"))
	require.NoError(t, far.Use(10, true))
	require.Contains(t, far.UnitsAtFault(), "air_pump")
	plugged := newWorld(t)
	require.NoError(t, plugged.PullEnd("inlet_hose.b"))
	require.NoError(t, plugged.SetPlug("pump_inlet", true))
	require.NoError(t, plugged.Use(10, true))
	require.NotContains(t, plugged.UnitsAtFault(), "air_pump")
}

// A leaking reed lets exhaust back, which burns the pressure pipe and leaves water in the pump; a valve that shuts tight behind the
// leaking reed does not.
func TestLeakingReedBurnsThePipe(t *testing.T) {
	w := newWorld(t, FaultChoice{"reed_leaking", 1})
	start(t, w)
	until(w, 140)
	require.Greater(t, w.PipeK(), 340.0)
	require.Greater(t, w.HoseK("pressure_pipe"), 340.0)
	require.Less(t, w.HoseK("inlet_hose"), 300.0)
	require.Less(t, w.AirFlow(), -1e-5, "exhaust comes back")
	require.NoError(t, w.Use(100, false))
	require.ElementsMatch(t, []string{"air_valve", "pressure_pipe", "pump_water"}, w.UnitsAtFault())
	require.NoError(t, w.RepairUnit("air_valve"))
	require.ElementsMatch(t, []string{"pressure_pipe", "pump_water"}, w.UnitsAtFault())
	require.NoError(t, w.RepairUnit("air_pump"))
	require.Equal(t, []string{"pressure_pipe"}, w.UnitsAtFault(), "a new pump is a dry one")

	tight := newWorld(t)
	require.NoError(t, tight.SetParam("air_valve.reed_leak_m2", 6e-5))
	start(t, tight)
	until(tight, 140)
	require.InDelta(t, tight.AmbientK(), tight.PipeK(), 1, "the seat is tight while the valve is shut")
	require.NoError(t, tight.Use(100, false))
	require.Equal(t, []string{"air_valve"}, tight.UnitsAtFault())
}

// The reed's leak is one of the reed only: with the valve shut nothing passes, and a healthy reed lets nothing back through an open
// valve though the exhaust pulses.
func TestReedHoldsTheExhaustBack(t *testing.T) {
	w := newWorld(t, FaultChoice{"valve_stuck_open", 1})
	start(t, w)
	until(w, 140)
	require.GreaterOrEqual(t, w.AirFlow(), 0.0)
	require.InDelta(t, w.AmbientK(), w.PipeK(), 1)
	both := newWorld(t, FaultChoice{"valve_stuck_open", 1}, FaultChoice{"reed_leaking", 0.3})
	one := newWorld(t, FaultChoice{"reed_leaking", 0.3})
	for _, w := range []*World{both, one} {
		start(t, w)
		until(w, 140)
	}
	require.Less(t, both.AirFlow(), 1.5*one.AirFlow(), "an open valve lets more back")
}

// Repairs that only seem to mend.
func TestRepairsThatSeemToMend(t *testing.T) {
	for set, cause := range map[string]string{"seized_pump_fuse": "air_pump", "chafed_feed_fuse": "pump_feed"} {
		w := newWorld(t, FaultChoice{set, 1})
		require.ElementsMatch(t, []string{cause, "pump_fuse"}, w.UnitsAtFault(), set)
		require.NoError(t, w.RepairUnit("pump_fuse"))
		require.Equal(t, []string{cause}, w.UnitsAtFault(), set)
		start(t, w)
		until(w, 20)
		require.ElementsMatch(t, []string{cause, "pump_fuse"}, w.UnitsAtFault(), "%s: the new fuse has gone too", set)
		w.SetKey(false)
		w.Step(20)
		require.NoError(t, w.RepairUnit(cause))
		require.NoError(t, w.RepairUnit("pump_fuse"))
		w.Soak(12)
		start(t, w)
		until(w, 20)
		require.Empty(t, w.UnitsAtFault(), set)
		require.InDelta(t, 27, amps(t, w, "pump_motor"), 1, set)
	}
	w := newWorld(t, FaultChoice{"relay_contacts_burnt", 1})
	require.NoError(t, w.RepairUnit("relay_contacts"))
	start(t, w)
	until(w, 20)
	require.Greater(t, w.AirFlow()*3600, 11.0, "filed contacts bring most of the air back")
	require.Equal(t, []string{"pump_relay"}, w.UnitsAtFault(), "but are not mended")

	w = newWorld(t, FaultChoice{"relay_welded", 1})
	w.Soak(12)
	require.NoError(t, w.RepairUnit("pump_relay"))
	require.Less(t, w.Charge(), 0.05)
	require.NoError(t, w.RepairUnit("battery"))
	start(t, w)
}

// What a fault names as seeming to mend does not: after it the fault's own unit is at fault still. And it seems to for a reason: the repair
// brings a part of what the fault changed back, or renews what is harmed in a fault set with that root or what long use with the fault harms.
func TestWhatSeemsToMendDoesNot(t *testing.T) {
	for _, id := range allCars {
		c := carFile(t, id)
		n := 0
		for _, f := range c.Faults {
			for _, u := range f.Seems {
				w := world(t, c, FaultChoice{f.ID, 1})
				require.NoError(t, w.RepairUnit(u))
				require.Contains(t, w.UnitsAtFault(), f.Unit, "%s: %s", id, f.ID)
				require.NotEqual(t, f.Unit, u, f.ID)
				require.True(t, seemsFor(t, c, &f, u), "%s: %s does nothing that could seem to mend %s", id, u, f.ID)
				n++
			}
		}
		require.GreaterOrEqual(t, n, 3, id)
	}
}

func seemsFor(t *testing.T, c *car.Car, f *car.Fault, unit string) bool {
	u, ok := c.Unit(unit)
	require.True(t, ok)
	for _, e := range u.Eases {
		for _, ch := range f.Changes {
			if e.Set == ch.Set {
				return true
			}
		}
	}
	for _, set := range c.Sets {
		members, err := c.Members(set.ID)
		require.NoError(t, err)
		for _, m := range members {
			if set.Root == f.Unit && m.ID != f.ID && m.Unit == unit && members[0].ID == f.ID {
				return true
			}
		}
	}
	for _, r := range c.Wear {
		i, ok := c.Param(r.Set)
		if !ok || c.Params[i].Unit != unit {
			continue
		}
		for k, p := range c.Pneumatic.Parts {
			if p.ID == r.Of && (r.From == car.Backflow && c.Pneumatic.Parts[k].Unit == f.Unit || r.From == car.WetInlet && f.Unit == "inlet_hose") {
				return true
			}
		}
	}
	return false
}

// A check valve that lets exhaust back warms and in time burns the hose before it, and none else; a sound one and a check valve of the
// vacuum side count nothing.
func TestLeakingCheckValveBurnsItsHose(t *testing.T) {
	c := carFile(t, "car_d")
	for _, one := range []struct {
		w    *World
		back bool
	}{{world(t, c, FaultChoice{"check_leaks_back", 1}), true}, {world(t, c), false}} {
		w := one.w
		start(t, w)
		until(w, 140)
		kg, err := w.Param("check_valve", "back_kg")
		require.NoError(t, err)
		require.NoError(t, w.Use(100, false))
		if !one.back {
			require.Zero(t, kg)
			require.InDelta(t, w.AmbientK(), w.HoseK("air_hose"), 1)
			require.Empty(t, w.UnitsAtFault())
			continue
		}
		require.Greater(t, kg, 1e-3)
		require.Greater(t, w.HoseK("air_hose"), 340.0)
		require.Less(t, w.HoseK("pump_hose"), 300.0)
		require.ElementsMatch(t, []string{"check_valve", "air_hose"}, w.UnitsAtFault())
		require.NoError(t, w.PullEnd("air_hose.a"))
		w.Step(10)
		flow, err := w.PartFlow("check_valve")
		require.NoError(t, err)
		require.Less(t, flow, -1e-5, "what leaks past the seat counts as the valve's flow")
	}
}

// Each bank's valve warms its own branch.
func TestEachBankWarmsItsOwnBranch(t *testing.T) {
	c := carFile(t, "car_c")
	for _, at := range []struct{ valve, warm, cold string }{{"air_valve", "branch_pipe", "branch_pipe_2"}, {"air_valve_2", "branch_pipe_2", "branch_pipe"}} {
		w := world(t, c)
		require.NoError(t, w.SetParam(at.valve+".reed_leak_m2", 6e-5))
		require.NoError(t, w.SetParam(at.valve+".seat_m2", 3e-5))
		start(t, w)
		until(w, 140)
		require.Greater(t, w.HoseK(at.warm), 340.0)
		require.InDelta(t, w.AmbientK(), w.HoseK(at.cold), 1)
		kg, err := w.Param("check_valve", "back_kg")
		require.NoError(t, err)
		require.Zero(t, kg, "the vacuum side's check valve keeps no exhaust back")
		require.NoError(t, w.Use(100, false))
		require.ElementsMatch(t, []string{at.valve, at.warm, "pump_water"}, w.UnitsAtFault())
	}
}

func world(t *testing.T, c *car.Car, faults ...FaultChoice) *World {
	t.Helper()
	w, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325}, faults...)
	require.NoError(t, err)
	return w
}
