package bench_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// What current warms is found by hand: burnt contacts make the relay's place hot, a corroded plug the pump's and a bad ground the stud's,
// and only there. A sound car's are no more than warm.
func TestABadJointIsHotToTheHand(t *testing.T) {
	for fault, hot := range map[string]string{"relay_contacts_burnt": "fusebox", "pump_plug_corroded": "pump", "pump_ground_corroded": "battery", "": ""} {
		s := session(t, "quiet_pump", fault, 0.7)
		if fault == "" {
			s = session(t, "quiet_pump", "intake_reads_cold", 1) // an electrically sound car
		}
		play(t, s, "extract on\nstart\nwatch 60")
		for _, place := range []string{"fusebox", "pump", "battery"} {
			got := percept(t, do(t, s, "feel "+place), "heat").Word
			if place == hot {
				require.Equal(t, "hot", got, "%s at %s", fault, place)
			} else {
				require.NotEqual(t, "hot", got, "%s at %s", fault, place)
			}
		}
	}
}

// Places take on the coolant's warmth by where they are: the seat never, the manifold does.
func TestPlacesAreAsWarmAsTheyAreNear(t *testing.T) {
	s := session(t, "quiet_pump", "", 0)
	play(t, s, "extract on\nstart\nwatch 600")
	for place, want := range map[string]string{"dash": "cold", "battery": "cold", "fusebox": "cold", "manifold": "warm"} {
		require.Equal(t, want, percept(t, do(t, s, "feel "+place), "heat").Word, place)
	}
}

// The second bank has a sensor and a joint of its own: what they lack shows in its own trim, and what leaks is heard and seen there.
func TestTheSecondBankHasItsOwnSensorAndJoint(t *testing.T) {
	trims := func(fault string) (one, two float64) {
		s := session(t, "left_bank", fault, 1)
		f := play(t, s, "extract on\nscan on\nstart\nwatch 200\ndata")
		for _, p := range f.Percepts {
			switch p.Key {
			case "pid.06", "pid.07":
				one += p.Value
			case "pid.08", "pid.09":
				two += p.Value
			}
		}
		return one, two
	}
	for fault, second := range map[string]bool{"oxygen_biased": false, "oxygen_2_biased": true} {
		one, two := trims(fault)
		if !second {
			one, two = two, one
		}
		require.Less(t, two, -3.0, "%s: a sensor that reads rich takes fuel away from its bank", fault)
		require.InDelta(t, 0, one, 3, "%s: and from no other", fault)
	}
	s := session(t, "left_bank", "exhaust_leak_2", 1)
	play(t, s, "extract on\nstart\nwatch 5")
	require.NotEqual(t, "none", percept(t, do(t, s, "listen valve_2"), "hiss").Word)
	play(t, s, "stop")
	require.Equal(t, "soot streak at the exhaust manifold's joint", percept(t, do(t, s, "look valve_2"), "sign").Word)
}
