package engine

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Speed-density, one displacement per two revolutions: 2.0 l, volumetric efficiency 0.80, 293.15 K (worked out; the form is on an
// engine engineering page, "Volumetric efficiency and engine airflow").
func TestSpeedDensity(t *testing.T) {
	p := &Spec{Displacement: 2.0e-3, VeSlope: 0.80}
	for _, c := range []struct{ rpm, pa, gs float64 }{{700, 35000, 3.8820}, {1150, 40000, 7.2887}} {
		s := &State{W: c.rpm / Rpm}
		k, slope, offset := Breathing(p, s, 293.15)
		require.InEpsilon(t, c.gs, 1000*k*(slope*c.pa-offset), 1e-4)
	}
}

// Heat that warms coolant and block is heat that was given, until something is lost to the air.
func TestWarmingConservesHeat(t *testing.T) {
	p := &Spec{HeatCoolant: 2.5e4, HeatBlock: 6e4, Link: 400, ThermostatK: 363.15}
	s := NewState(p, 293.15)
	for range 600 {
		Warm(p, &s, 5000, 293.15, 0.1)
	}
	stored := (s.CoolantK-293.15)*p.HeatCoolant + (s.BlockK-293.15)*p.HeatBlock
	// Coolant and block are taken one after the other, which is off by what one step moves.
	require.InEpsilon(t, 5000*60, stored, 0.02)
}
