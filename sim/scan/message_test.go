package scan

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestRequests(t *testing.T) {
	for _, test := range []struct {
		request Request
		bytes   string
	}{
		{Request{Service: LiveData, IDs: []byte{0x05}}, "01 05"},
		{Request{Service: LiveData, IDs: []byte{0x05, 0x0C, 0x12}}, "01 05 0C 12"},
		{Request{Service: FreezeData, IDs: []byte{0x02, 0x05}}, "02 02 00 05 00"},
		{Request{Service: FreezeData, IDs: []byte{0x02}, Frame: 1}, "02 02 01"},
		{Request{Service: ConfirmedCodes}, "03"},
		{Request{Service: ClearCodes}, "04"},
		{Request{Service: MonitorResults, IDs: []byte{0x71}}, "06 71"},
		{Request{Service: PendingCodes}, "07"},
		{Request{Service: VehicleInfo, IDs: []byte{0x02}}, "09 02"},
		{Request{Service: PermanentCodes}, "0A"},
	} {
		b, err := test.request.Bytes()
		require.NoError(t, err)
		require.Equal(t, bytesOf(t, test.bytes), b)
		back, err := ParseRequest(b)
		require.NoError(t, err)
		require.Equal(t, test.request, back)
	}
	for _, bad := range []string{"", "01", "01 01 02 03 04 05 06 07", "02 05", "02 05 00 0C 01", "02 01 00 02 00 03 00 04 00", "03 01", "08 01", "09", "09 02 04", "22 F1 90"} {
		_, err := ParseRequest(bytesOf(t, bad))
		require.ErrorIs(t, err, ErrMessage, bad)
	}
	_, err := Request{Service: LiveData, IDs: []byte{5}, Frame: 1}.Bytes()
	require.ErrorIs(t, err, ErrMessage)
}

func encoded(t *testing.T, pid byte, values ...float64) Item {
	t.Helper()
	data, err := Encode(pid, values...)
	require.NoError(t, err)
	return Item{ID: pid, Data: data}
}

func TestResponses(t *testing.T) {
	result, err := NewResult(MIDSecondaryAir1, 0x80, 0x27, 4.36, 2.5, 655.35)
	require.NoError(t, err)
	mask := SupportMask(0x60, MIDSecondaryAir1)
	vin, err := NewInfoText(InfoVIN, "COLDBAY0000000001")
	require.NoError(t, err)
	for _, test := range []struct {
		response Response
		bytes    string
	}{
		// 41 05 3C is an open package's example (20 degC).
		{Response{Service: LiveData, Items: []Item{encoded(t, PIDCoolant, 20)}}, "41 05 3C"},
		{Response{Service: LiveData, Items: []Item{encoded(t, PIDCoolant, 20), encoded(t, PIDSecondaryAir, 1)}}, "41 05 3C 12 01"},
		{Response{Service: FreezeData, Items: []Item{{ID: PIDFreezeCode, Data: []byte{0x04, 0x11}}}}, "42 02 00 04 11"},
		{Response{Service: ConfirmedCodes, Codes: []DTC{0x0411, 0x0418}}, "43 02 04 11 04 18"},
		{Response{Service: PendingCodes}, "47 00"},
		{Response{Service: PermanentCodes, Codes: []DTC{0x0491}}, "4A 01 04 91"},
		{Response{Service: ClearCodes}, "44"},
		{Response{Service: MonitorResults, Results: []Result{result}}, "46 71 80 27 01 B4 00 FA FF FF"},
		{Response{Service: MonitorResults, Items: []Item{{ID: 0x60, Data: mask[:]}}}, "46 60 00 00 80 00"},
		{Response{Service: VehicleInfo, Info: vin}, "49 02 01 43 4F 4C 44 42 41 59 30 30 30 30 30 30 30 30 30 31"},
		{Response{Service: ClearCodes, Refused: ConditionsNotCorrect}, "7F 04 22"},
	} {
		b, err := test.response.Bytes()
		require.NoError(t, err)
		require.Equal(t, bytesOf(t, test.bytes), b)
		back, err := ParseResponse(b)
		require.NoError(t, err)
		require.Equal(t, test.response, back)
	}
}

