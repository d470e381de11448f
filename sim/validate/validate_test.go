package validate

import (
	"context"
	"math"
	"os"
	"testing"

	"coldbay/scenarios"
	"coldbay/testdata"

	"github.com/stretchr/testify/require"
)

func ground(t testing.TB) Ground {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	c, err := lib.Car("car_a")
	require.NoError(t, err)
	g := Ground{Car: c.Car, Tariff: lib.Tariff(), Tables: testdata.Files}
	for _, id := range []string{"car_b", "car_c", "car_d"} {
		c, err := lib.Car(id)
		require.NoError(t, err)
		g.Others = append(g.Others, c.Car)
	}
	return g
}

// One run of everything: all rows green, every important parameter watched, and the page in the tree is what this run gives. To write
// it anew: go run ./cmd/coldbay validate --write testdata/VALIDATION.md
func TestPageIsGreenAndFresh(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped in short tests: runs every row, and most of them again for each changed parameter")
	}
	g := ground(t)
	rows, err := Run(context.Background(), g, nil)
	require.NoError(t, err)
	bench := 0
	for _, r := range rows {
		if r.How == ByBench {
			bench++
		}
		if r.Red() {
			t.Errorf("%s: %s: expected %s %s, computed %s (%s); known: %q [%s]", r.ID, r.What, r.Expected, r.Unit, r.Computed, r.Dev, r.Known, r.Source)
		}
	}
	require.GreaterOrEqual(t, len(rows), 80)
	require.GreaterOrEqual(t, bench, 40)

	turned, err := Mutate(context.Background(), g, rows, Changes(), 2, nil)
	require.NoError(t, err)
	for _, x := range turned {
		if len(x.Red) == 0 && x.Lost == "" && x.Blind == "" {
			t.Errorf("%s (%s) times %g turns no row red", x.Path, x.What, x.Factor)
		}
	}
	kept, err := os.ReadFile("../../testdata/VALIDATION.md")
	require.NoError(t, err)
	require.Equal(t, string(kept), string(Page(rows, turned)), "go run ./cmd/coldbay validate --write testdata/VALIDATION.md writes it anew")
}

func TestGrading(t *testing.T) {
	var s sheet
	src := Source{Worked, "here"}
	s.near("a", "within", 10.4, 10, 0.5, "V", src)
	s.near("b", "beyond", 10.6, 10, 0.5, "V", src)
	s.near("c", "no reading", math.NaN(), 10, 0.5, "V", src)
	s.band("d", "in", 2, 1, 3, "A", src)
	s.band("e", "above", 3.1, 1, 3, "A", src)
	s.band("f", "no reading", math.NaN(), 1, 3, "A", src)
	s.atMost("g", "little", 0.1, 0.2, "s", src)
	s.atMost("h", "much", 0.3, 0.2, "s", src)
	s.atLeast("i", "enough", 5, 4, "s", src)
	s.atLeast("j", "no reading", math.NaN(), 4, "s", src)
	s.word("k", "said", "none", src, "faint", "none")
	s.word("l", "unsaid", "strong", src, "faint", "none")
	s.near("m", "known to differ", 11, 10, 0.5, "V", src)
	s.known("because")
	s.near("n", "known to differ, but no more", 10, 10, 0.5, "V", src)
	s.known("because")
	red := ""
	for _, r := range s.rows {
		if r.Red() {
			red += r.ID
		}
	}
	require.Equal(t, "bcefhjln", red)
	require.Equal(t, "+0.4 (+4 %)", s.rows[0].Dev)
	require.InDelta(t, 0.8, s.rows[0].Used, 1e-9)
	require.Equal(t, "0.1 above", s.rows[4].Dev)
	require.Equal(t, "no reading", s.rows[2].Computed)
}

func TestChanged(t *testing.T) {
	const file = "a:\n  list:\n    - {id: x, v: 2}\n    - {id: y, v: 3, awg: 12}\n  plain: [{s: 7}]\n"
	for path, want := range map[string]string{"a/list/y/v": "v: 4.5", "a/list/y/awg": "awg: 18", "a/plain/0/s": "s: 10.5"} {
		out, _, _, err := changed([]byte(file), Change{Path: path, Factor: 1.5})
		require.NoError(t, err)
		require.Contains(t, string(out), want, path)
	}
	for _, path := range []string{"a/list/z/v", "a/list/x/w", "a/list/x/id", "b"} {
		_, _, _, err := changed([]byte(file), Change{Path: path, Factor: 2})
		require.ErrorContains(t, err, path)
	}
}

// A change that breaks the car is told, not hidden; a run that is cancelled ends.
func TestBrokenCars(t *testing.T) {
	g := ground(t)
	turned, err := Mutate(context.Background(), g, nil, []Change{{Path: "electrical/elements/battery/emf_v", Factor: 10, What: "too much"}}, 1, nil)
	require.NoError(t, err)
	require.Contains(t, turned[0].Lost, "emf_v")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = Run(ctx, ground(t), nil)
	require.ErrorIs(t, err, context.Canceled)
	_, err = Mutate(ctx, ground(t), nil, Changes(), 2, nil)
	require.ErrorIs(t, err, context.Canceled)
}
