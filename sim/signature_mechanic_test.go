package sim

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a mechanic expects of the four cars' tables (common practice, no source). Lists name the faults of all cars; a car is asked about
// those that it has.

// graded calls f with a fault's rows next to each other, the sound car before the first, for each of the faults that the car has.
func graded(table *SignatureTable, faults []string, f func(fault string, less, more Signature)) (met int) {
	for _, id := range faults {
		before := table.Sound
		for _, s := range table.Rows {
			if s.Fault == id {
				f(id, before, s)
				before = s
				met++
			}
		}
	}
	return met
}

func ids(text string) []string { return strings.Fields(text) }

// Readings stay in bounds that no fault leaves.
func boundsHold(t *testing.T, table *SignatureTable) {
	shutOff := 16.0 // kPa, of an electric pump
	if table.Probes.Motor == "" {
		shutOff = 26 // the relief of a belt-driven pump's diverter
	}
	for _, s := range append([]Signature{table.Sound}, table.Rows...) {
		require.True(t, s.Ran, s)
		require.GreaterOrEqual(t, s.Pipe, -0.5, s)
		if s.Fault == "pump_hose_kinked" {
			require.LessOrEqual(t, s.Pipe, 42.0, "before the relief a vane pump has its own head: %s", s)
		} else {
			require.LessOrEqual(t, s.Pipe, shutOff, s)
		}
		require.GreaterOrEqual(t, s.Amps, -0.05, s)
		require.LessOrEqual(t, s.Amps, 50.0, s)
		require.LessOrEqual(t, s.Volts, 14.8, s)
		require.LessOrEqual(t, s.Flow, 1.05*table.Sound.Flow, "no fault gives more air worth speaking of: %s", s)
		if table.Car.Banks == 2 {
			require.LessOrEqual(t, s.Flow2, s.Flow+0.05, s)
		}
		require.LessOrEqual(t, s.Chamber, 60.0, "no more vacuum than the manifold has: %s", s)
		require.GreaterOrEqual(t, s.Chamber, -0.1, s)
		require.LessOrEqual(t, s.Held, s.Pulled+0.05, "vacuum does not grow by itself: %s", s)
		require.LessOrEqual(t, s.Pulled, 95.0, s)
		require.Positive(t, s.CoilOhm, s)
		require.Greater(t, s.Lambda, 0.75, s)
		require.Less(t, s.Lambda, 1.6, s)
		require.GreaterOrEqual(t, s.Warm, -1.0, s)
		for _, at := range []float64{s.LitAt, s.LitAt2} {
			require.True(t, at == 0 || at > 10 && at < 150, s)
		}
	}
}

// What a fault does not touch reads as on a sound car.
func restIsSound(t *testing.T, table *SignatureTable) {
	coils := ids("solenoid_open solenoid_shorted_turns solenoid_high_ohms coil_and_ground")
	lines := ids(`valve_line_split valve_line_off valve_line_clogged diaphragm_torn valve_stuck valve_stuck_partly valve_stuck_open split_and_carbon
		tee_line_split line_1_off line_2_off line_1_kinked line_2_kinked diaphragm_1_torn diaphragm_2_torn valve_1_stuck valve_2_stuck
		diverter_torn diverter_stuck_dump diverter_stuck_exhaust diverter_line_split
		line_1_split line_2_split tee_line_off tee_line_clogged valve_1_stuck_partly valve_2_stuck_partly valve_1_stuck_open valve_2_stuck_open
		line_2_and_ground tee_and_carbon diverter_line_off diverter_line_kinked belt_and_line`)
	runs := ids("relay_welded relay_driver_ground driver_wire_ground")
	in := func(list []string, id string) bool {
		for _, x := range list {
			if x == id {
				return true
			}
		}
		return false
	}
	for _, s := range table.Rows {
		if !in(coils, s.Fault) && table.Probes.CoilPlug != "" {
			require.InEpsilon(t, table.Sound.CoilOhm, s.CoilOhm, 1e-6, "a coil that nobody touched: %s", s)
		}
		if !in(lines, s.Fault) {
			require.InDelta(t, table.Sound.Pulled, s.Pulled, 0.1, "a line and a valve that nobody touched: %s", s)
			require.InDelta(t, table.Sound.Held, s.Held, 0.1, s)
		}
		require.Equal(t, in(runs, s.Fault), s.KeyOn || s.KeyOff, "a pump runs by itself only on a relay that is held: %s", s)
		require.Equal(t, s.Fault == "relay_welded", s.KeyOff, s)
		require.Equal(t, s.KeyOff, s.Flat, "and a night of that empties the battery: %s", s)
	}
}

