package sim

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the tables of signatures under testdata/signatures anew")

// builtin are the cars whose tables are kept.
var builtin = []string{"car_a", "car_b", "car_c", "car_d"}

// tables reads the signatures of the built-in cars, once for all the tests that hang on them.
func tables(t *testing.T) map[string]*SignatureTable {
	t.Helper()
	all := map[string]*SignatureTable{}
	for _, id := range builtin {
		c := carFile(t, id)
		choices, err := Catalogue(c)
		require.NoError(t, err)
		all[id], err = SignAll(t.Context(), c, ProbesOf(c), ReferenceConditions(), choices, InTurn)
		require.NoError(t, err)
	}
	return all
}

// at finds a row.
func (s *SignatureTable) at(t *testing.T, id string, severity float64) Signature {
	t.Helper()
	for _, r := range s.Rows {
		if r.Fault == id && r.Severity == severity {
			return r
		}
	}
	t.Fatalf("no %s at %g in the table of %s", id, severity, s.Car.ID)
	return Signature{}
}

func TestSignatures(t *testing.T) {
	all := tables(t)
	for _, id := range builtin {
		t.Run("kept "+id, func(t *testing.T) { keptTable(t, all[id]) })
		t.Run("apart "+id, func(t *testing.T) { severitiesAreDifferentCars(t, all[id]) })
		t.Run("written "+id, func(t *testing.T) { writtenSanely(t, all[id]) })
	}
	for name, rule := range map[string]func(*testing.T, *SignatureTable){
		"bounds": boundsHold, "untouched": restIsSound, "seized": seizedPumpBlowsItsFuse, "leaks": worseLeaksHoldLess,
		"air": worseAirIsLess, "others": otherFaultsLeaveTheAir,
	} {
		for _, id := range builtin {
			t.Run(name+" "+id, func(t *testing.T) { rule(t, all[id]) })
		}
	}
	t.Run("mirrors", func(t *testing.T) { banksAreMirrors(t, all["car_c"]) })
	t.Run("names car_a", func(t *testing.T) { faultsDoWhatTheirNamesSay(t, all["car_a"]) })
}

// keptTable compares the table with the one in testdata, which people read.
func keptTable(t *testing.T, table *SignatureTable) {
	var b bytes.Buffer
	require.NoError(t, table.WriteText(&b))
	name := filepath.Join("..", "testdata", "signatures", table.Car.ID+".txt")
	if *update {
		require.NoError(t, os.WriteFile(name, b.Bytes(), 0o644))
	}
	kept, err := os.ReadFile(name)
	require.NoError(t, err, "go test ./sim -run TestSignatures -update writes it")
	require.Equal(t, string(kept), b.String(), "go test ./sim -run TestSignatures -update writes it anew; read what changed")
}

// apart says whether gauges or codes tell two signatures apart: nobody sees the valve's lift, and a trim that swings or a flat battery
// is told by what comes with it.
func (s *SignatureTable) apart(a, b Signature) bool {
	return slices.ContainsFunc(Apart(s.Car, s.Probes, a, b), func(k SignatureColumn) bool {
		return k.ID != "lift_mm" && k.ID != "trim_swing_percent" && k.ID != "no_start"
	})
}

// Three severities of a fault are three different cars, and none of them is a sound one.
func severitiesAreDifferentCars(t *testing.T, table *SignatureTable) {
	quiet := map[string]string{
		"car_a lines_swapped":    "opens all the same while the solenoid is energised; shows on the gauge at rest, and to the eye",
		"car_a valve_stuck_open": "to the eye, to a breath and to smoke",
		"car_a inlet_hose_off":   "breathes unfiltered; to the eye",
		"car_b inlet_off":        "to the eye",
		"car_c inlet_hose_off":   "to the eye",
		"car_d inlet_hose_off":   "to the eye",
		"car_d water_in_pump":    "to the ear: it gurgles; and to the eye",
		"car_d check_leaks_back": "to the eye, and to a hand at the check valve's inlet",
	}
	for i, s := range table.Rows {
		if quiet[table.Car.ID+" "+s.Fault] == "" && !table.apart(table.Sound, s) {
			t.Errorf("like a sound car: %s", s)
		}
		if quiet[table.Car.ID+" "+s.Fault] == "" && i > 0 && table.Rows[i-1].Fault == s.Fault && !table.apart(table.Rows[i-1], s) {
			t.Errorf("alike:\n%s\n%s", table.Rows[i-1], s)
		}
	}
}

// Faults do what their names say.
func faultsDoWhatTheirNamesSay(t *testing.T, table *SignatureTable) {
	healthy, rows := table.Sound, table.Rows
	at := func(id string, severity float64) Signature { return table.at(t, id, severity) }
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
