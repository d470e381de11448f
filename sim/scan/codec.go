package scan

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// ErrState is the error for a status byte that the standard does not allow,
// such as two bits where exactly one must be set.
var ErrState = errors.New("not a valid state")

// Reading is one decoded value.
type Reading struct {
	PID        byte
	Name       string
	Unit       string
	Value      float64 // the number; for states and codes the raw bits
	Resolution float64 // step of one count; 0 when Text is what to show
	Text       string  // state, code or list of sensors; empty for numbers
	NotUsed    bool    // the sender marked the value as not used; Value is NaN
}

// Encode writes a parameter's data bytes, one value to a field. A number is
// rounded to the nearest count, and one beyond the field's limits is sent as
// the limit, as a controller does (from memory). NaN marks a field as not used
// where the standard has a value for that, and is an error elsewhere. States
// are given as their bit, codes as the DTC's number. Monitor status is written
// by [Readiness.Bytes], bit maps of supported parameters by [SupportMask].
func Encode(pid byte, values ...float64) ([]byte, error) {
	p, ok := Lookup(pid)
	if !ok {
		return nil, &UnknownError{"parameter", pid}
	}
	if len(values) != len(p.Fields) {
		return nil, fmt.Errorf("encode $%02X %s: %d values given, it has %d", pid, p.Name, len(values), len(p.Fields))
	}
	data := make([]byte, 0, p.Size())
	for i, f := range p.Fields {
		raw, err := f.encode(values[i])
		if err != nil {
			return nil, fmt.Errorf("encode $%02X %s: %w", pid, f.Name, err)
		}
		for shift := 8 * (f.Size - 1); shift >= 0; shift -= 8 {
			data = append(data, byte(raw>>shift))
		}
	}
	return data, nil
}

func (f Field) encode(x float64) (uint32, error) {
	switch f.Form {
	case Number:
		return f.encodeNumber(x)
	case Status:
		return 0, errors.New("monitor status is written from a Readiness")
	case Support:
		return 0, errors.New("a bit map of supported identifiers is written by SupportMask")
	}
	limit := float64(uint32(1)<<(8*f.Size) - 1)
	if !(x >= 0 && x <= limit) || x != math.Floor(x) {
		return 0, fmt.Errorf("%g: %w", x, ErrState)
	}
	raw := uint32(x)
	_, err := f.text(raw)
	return raw, err
}

func (f Field) encodeNumber(x float64) (uint32, error) {
	if x != x {
		if f.NotUsed {
			return f.largest() + 1, nil
		}
		return 0, errors.New("value is not a number")
	}
	n := math.Round(float64((x-f.Offset)*f.Den) / f.Num)
	switch most := float64(f.largest()); {
	case n <= 0:
		return 0, nil
	case n >= most:
		return f.largest(), nil
	}
	return uint32(n), nil
}

// Decode reads a parameter's data bytes. It fails on an unknown parameter, a
// wrong number of bytes, and on a state that the standard does not allow
// ([ErrState]).
func Decode(pid byte, data []byte) ([]Reading, error) {
	p, ok := Lookup(pid)
	if !ok {
		return nil, &UnknownError{"parameter", pid}
	}
	if len(data) != p.Size() {
		return nil, fmt.Errorf("decode $%02X %s: %d data bytes, it has %d", pid, p.Name, len(data), p.Size())
	}
	readings := make([]Reading, 0, len(p.Fields))
	for _, f := range p.Fields {
		part := data[:f.Size]
		data = data[f.Size:]
		if f.Form == Status {
			var status [4]byte
			copy(status[:], part)
			readings = append(readings, ParseReadiness(status).readings(pid)...)
			continue
		}
		r, err := f.decode(pid, part)
		if err != nil {
			return nil, fmt.Errorf("decode $%02X %s: %w", pid, f.Name, err)
		}
		readings = append(readings, r)
	}
	return readings, nil
}

func (f Field) decode(pid byte, data []byte) (Reading, error) {
	var raw uint32
	for _, b := range data {
		raw = raw<<8 | uint32(b)
	}
	r := Reading{PID: pid, Name: f.Name, Unit: f.Unit, Value: float64(raw)}
	switch f.Form {
	case Number:
		r.Resolution = f.Resolution()
		if raw > f.largest() {
			r.NotUsed, r.Value = true, math.NaN()
			return r, nil
		}
		r.Value = f.value(raw)
		return r, nil
	case Support:
		var mask [4]byte
		copy(mask[:], data)
		var ids []string
		for _, id := range Supported(pid, mask) {
			ids = append(ids, fmt.Sprintf("$%02X", id))
		}
		r.Text = strings.Join(ids, " ")
		return r, nil
	}
	var err error
	r.Text, err = f.text(raw)
	return r, err
}

// text is what a raw status or code reads as.
func (f Field) text(raw uint32) (string, error) {
	switch f.Form {
	case Code:
		if raw == 0 {
			return "none", nil
		}
		return DTC(raw).String(), nil
	case Bits:
		var set []string
		for _, s := range f.States {
			if raw&uint32(s.Bit) != 0 {
				set = append(set, s.Text)
			}
		}
		return strings.Join(set, " "), nil
	}
	if raw == 0 && f.Form == OneHotOrNone {
		return "none", nil
	}
	for _, s := range f.States {
		if raw == uint32(s.Bit) {
			return s.Text, nil
		}
	}
	return "", fmt.Errorf("status byte %02X: %w", raw, ErrState)
}

// SupportMask is the bit map that answers the support request base ($00, $20,
// $40 ...): bit 7 of the first byte stands for base+1, bit 0 of the last for
// base+32. Identifiers outside the range are left out.
func SupportMask(base byte, ids ...byte) (mask [4]byte) {
	for _, id := range ids {
		if n := int(id) - int(base) - 1; n >= 0 && n < 32 {
			mask[n/8] |= 0x80 >> (n % 8)
		}
	}
	return mask
}

// Supported lists the identifiers whose bit is set, in ascending order.
func Supported(base byte, mask [4]byte) []byte {
	var ids []byte
	for n := range 32 {
		if id := int(base) + 1 + n; id <= 0xFF && mask[n/8]&(0x80>>(n%8)) != 0 {
			ids = append(ids, byte(id))
		}
	}
	return ids
}
