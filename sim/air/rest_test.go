package air

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Without a difference of pressures the flow function takes a short cut, which gives what the long way gives to the bit.
func TestPsiAtNoDifference(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		laminar := math.Pow(10, rapid.Float64Range(-9, 0).Draw(t, "log laminar"))
		s := float64(laminar * laminar)
		q := 1 / math.Sqrt(math.Sqrt(s))
		psi, slope := Psi(0, laminar)
		require.Equal(t, math.Float64bits(0), math.Float64bits(psi))
		require.Equal(t, math.Float64bits(psiTable[0]*q), math.Float64bits(slope))
	})
}
