package scan

import (
	"encoding/hex"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// bytesOf reads "81 07 6D 08".
func bytesOf(t *testing.T, text string) []byte {
	t.Helper()
	b, err := hex.DecodeString(strings.ReplaceAll(text, " ", ""))
	require.NoError(t, err)
	return b
}

// Example bytes of service $01. "A" is an open decoder with its unit tests, "B" a
// second, independent one; the bytes are worked out from their scalings.
func TestExamples(t *testing.T) {
	tests := []struct {
		name   string
		pid    byte
		values []float64
		bytes  string
		back   []float64 // when it differs from values by rounding
	}{
		{"coolant 20 degC (A, and an open package's example 41 05 3C)", 0x05, []float64{20}, "3C", nil},
		{"coolant lowest (A)", 0x05, []float64{-40}, "00", nil},
		{"coolant highest (A)", 0x05, []float64{215}, "FF", nil},
		{"trim 0 (A)", 0x06, []float64{0}, "80", nil},
		{"trim highest +99.2 % (A)", 0x07, []float64{99.21875}, "FF", nil},
		{"MAP 35 kPa (B)", 0x0B, []float64{35}, "23", nil},
		{"1150 r/min (B)", 0x0C, []float64{1150}, "11 F8", nil},
		{"standing (B)", 0x0D, []float64{0}, "00", nil},
		{"intake 18 degC (B)", 0x0F, []float64{18}, "3A", nil},
		{"MAF 7.29 g/s (B)", 0x10, []float64{7.29}, "02 D9", nil},
		{"throttle 13.33 % (B)", 0x11, []float64{13.33}, "22", []float64{13.3333333}},
		{"secondary air upstream (A, its unit test)", 0x12, []float64{float64(AirUpstream)}, "01", nil},
		{"secondary air off (A)", 0x12, []float64{float64(AirOff)}, "04", nil},
		{"narrow band 0.450 V, trim not used (A, B)", 0x14, []float64{0.45, math.NaN()}, "5A FF", nil},
		{"narrow band highest 1.275 V (A, B)", 0x15, []float64{1.275, 0}, "FF 80", nil},
		{"run time 90 s (B)", 0x1F, []float64{90}, "00 5A", nil},
		{"lambda 1, 2 V (B; full scale 8 V in A)", 0x24, []float64{1, 2}, "80 00 40 00", nil},
		{"barometer 101 kPa (B)", 0x33, []float64{101}, "65", nil},
		{"lambda 1, 0 mA (ratio B, current A)", 0x34, []float64{1, 0}, "80 00 80 00", nil},
		{"lambda 1.2 (ratio B)", 0x34, []float64{1.2, 0}, "99 9A 80 00", []float64{1.20001220703125, 0}},
		{"catalyst 350 degC (B)", 0x3C, []float64{350}, "0F 3C", nil},
		{"catalyst 20 degC (B)", 0x3C, []float64{20}, "02 58", nil},
		{"module 12.450 V (B)", 0x42, []float64{12.45}, "30 A2", nil},
		{"commanded lambda 1 (B)", 0x44, []float64{1}, "80 00", nil},
		{"fuel system open loop cold (A)", 0x03, []float64{float64(FuelOpenCold), 0}, "01 00", nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			data, err := Encode(test.pid, test.values...)
			require.NoError(t, err)
			require.Equal(t, bytesOf(t, test.bytes), data)
			readings, err := Decode(test.pid, data)
			require.NoError(t, err)
			want := test.back
			if want == nil {
				want = test.values
			}
			require.Len(t, readings, len(want))
			for i, w := range want {
				require.Equal(t, w != w, readings[i].NotUsed)
				if w == w {
					require.InDelta(t, w, readings[i].Value, 1e-7)
				}
			}
		})
	}
}

// Exactly one bit: 03 is invalid in decoder A's unit test, and so is 00.
func TestSecondaryAirStatusIsOneHot(t *testing.T) {
	want := map[byte]string{1: "Upstream of catalyst", 2: "Downstream of catalyst",
		4: "From outside atmosphere or off", 8: "Pump commanded on for diagnostics"}
	for b := range 256 {
		readings, err := Decode(PIDSecondaryAir, []byte{byte(b)})
		if text, ok := want[byte(b)]; ok {
			require.NoError(t, err)
			require.Equal(t, text, readings[0].Text)
			require.Equal(t, float64(b), readings[0].Value)
			continue
		}
		require.ErrorIs(t, err, ErrState, "%02X", b)
		_, err = Encode(PIDSecondaryAir, float64(b))
		require.ErrorIs(t, err, ErrState, "%02X", b)
	}
	_, err := Decode(PIDSecondaryAir, []byte{0x03})
	require.EqualError(t, err, "decode $12 Commanded secondary air status: status byte 03: not a valid state")
}

// Open loop cold is 01 (decoder A and its tests), not 00; a missing second fuel
// system is 00.
func TestFuelSystemStatus(t *testing.T) {
	readings, err := Decode(PIDFuelSystem, []byte{0x01, 0x00})
	require.NoError(t, err)
	require.Equal(t, "Open loop, not yet warm", readings[0].Text)
	require.Equal(t, "none", readings[1].Text)
	_, err = Decode(PIDFuelSystem, []byte{0x03, 0x00})
	require.ErrorIs(t, err, ErrState)
}

