package cutaway_test

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/sim"
	"coldbay/sim/cutaway"
)

// seen reads channels of a film at a time.
func seen(f *cutaway.Film, at float64, channels ...string) (out []float64) {
	for _, id := range channels {
		out = append(out, f.Read(cutaway.Reading{Of: id, At: at}))
	}
	return out
}

// state is what the symbol of an item follows at a time.
func state(t *testing.T, f *cutaway.Film, item string, n int, at float64) float64 {
	t.Helper()
	items := f.Of().Items
	i := slices.IndexFunc(items, func(it cutaway.Item) bool { return it.ID == item })
	require.GreaterOrEqual(t, i, 0, item)
	return f.State(items[i], n, at)
}

func flow(t *testing.T, f *cutaway.Film, way string, at float64) float64 {
	t.Helper()
	ways := f.Of().Ways
	i := slices.IndexFunc(ways, func(w cutaway.Way) bool { return w.ID == way })
	require.GreaterOrEqual(t, i, 0, way)
	return f.Flow(ways[i], at)
}

func fault(id string) []sim.FaultChoice { return []sim.FaultChoice{{ID: id, Severity: 1}} }

// Car B's valve is raised by the pressure before it and by nothing else, and its output test works the pump alone.
func TestPressureOpensCarBsValve(t *testing.T) {
	s := sheetOf(t, "car_b")
	f := shoot(t, s, cutaway.Setup{})
	require.InDelta(t, 0, state(t, f, "air_valve", 0, 1), 1e-3)
	require.InDelta(t, 1, state(t, f, "air_valve", 0, 30), 1e-3)
	require.Greater(t, state(t, f, "air_valve", 1, 30), 6000.0, "Pa, its full opening")
	require.InDelta(t, 0, state(t, f, "air_valve", 0, 110), 1e-3)
	f = shoot(t, s, cutaway.Setup{WithoutAir: true})
	require.InDelta(t, 0, state(t, f, "air_valve", 0, 30), 1e-3)
	f = shoot(t, s, cutaway.Setup{Run: cutaway.Actuator})
	require.Greater(t, f.Read(cutaway.Reading{Of: "pump_current", At: 5}), 10.0)
	_, err := s.CarOf().Circuit.Node("sol_1")
	require.False(t, err, "no solenoid")
}

// Car C's banks have each their own valve, air, mixture and catalyst: what is wrong with one shows in that one alone.
func TestCarCsBanksAreTheirOwn(t *testing.T) {
	s := sheetOf(t, "car_c")
	f := shoot(t, s, cutaway.Setup{})
	air := seen(f, 30, "air_flow", "air_flow_1", "air_flow_2")
	require.InDelta(t, air[0], air[1]+air[2], 0.01)
	require.InDelta(t, air[1], air[2], 0.5)
	require.InDelta(t, 1, state(t, f, "air_valve_1", 0, 30), 1e-3)
	require.InDelta(t, 1, state(t, f, "air_valve_2", 0, 30), 1e-3)
	// What goes into the fork comes out of it.
	require.InDelta(t, flow(t, f, "pressure_pipe_b", 30), flow(t, f, "branch_1_a", 30)+flow(t, f, "branch_2_a", 30), 1e-9)
	f = shoot(t, s, cutaway.Setup{Faults: fault("valve_2_stuck")})
	require.InDelta(t, 1, state(t, f, "air_valve_1", 0, 30), 1e-3)
	require.InDelta(t, 0, state(t, f, "air_valve_2", 0, 30), 1e-3)
	v := seen(f, 30, "air_flow_1", "air_flow_2", "mixture_1", "mixture_2")
	require.Greater(t, v[0], 8.0)
	require.InDelta(t, 0, v[1], 0.1)
	require.Greater(t, v[2], 1.1)
	require.Less(t, v[3], 0.9)
	require.NotEqual(t, state(t, f, "catalyst_1", 0, 40), state(t, f, "catalyst_2", 0, 40))
	f = shoot(t, s, cutaway.Setup{Faults: fault("line_1_off")})
	require.InDelta(t, 0, state(t, f, "air_valve_1", 0, 30), 1e-3)
}

// Car D's belt turns the pump with the engine; the diverter sends the air to the exhaust while it is lifted and to the open before and after.
func TestCarDsDiverterSendsTheAir(t *testing.T) {
	s := sheetOf(t, "car_d")
	f := shoot(t, s, cutaway.Setup{})
	v := seen(f, 30, "air_flow", "dump_flow", "pump_speed", "engine_speed")
	require.Greater(t, v[0], 10.0)
	require.InDelta(t, 0, v[1], 0.1)
	require.InDelta(t, 1.25*v[3], v[2], 10)
	require.InDelta(t, 1, state(t, f, "diverter", 0, 30), 1e-3)
	v = seen(f, 128, "air_flow", "dump_flow", "pump_speed")
	require.InDelta(t, 0, v[0], 0.1)
	require.Greater(t, v[1], 10.0)
	require.Greater(t, v[2], 500.0)
	f = shoot(t, s, cutaway.Setup{WithoutAir: true})
	require.InDelta(t, 0, f.Read(cutaway.Reading{Of: "air_flow", At: 30}), 0.1)
	require.Greater(t, f.Read(cutaway.Reading{Of: "dump_flow", At: 30}), 10.0)
	f = shoot(t, s, cutaway.Setup{Faults: fault("belt_gone")})
	require.InDelta(t, 1, state(t, f, "belt_pump", 2, 30), 1e-9, "all slip: no belt is drawn")
	require.InDelta(t, 0, state(t, f, "belt_pump", 0, 30), 1e-6)
	_, err := cutaway.Shoot(context.Background(), s, cutaway.Setup{Run: cutaway.Actuator, Conditions: room}, nil)
	require.ErrorContains(t, err, `run "actuator" of car car_d; allowed are [cold_start two_trips]`)
}

// What a schematic leaves out, or claims of a car that has it not, is refused.
func TestSchematicsAreOfTheirCars(t *testing.T) {
	for _, x := range []struct{ car, name, from, to, want string }{
		{"car_c", "a valve left out", `air_valve_2`, `air_valve`, `"air_valve_2" of the car is nowhere shown`},
		{"car_d", "a dump left out", `open:div_dump`, `open:line_diverter.a`, `"div_dump" of the car is nowhere shown`},
		{"car_b", "a second bank", `"catalyst:5"`, `"catalyst_2:5"`, "the car has one bank"},
		{"car_b", "a bank's air", `of: air,`, `of: air_2,`, `there is no quantity "air_2"`},
		{"car_b", "a pipe sensor", `of: "pressure:gallery"`, `of: pipe_sensor`, "the car has no pressure sensor"},
		{"car_b", "what does not lift", `raised:air_valve`, `raised:passages`, "no part that lifts named"},
		{"car_b", "a bank of a pump", `id: air_pump, kind: pump,`, `id: air_pump, bank: 1, kind: pump,`, "a catalyst belongs to one of the car's 1 banks"},
	} {
		t.Run(x.name, func(t *testing.T) {
			s := sheetOf(t, x.car)
			data, err := os.ReadFile(sheetDir + x.car + ".yaml")
			require.NoError(t, err)
			require.Contains(t, string(data), x.from)
			_, err = cutaway.ParseSchematic(x.car+".yaml", []byte(strings.ReplaceAll(string(data), x.from, x.to)), s.CarOf())
			require.ErrorContains(t, err, x.want)
		})
	}
}
