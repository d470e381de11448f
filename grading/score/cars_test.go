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
