package schematic_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios"
	"coldbay/scenarios/drawing"
	"coldbay/scenes/schematic"
	"coldbay/sim/bench"
)

// Every shipped car can be drawn from its data alone: each thing once, at its place, and both diagrams hold what the car has.
func TestDrawsEveryShippedCar(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	require.Greater(t, len(lib.CarIDs()), 0)
	for _, id := range lib.CarIDs() {
		c, err := lib.Car(id)
		require.NoError(t, err)
		s, err := bench.NewLocal(bench.Config{Car: c.Car, Layout: c.Layout, Tariff: lib.Tariff(), Order: &bench.Order{ID: "x", Car: id, Truth: bench.Truth{Fault: c.Car.NoFault.ID}}})
		require.NoError(t, err)
		cat := s.Catalogue()
		d := schematic.Draw(id, &cat, c.Car)
		require.Len(t, d.Views, len(cat.Places), id)
		count := func(place, what string, pick func(*drawing.View) []drawing.Spot) {
			v, ok := d.View(place)
			require.True(t, ok, place)
			n := 0
			for _, x := range pick(v) {
				if x.ID == what {
					n++
				}
			}
			require.Equal(t, 1, n, "%s: %s at %s", id, what, place)
		}
		for _, g := range []struct {
			list []bench.Spot
			pick func(*drawing.View) []drawing.Spot
		}{
			{cat.Terminals, func(v *drawing.View) []drawing.Spot { return v.Terminals }},
			{cat.Ports, func(v *drawing.View) []drawing.Spot { return v.Ports }},
			{cat.Clamps, func(v *drawing.View) []drawing.Spot { return v.Clamps }},
		} {
			for _, x := range g.list {
				count(x.Place, x.ID, g.pick)
			}
		}
		for _, h := range cat.Hoses {
			v, _ := d.View(h.PlaceA)
			found := false
			for _, x := range v.Hoses {
				found = found || x.ID == h.ID
			}
			require.True(t, found, "%s: hose %s at %s", id, h.ID, h.PlaceA)
		}
		air, ok := d.Sheet("air")
		require.True(t, ok)
		require.GreaterOrEqual(t, len(air.Lines), len(cat.Hoses), id)
		wiring, ok := d.Sheet("wiring")
		require.True(t, ok)
		loads := 0
		for _, x := range wiring.Items {
			if x.Kind == "motor" || x.Kind == "coil" {
				loads++
			}
			require.NotEmpty(t, x.Label, "%s: %s", id, x.Kind)
		}
		want := 0
		for _, e := range c.Car.Electrical.Elements {
			if e.Kind == "motor" || e.Kind == "coil" || e.Kind == "relay" {
				want++
			}
		}
		require.Equal(t, want, loads, id)
	}
}
