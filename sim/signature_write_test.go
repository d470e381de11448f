package sim

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// writtenSanely holds the three ways of writing a table against its numbers.
func writtenSanely(t *testing.T, table *SignatureTable) {
	var text, sheet bytes.Buffer
	require.NoError(t, table.WriteText(&text))
	for _, bad := range []string{"Inf", "NaN", "<nil>", " -0 ", " -0.0 ", " -0.00 "} {
		require.NotContains(t, text.String(), bad)
	}

	require.NoError(t, table.WriteCSV(&sheet))
	r := csv.NewReader(&sheet)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, len(table.Rows)+2)
	data, err := json.Marshal(table.JSON())
	require.NoError(t, err)
	var kept struct {
		Columns    []struct{ ID string }
		Sound      map[string]any
		Signatures []map[string]any
	}
	require.NoError(t, json.Unmarshal(data, &kept))
	require.Len(t, kept.Signatures, len(table.Rows))
	for i, k := range SignatureColumns() {
		column := rows[0][i+4]
		require.Equal(t, k.ID, column)
		for n, row := range rows[1:] {
			cell, from := row[i+4], kept.Sound
			if n > 0 {
				from = kept.Signatures[n-1]
				require.Equal(t, row[1], from["fault"])
			}
			value, there := from[column]
			require.Equal(t, k.On(table.Car, table.Probes), there, "%s: what the car lacks is absent", column)
			switch v := value.(type) {
			case nil:
				require.Contains(t, []string{"", "open", "never", "-"}, cell, "%s of %s", column, row[1])
				require.False(t, !there && cell != "", "%s: what the car lacks is blank", column)
			case float64:
				want, err := strconv.ParseFloat(cell, 64)
				require.NoError(t, err)
				require.Equal(t, want, v, "%s of %s", column, row[1])
			case string:
				require.Equal(t, cell, v)
			case []any:
				require.Len(t, v, len(strings.Fields(cell)))
			default:
				t.Errorf("%s: %T", column, v)
			}
		}
	}
}

// What has no number is said in words, and what a car lacks is no fault of it.
func TestSignatureCells(t *testing.T) {
	column := func(id string) SignatureColumn {
		for _, k := range SignatureColumns() {
			if k.ID == id {
				return k
			}
		}
		t.Fatalf("no column %s", id)
		return SignatureColumn{}
	}
	s, err := Sign(carA(t), ProbesOf(carA(t)), ReferenceConditions(), "solenoid_open", 1)
	require.NoError(t, err)
	require.Equal(t, "open", column("coil_ohm").Cell(s))
	require.Equal(t, "never", column("opening_s").Cell(s))
	_, ok := column("coil_ohm").Number(s)
	require.False(t, ok)
	require.Equal(t, "never", column("light_off_s").Cell(Signature{Ran: true}))
	require.Equal(t, "-", column("light_off_s").Cell(Signature{}), "of an engine that did not run nothing is known")
	require.Equal(t, "0.0", column("trim_percent").Cell(Signature{Ran: true, Trim: -0.01}))
	require.Equal(t, "at all", column("no_start").Cell(Signature{}))
	for id, lacks := range map[string][]string{"car_b": {"chamber_kpa", "hand_kpa", "coil_ohm", "kept_kpa", "flow_2_kg_h"}, "car_d": {"start_a", "pump_a", "pump_v", "pump_on", "kept_kpa"}} {
		c := carFile(t, id)
		for _, name := range lacks {
			require.False(t, column(name).On(c, ProbesOf(c)), "%s %s", id, name)
		}
	}
}
