package sim

import (
	"math"
	"strings"
	"testing"

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
		off(a.CoilOhm, b.CoilOhm, 1) || a.Codes != b.Codes
}

// Three severities of a fault are three different cars, and none of them is a healthy one.
func TestSeveritiesAreDifferentCars(t *testing.T) {
	healthy, rows := signatures(t)
	t.Log("\n" + SignatureHead + "\n" + healthy.String())
	for _, s := range rows {
		t.Log("\n" + s.String())
	}
	quiet := map[string]bool{
		"lines_swapped":  true, // opens all the same while the solenoid is energised; shows on the gauge at rest, and to the eye
		"inlet_hose_off": true, // breathes unfiltered; shows to the eye
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
	for _, s := range rows {
		require.Less(t, s.RestVac, 1.0, "the vent lets the chamber go: %s", s)
		if s.Flow < 0.6*15.7 && s.Flow >= 0 && s.Fault != "solenoid_clogged" {
			require.True(t, strings.Contains(s.Codes, "P0491") || s.Flow > 0.55*15.7, s.String())
		}
	}
}
