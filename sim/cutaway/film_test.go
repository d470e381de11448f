package cutaway_test

import (
	"context"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/sim"
	"coldbay/sim/car"
	"coldbay/sim/cutaway"
)

const (
	sheetFile = "../../scenarios/lessons/schematics/car_a.yaml"
	sheetDir  = "../../scenarios/lessons/schematics/"
)

var room = sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}

func carA(t testing.TB) *car.Car {
	t.Helper()
	data, err := os.ReadFile("../../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	c, err := car.Parse("car_a.yaml", data)
	require.NoError(t, err)
	return c
}

func sheet(t testing.TB) *cutaway.Schematic {
	t.Helper()
	data, err := os.ReadFile(sheetFile)
	require.NoError(t, err)
	s, err := cutaway.ParseSchematic("car_a.yaml", data, carA(t))
	require.NoError(t, err)
	return s
}

// sheetOf is the schematic of a car that comes with the program.
func sheetOf(t testing.TB, id string) *cutaway.Schematic {
	t.Helper()
	data, err := os.ReadFile("../../scenarios/cars/" + id + ".yaml")
	require.NoError(t, err)
	c, err := car.Parse(id+".yaml", data)
	require.NoError(t, err)
	data, err = os.ReadFile(sheetDir + id + ".yaml")
	require.NoError(t, err)
	s, err := cutaway.ParseSchematic(id+".yaml", data, c)
	require.NoError(t, err)
	return s
}

func shoot(t testing.TB, s *cutaway.Schematic, set cutaway.Setup) *cutaway.Film {
	t.Helper()
	if set.Run == "" {
		set.Run = cutaway.ColdStart
	}
	if set.Conditions == (sim.Conditions{}) {
		set.Conditions = room
	}
	f, err := cutaway.Shoot(context.Background(), s, set, nil)
	require.NoError(t, err)
	return f
}

// A film has the very numbers of a world that is stepped by hand through the same start.
func TestFilmIsTheWorld(t *testing.T) {
	s := sheet(t)
	f := shoot(t, s, cutaway.Setup{Faults: []sim.FaultChoice{{ID: "pump_ground_corroded", Severity: 0.6}}})
	w, err := sim.New(s.CarOf(), room, sim.FaultChoice{ID: "pump_ground_corroded", Severity: 0.6})
	require.NoError(t, err)
	w.SetKey(true)
	w.Step(10)
	w.SetStarter(true)
	for !w.Running() {
		w.Step(1)
	}
	w.SetStarter(false)
	w.Step(400 - int(w.Time()*10+0.5))
	require.InDelta(t, 40, w.Time(), 1e-9)
	volts, err := w.Volts("pump_2h", "bat_neg")
	require.NoError(t, err)
	for id, want := range map[string]float64{"air_flow": w.AirFlow() * 3600, "pump_current": w.MotorAmps("pump_motor"), "drop_ground": volts,
		"catalyst_front": w.CatalystK(0) - 273.15, "engine_speed": w.Rpm(), "mixture": w.Lambda(), "valve_lift": w.ValveLift("air_valve") * 1000} {
		require.InDelta(t, want, f.Read(cutaway.Reading{Of: id, At: 40}), math.Abs(want)*1e-6+1e-9, id)
	}
	require.InDelta(t, 40-w.RunS(), f.Started, 1e-9)
}

// Air that is drawn along a line is neither made nor lost on its way: what the two halves of each hose carry differs by what leaks in
// between, and by what the hose itself stores, which is a hundredth of the rest.
func TestFlowsBalance(t *testing.T) {
	s := sheet(t)
	f := shoot(t, s, cutaway.Setup{Faults: []sim.FaultChoice{{ID: "valve_line_split", Severity: 0.5}}})
	ways := map[string]cutaway.Way{}
	for _, w := range s.Ways {
		ways[w.ID] = w
	}
	leak := s.Leaks[0]
	for _, at := range []float64{20, 40, 60} {
		a, b, in := f.Flow(ways["valve_line_a"], at), f.Flow(ways["valve_line_b"], at), -f.Leak(leak, at)
		require.Greater(t, in, 1e-6, "the split draws air in")
		require.InDelta(t, a+in, b, 0.02*in+1e-8)
		sa, sb := f.Flow(ways["supply_line_a"], at), f.Flow(ways["supply_line_b"], at)
		require.InDelta(t, sb, sa, 0.02*in+1e-8)
		require.InDelta(t, sb, f.Flow(ways["check_line_b"], at), 0.05*in, "a steady leak is drawn through the check valve")
	}
	// Exhaust is what went in: engine air, fuel, and the secondary air.
	for _, at := range []float64{20, 60, 100} {
		got := f.Read(cutaway.Reading{Of: "exhaust_flow", At: at})
		in := f.Read(cutaway.Reading{Of: "engine_air", At: at}) + f.Read(cutaway.Reading{Of: "air_flow", At: at})
		require.InDelta(t, in*1.06, got, in*0.05)
	}
}

// With the fuse out there is no secondary air, and the catalyst lights off at least twice as late.
func TestWithoutAir(t *testing.T) {
	s := sheet(t)
	with, without := shoot(t, s, cutaway.Setup{}), shoot(t, s, cutaway.Setup{WithoutAir: true})
	require.InDelta(t, 15.7, with.Read(cutaway.Reading{Of: "air_flow", At: 30}), 0.5)
	require.InDelta(t, 0, without.Read(cutaway.Reading{Of: "air_flow", At: 30}), 0.5)
	require.Greater(t, without.LightOff, 1.9*with.LightOff)
	require.True(t, without.Has("P0491", false))
	require.Empty(t, with.Codes)
	peak, at := with.High("pump_current")
	require.InDelta(t, 109, peak, 6)
	require.InDelta(t, 3.2, at, 0.5)
}

func TestRuns(t *testing.T) {
	s := sheet(t)
	f := shoot(t, s, cutaway.Setup{Run: cutaway.Actuator})
	require.InDelta(t, 23.6, f.Read(cutaway.Reading{Of: "pump_current", At: 6}), 1)
	require.Zero(t, f.Read(cutaway.Reading{Of: "engine_speed", At: 6}))
	require.True(t, math.IsNaN(f.Started))
	f = shoot(t, s, cutaway.Setup{Run: cutaway.TwoTrips, Faults: []sim.FaultChoice{{ID: "pump_fuse_blown", Severity: 1}}})
	require.True(t, f.Has("P0491", true), "stored on the second trip in a row: %v", f.Codes)
	require.InDelta(t, 20, f.Read(cutaway.Reading{Of: "coolant", At: 0}), 3)
}

// The work yields often and ends when it is told to.
func TestShootYieldsAndStops(t *testing.T) {
	s := sheet(t)
	ctx, cancel := context.WithCancel(context.Background())
	n := 0
	_, err := cutaway.Shoot(ctx, s, cutaway.Setup{Run: cutaway.ColdStart, Conditions: room}, func() {
		if n++; n == 50 {
			cancel()
		}
	})
	require.ErrorIs(t, err, context.Canceled)
	require.Equal(t, 50, n)
}

func TestSchematicErrors(t *testing.T) {
	data, err := os.ReadFile(sheetFile)
	require.NoError(t, err)
	c := carA(t)
	for _, x := range []struct{ name, from, to, want string }{
		{"format", "coldbay-cutaway/1", "coldbay-cutaway/9", `car_a.yaml:3: key "format": found "coldbay-cutaway/9"`},
		{"car", "car: car_a", "car: car_z", `key "car": found "car_z"`},
		{"unknown key", "field:", "feild:", `key "feild": unknown key; did you mean "field"?`},
		{"quantity", "of: engine_air,", "of: engine_ari,", `key "channels[1].of": there is no quantity "engine_ari"`},
		{"thing", "flow:filter", "flow:filtre", `key "ways[8].flow": "flow:filtre": the car has no pneumatic part "filtre"`},
		{"sum of kinds", "engine_air + fuel", "engine_air + mixture", "adds quantities of different kinds"},
		{"sum without sign", "engine_air + fuel", "engine_air fuel", "want + or - before"},
		{"medium", "medium: gas, path: [[880, 242]", "medium: gravy, path: [[880, 242]", `found "gravy"`},
		{"flow of a wire", `flow: "amps:w_gnd"`, `flow: "air"`, "which is no flow of current"},
		{"unit", "unit: rpm, low: 0, high: 15000", "unit: kPa, low: 0, high: 15000", "does not measure"},
		{"outside", "at: [640, 432]", "at: [640, 632]", "outside the field"},
		{"kind", "kind: catalyst", "kind: catalist", `did you mean "catalyst"?`},
		{"states", `states: ["pulled:pump_relay"]`, "states: []", "a relay has 1"},
		{"shows", "shows: [battery_voltage]", "shows: [battery_volts]", `found "battery_volts"`},
		{"view", "{id: all,", "{id: any,", `there must be a view "all"`},
	} {
		t.Run(x.name, func(t *testing.T) {
			require.Contains(t, string(data), x.from)
			_, err := cutaway.ParseSchematic("car_a.yaml", []byte(strings.Replace(string(data), x.from, x.to, 1)), c)
			require.ErrorContains(t, err, x.want)
			require.Regexp(t, `^car_a.yaml:\d+: `, err.Error())
		})
	}
}

func TestReadingCheck(t *testing.T) {
	s := sheet(t)
	require.NoError(t, cutaway.Reading{Of: "air_flow", At: 30}.Check(s, cutaway.ColdStart))
	require.NoError(t, cutaway.Reading{Of: "code:P0491"}.Check(s, cutaway.ColdStart))
	require.ErrorContains(t, cutaway.Reading{Of: "air_flw"}.Check(s, cutaway.ColdStart), `found "air_flw"`)
	require.ErrorContains(t, cutaway.Reading{Of: "air_flow", At: 200}.Check(s, cutaway.ColdStart), "the film has 130 s")
	require.ErrorContains(t, cutaway.Reading{Of: "air_flow", Take: "median"}.Check(s, cutaway.ColdStart), `found "median"`)
	require.ErrorContains(t, cutaway.Reading{Of: "code:P49"}.Check(s, cutaway.ColdStart), "five characters")
}

func BenchmarkShoot(b *testing.B) {
	s := sheet(b)
	for b.Loop() {
		shoot(b, s, cutaway.Setup{})
	}
}
