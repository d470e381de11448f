package sim

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// quickStart is a cold start until the air has run for a moment.
func quickStart(c *car.Car) error {
	w, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325})
	if err != nil {
		return err
	}
	w.SetKey(true)
	w.Step(2)
	w.SetStarter(true)
	for i := 0; i < 20 && !w.Running() && w.Err() == nil; i++ {
		w.Step(1)
	}
	w.SetStarter(false)
	w.Step(24)
	return w.Err()
}

// Whatever a car file may say of car A's networks, its world lives through a cold start; of the other cars it is what kinds of parts A does not
// have. Both ends of every range are tried, but for those that don't fit the part's other numbers: they are refused.
func TestRangeEnds(t *testing.T) {
	tried, unfit := 0, []string{}
	for id, kinds := range map[string][]string{"car_a": nil, "car_b": {"pressure_valve"}, "car_d": {"diverter", "belt_pump"}} {
		c := carFile(t, id)
		for i, p := range c.Params {
			owner, name, _ := strings.Cut(p.Name, ".")
			k := c.Air.Part(owner)
			if kinds != nil && (k < 0 || !slices.Contains(kinds, c.Pneumatic.Parts[k].Kind)) {
				continue
			}
			low, top, ok := c.Span(p.Name)
			if !ok {
				continue
			}
			for n, v := range []float64{low, top} {
				c.Params[i].Value = v
				if c.Air.Fits(values(c)) != nil {
					unfit = append(unfit, c.ID+" "+p.Name+" "+[]string{"low", "top"}[n])
					require.Contains(t, []string{"lift0_pa", "lift1_pa", "open0_pa", "open1_pa", "dia_m2", "lift_m"}, name)
					continue
				}
				require.NoError(t, quickStart(c), "%s: %s = %g", id, p.Name, v)
				tried++
			}
			c.Params[i].Value = p.Value
		}
	}
	require.Greater(t, tried, 300)
	slices.Sort(unfit)
	require.Equal(t, []string{"car_a air_valve.dia_m2 top", "car_a air_valve.lift0_pa top", "car_a air_valve.lift1_pa low", "car_a air_valve.lift_m top",
		"car_b air_valve.open0_pa top", "car_b air_valve.open1_pa low",
		"car_d diverter.dia_m2 top", "car_d diverter.lift0_pa top", "car_d diverter.lift1_pa low", "car_d diverter.lift_m top"}, unfit)
}

// The same at the limits of what must fit, and with the least volumes; they stand in the file only.
func TestRangeEndsOfTheFile(t *testing.T) {
	text, err := os.ReadFile("../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	with := func(old, now string) {
		require.Equal(t, 1, len(regexp.MustCompile(regexp.QuoteMeta(old)).FindAll(text, -1)), old)
		c, err := car.Parse("car_a.yaml", []byte(strings.Replace(string(text), old, now, 1)))
		require.NoError(t, err, now)
		require.NoError(t, quickStart(c), now)
	}
	with("lift1_pa: 32000", "lift1_pa: 18100")
	with("lift0_pa: 18000", "lift0_pa: 31900")
	for _, id := range []string{"manifold", "reservoir", "airbox", "scroll", "gallery", "line_manifold", "line_supply", "pressure_pipe"} {
		at := regexp.MustCompile(`\{id: ` + id + `, m3: [0-9.e-]+`).FindString(string(text))
		for _, m3 := range []string{"1e-8", "0.05"} {
			with(at, "{id: "+id+", m3: "+m3)
		}
	}
	chamber := regexp.MustCompile(`\{id: chamber, m3: [0-9.e-]+`).FindString(string(text))
	with(chamber, "{id: chamber, m3: 8.0001e-6")
	with(chamber, "{id: chamber, m3: 0.05")
}

func values(c *car.Car) []float64 {
	par := make([]float64, len(c.Params))
	for i := range c.Params {
		par[i] = c.Params[i].Value
	}
	return par
}
