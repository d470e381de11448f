package sim

import (
	"math"
	"slices"
	"strings"
	"testing"

	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// signatures reads the car's faults at three severities, in the order of the car file.
func signatures(t *testing.T) (healthy Signature, rows []Signature) {
	t.Helper()
	c := carA(t)
	cond := Conditions{AmbientK: 293.15, AmbientPa: 101325}
	healthy, err := Sign(c, ProbesA, cond, "", 0)
	require.NoError(t, err)
	ids := []string{}
	fixed := map[string]bool{}
	for _, f := range c.Faults {
		ids = append(ids, f.ID)
		fixed[f.ID] = f.Fixed
	}
	for _, f := range c.Sets {
		ids = append(ids, f.ID)
		members, err := c.Members(f.ID)
		require.NoError(t, err)
		fixed[f.ID] = !slices.ContainsFunc(members, func(m *car.Fault) bool { return !m.Fixed })
	}
	for _, id := range ids {
		for _, severity := range []float64{0.3, 0.6, 1} {
			if fixed[id] && severity < 1 {
				continue
			}
			s, err := Sign(c, ProbesA, cond, id, severity)
			require.NoError(t, err)
			rows = append(rows, s)
		}
	}
	return healthy, rows
}

// felt says whether a mechanic would call two cars different: a tenth of the flow, 1 A, 0.5 V, 1.5 kPa in the pipe, 3 kPa of vacuum, a
// second of delay, another ohm, another code (common practice for what a second look at a gauge tells, no source).
func felt(a, b Signature) bool {
	off := func(x, y, by float64) bool { return x != y && !(math.Abs(x-y) < by) }
	return off(a.Flow, b.Flow, 0.1*max(a.Flow, b.Flow)) || off(a.Amps, b.Amps, 1) || off(a.Volts, b.Volts, 0.5) || off(a.Pipe, b.Pipe, 1.5) ||
		off(a.Chamber, b.Chamber, 3) || off(a.Opening, b.Opening, 1) || off(a.Pulled, b.Pulled, 3) || off(a.Held, b.Held, 3) ||
		off(a.CoilOhm, b.CoilOhm, 1) || off(a.Trim, b.Trim, 3) || off(a.Warm, b.Warm, 8) || off(a.Kept, b.Kept, 5) ||
		off(a.RestVac, b.RestVac, 3) || a.KeyOn != b.KeyOn || a.KeyOff != b.KeyOff || a.Codes != b.Codes
}

// Three severities of a fault are three different cars, and none of them is a healthy one.
func TestSeveritiesAreDifferentCars(t *testing.T) {
	healthy, rows := signatures(t)
	t.Log("\n" + SignatureHead + "\n" + healthy.String())
	for _, s := range rows {
		t.Log("\n" + s.String())
	}
	quiet := map[string]bool{
		"lines_swapped":    true, // opens all the same while the solenoid is energised; shows on the gauge at rest, and to the eye
		"valve_stuck_open": true, // shows to the eye, to a breath and to smoke
		"inlet_hose_off":   true, // breathes unfiltered; shows to the eye
	}
	for i, s := range rows {
		if !quiet[s.Fault] {
			require.True(t, felt(healthy, s), "like a healthy car: %s", s)
		}
		if i > 0 && rows[i-1].Fault == s.Fault {
			require.True(t, felt(rows[i-1], s), "%s\n%s", rows[i-1], s)
		}
	}
}

// Faults do what their names say.
func TestFaultsDoWhatTheirNamesSay(t *testing.T) {
	healthy, rows := signatures(t)
	at := func(id string, severity float64) Signature {
		for _, s := range rows {
			if s.Fault == id && s.Severity == severity {
				return s
			}
		}
		t.Fatalf("no %s at %g", id, severity)
		return Signature{}
	}
	torn := at("diaphragm_torn", 1)
	require.Less(t, torn.Held, 1.0, "a torn diaphragm holds no vacuum")
	require.Zero(t, torn.Lift, "and does not lift")
	faint := at("diaphragm_torn", 0.3)
	require.Greater(t, faint.Pulled, 30.0, "a small tear lets the hand pump pull")
	require.Less(t, faint.Held, faint.Pulled-20, "but bleeds off")
	require.InDelta(t, healthy.Lift, faint.Lift, 0.1, "and the engine still opens the valve")
	split := at("valve_line_split", 1)
	require.Less(t, split.Held, 1.0)
	require.Zero(t, split.Lift)

	slow := at("solenoid_clogged", 0.6)
	require.Greater(t, slow.Opening, 5.0, "a clogged supply port opens the valve late")
	require.InDelta(t, healthy.Held, slow.Held, 1, "the line beyond it holds")
	require.Zero(t, at("solenoid_clogged", 1).Lift)
	require.True(t, math.IsInf(at("solenoid_open", 1).CoilOhm, 1), "an open coil reads open")
	require.InDelta(t, 30, healthy.CoilOhm, 0.1)

	before := healthy
	for _, severity := range []float64{0.3, 0.6, 1} {
		coked, worn, burnt, ground := at("passages_carboned", severity), at("pump_worn", severity), at("relay_contacts_burnt", severity), at("pump_ground_corroded", severity)
		require.Less(t, coked.Flow, before.Flow, "narrow passages lower the flow")
		require.Greater(t, coked.Pipe, before.Pipe, "and raise the pressure before them")
		require.Greater(t, coked.Amps, healthy.Amps, "against which the pump works harder")
		require.Greater(t, worn.Amps, healthy.Amps, "a worn, tight pump takes more current")
		require.Less(t, worn.Flow, healthy.Flow, "and gives less air")
		require.Less(t, worn.Pipe, healthy.Pipe, "at less pressure")
		for _, s := range []Signature{burnt, ground} {
			require.Less(t, s.Volts, healthy.Volts-1, "resistance takes the pump's voltage")
			require.Less(t, s.Amps, healthy.Amps)
			require.Less(t, s.Flow, healthy.Flow)
		}
		require.InDelta(t, burnt.Amps, ground.Amps, 0.5, "equal ohms look alike until the drop is measured section by section")
		before = coked
	}
	require.Greater(t, at("pump_worn", 1).Amps, at("pump_worn", 0.6).Amps)

	off := at("pressure_pipe_off", 1)
	require.Less(t, off.Pipe, 4.0)
	require.Less(t, off.Amps, healthy.Amps, "a pump that blows into the open works less")
	require.Zero(t, math.Round(off.Flow*10))
	fuse := at("pump_fuse_blown", 1)
	require.InDelta(t, 0, fuse.Amps, 0.01)
	require.InDelta(t, 0, fuse.Volts, 0.01)
	stuck := at("valve_stuck", 1)
	require.InDelta(t, healthy.Held, stuck.Held, 3, "a stuck valve's diaphragm holds")
	require.Zero(t, stuck.Lift)
	require.Greater(t, stuck.Pipe, 12.0, "pressure against a shut valve")
	require.LessOrEqual(t, stuck.Pipe, 16.0)
	holds := map[string]bool{"solenoid_vent_clogged": true, "solenoid_leaks_through": true, "solenoid_stuck_on": true, "solenoid_driver_ground": true,
		"valve_line_clogged": true, "lines_swapped": true}
	asleep := map[string]bool{"coolant_reads_warm": true, "intake_reads_cold": true, "battery_weak": true}
	for _, s := range rows {
		if !holds[s.Fault] {
			require.Less(t, s.RestVac, 1.0, "the vent lets the chamber go: %s", s)
		}
		switch {
		case asleep[s.Fault]:
			require.InDelta(t, 0, s.Flow, 0.01, s)
			require.Empty(t, s.Codes, "a system that is not meant to run sets no code: %s", s)
		case s.Flow < 0.5*15.7 && !strings.HasSuffix(s.Fault, "clogged") && s.Fault != "solenoid_feed_comes_and_goes":
			require.Contains(t, s.Codes, "P0491", s)
		}
	}
	severe := []string{"pump_ground_corroded", "pump_feed_corroded", "pump_plug_corroded", "relay_contacts_burnt"}
	for _, id := range severe {
		require.Less(t, at(id, 1).Flow, 0.52*15.7, "at their worst they clearly cost more than the monitor lets pass: %s", id)
	}
	for code, ids := range map[string][]string{
		"P0413": {"solenoid_open", "solenoid_feed_open", "solenoid_fuse_blown", "solenoid_branch_open", "solenoid_driver_open"},
		"P0414": {"solenoid_driver_ground", "solenoid_driver_battery", "solenoid_shorted_turns"},
		"P0412": {"solenoid_driver_dead"},
		"P0418": {"relay_coil_open", "relay_coil_feed_open", "relay_driver_open", "relay_driver_dead"},
		"P2257": {"relay_driver_ground"}, "P2258": {"relay_driver_battery"},
		"P0411": {"oxygen_slow", "exhaust_leak"},
	} {
		for _, id := range ids {
			require.Contains(t, at(id, 1).Codes, code, id)
		}
	}
	require.Greater(t, at("reed_leaking", 0.3).Warm, 20.0, "exhaust that comes back warms the pipe")
	require.True(t, at("relay_welded", 1).KeyOff, "welded contacts run the pump with the key off")
	require.True(t, at("relay_driver_ground", 1).KeyOn, "a grounded driver wire runs it with the key on")
	require.False(t, at("relay_driver_ground", 1).KeyOff)
	require.Less(t, at("check_valve_open", 1).Kept, 5.0, "a check valve that stays open lets the reservoir go when the engine stops")
	require.Less(t, at("reservoir_cracked", 0.3).Kept, 5.0)
	require.Greater(t, healthy.Kept, 50.0)
	require.Less(t, at("oxygen_biased", 0.6).Trim, -10.0)
	require.Greater(t, at("exhaust_leak", 0.6).Trim, 10.0)
	require.Greater(t, at("manifold_line_split", 1).Trim, 7.0, "unmetered air")
}