// A seized pump draws a current that blows its fuse and then none; a blown fuse and a feed on ground leave the pump dead from the start.
func seizedPumpBlowsItsFuse(t *testing.T, table *SignatureTable) {
	fuse := map[string]float64{"car_a": 40, "car_b": 40, "car_c": 50}[table.Car.ID] // A, as in the car's file
	if fuse == 0 {
		return
	}
	met := graded(table, ids("pump_seized blower_locked"), func(_ string, sound, s Signature) {
		require.Less(t, sound.Start, 1.3*fuse, "a sound pump is up to speed and leaves its fuse alone")
		require.Greater(t, s.Start, 2*fuse, "a seized one does not: %s", s)
		require.InDelta(t, 0, s.Amps, 0.05, "the fuse has blown by then: %s", s)
		require.InDelta(t, 0, s.Volts, 0.05, s)
		require.InDelta(t, 0, s.Flow, 0.05, s)
		require.InDelta(t, 0, s.Pipe, 0.05, s)
	})
	require.Equal(t, 1, met)
	met = graded(table, ids("pump_fuse_blown fuse_blown pump_feed_chafed feed_chafed relay_coil_open driver_wire_open relay_driver_open"), func(_ string, _, s Signature) {
		require.InDelta(t, 0, s.Start, 0.05, s)
		require.InDelta(t, 0, s.Volts, 0.05, s)
		require.InDelta(t, 0, s.Flow, 0.05, s)
	})
	require.GreaterOrEqual(t, met, 4)
}

// A worse leak never holds more vacuum.
func worseLeaksHoldLess(t *testing.T, table *SignatureTable) {
	met := graded(table, ids(`manifold_line_split check_line_split supply_line_split valve_line_split reservoir_cracked diaphragm_torn tee_line_split
		diaphragm_1_torn diverter_torn diverter_line_split line_1_split line_2_split`), func(_ string, less, more Signature) {
		require.Less(t, more.Chamber, less.Chamber, more)
		require.LessOrEqual(t, more.Pulled, less.Pulled, more)
		require.LessOrEqual(t, more.Held, less.Held, more)
		require.LessOrEqual(t, more.Kept, less.Kept+0.1, more)
	})
	require.Equal(t, table.Probes.Chamber != "", met > 0)
}

// A worse obstruction, leak or drive never gives more air; where it sits tells on the gauge and the clamp.
func worseAirIsLess(t *testing.T, table *SignatureTable) {
	leaks := ids("pressure_pipe_cracked pipe_cracked branch_1_cracked branch_2_cracked pump_hose_cracked air_hose_cracked")
	before := ids("filter_blocked inlet_hose_flat")
	behind := ids("passages_carboned pressure_pipe_kinked pipe_kinked valve_stiff rail_carboned passages_1_carboned passages_2_carboned pump_hose_kinked air_hose_kinked")
	worn := ids("pump_worn blower_worn pump_rivets_out vanes_worn belt_slack pump_brushes_worn brushes_worn")
	ohms := ids("relay_contacts_burnt contacts_burnt pump_feed_corroded feed_corroded pump_ground_corroded ground_corroded")
	plugs := ids("pump_plug_corroded plug_burnt")
	motor := table.Probes.Motor != ""
	met := 0
	for _, list := range [][]string{leaks, before, behind, worn, ohms, plugs} {
		met += graded(table, list, func(_ string, less, more Signature) {
			require.LessOrEqual(t, more.Flow, less.Flow, more)
			require.Less(t, more.Flow, 0.96*table.Sound.Flow, more)
		})
	}
	require.Greater(t, met, 15)
	graded(table, append(append(leaks, before...), worn...), func(_ string, less, more Signature) {
		require.Less(t, more.Pipe, less.Pipe, "less pressure behind the pump: %s", more)
	})
	graded(table, behind, func(_ string, less, more Signature) { require.Greater(t, more.Pipe, less.Pipe, "more: %s", more) })
	if !motor {
		return
	}
	graded(table, leaks, func(_ string, less, more Signature) {
		require.Less(t, more.Amps, less.Amps, "a pump that blows into the open works less: %s", more)
	})
	for _, list := range [][]string{before, behind, ids("pump_worn blower_worn pump_rivets_out")} {
		graded(table, list, func(_ string, less, more Signature) {
			require.Greater(t, more.Amps, less.Amps, "works harder: %s", more)
		})
	}
	graded(table, ids("pump_brushes_worn brushes_worn"), func(_ string, less, more Signature) {
		require.Less(t, more.Amps, less.Amps, "worn brushes: less current at more volts: %s", more)
		require.Greater(t, more.Volts, less.Volts, more)
	})
	graded(table, ohms, func(_ string, less, more Signature) {
		require.Less(t, more.Amps, less.Amps, more)
		require.Less(t, more.Volts, less.Volts-1, "resistance before or behind the plug takes the pump's voltage: %s", more)
	})
	graded(table, plugs, func(_ string, less, more Signature) {
		require.Less(t, more.Amps, less.Amps, more)
		require.Greater(t, more.Volts, less.Volts, "in the plug itself the harness side does not see it: %s", more)
	})
}

