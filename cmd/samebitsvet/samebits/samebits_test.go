package samebits

import (
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/tools/go/analysis/analysistest"
)

// What is refused and what is let through stands beside the source under testdata.
func TestAnalyzer(t *testing.T) {
	analysistest.Run(t, analysistest.TestData(), Analyzer, "coldbay/sim/dmath", "coldbay/sim/car", "coldbay/sim/air", "coldbay/grading")
}

func TestStepped(t *testing.T) {
	for path, want := range map[string]bool{
		"coldbay/sim": true, "coldbay/sim/air": true, "coldbay/sim/dmath": true, "coldbay/sim/carburettor": true,
		"coldbay/sim/car": false, "coldbay/sim/car/strict": false, "coldbay/sim/bench": false, "coldbay/grading/plan": false,
		"coldbay": false, "coldbay/simple": false, "math": false,
	} {
		require.Equal(t, want, Stepped(path), path)
	}
}
