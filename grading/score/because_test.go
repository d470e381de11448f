package score

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/grading/belief"
	"coldbay/scenarios"
	"coldbay/sim/bench"
)

// Whatever a fault of a car that comes with the program changes is known for what it does, and there are words for it in each language.
func TestEveryFaultHasItsPhysics(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	cars := map[string]bool{}
	met := map[cause]bool{}
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		c := lib.Config(o, "").Car
		if cars[c.ID] {
			continue
		}
		cars[c.ID] = true
		w := wire(c)
		for i := range c.Faults {
			f := &c.Faults[i]
			list := w.causes(f)
			require.NotEmpty(t, list, "%s %s", c.ID, f.ID)
			for _, x := range list {
				met[x] = true
				require.NotEmpty(t, x.side(), "%s %s: %s", c.ID, f.ID, x)
			}
		}
	}
	require.Len(t, cars, 4)
	for _, lang := range messages.Languages() {
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		for x := range met {
			require.True(t, msg.Has("grade.because."+string(x)+".at_all"), "%s: %s", lang, x)
			require.True(t, msg.Has("grade.because.same."+x.side()), "%s: %s", lang, x)
		}
	}
}

// Causes are told from the networks: what a wire carries decides what its break does.
func TestCauses(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load("whole_board")
	require.NoError(t, err)
	c := lib.Config(o, "").Car
	w := wire(c)
	for id, want := range map[string]cause{
		"supply_line_off": "line_off", "pressure_pipe_off": "pipe_open", "inlet_hose_off": "inlet_open", "inlet_hose_flat": "inlet_clog",
		"filter_blocked": "inlet_clog", "passages_carboned": "carbon", "check_valve_shut": "line_clog", "reservoir_cracked": "line_leak",
		"pump_seized": "seized", "pump_fuse_blown": "feed_open", "pump_feed_chafed": "feed_short", "pump_ground_corroded": "joint",
		"pump_plug_corroded": "joint", "relay_contacts_burnt": "joint", "relay_coil_open": "control_open", "relay_coil_feed_open": "control_open",
		"relay_driver_open": "control_open", "relay_driver_dead": "control_open", "relay_driver_battery": "control_open", "relay_driver_ground": "relay_on",
		"relay_welded": "relay_on", "solenoid_open": "coil_open", "solenoid_shorted_turns": "coil_low", "solenoid_high_ohms": "coil_high",
		"solenoid_fuse_blown": "coil_open", "solenoid_feed_open": "coil_open", "solenoid_branch_open": "coil_open", "solenoid_driver_open": "coil_open",
		"solenoid_driver_dead": "coil_open", "solenoid_driver_ground": "driver_ground", "solenoid_driver_battery": "coil_open",
		"solenoid_feed_chafed": "coil_open", "valve_stuck": "valve_shut", "valve_stuck_open": "valve_open", "valve_stuck_partly": "valve_part",
		"coolant_reads_warm": "temperature", "oxygen_slow": "oxygen", "exhaust_leak": "exhaust_leak",
	} {
		f, ok := c.Fault(id)
		require.True(t, ok, id)
		require.Equal(t, []cause{want}, w.causes(f), id)
	}
}

// Each suspect that fell has one clause of physics, and what its car shares with a healthy one is told as that.
func TestStrikesTellTheirPhysics(t *testing.T) {
	d := script(t, "quiet_pump_good").d
	says := map[string]string{}
	for _, s := range d.Steps {
		for _, r := range s.Ruled {
			says[r.Suspect] = r.Says
			if !strings.Contains(r.Says, "could not have been done") {
				require.Contains(t, r.Says, " – ", r.Suspect)
			}
		}
	}
	require.Contains(t, says["diaphragm_torn"], "a fault on the vacuum side changes nothing here")
	require.Contains(t, says["pump_feed_corroded"], "loses volts at a bad joint")
}

// What a suspect's car would have shown sooner than the true one is not told as if it had never been seen.
func TestSoonerIsSaid(t *testing.T) {
	c := open(t, "quiet_pump")
	msg, err := messages.Load("en")
	require.NoError(t, err)
	falls := bench.Percept{Sense: bench.Ear, Key: "pump", Word: "falls silent"}
	g := &grader{Case: *c, findings: []bench.Finding{{}, {Percepts: []bench.Percept{falls}}}}
	require.True(t, g.soon(0, falls))
	require.False(t, g.soon(1, falls))
	st := belief.Strike{Predicted: falls}
	require.Contains(t, whySays(msg, c.Speaker, st, true), "it would have shown sooner than this car: the air pump falls silent")
	require.Contains(t, whySays(msg, c.Speaker, st, false), "the air pump falls silent")
}