// An exhaust leak is no fault of the air: only mixture, trim and light-off tell. A system that is not meant to run stays still.
func otherFaultsLeaveTheAir(t *testing.T, table *SignatureTable) {
	graded(table, ids("exhaust_leak"), func(_ string, less, more Signature) {
		require.InDelta(t, table.Sound.Flow, more.Flow, 0.2, more)
		require.InDelta(t, table.Sound.Amps, more.Amps, 0.1, more)
		require.Greater(t, more.LitAt, less.LitAt, more)
		require.Greater(t, more.Trim, less.Trim, more)
		if table.Car.Banks == 2 {
			require.InDelta(t, table.Sound.LitAt2, more.LitAt2, 0.5, "the leak is on the other bank: %s", more)
		}
	})
	met := graded(table, ids("coolant_reads_warm intake_reads_cold battery_weak"), func(_ string, _, s Signature) {
		require.InDelta(t, 0, s.Flow, 0.05, s)
		require.Zero(t, s.Lift, s)
		require.Empty(t, s.Codes, s)
		require.Zero(t, s.LitAt, "without the cold run's heat the catalyst takes its time: %s", s)
	})
	require.Positive(t, met)
}

// On car C a fault of one bank is the mirror of the other's.
func banksAreMirrors(t *testing.T, table *SignatureTable) {
	mirror := strings.NewReplacer("P0491", "P0492", "P0492", "P0491", "P0171", "P0174", "P0172", "P0175")
	for _, pair := range [][2]string{{"valve_1_stuck", "valve_2_stuck"}, {"passages_1_carboned", "passages_2_carboned"}, {"line_1_kinked", "line_2_kinked"},
		{"line_1_off", "line_2_off"}, {"line_1_split", "line_2_split"}, {"diaphragm_1_torn", "diaphragm_2_torn"}, {"branch_1_off", "branch_2_off"},
		{"branch_1_cracked", "branch_2_cracked"}, {"valve_1_stuck_partly", "valve_2_stuck_partly"}, {"valve_1_stuck_open", "valve_2_stuck_open"},
		{"reed_1_leaking", "reed_2_leaking"}, {"exhaust_leak", "exhaust_leak_2"}, {"reed_1_burnt_branch", "reed_2_burnt_branch"}} {
		met := 0
		for _, one := range table.Rows {
			if one.Fault != pair[0] {
				continue
			}
			met++
			two := table.at(t, pair[1], one.Severity)
			require.InDelta(t, one.Flow, two.Flow, 0.1, two)
			require.InDelta(t, one.Flow2, two.Flow-two.Flow2, 0.1, two)
			require.InDelta(t, one.LitAt, two.LitAt2, 0.3, two)
			require.InDelta(t, one.LitAt2, two.LitAt, 0.3, two)
			require.InDelta(t, one.Lambda, two.Lambda2, 0.02, two)
			require.InDelta(t, one.Trim, two.Trim2, 0.5, two)
			require.ElementsMatch(t, strings.Fields(mirror.Replace(one.Codes)), strings.Fields(two.Codes), two)
		}
		require.Positive(t, met, pair[0])
	}
}