func TestResponseErrors(t *testing.T) {
	for _, bad := range []string{"", "01 05", "41", "41 05", "41 FE 00", "41 05 3C 0C 11", "43", "43 02 04 11", "43 01 04 11 04 18",
		"44 00", "46", "46 71 80 27", "46 60 00", "48 00", "49 02", "7F 04", "7F 04 00", "7F 04 22 00", "FF"} {
		_, err := ParseResponse(bytesOf(t, bad))
		require.Error(t, err, bad)
	}
	var unknown *UnknownError
	_, err := ParseResponse(bytesOf(t, "41 FE 00"))
	require.True(t, errors.As(err, &unknown))
	for _, bad := range []Response{
		{Service: LiveData},
		{Service: LiveData, Items: []Item{{ID: 0xFE}}},
		{Service: LiveData, Items: []Item{{ID: 0x05}}},
		{Service: ConfirmedCodes, Codes: make([]DTC, 256)},
		{Service: MonitorResults},
		{Service: MonitorResults, Items: []Item{{ID: 0x71, Data: make([]byte, 4)}}},
		{Service: MonitorResults, Results: []Result{{MID: 0x20}}},
		{Service: 0x08},
	} {
		_, err := bad.Bytes()
		require.Error(t, err)
	}
}

// 00 00 is padding, not P0000 (unit test of an open decoder).
func TestCodePadding(t *testing.T) {
	r, err := ParseResponse(bytesOf(t, "43 03 01 04 00 00 00 00"))
	require.NoError(t, err)
	require.Equal(t, []DTC{0x0104}, r.Codes)
	r, err = ParseResponse(bytesOf(t, "43 01 01 04 00 00"))
	require.NoError(t, err)
	require.Equal(t, []DTC{0x0104}, r.Codes)
}

// Test vectors of an open decoder's unit tests: 365 mV with both limits the
// same, 72 ms between 0 and 100; a cut-off record at the end is dropped.
func TestMonitorVectors(t *testing.T) {
	r, err := ParseResponse(bytesOf(t, "46 01 01 0A 0B B0 0B B0 0B B0 01 05 10 00 48 00 00 00 64 01 05 10 00"))
	require.NoError(t, err)
	require.Len(t, r.Results, 2)
	m, err := r.Results[0].Measured()
	require.NoError(t, err)
	require.Equal(t, byte(1), r.Results[0].MID)
	require.Equal(t, byte(1), r.Results[0].TID)
	require.InDelta(t, 365.02, m.Value, 0.005) // 0x0BB0·0.122
	require.Equal(t, m.Value, m.Min)
	require.Equal(t, m.Value, m.Max)
	require.True(t, m.Pass)
	require.Equal(t, "mV", m.Unit)
	m, err = r.Results[1].Measured()
	require.NoError(t, err)
	require.Equal(t, Measured{Value: 72, Min: 0, Max: 100, Unit: "ms", Resolution: 1, Pass: true}, m)
}

func TestResults(t *testing.T) {
	r, err := NewResult(MIDSecondaryAir1, FirstMakerTID, 0x27, 1.2, 2.5, 9)
	require.NoError(t, err)
	m, err := r.Measured()
	require.NoError(t, err)
	require.False(t, m.Pass)
	require.InDelta(t, 1.2, m.Value, 0.005)
	r, err = NewResult(MIDSecondaryAir1, FirstMakerTID, 0xFD, -2500, -1e9, 1e9)
	require.NoError(t, err)
	m, err = r.Measured()
	require.NoError(t, err)
	require.Equal(t, Measured{Value: -2500, Min: -32768, Max: 32767, Unit: "Pa", Resolution: 1, Pass: true}, m)
	_, err = NewResult(MIDSecondaryAir1, 0x80, 0x99, 0, 0, 0)
	require.EqualError(t, err, "scaling $99 is not in the table")
	_, err = NewResult(0x20, 0x80, 0x27, 0, 0, 0)
	require.Error(t, err)
	_, err = NewResult(MIDSecondaryAir1, 0x80, 0x27, math.NaN(), 0, 0)
	require.Error(t, err)
	_, err = Result{Scaling: 0x99}.Measured()
	require.Error(t, err)
}