// The current of $34 has an offset of -128 mA, which decoder B leaves out: zero
// current must not read 128, and the ends are -128 and +127.996.
func TestLambdaCurrentOffset(t *testing.T) {
	for raw, want := range map[string]float64{"8000": 0, "0000": -128, "FFFF": 127.99609375, "8100": 1} {
		readings, err := Decode(PIDLambdaB1S1, bytesOf(t, "8000"+raw))
		require.NoError(t, err)
		require.Equal(t, 1.0, readings[0].Value, "80 00 is exactly 1, not 0.99942")
		require.Equal(t, want, readings[1].Value)
		require.Equal(t, "mA", readings[1].Unit)
	}
}

func TestEncodeSaturates(t *testing.T) {
	for _, test := range []struct {
		pid   byte
		value float64
		bytes string
	}{
		{PIDCoolant, 400, "FF"}, {PIDCoolant, -80, "00"}, {PIDCoolant, math.Inf(1), "FF"}, {PIDManifold, math.Inf(-1), "00"},
		{PIDEngineSpeed, 1e9, "FFFF"}, {PIDShortTrim1, -130, "00"}, {PIDCommandedLambda, 3, "FFFF"},
	} {
		data, err := Encode(test.pid, test.value)
		require.NoError(t, err)
		require.Equal(t, bytesOf(t, test.bytes), data)
	}
	// A trim beyond the limit must not turn into "not used".
	data, err := Encode(PIDOxygenB1S1, 0.1, 500)
	require.NoError(t, err)
	require.Equal(t, bytesOf(t, "14 FE"), data)
}

func TestEncodeErrors(t *testing.T) {
	var unknown *UnknownError
	_, err := Encode(0xFE, 1)
	require.True(t, errors.As(err, &unknown))
	require.EqualError(t, err, "parameter $FE is not in the table")
	_, err = Encode(PIDCoolant)
	require.EqualError(t, err, "encode $05 Engine coolant temperature: 0 values given, it has 1")
	_, err = Encode(PIDCoolant, math.NaN())
	require.EqualError(t, err, "encode $05 Engine coolant temperature: value is not a number")
	for _, bad := range []float64{0.5, -1, 300, math.NaN(), math.Inf(1)} {
		_, err = Encode(PIDSecondaryAir, bad)
		require.ErrorIs(t, err, ErrState)
	}
	_, err = Encode(PIDReadiness, 1)
	require.Error(t, err)
	_, err = Encode(0x00, 1)
	require.Error(t, err)
	_, err = Decode(0xFE, nil)
	require.True(t, errors.As(err, &unknown))
	_, err = Decode(PIDCoolant, []byte{1, 2})
	require.EqualError(t, err, "decode $05 Engine coolant temperature: 2 data bytes, it has 1")
}

func TestTable(t *testing.T) {
	last := -1
	for _, p := range Parameters() {
		require.Greater(t, int(p.PID), last, "ascending")
		last = int(p.PID)
		require.NotEmpty(t, p.Name)
		require.Contains(t, p.Source, "SAE J1979")
		require.Positive(t, p.Size())
		got, ok := Lookup(p.PID)
		require.True(t, ok)
		require.Equal(t, p, got)
		for _, f := range p.Fields {
			require.NotEmpty(t, f.Name)
			low, high := f.Limits()
			if f.Form == Number {
				require.Less(t, low, high)
				require.Positive(t, f.Resolution())
			} else {
				require.Zero(t, f.Resolution())
				require.Zero(t, high-low)
			}
		}
	}
	for _, pid := range []byte{1, 3, 5, 6, 7, 0x0B, 0x0C, 0x0D, 0x0F, 0x10, 0x11, 0x12, 0x14, 0x1F, 0x24, 0x33, 0x34, 0x3C, 0x41, 0x42, 0x44} {
		_, ok := Lookup(pid)
		require.True(t, ok, "%02X", pid)
	}
}

func TestSupport(t *testing.T) {
	ids := []byte{0x01, 0x05, 0x0C, 0x12, 0x20}
	mask := SupportMask(0x00, append([]byte{0x00, 0x21, 0xFF}, ids...)...)
	// Bit 7 of the first byte is $01, bit 0 of the last $20 (decoders A and B).
	require.Equal(t, [4]byte{0x88, 0x10, 0x40, 0x01}, mask)
	require.Equal(t, ids, Supported(0x00, mask))
	require.Equal(t, []byte{0x31}, Supported(0x20, SupportMask(0x20, 0x31)))
	require.Len(t, Supported(0xE0, [4]byte{0xFF, 0xFF, 0xFF, 0xFF}), 31)
	readings, err := Decode(0x00, mask[:])
	require.NoError(t, err)
	require.Equal(t, "$01 $05 $0C $12 $20", readings[0].Text)
	readings, err = Decode(PIDSensors, []byte{0x03})
	require.NoError(t, err)
	require.Equal(t, "B1S1 B1S2", readings[0].Text)
}
