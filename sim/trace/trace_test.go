package trace_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"coldbay/scenarios"
	"coldbay/sim"
	"coldbay/sim/car"
	"coldbay/sim/trace"

	"github.com/stretchr/testify/require"
)

func carA(t testing.TB) *car.Car {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	c, err := lib.Car("car_a")
	require.NoError(t, err)
	return c.Car
}

func setup(t testing.TB, name string, channels ...string) trace.Setup {
	t.Helper()
	c := carA(t)
	s := trace.Setup{Car: c, Conditions: sim.Conditions{AmbientK: 293.15, AmbientPa: 101325}}
	var err error
	s.Scenario, err = trace.FindScenario(c, name)
	require.NoError(t, err)
	s.Channels, err = trace.Select(c, channels)
	require.NoError(t, err)
	s.Seconds, s.Every = s.Scenario.Seconds, s.Scenario.Every
	return s
}

func record(t testing.TB, s trace.Setup) *trace.Record {
	t.Helper()
	r, err := trace.Run(context.Background(), s, nil)
	require.NoError(t, err)
	return r
}

// at is a channel's sample nearest to a time.
func at(t testing.TB, r *trace.Record, id string, seconds float64) float64 {
	t.Helper()
	i := r.Find(id)
	require.GreaterOrEqual(t, i, 0, id)
	best := 0
	for k, x := range r.Time {
		if math.Abs(x-seconds) < math.Abs(r.Time[best]-seconds) {
			best = k
		}
	}
	return r.Values[i][best]
}

// The cold start's figures by the design note's independent solution.
func TestColdStart(t *testing.T) {
	r := record(t, setup(t, "cold_start"))
	require.Equal(t, 2601, len(r.Time))
	require.Equal(t, 83.05, r.Time[1661])
	require.InDelta(t, 27.2, at(t, r, "pump_current", r.Started+20), 0.5)
	require.InDelta(t, 15.7, at(t, r, "air_flow", r.Started+20), 0.3)
	require.InDelta(t, 8.6, at(t, r, "pipe_pressure", r.Started+20), 0.3)
	require.InDelta(t, 20, at(t, r, "run", r.Started+20), 0.1)
	peak := r.High[r.Find("pump_current")]
	require.InDelta(t, 109, peak, 6, "the peak is seen between the samples")
	require.InDelta(t, r.Started+1, r.HighAt[r.Find("pump_current")], 0.3)
	require.InDelta(t, 30.6, r.LightOff, 3)
	require.Empty(t, r.Stored)
	require.Empty(t, r.Pending)
}

// Sampling finer shows more of the same run; the same setup gives the same numbers.
func TestSamplesAgree(t *testing.T) {
	s := setup(t, "cold_start", "pump_current", "chamber_vacuum")
	s.Seconds = 12
	coarse, again := record(t, s), record(t, s)
	require.Equal(t, coarse.Values, again.Values)
	s.Every = 0.005
	fine := record(t, s)
	require.Equal(t, 2401, len(fine.Time))
	require.Equal(t, 0.005, fine.Time[1])
	for _, x := range []float64{0, 5, 9, 12} {
		require.InDelta(t, at(t, fine, "pump_current", x), at(t, coarse, "pump_current", x), 0.1)
	}
	s.Every = 3
	require.Equal(t, []float64{0, 3, 6, 9, 12}, record(t, s).Time)
}

