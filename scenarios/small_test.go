package scenarios_test

import (
	"context"
	"os"
	"testing"
	"testing/fstest"

	"coldbay/scenarios"
	"coldbay/sim"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// A fifth car comes from YAML text alone: it starts cold with its air, its faults act, and work on an order about it is graded by the same
// rules as any other.
func TestFifthCar(t *testing.T) {
	fsys := fstest.MapFS{}
	for name, file := range map[string]string{"tariff.yaml": "tariff.yaml", "cars/car_e.yaml": "testdata/small/cars/car_e.yaml", "orders/small_lamp.yaml": "testdata/small/orders/small_lamp.yaml"} {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		fsys[name] = &fstest.MapFile{Data: data}
	}
	lib, err := scenarios.Open(fsys)
	require.NoError(t, err)
	require.Equal(t, []string{"car_e"}, lib.CarIDs())
	c, err := lib.Car("car_e")
	require.NoError(t, err)

	cold := func(faults ...sim.FaultChoice) *sim.World {
		w, err := sim.New(c.Car, sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}, faults...)
		require.NoError(t, err)
		w.SetKey(true)
		w.Step(10)
		w.SetStarter(true)
		for i := 0; i < 50 && !w.Running(); i++ {
			w.Step(1)
		}
		w.SetStarter(false)
		require.True(t, w.Running())
		return w
	}
	w := cold()
	for w.RunS() < 20 {
		w.Step(1)
	}
	a, err := w.Amps("motor")
	require.NoError(t, err)
	require.InDelta(t, 15, a, 4, "pump current, A")
	require.InDelta(t, 8.4, w.AirFlow()*3600, 0.6, "air, kg/h")
	require.Greater(t, w.Lambda(), 1.05)
	for w.RunS() < 120 {
		w.Step(1)
	}
	require.NoError(t, w.Err())
	require.InDelta(t, 32, w.LitAt(), 8, "light-off, s")
	require.InDelta(t, 0, w.AirFlow()*3600, 0.05, "the air stops")
	stuck := cold(sim.FaultChoice{ID: "valve_stuck", Severity: 1})
	stuck.Step(200)
	require.InDelta(t, 0, stuck.AirFlow()*3600, 0.05)

	o, err := lib.Load("small_lamp")
	require.NoError(t, err)
	s, err := bench.NewLocal(lib.Config(o, "test"))
	require.NoError(t, err)
	act := func(line string) bench.Finding {
		a, err := bench.ParseLine(line)
		require.NoError(t, err)
		f, err := s.Do(context.Background(), a)
		require.NoError(t, err, line)
		return f
	}
	act("scan on")
	act("key on")
	codes := act("codes stored")
	require.Contains(t, words(codes), "P0491")
	act("meter volts motor_minus minus")
	drop := act("actuator pump")
	seen := false
	for _, p := range drop.Percepts {
		if p.Key == "volts" {
			seen = true
			require.Greater(t, p.Value, 3.0, "the ground takes the pump's voltage")
		}
	}
	require.True(t, seen)
}

func words(f bench.Finding) []string {
	var out []string
	for _, p := range f.Percepts {
		out = append(out, p.Word)
	}
	return out
}
