package score

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzParseRubric(f *testing.F) {
	data, err := os.ReadFile("../../scenarios/rubric.yaml")
	require.NoError(f, err)
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ParseRubric("f", data)
		if (r == nil) == (err == nil) {
			t.Fatal("a rubric or an error, not both and not neither")
		}
		if err != nil {
			return
		}
		w := r.Weights
		if w.Economy+w.Evidence+w.Reasoning+w.Safety+w.Finish != 100 {
			t.Fatal("weights that do not add up to 100")
		}
		for _, v := range []int{w.Economy, w.Evidence, w.Reasoning, w.Safety, w.Finish, r.Caps.WrongPart, r.Caps.Unverified, r.Caps.Unrepaired, r.Points.Prediction,
			r.Points.Named, r.Points.Proof, r.Points.Repaired, r.Points.Verified, r.Points.Restored, r.Points.Unproven, r.Points.Needless, r.Points.StruckTrue, r.Points.MinorRisk} {
			if v < 0 || v > 100 {
				t.Fatalf("%d points of 100", v)
			}
		}
	})
}
