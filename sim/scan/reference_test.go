package scan

import (
	"encoding/csv"
	"encoding/hex"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

func referenceRows(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + name)
	require.NoError(t, err)
	defer func() { require.NoError(t, f.Close()) }()
	r := csv.NewReader(f)
	r.Comment = '#'
	records, err := r.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(records), 1)
	return records[1:]
}

func hexByte(t *testing.T, text string) byte {
	t.Helper()
	n, err := strconv.ParseUint(text, 16, 8)
	require.NoError(t, err)
	return byte(n)
}

func TestReferenceExamples(t *testing.T) {
	for _, row := range referenceRows(t, "j1979_examples.csv") {
		pid := hexByte(t, row[0])
		data, err := hex.DecodeString(row[1])
		require.NoError(t, err)
		readings, err := Decode(pid, data)
		require.NoError(t, err)
		var values []float64
		for i, text := range row[2:4] {
			if text == "" {
				continue
			}
			want, err := strconv.ParseFloat(text, 64)
			require.NoError(t, err)
			values = append(values, want)
			require.Equal(t, row[4+i], readings[i].Unit, "%v", row)
			if want == want {
				require.InDelta(t, want, readings[i].Value, 1e-7, "%v", row)
			} else {
				require.True(t, readings[i].NotUsed, "%v", row)
			}
		}
		back, err := Encode(pid, values...)
		require.NoError(t, err)
		require.Equal(t, data, back, "%v", row)
	}
}

func TestReferenceScalings(t *testing.T) {
	rows := referenceRows(t, "j1979_scaling_ids.csv")
	require.Len(t, Scalings(), len(rows))
	for _, row := range rows {
		s, ok := LookupScaling(hexByte(t, row[0]))
		require.True(t, ok, "%v", row)
		require.Equal(t, row[1], s.Unit)
		for i, got := range []float64{s.Factor, s.Offset} {
			want, err := strconv.ParseFloat(row[2+i], 64)
			require.NoError(t, err)
			require.Equal(t, want, got, "%v", row)
		}
	}
}

func TestReferenceCodes(t *testing.T) {
	for _, row := range referenceRows(t, "j2012_bytes.csv") {
		d, err := ParseDTC(row[0])
		require.NoError(t, err)
		b := d.Bytes()
		require.Equal(t, row[1], hex.EncodeToString(b[:]))
	}
}
