package sim

import (
	"os"
	"testing"

	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// Where a mechanic would read the four cars. What a car does not have reads nothing: car B has no vacuum and no solenoid, car D no motor.
// Car C's chamber is that of its first bank; its line leads to the chambers of both.
func TestProbesOfTheCars(t *testing.T) {
	for id, want := range map[string]SignatureProbes{
		"car_a": {Motor: "pump_motor", PlugPlus: "pump_1h", PlugMinus: "pump_2h", Pipe: "scroll", Chamber: "chamber", Reservoir: "reservoir",
			Valve: "air_valve", LineEnd: "line_valve.b", CoilPlug: "sol_plug", CoilPlus: "sol_1", CoilMinus: "sol_2"},
		"car_b": {Motor: "blower", PlugPlus: "mot_1h", PlugMinus: "mot_2h", Pipe: "scroll", Valve: "air_valve"},
		"car_c": {Motor: "pump_motor", PlugPlus: "pump_1h", PlugMinus: "pump_2h", Pipe: "scroll", Chamber: "chamber", Reservoir: "reservoir",
			Valve: "air_valve", Chamber2: "chamber_2", Valve2: "air_valve_2", LineEnd: "line_tee.b", CoilPlug: "sol_plug", CoilPlus: "sol_1", CoilMinus: "sol_2"},
		"car_d": {Pipe: "outlet", Chamber: "chamber", Valve: "diverter", LineEnd: "line_diverter.b",
			CoilPlug: "sol_plug", CoilPlus: "sol_1", CoilMinus: "sol_2"},
	} {
		require.Equal(t, want, ProbesOf(carFile(t, id)), id)
	}
}

// A car that someone adds is read without a line of Go.
func TestProbesOfAnotherCar(t *testing.T) {
	data, err := os.ReadFile("../scenarios/testdata/small/cars/car_e.yaml")
	require.NoError(t, err)
	c, err := car.Parse("car_e.yaml", data)
	require.NoError(t, err)
	p := ProbesOf(c)
	require.Equal(t, SignatureProbes{Motor: "motor", PlugPlus: "motor_plus", PlugMinus: "motor_minus", Pipe: "scroll", Valve: "valve"}, p)
	choices, err := Catalogue(c)
	require.NoError(t, err)
	table, err := SignAll(t.Context(), c, p, ReferenceConditions(), choices, InTurn)
	require.NoError(t, err)
	require.Len(t, table.Rows, 6, "three that are there or not, one at three severities")
	require.Greater(t, table.Sound.Amps, 10.0)
	require.Greater(t, table.Sound.Flow, 5.0)
	require.InDelta(t, 0, table.at(t, "pipe_off", 1).Flow, 0.05)
	require.InDelta(t, 0, table.at(t, "fuse_blown", 1).Volts, 0.05)
	require.Less(t, table.at(t, "ground_corroded", 1).Volts, table.at(t, "ground_corroded", 0.3).Volts)
	writtenSanely(t, table)
}
