package units

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const referenceFolder = "../../testdata/reference"

// referenceTable reads a table of outside numbers as one map a row.
func referenceTable(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(referenceFolder, name))
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	r := csv.NewReader(f)
	r.Comment = '#'
	records, err := r.ReadAll()
	require.NoError(t, err, name)
	require.Greater(t, len(records), 1, name)
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, key := range records[0] {
			row[key] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func numberIn(t *testing.T, row map[string]string, key string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(row[key], 64)
	require.NoError(t, err, "%s in %v", key, row)
	return x
}

// Every reference table says where it comes from, with a mark and known source
// numbers.
func TestReferenceTablesNameTheirSource(t *testing.T) {
	sources, err := os.ReadFile(filepath.Join(referenceFolder, "SOURCES.md"))
	require.NoError(t, err)
	names, err := filepath.Glob(filepath.Join(referenceFolder, "*.csv"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	sourceNumber := regexp.MustCompile(`\bS\d{1,2}\b`)
	for _, name := range names {
		referenceTable(t, filepath.Base(name))
		b, err := os.ReadFile(name)
		require.NoError(t, err)
		var head strings.Builder
		for _, line := range strings.Split(string(b), "\n") {
			if strings.HasPrefix(line, "#") {
				head.WriteString(line + "\n")
			}
		}
		require.Contains(t, head.String(), "Source", name)
		require.Regexp(t, `SEEN|MEM|TRADE|CALC|mark column|chosen`, head.String(), name)
		for _, s := range sourceNumber.FindAllString(string(b), -1) {
			require.Contains(t, string(sources), "| "+s+" |", name)
		}
	}
}

func TestAgainstReferenceTables(t *testing.T) {
	for _, row := range referenceTable(t, "atmosphere.csv") {
		a, err := StandardAtmosphere(numberIn(t, row, "altitude_m"))
		require.NoError(t, err)
		require.InEpsilon(t, numberIn(t, row, "pressure_Pa"), a.Pressure, 1e-4)
		require.InDelta(t, numberIn(t, row, "temperature_K"), a.Temperature, 6e-4)
		require.InEpsilon(t, numberIn(t, row, "density_kg_m3"), a.Density, 1e-4)
	}
	for _, row := range referenceTable(t, "awg.csv") {
		g := Gauge(numberIn(t, row, "awg"))
		ohm := g.OhmPerMetre(Celsius.ToSI(20)) * feetPerKilo
		require.InEpsilon(t, numberIn(t, row, "formula_ohm_per_1000ft"), ohm, 5e-4)
		if row["ohm_per_1000ft"] != "" {
			require.InEpsilon(t, numberIn(t, row, "ohm_per_1000ft"), ohm, 1e-3)
		}
	}
	for _, row := range referenceTable(t, "units.csv") {
		u, err := ParseUnit(row["unit"])
		require.NoError(t, err)
		require.InEpsilon(t, numberIn(t, row, "pascal"), u.ToSI(1), 1e-12)
	}
}