// Secondary air monitors are $71 to $74 (several public command tables agree).
func TestMonitorNames(t *testing.T) {
	for mid, want := range map[byte]string{0x71: "Secondary air monitor 1", 0x74: "Secondary air monitor 4",
		0x01: "Oxygen sensor monitor B1S1", 0x21: "Catalyst monitor bank 1", 0x45: "Oxygen sensor heater monitor B2S1"} {
		name, ok := MonitorName(mid)
		require.True(t, ok)
		require.Equal(t, want, name)
	}
	for _, mid := range []byte{0x00, 0x70, 0x75} {
		_, ok := MonitorName(mid)
		require.False(t, ok)
	}
}

func TestScalings(t *testing.T) {
	for _, s := range Scalings() {
		require.NotEmpty(t, s.Source)
		for _, raw := range []uint16{0, 1, 0x7FFF, 0x8000, 0xFFFF} {
			back, err := s.Raw(s.Value(raw))
			require.NoError(t, err)
			require.Equal(t, raw, back, "%02X", s.ID)
		}
	}
	s, ok := LookupScaling(0x16)
	require.True(t, ok)
	require.InDelta(t, 60, s.Value(1000), 1e-9) // 0.1 degC a count, from -40
}

func TestFreezeFrame(t *testing.T) {
	var f FreezeFrame
	readings, err := f.Readings()
	require.NoError(t, err)
	require.Len(t, readings, 1)
	require.Equal(t, "none", readings[0].Text)

	f.Code = 0x0491
	require.NoError(t, f.Store(PIDCoolant, 19.6))
	before := f
	require.NoError(t, f.Store(PIDCoolant, 21))
	require.NoError(t, f.Store(PIDEngineSpeed, 1250))
	require.Error(t, f.Store(PIDCoolant, math.NaN()))
	readings, err = before.Readings()
	require.NoError(t, err)
	require.Equal(t, 20.0, readings[1].Value)

	b, err := f.Answer(f.Stored()...).Bytes()
	require.NoError(t, err)
	require.Equal(t, bytesOf(t, "42 02 00 04 91 05 00 3D 0C 00 13 88"), b)
	readings, err = f.Readings()
	require.NoError(t, err)
	require.Equal(t, "P0491", readings[0].Text)
	require.Equal(t, 21.0, readings[1].Value)
	require.Equal(t, 1250.0, readings[2].Value)

	require.Empty(t, f.Answer(PIDManifold).Items)
	require.Equal(t, []byte{0x02, 0x05, 0x0C}, Supported(0, [4]byte(f.Answer(0x00).Items[0].Data)))
	f.Code = 0
	require.Len(t, f.Answer(f.Stored()...).Items, 1)
}

func TestInfo(t *testing.T) {
	info, err := NewInfoText(InfoCalibration, "CB-A-0001", "CB-A-0002")
	require.NoError(t, err)
	require.Len(t, info.Data, 32)
	texts, err := info.Texts()
	require.NoError(t, err)
	require.Equal(t, []string{"CB-A-0001", "CB-A-0002"}, texts)
	texts, err = Info{Type: InfoController, Count: 1, Data: append([]byte("ECM\x01\xff"), make([]byte, 15)...)}.Texts()
	require.NoError(t, err)
	require.Equal(t, []string{"ECM??"}, texts)
	for _, bad := range []string{"a text of more than sixteen", "tab\t", "é"} {
		_, err = NewInfoText(InfoCalibration, bad)
		require.Error(t, err)
	}
	_, err = NewInfoText(InfoInUse, "x")
	require.Error(t, err)
	_, err = NewInfoText(InfoVIN)
	require.Error(t, err)
	_, err = Info{Type: InfoVIN, Count: 2, Data: make([]byte, 17)}.Texts()
	require.ErrorIs(t, err, ErrMessage)

	use := InUse{Conditions: 100, Ignitions: 240, Air: InUseCount{31, 60}}
	back, err := use.Info().InUse()
	require.NoError(t, err)
	require.Equal(t, use, back)
	require.InDelta(t, 0.5167, use.Air.Ratio(), 1e-4)
	require.Zero(t, use.EGR.Ratio())
	_, err = info.InUse()
	require.Error(t, err)
}
