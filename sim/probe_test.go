package sim

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Following a car without asking for anything finer is stepping it: the same bits, running and resting.
func TestFollowIsStep(t *testing.T) {
	drive := func(step func(*World, int)) *World {
		w := newWorld(t, FaultChoice{"pump_worn", 0.6})
		w.SetKey(true)
		step(w, 10)
		w.SetStarter(true)
		step(w, 30)
		w.SetStarter(false)
		step(w, 1000)
		w.SetKey(false)
		step(w, 3000)
		require.NoError(t, w.Err())
		return w
	}
	a := drive(func(w *World, n int) { w.Step(n) })
	seconds := 0.0
	b := drive(func(w *World, n int) {
		w.Follow(n, Refinement{See: func(dt float64) { seconds += dt }})
	})
	require.Equal(t, a.Hash(), b.Hash())
	require.InDelta(t, 404, seconds, 1e-6, "every stride was shown")
	c := drive(func(w *World, n int) { w.Follow(n, Refinement{FastMS: 2, Slow: 2}) })
	require.NotEqual(t, a.Hash(), c.Hash(), "a finer step is another computation")
	require.Equal(t, a.Time(), c.Time())
}

func TestProbe(t *testing.T) {
	w := newWorld(t)
	motor, part := w.PumpMotor()
	require.Equal(t, []string{"pump_motor", "air_pump"}, []string{motor, part})
	start(t, w)
	w.Step(200)
	in, err := w.PartFlow("filter")
	require.NoError(t, err)
	require.InEpsilon(t, w.AirFlow(), in, 1e-3, "what the pump draws in, it pushes out")
	require.InDelta(t, amps(t, w, motor), w.MotorAmps(motor), 1e-9)
	coil, err := w.CoilAmps("pump_relay")
	require.NoError(t, err)
	// Twenty seconds of 2.2 W into 12 J/K: 3.5 K on 80 ohm of copper, with 0.4 ohm of wire and driver.
	require.InDelta(t, 13.5/(80*(1+0.00393*3.5)+0.4), math.Abs(coil), 0.002)
	require.Positive(t, w.PumpTorque(motor))
	require.True(t, w.PumpCommand() && w.ValveCommand())
	require.Greater(t, w.CatalystK(0), w.CatalystK(99), "the front warms first")
	require.Equal(t, w.CatalystK(9), w.CatalystK(99))
	require.InDelta(t, w.SeenRatio(), w.Lambda(), 0.02)
	require.Less(t, w.Charge(), 1.0)
	require.NoError(t, w.SetParam("j_gnd.ohm", 0.3))
	require.Equal(t, []string{"pump_ground"}, w.UnitsAtFault())
	v, ok := w.Healthy("j_gnd.ohm")
	require.True(t, ok)
	require.Equal(t, 1e-5, v)
	require.Error(t, w.SetParam("none.ohm", 1))
	_, err = w.PartFlow("none")
	require.Error(t, err)
	_, err = w.CoilAmps("none")
	require.Error(t, err)
	_, ok = w.Healthy("none.ohm")
	require.False(t, ok)
	require.Zero(t, w.MotorAmps("none"))
	require.Zero(t, w.PumpTorque("none"))
	require.Positive(t, w.Conversion()+w.FuelRate()+w.PortPa()+w.ThrottleFlow())
}
