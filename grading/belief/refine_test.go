package belief

import (
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

func TestBetween(t *testing.T) {
	volts := func(v float64) bench.Percept {
		return bench.Percept{Sense: bench.Meter, Key: "volts", Of: "a/b", Value: v, Unit: "V"}
	}
	whine := func(w string) bench.Percept {
		return bench.Percept{Sense: bench.Ear, Key: "whine", Of: "pump", Word: w}
	}
	list := func(p ...bench.Percept) []bench.Percept { return p }
	for _, c := range []struct {
		name         string
		lo, hi, seen []bench.Percept
		want         bool
	}{
		{"a number between", list(volts(0.3)), list(volts(4)), list(volts(1.5)), true},
		{"a number of the one side", list(volts(0.3)), list(volts(4)), list(volts(4.2)), true},
		{"beyond both", list(volts(0.3)), list(volts(1.5)), list(volts(6)), false},
		{"below both", list(volts(1.5)), list(volts(4)), list(volts(0.01)), false},
		{"of the other sign", list(volts(0.3)), list(volts(1.5)), list(volts(-1.2)), false},
		{"no difference to split", list(volts(0.3)), list(volts(0.3)), list(volts(6)), false},
		{"they agree, and not with it", list(whine("normal"), volts(0.3)), list(whine("normal"), volts(4)), list(whine("slow"), volts(1.5)), false},
		{"a word may be between", list(whine("normal")), list(whine("silent")), list(whine("slow")), true},
		{"something shows on one side only", list(whine("normal")), list(whine("normal"), volts(4)), list(volts(4)), true},
	} {
		require.Equal(t, c.want, between(c.lo, c.hi, c.seen), c.name)
		require.Equal(t, c.want, between(c.hi, c.lo, c.seen), c.name)
	}
}
