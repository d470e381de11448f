package dictionary

import (
	"errors"
	"io/fs"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios"
	"coldbay/sim/bench"
)

// Whoever works by the key sheet has nothing but the words to choose the branch by: the outcomes of a test are told apart in each
// dictionary that comes with the program.
func TestOutcomesAreToldApart(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		name, data, err := scenarios.ProceduresFile(o.Order.Car)
		require.NoError(t, err)
		p, err := Parse(name, data)
		require.NoError(t, err)
		file, packed, err := scenarios.DictionaryFile(id)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		require.NoError(t, err)
		d, err := Unpack(file, packed, Name(lib.Config(o, "test"), p.Source()))
		require.NoError(t, err)
		for _, x := range d.Tests {
			require.Len(t, slices.Compact(slices.Sorted(slices.Values(x.Outcomes))), len(x.Outcomes), "%s %s: %q", id, x.ID, x.Outcomes)
		}
	}
}

// Two outcomes that differ in nothing but when a thing was seen say when, or what was seen before what.
func TestLabelsSayHowOften(t *testing.T) {
	say := bench.NewSayer(bench.Catalogue{})
	off := bench.Percept{Sense: bench.Eye, Key: "sign", Of: "pipe", Word: "hangs free"}
	volts := func(v float64) bench.Percept {
		return bench.Percept{Sense: bench.Meter, Key: "volts", Of: "a/b", Value: v, Unit: "V"}
	}
	require.Equal(t, []string{"pipe: hangs free", "pipe: hangs free, then hangs free", "nothing unusual"},
		labels(say, []run{{seen: []bench.Percept{off}}, {seen: []bench.Percept{off, off}}, {}}))
	require.Equal(t, []string{"meter, red on a, black on b: 0 V, then 0 V, then 12 V", "meter, red on a, black on b: 0 V, then 12 V, then 12 V",
		"meter, red on a, black on b: 0 V and stays"},
		labels(say, []run{{seen: []bench.Percept{volts(0), volts(0), volts(12)}}, {seen: []bench.Percept{volts(0), volts(12), volts(12)}},
			{seen: []bench.Percept{volts(0), volts(0), volts(0)}}}))
	require.Equal(t, []string{"pipe: hangs free; meter, red on a, black on b: 0 V", "meter, red on a, black on b: 0 V; pipe: hangs free"},
		labels(say, []run{{seen: []bench.Percept{off, volts(0)}}, {seen: []bench.Percept{volts(0), off}}}))
}
