package scan

import (
	"fmt"
	"math"
)

// Scaling is one "unit and scaling identifier" of service $06: value =
// raw·Factor + Offset, raw signed when ID is $80 or more.
type Scaling struct {
	ID             byte
	Unit           string
	Factor, Offset float64
	Source         string
}

const scalingSource = "SAE J1979 unit and scaling table as in decoder A"

var scalings = []Scaling{
	{0x0A, "mV", 0.122, 0, scalingSource},
	{0x0B, "mV", 1, 0, scalingSource},
	{0x0C, "mV", 10, 0, scalingSource},
	{0x0E, "mA", 1, 0, scalingSource},
	{0x0F, "mA", 10, 0, scalingSource},
	{0x10, "ms", 1, 0, scalingSource},
	{0x11, "ms", 100, 0, scalingSource},
	{0x12, "s", 1, 0, scalingSource},
	{0x16, "°C", 0.1, -40, scalingSource},
	{0x17, "kPa", 0.01, 0, scalingSource},
	{0x1E, "", 3.05e-5, 0, scalingSource},
	{0x20, "", 1.0 / 256, 0, scalingSource},
	{0x24, "counts", 1, 0, scalingSource},
	{0x27, "g/s", 0.01, 0, scalingSource},
	{0x2A, "kg/h", 0.001, 0, scalingSource},
	{0x2F, "%", 0.01, 0, scalingSource},
	{0xFD, "Pa", 1, 0, scalingSource},
}

// LookupScaling finds a scaling by its identifier.
func LookupScaling(id byte) (Scaling, bool) {
	for _, s := range scalings {
		if s.ID == id {
			return s, true
		}
	}
	return Scaling{}, false
}

// Scalings is a copy of the scaling table in ascending order.
func Scalings() []Scaling { return append([]Scaling(nil), scalings...) }

// Signed says whether raw values are two's complement.
func (s Scaling) Signed() bool { return s.ID >= 0x80 }

// Value is the physical value of two raw bytes.
func (s Scaling) Value(raw uint16) float64 {
	n := float64(raw)
	if s.Signed() {
		n = float64(int16(raw))
	}
	return float64(n*s.Factor) + s.Offset
}

// Raw is the nearest raw value, at the limit when x is beyond it. NaN is an
// error.
func (s Scaling) Raw(x float64) (uint16, error) {
	if x != x {
		return 0, fmt.Errorf("scaling $%02X: value is not a number", s.ID)
	}
	n := math.Round((x - s.Offset) / s.Factor)
	if s.Signed() {
		return uint16(int16(min(max(n, math.MinInt16), math.MaxInt16))), nil
	}
	return uint16(min(max(n, 0), math.MaxUint16)), nil
}
