package exhaust

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// table reads a reference table: its sources are named in the file's head.
func table(t *testing.T, name string) [][]float64 {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + name)
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	require.NoError(t, err)
	var out [][]float64
	for _, line := range all[1:] {
		var row []float64
		for _, cell := range line {
			v, err := strconv.ParseFloat(cell, 64)
			require.NoError(t, err)
			row = append(row, v)
		}
		out = append(out, row)
	}
	require.NotEmpty(t, out)
	return out
}

func TestLeanExhaust(t *testing.T) {
	for _, r := range table(t, "exhaust_lean.csv") {
		g := Compose(r[0], r[0], 0, 0)
		require.InDelta(t, r[1], 100*g.O2, 0.005, "O2 at %g", r[0])
		require.InDelta(t, r[3], 100*g.CO2, 0.005, "CO2 at %g", r[0])
		require.Zero(t, g.CO)
	}
}

func TestRichExhaust(t *testing.T) {
	for _, r := range table(t, "exhaust_rich.csv") {
		g := Compose(r[0], r[0], 0, 1)
		require.InDelta(t, r[1], 100*g.CO, 0.01, "CO at %g", r[0])
		require.InDelta(t, r[2], 100*g.CO2, 0.01, "CO2 at %g", r[0])
		require.InDelta(t, r[3], 100*g.H2, 0.01, "H2 at %g", r[0])
	}
}

// Rich exhaust with secondary air, a share of its CO and H2 burnt.
func TestExhaustWithSecondaryAir(t *testing.T) {
	for _, r := range table(t, "mixing.csv") {
		g := Compose(r[0], r[1], 0, 1-r[2])
		require.InDelta(t, r[4], 100*g.O2, 0.01, "O2 at %v", r)
		require.InDelta(t, r[5], 100*g.CO, 0.01, "CO at %v", r)
	}
}

func TestBrettschneider(t *testing.T) {
	for _, r := range table(t, "brettschneider.csv") {
		g := Gas{CO2: r[0] / 100, CO: r[1] / 100, O2: r[2] / 100, HC: r[3] / 1e6}
		require.InDelta(t, r[5], Brettschneider(g), 0.0002, "%v", r)
	}
	// There and back with the fuel's own constants: within 0.0005 to 1.1, 0.002 at 1.5, for the formula knows no carbon dioxide in air.
	for _, l := range []float64{0.8, 0.85, 0.9, 0.95, 1, 1.05, 1.1} {
		require.InDelta(t, l, brettschneider(Compose(l, l, 0, 1), hydrogen, 0), 0.0005, "at %g", l)
	}
	require.InDelta(t, 1.5, brettschneider(Compose(1.5, 1.5, 0, 0), hydrogen, 0), 0.002)
}

// Total lambda does not depend on what has burnt, nor on what has missed the flame.
func TestLambdaDoesNotDependOnBurning(t *testing.T) {
	for _, left := range []float64{0, 0.3, 1} {
		for _, missed := range []float64{0, 0.02, 0.1} {
			require.InDelta(t, 1.2, brettschneider(Compose(0.85, 1.2, missed, left), hydrogen, 0), 0.003, "%g %g", left, missed)
		}
	}
}
