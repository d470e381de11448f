package scan

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Whatever is encoded reads back within half a count, or as the limit.
func FuzzEncodeDecode(f *testing.F) {
	for _, p := range parameters {
		f.Add(p.PID, 1.0, 0.0)
		f.Add(p.PID, -1e9, math.NaN())
		f.Add(p.PID, 1e300, 0.123)
	}
	f.Fuzz(func(t *testing.T, pid byte, a, b float64) {
		p, ok := Lookup(pid)
		if !ok {
			_, err := Encode(pid, a)
			require.Error(t, err)
			return
		}
		values := []float64{a, b}[:len(p.Fields)]
		data, err := Encode(pid, values...)
		if err != nil {
			return
		}
		require.Len(t, data, p.Size())
		readings, err := Decode(pid, data)
		require.NoError(t, err)
		for i, field := range p.Fields {
			r := readings[i]
			if field.Form != Number {
				require.Equal(t, values[i], r.Value)
				continue
			}
			require.Equal(t, values[i] != values[i], r.NotUsed)
			if r.NotUsed {
				continue
			}
			low, high := field.Limits()
			want := math.Min(math.Max(values[i], low), high)
			require.InDelta(t, want, r.Value, 0.5000001*field.Resolution())
		}
	})
}

// No bytes panic, and what decodes encodes to the same bytes.
func FuzzDecode(f *testing.F) {
	for _, p := range parameters {
		f.Add(p.PID, make([]byte, p.Size()))
		f.Add(p.PID, []byte{0xFF, 0xFF, 0xFF, 0xFF}[:p.Size()])
	}
	f.Add(byte(0x12), []byte{0x03})
	f.Add(byte(0x01), []byte{0x81, 0x07, 0x6D, 0x08})
	f.Fuzz(func(t *testing.T, pid byte, data []byte) {
		readings, err := Decode(pid, data)
		if err != nil {
			return
		}
		p, _ := Lookup(pid)
		switch p.Fields[0].Form {
		case Status:
			b := ParseReadiness([4]byte(data)).Bytes()
			data[1] &= 0x7F // reserved
			require.Equal(t, data, b[:])
			return
		case Support:
			mask := SupportMask(pid, Supported(pid, [4]byte(data))...)
			require.Equal(t, data, mask[:])
			return
		}
		values := make([]float64, len(readings))
		for i, r := range readings {
			values[i] = r.Value
		}
		back, err := Encode(pid, values...)
		require.NoError(t, err)
		require.Equal(t, data, back)
	})
}

// No message panics, and what parses writes back to something that parses to
// the same.
func FuzzResponse(f *testing.F) {
	for _, seed := range []string{"\x41\x05\x3c", "\x42\x02\x00\x04\x11", "\x43\x02\x04\x11\x04\x18", "\x44", "\x47\x00",
		"\x46\x01\x01\x0a\x0b\xb0\x0b\xb0\x0b\xb0", "\x46\x60\x00\x00\x80\x00", "\x49\x02\x01AB", "\x7f\x04\x22", "\x43\x03\x01\x04\x00\x00\x00\x00"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := ParseResponse(b)
		if err != nil {
			require.Equal(t, Response{}, r)
			return
		}
		for _, item := range r.Items {
			_, _ = item.Readings()
		}
		for _, res := range r.Results {
			_, _ = res.Measured()
		}
		_, _ = r.Info.Texts()
		_, _ = r.Info.InUse()
		out, err := r.Bytes()
		require.NoError(t, err)
		again, err := ParseResponse(out)
		require.NoError(t, err)
		require.Equal(t, r, again)
	})
}

func FuzzRequest(f *testing.F) {
	for _, seed := range []string{"\x01\x05\x0c", "\x02\x02\x00\x05\x00", "\x03", "\x06\x71", "\x09\x02", "\x08\x00"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		r, err := ParseRequest(b)
		if err != nil {
			return
		}
		out, err := r.Bytes()
		require.NoError(t, err)
		require.Equal(t, b, out)
	})
}

func FuzzParseDTC(f *testing.F) {
	for _, seed := range []string{"P0411", "u3fff", "", "X", "P04G1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := ParseDTC(text)
		if err != nil {
			return
		}
		back, err := ParseDTC(d.String())
		require.NoError(t, err)
		require.Equal(t, d, back)
		b := d.Bytes()
		require.Equal(t, d, DTCOf(b[0], b[1]))
	})
}
