package validate

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const outsideFolder = "../../testdata/outside"

// The car that the scripts solve again is the car of the car file. To write it and the scripts' results anew, with SciPy installed:
//
//	COLDBAY_OUTSIDE=write go test -run Outside ./sim/validate
func TestOutsideCarIsFresh(t *testing.T) {
	got, err := Export(ground(t))
	require.NoError(t, err)
	got = append(got, '\n')
	file := filepath.Join(outsideFolder, "car_a.json")
	if os.Getenv("COLDBAY_OUTSIDE") == "write" {
		require.NoError(t, os.WriteFile(file, got, 0o644))
		writeSpice(t)
	}
	kept, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(kept), string(got), "the car has changed since SciPy was asked: COLDBAY_OUTSIDE=write writes its answers anew")
}

// SciPy, live where it is installed, gives what its kept tables say; the rows of the validation compare the program with the tables.
func TestOutsideScipyAgrees(t *testing.T) {
	python, why := findScipy()
	for _, name := range []string{"pump", "chamber", "exhaust"} {
		t.Run(name, func(t *testing.T) {
			file := filepath.Join(outsideFolder, name+".csv")
			if python == "" {
				kept, err := os.ReadFile(file)
				require.NoError(t, err)
				require.Greater(t, len(numbers(t, kept)), 10)
				t.Skip(why + ": the kept results stand unchecked")
			}
			cmd := exec.Command(python, filepath.Join(outsideFolder, name+".py"), filepath.Join(outsideFolder, "car_a.json"))
			var errs bytes.Buffer
			cmd.Stderr = &errs
			cmd.Env = append(os.Environ(), "PYTHONDONTWRITEBYTECODE=1")
			out, err := cmd.Output()
			require.NoError(t, err, errs.String())
			if os.Getenv("COLDBAY_OUTSIDE") == "write" {
				require.NoError(t, os.WriteFile(file, out, 0o644))
			}
			kept, err := os.ReadFile(file)
			require.NoError(t, err)
			want, got := numbers(t, kept), numbers(t, out)
			require.Len(t, got, len(want))
			for i := range want {
				require.Len(t, got[i], len(want[i]))
				for k := range want[i] {
					require.InDelta(t, want[i][k], got[i][k], 2e-3*math.Abs(want[i][k])+2e-3, "row %d column %d", i, k)
				}
			}
		})
	}
}

// findScipy finds a Python that has it, or says why there is none.
func findScipy() (python, why string) {
	why = "no python3 in the PATH"
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		path, err := exec.LookPath(name)
		if err != nil {
			continue
		}
		if exec.Command(path, "-c", "import scipy.integrate").Run() == nil {
			return path, ""
		}
		why = "python3 has no SciPy"
	}
	return "", why
}

func numbers(t *testing.T, data []byte) [][]float64 {
	t.Helper()
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment = '#'
	all, err := r.ReadAll()
	require.NoError(t, err)
	var out [][]float64
	for _, row := range all[1:] {
		var line []float64
		for _, cell := range row[1:] {
			v, err := strconv.ParseFloat(cell, 64)
			require.NoError(t, err)
			line = append(line, v)
		}
		out = append(out, line)
	}
	return out
}

// The circuit simulator's answers are those that the test of package sim keeps, in a table.
func TestOutsideSpiceTablesAreFresh(t *testing.T) {
	for _, name := range spiced {
		kept, err := os.ReadFile(filepath.Join(outsideFolder, "ngspice_"+name+".csv"))
		require.NoError(t, err)
		require.Equal(t, string(kept), string(spiceTable(t, name)), "COLDBAY_OUTSIDE=write copies the answers anew")
	}
}

// spiced are the circuits that ngspice has solved; those of car A have no car in their names.
var spiced = []string{"running", "ground_corroded", "car_b_running", "car_b_ground_corroded", "car_c_running", "car_c_ground_corroded", "car_d_running"}

func writeSpice(t *testing.T) {
	for _, name := range spiced {
		require.NoError(t, os.WriteFile(filepath.Join(outsideFolder, "ngspice_"+name+".csv"), spiceTable(t, name), 0o644))
	}
}

func spiceTable(t *testing.T, name string) []byte {
	data, err := os.ReadFile("../testdata/ngspice/" + name + ".txt")
	require.NoError(t, err)
	var lines []string
	for line := range strings.Lines(string(data)) {
		if f := strings.Fields(line); len(f) == 3 && f[1] == "=" && strings.HasPrefix(f[0], "v(") {
			lines = append(lines, strings.TrimSuffix(f[0][2:], ")")+","+f[2])
		}
	}
	require.NotEmpty(t, lines)
	sort.Strings(lines)
	var b bytes.Buffer
	of := "A"
	if id, _, other := strings.Cut(strings.TrimPrefix(name, "car_"), "_"); other && len(id) == 1 {
		of = strings.ToUpper(id)
	}
	fmt.Fprintf(&b, "# Node voltages of car %s's circuit 20 s into the cold run, against battery minus.\n", of)
	fmt.Fprintf(&b, "# Source: ngspice operating point, sim/testdata/ngspice/%s.cir. Made by: COLDBAY_NGSPICE=write go test -run Ngspice ./sim\n", name)
	fmt.Fprintf(&b, "node,volt\n%s\n", strings.Join(lines, "\n"))
	return b.Bytes()
}
