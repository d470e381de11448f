package bench_test

import (
	"testing"

	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

func class(sense bench.Sense, key string, v float64) bench.Class {
	return bench.Percept{Sense: sense, Key: key, Of: "x", Value: v}.Class()
}

// What must be told apart and what must not, as spec sheets and common practice have it.
func TestClassTellsApart(t *testing.T) {
	for _, c := range []struct {
		name  string
		sense bench.Sense
		key   string
		a, b  float64
		apart bool
	}{
		{"ground within and beyond 0.1 V", bench.Meter, "volts", 0.08, 0.12, true},
		{"joint within and beyond 0.2 V", bench.Meter, "volts", 0.15, 0.25, true},
		{"feed within and beyond 0.5 V", bench.Meter, "volts", 0.4, 0.6, true},
		{"two healthy feeds", bench.Meter, "volts", 0.38, 0.41, false},
		{"rested battery, two healthy cars", bench.Meter, "volts", 12.58, 12.66, false},
		{"rested and charging", bench.Meter, "volts", 12.6, 13.6, true},
		{"polarity", bench.Meter, "volts", 12.6, -12.6, true},
		{"next to nothing either way", bench.Meter, "volts", 0.01, -0.01, false},
		{"coil in and out of its limits", bench.Meter, "ohms", 30, 26, true},
		{"two healthy coils", bench.Meter, "ohms", 29.1, 30.9, false},
		{"two healthy pumps", bench.Clamp, "amps", 24.5, 29.8, false},
		{"healthy and starved pump", bench.Clamp, "amps", 25, 15, true},
		{"healthy and dragging pump", bench.Clamp, "amps", 28, 39, true},
		{"gauge 1 kPa apart", bench.Gauge, "vacuum", 51, 53, false},
		{"gauge 10 kPa apart", bench.Gauge, "vacuum", 41, 51, true},
		{"idle and idle", bench.Scan, "pid.0C", 1190, 1240, false},
		{"idle and high idle", bench.Scan, "pid.0C", 1200, 1500, true},
		{"trims", bench.Scan, "pid.06", 2, -3, false},
		{"trims lean and rich", bench.Scan, "pid.06", 12, -12, true},
		{"an unknown quantity, far apart", bench.Scan, "pid.5E", 1, 100, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.apart, class(c.sense, c.key, c.a) != class(c.sense, c.key, c.b))
		})
	}
}

func TestClassKeepsWordsPlacesAndFlags(t *testing.T) {
	p := bench.Percept{Sense: bench.Hand, Key: "flow", Of: "tailpipe", Word: "faint"}
	q := p
	require.Equal(t, p.Class(), q.Class())
	q.Word = "clear"
	require.NotEqual(t, p.Class(), q.Class())
	q = p
	q.Of = "valve_inlet"
	require.NotEqual(t, p.Class(), q.Class())
	q = p
	q.Flag = "not zeroed"
	require.NotEqual(t, p.Class(), q.Class())
	require.Equal(t, "hand flow tailpipe faint", p.Class().String())
	require.Equal(t, "meter volts x 0.1..0.2", class(bench.Meter, "volts", 0.15).String())
	require.Equal(t, "meter volts x under 0.05", class(bench.Meter, "volts", 0).String())
	require.Equal(t, "meter volts x -11.5..-12.3", class(bench.Meter, "volts", -12).String())
	require.Equal(t, "meter volts x 15.5 and beyond", class(bench.Meter, "volts", 24).String())
}

// A larger value never falls into a lower bin, whatever the quantity.
func TestClassIsMonotone(t *testing.T) {
	for _, key := range []string{"volts", "ohms", "amps", "vacuum", "drop", "rpm", "pid.05", "pid.0B", "pid.06", "pid.34", "pid.42",
		"pid.10", "pid.11", "pid.3C", "pid.14", "pid.1F", "freeze.0C", "other"} {
		last := -1
		for v := 0.0; v < 3000; v += 0.013 + v*0.01 {
			n := class(bench.Meter, key, v).Bin
			require.GreaterOrEqual(t, n, last, "%s %g", key, v)
			last = n
		}
		require.Positive(t, last, key)
	}
}
