package sim

import (
	"math"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"
)

// described is how a world says that it has no solution any more: when, in which network or of which shaft, and where there.
var described = regexp.MustCompile(`^at \d+\.\d s: the car's equations have no solution any more: ` +
	`((electrical|pneumatic) network at .*"[a-z0-9_]+"|motor "[a-z_]+"|crankshaft): .*(conductance|heating|temperature|voltage|flows|charge|field|tries|V|Pa|m|rad/s)`)

// Whatever finite number a parameter is given, no world panics: it runs, or it ends with an error that says where.
func TestAnyParameter(t *testing.T) {
	ended := 0
	for _, id := range []string{"car_a", "car_b", "car_c", "car_d"} {
		c := carFile(t, id)
		for _, p := range c.Params {
			for _, v := range []float64{0, -1, 1e300} {
				w, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325})
				require.NoError(t, err)
				require.NoError(t, w.SetParam(p.Name, v))
				w.SetKey(true)
				w.Step(2)
				w.SetStarter(true)
				w.Step(16)
				if w.Err() == nil {
					continue
				}
				ended++
				require.ErrorIs(t, w.Err(), ErrDiverged, "%s %s = %g", id, p.Name, v)
				require.Regexp(t, described, w.Err().Error(), "%s %s = %g", id, p.Name, v)
				at := w.Time()
				w.Step(10)
				w.SetKey(false)
				w.Soak(1)
				require.Equal(t, at, w.Time(), "it stands still")
			}
		}
	}
	require.Greater(t, ended, 200)
}

func TestSetParamWantsANumber(t *testing.T) {
	for _, param := range []string{"pump_motor.ra_ohm", "w_feed.add_ohm", "air_valve.lift0_pa", "exhaust_joint.leak_m2"} {
		w := newWorld(t)
		before := w.par.v
		for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			require.ErrorContains(t, w.SetParam(param, v), `parameter "`+param+`": found `)
		}
		require.Equal(t, before, w.par.v)
	}
}

// A car that had none in the first place: numbers that are none get into no table past [World.SetParam], but if they did, the world would end
// as cleanly.
func TestNoNumberInTheTable(t *testing.T) {
	for param, says := range map[string]string{
		"pump_motor.ra_ohm":     `at 0.2 s: the car's equations have no solution any more: electrical network at the element "pump_motor": conductance = NaN S`,
		"w_feed.add_ohm":        `at 0.2 s: the car's equations have no solution any more: electrical network at the element "w_feed": conductance = NaN S`,
		"air_valve.lift0_pa":    `at 0.2 s: the car's equations have no solution any more: pneumatic network at "chamber", part "air_valve": `,
		"exhaust_joint.leak_m2": `at 0.2 s: the car's equations have no solution any more: heat: coolant `,
		"air_pump.head_pa":      `at 0.2 s: the car's equations have no solution any more: pneumatic network`,
	} {
		w := newWorld(t)
		w.SetKey(true)
		w.Step(2)
		w.put(t, param, math.NaN())
		w.SetStarter(true)
		w.Step(60)
		require.ErrorContains(t, w.Err(), says)
	}
}
