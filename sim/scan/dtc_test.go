package scan

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestDTC(t *testing.T) {
	tests := []struct {
		high, low byte
		text      string
	}{
		// Unit tests of an open decoder.
		{0x01, 0x04, "P0104"}, {0x41, 0x23, "C0123"}, {0x80, 0x03, "B0003"},
		// Worked out here from the same layout.
		{0x04, 0x10, "P0410"}, {0x04, 0x11, "P0411"}, {0x04, 0x12, "P0412"}, {0x04, 0x18, "P0418"},
		{0x04, 0x91, "P0491"}, {0x04, 0x92, "P0492"}, {0x04, 0x20, "P0420"}, {0x01, 0x35, "P0135"},
		{0x01, 0x72, "P0172"}, {0x24, 0x40, "P2440"}, {0x24, 0x45, "P2445"}, {0xFF, 0xFF, "U3FFF"},
	}
	for _, test := range tests {
		d := DTCOf(test.high, test.low)
		require.Equal(t, test.text, d.String())
		require.Equal(t, [2]byte{test.high, test.low}, d.Bytes())
		back, err := ParseDTC(test.text)
		require.NoError(t, err)
		require.Equal(t, d, back)
	}
}

func TestParseDTCErrors(t *testing.T) {
	for _, bad := range []string{"", "P041", "P04111", "X0411", "P4411", "P04G1", "0411", "P041é", "É0411"} {
		_, err := ParseDTC(bad)
		require.Error(t, err, bad)
		require.Contains(t, err.Error(), "write a letter P, C, B or U")
	}
	d, err := ParseDTC("p2aBc")
	require.NoError(t, err)
	require.Equal(t, "P2ABC", d.String())
}

func TestDTCText(t *testing.T) {
	b, err := json.Marshal([]DTC{0x0411})
	require.NoError(t, err)
	require.Equal(t, `["P0411"]`, string(b))
	var back []DTC
	require.NoError(t, json.Unmarshal(b, &back))
	require.Equal(t, []DTC{0x0411}, back)
	require.Error(t, json.Unmarshal([]byte(`["P9"]`), &back))
}

func TestDTCNames(t *testing.T) {
	// Generic names as in an open decoder's list and an open P24xx table.
	for code, want := range map[string]string{
		"P0410": "Secondary Air Injection System",
		"P0411": "Secondary Air Injection System Incorrect Flow Detected",
		"P0414": `Secondary Air Injection System Switching Valve "A" Circuit Shorted`,
		"P0418": `Secondary Air Injection System Control "A" Circuit`,
		"P0491": "Secondary Air Injection System Insufficient Flow (Bank 1)",
		"P0133": "O2 Sensor Circuit Slow Response (Bank 1 Sensor 1)",
		"P0420": "Catalyst System Efficiency Below Threshold (Bank 1)",
		"P2440": "Secondary Air Injection System Switching Valve Stuck Open Bank 1",
		"P2445": "Secondary Air Injection System Pump Stuck Off Bank 1",
	} {
		d, err := ParseDTC(code)
		require.NoError(t, err)
		name, ok := d.Name()
		require.True(t, ok, code)
		require.Equal(t, want, name)
		require.Contains(t, d.NameSource(), "SAE J2012")
	}
	_, ok := DTC(0x0999).Name()
	require.False(t, ok)
	require.Empty(t, DTC(0x0999).NameSource())
	codes := NamedDTCs()
	for i := 1; i < len(codes); i++ {
		require.Less(t, codes[i-1], codes[i])
	}
	for _, code := range []string{"P0111", "P0112", "P0113", "P0116", "P0117", "P0118", "P0130", "P0131", "P0132", "P0134", "P0135",
		"P0171", "P0172", "P0412", "P0413", "P0415", "P0416", "P0417", "P0419", "P0492", "P0562", "P2257", "P2258",
		"P2441", "P2442", "P2443", "P2444", "P2446", "P2447", "P2448"} {
		d, err := ParseDTC(code)
		require.NoError(t, err)
		require.Contains(t, codes, d, code)
	}
}
