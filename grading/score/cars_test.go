package score

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The orders on the cars B, C and D are solved from the prompt by what each car is there to teach: a breath into a valve that opens by
// pressure, one bank of two, a check valve without a scan tool.
func TestTheOtherCarsOrders(t *testing.T) {
	for _, id := range []string{"half_a_breath", "left_bank", "burnt_hose"} {
		t.Run(id, func(t *testing.T) {
			c := open(t, id)
			d := grade(t, c, perform(t, c.Config, lines(t, id+"_good")...))
			require.True(t, d.Passed, d.Verdict)
			require.GreaterOrEqual(t, mark(t, d, "economy").Score, 99, mark(t, d, "economy").Reason)
			for _, m := range []string{"evidence", "reasoning", "safety", "finish"} {
				require.Equal(t, 100, mark(t, d, m).Score, mark(t, d, m).Reason)
			}
			require.Empty(t, d.Hazards)
		})
	}
}

// Who mends only what the cause has harmed is told that it only seemed to mend, and why; who mends the cause is not.
func TestRepairsThatOnlySeemed(t *testing.T) {
	const seemed = "only seemed to mend, for the cause would do the same harm again"
	half := open(t, "second_pump")
	d := grade(t, half, perform(t, half.Config, lines(t, "second_pump_half")...))
	require.Contains(t, mark(t, d, "finish").Reason, "Air pump: it "+seemed+" (inlet hose off)")
	hose := open(t, "burnt_hose")
	d = grade(t, hose, perform(t, hose.Config, "repair air_hose", "extract on", "start", "watch 60", "stop", "finish air_hose_cracked unit air_hose"))
	require.Contains(t, mark(t, d, "finish").Reason, seemed+" (check valve lets exhaust back)")
	for id, script := range map[string]string{"second_pump": "second_pump_good", "burnt_hose": "burnt_hose_good"} {
		c := open(t, id)
		d := grade(t, c, perform(t, c.Config, lines(t, script)...))
		require.NotContains(t, mark(t, d, "finish").Reason, "seemed", script)
	}
}