func TestScenarios(t *testing.T) {
	r := record(t, setup(t, "actuator"))
	require.True(t, math.IsNaN(r.Started), "the engine is off")
	require.InDelta(t, 23.6, at(t, r, "pump_current", 5), 0.8)
	require.InDelta(t, 0, at(t, r, "pump_current", 9.5), 0.1, "five seconds on, five off")
	require.InDelta(t, 6, at(t, r, "valve_lift", 5), 0.05)

	r = record(t, setup(t, "hand_pump", "tool_vacuum", "chamber_vacuum", "valve_lift"))
	require.Greater(t, at(t, r, "tool_vacuum", 10), 60.0)
	require.Less(t, at(t, r, "tool_vacuum", 10)-at(t, r, "tool_vacuum", 70), 3.4, "a healthy valve holds")

	r = record(t, setup(t, "warm_idle"))
	require.InDelta(t, 750, at(t, r, "rpm", 60), 25)
	require.InDelta(t, 65.5, at(t, r, "manifold_vacuum", 60), 2.5)

	s := setup(t, "soak", "reservoir.vacuum", "exhaust_skin", "coolant")
	s.Seconds = 600
	r = record(t, s)
	require.Less(t, at(t, r, "exhaust_skin", 600), at(t, r, "exhaust_skin", 5))
	require.Less(t, at(t, r, "reservoir.vacuum", 600), at(t, r, "reservoir.vacuum", 5))

	s = setup(t, "cold_start")
	s.Faults = []sim.FaultChoice{{ID: "pump_fuse_blown", Severity: 1}}
	s.Seconds = 60
	r = record(t, s)
	require.Zero(t, math.Round(r.High[r.Find("pump_current")]))
	require.Equal(t, []string{"P0491"}, r.Pending)
}

// Every control works, and one that can't be done says when and why.
func TestControls(t *testing.T) {
	s := setup(t, "cold_start", "pump_current")
	s.Seconds = 3
	for _, c := range []trace.Control{{Do: trace.Pull, On: "line_valve.b"}, {Do: trace.TakeOut, On: "fuse40"}, {Do: trace.HoldRpm, N: 2000},
		{Do: trace.Repair, On: "pump_fuse"}, {Do: trace.StandFor, N: 1}, {Do: trace.KeyOn}, {Do: trace.KeyOff}, {Do: trace.Stroke}} {
		s.Scenario.Controls = []trace.Control{c}
		_, err := trace.Run(context.Background(), s, nil)
		require.NoError(t, err, c.Do)
	}
	s.Scenario.Controls = []trace.Control{{Do: trace.Pull, On: "line_valve.b"}, {At: 1, Do: trace.Fit, On: "line_valve.b", To: "sol_out"}}
	_, err := trace.Run(context.Background(), s, nil)
	require.NoError(t, err)
	for _, c := range []struct {
		c    trace.Control
		want string
	}{
		{trace.Control{At: 1.5, Do: trace.Pull, On: "hose9.a"}, `at 1.5 s, pull hose9.a: no hose end "hose9.a"`},
		{trace.Control{Do: "fly"}, `"fly" is nothing that a trace can do`},
		{trace.Control{Do: trace.Actuate, On: "pump"}, "the key is off"},
		{trace.Control{Do: trace.PumpOn, On: "valve_nipple"}, "not free"},
	} {
		s.Scenario.Controls = []trace.Control{c.c}
		_, err := trace.Run(context.Background(), s, nil)
		require.ErrorContains(t, err, c.want)
	}
}

