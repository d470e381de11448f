package bench_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios"
	"coldbay/sim/bench"
)

// Whatever the eyes get is told with a name: a wire rubbed bare in its feed, say, by the unit that it belongs to.
func TestWhatIsSeenHasAName(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	cars := map[string]bool{}
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		s, err := bench.NewLocal(lib.Config(o, "test"))
		require.NoError(t, err)
		c := s.Catalogue()
		named := map[string]bool{}
		for _, list := range [][]bench.Spot{c.Parts, c.Ports, c.Connectors, c.Clamps} {
			for _, p := range list {
				named[p.ID] = true
			}
		}
		for _, p := range c.Places {
			named[p.ID] = true
		}
		for _, h := range c.Hoses {
			named[h.ID] = true
		}
		for _, u := range c.Units {
			named[u.ID] = true
		}
		say := bench.NewSayer(c)
		for _, sign := range o.Car.Car.Bay.Signs {
			if !named[sign.Of] {
				i := slices.IndexFunc(c.Seen, func(p bench.UnitPart) bool { return p.ID == sign.Of })
				require.GreaterOrEqual(t, i, 0, "%s: %q is of %s, which has neither a name nor a unit", o.Car.Car.ID, sign.See, sign.Of)
				u := slices.IndexFunc(c.Units, func(u bench.UnitInfo) bool { return u.ID == c.Seen[i].Unit })
				require.GreaterOrEqual(t, u, 0, sign.Of)
				require.Equal(t, c.Units[u].Name, say.Name(sign.Of))
			}
		}
		cars[o.Car.Car.ID] = true
	}
	require.Len(t, cars, len(lib.CarIDs()))
}