func TestRefusals(t *testing.T) {
	c := carA(t)
	_, err := trace.Select(c, []string{"pump_current", "nonsense"})
	var unknown *trace.UnknownError
	require.ErrorAs(t, err, &unknown)
	require.Equal(t, "nonsense", unknown.Channel)
	require.Contains(t, unknown.Allowed, "chamber_vacuum")
	require.Contains(t, err.Error(), `there is no channel "nonsense"; allowed are run, rpm`)
	_, err = trace.FindScenario(c, "flight")
	require.ErrorContains(t, err, `no scenario "flight" for this car; allowed are cold_start, warm_idle, actuator, hand_pump, soak`)
	for _, x := range []struct{ seconds, every float64 }{{0, 0.1}, {1e6, 1}, {10, 0.003}, {10, 0.15}, {10, 0}, {86400, 0.001}, {math.NaN(), 0.1}} {
		s := setup(t, "cold_start")
		s.Seconds, s.Every = x.seconds, x.every
		require.Error(t, s.Check(), "%v", x)
		_, err := trace.Run(context.Background(), s, nil)
		require.Error(t, err, "%v", x)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = trace.Run(ctx, setup(t, "soak"), nil)
	require.ErrorIs(t, err, context.Canceled)
}

// Every channel of every car can be recorded, has an id of its own and gives finite numbers from the first sample on, which is of the car as it
// stands: its battery at rest. The usual ones are there in one car or another.
func TestEveryChannel(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	var any []string
	for _, id := range []string{"car_a", "car_b", "car_c", "car_d"} {
		x, err := lib.Car(id)
		require.NoError(t, err)
		s := setup(t, "cold_start")
		s.Car, s.Seconds, s.Channels = x.Car, 5, trace.Channels(x.Car)
		var ids []string
		for _, ch := range s.Channels {
			require.NotContains(t, ids, ch.ID)
			ids = append(ids, ch.ID)
		}
		any = append(any, ids...)
		r := record(t, s)
		for i, ch := range r.Channels {
			for _, v := range r.Values[i] {
				require.False(t, math.IsNaN(v) || math.IsInf(v, 0), ch.ID)
			}
			require.LessOrEqual(t, r.Low[i], r.High[i], ch.ID)
		}
		require.InDelta(t, 12.65, at(t, r, "battery_voltage", 0), 0.1, id)
		require.InDelta(t, 11.4, r.Low[r.Find("battery_voltage")], 0.3, "%s: the starter's sag", id)
		require.Contains(t, ids, "pipe_pressure", id)
		require.Equal(t, x.Car.Banks == 2, r.Find("exhaust_ratio_2") >= 0, id)
		require.Equal(t, x.Car.Banks == 2, r.Find("chamber_vacuum_2") >= 0, id)
	}
	require.Subset(t, any, trace.Usual())
}

// The second bank's channels and light-off are its own: with its valve stuck shut it gets no air, and its catalyst warms otherwise.
func TestSecondBank(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	c, err := lib.Car("car_c")
	require.NoError(t, err)
	s := setup(t, "cold_start")
	s.Car, s.Seconds = c.Car, 60
	s.Faults = []sim.FaultChoice{{ID: "valve_2_stuck", Severity: 1}}
	s.Channels, err = trace.Select(c.Car, []string{"air_flow", "air_flow_2", "exhaust_ratio", "exhaust_ratio_2", "catalyst_front", "catalyst_front_2"})
	require.NoError(t, err)
	r := record(t, s)
	require.Greater(t, at(t, r, "air_flow", 20), 10.0)
	require.InDelta(t, 0, at(t, r, "air_flow_2", 20), 0.1)
	require.Greater(t, at(t, r, "exhaust_ratio", 20), 1.1)
	require.Less(t, at(t, r, "exhaust_ratio_2", 20), 0.9)
	require.Greater(t, math.Abs(at(t, r, "catalyst_front", 40)-at(t, r, "catalyst_front_2", 40)), 5.0)
	require.NotEqual(t, r.LightOff, r.LitSecond)
	require.True(t, math.IsNaN(record(t, func() trace.Setup { a := setup(t, "cold_start"); a.Seconds = 1; return a }()).LitSecond))
}

func TestCSV(t *testing.T) {
	s := setup(t, "cold_start", "pump_current", "exhaust_ratio")
	s.Seconds = 4
	a := record(t, s)
	s.Faults = []sim.FaultChoice{{ID: "pump_worn", Severity: 0.5}}
	b := record(t, s)
	var out bytes.Buffer
	require.NoError(t, trace.WriteCSV(&out, []string{"healthy", "pump_worn:0.5"}, a, b))
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"time (s)", "pump_current (A)", "exhaust_ratio", "pump_current [pump_worn:0.5] (A)", "exhaust_ratio [pump_worn:0.5]"}, rows[0])
	require.Equal(t, 1+len(a.Time), len(rows))
	for _, row := range rows[1:] {
		for _, cell := range row {
			_, err := strconv.ParseFloat(cell, 64)
			require.NoError(t, err)
			require.False(t, strings.ContainsAny(cell, "eEN"), cell)
		}
	}
	require.Error(t, trace.WriteCSV(&out, nil))
}
