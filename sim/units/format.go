package units

import (
	"math"
	"strconv"
	"strings"
)

// maxDecimals limits what a resolution can ask for.
const maxDecimals = 9

// Number writes x rounded to a multiple of resolution (halves away from zero),
// with as many decimals as the resolution has: Number(12.4567, 0.01) is
// "12.46", Number(12.4567, 0.5) is "12.5", Number(1234, 50) is "1250". A
// resolution of zero or less, or one that is not a number, is taken as 1e-9.
// There is no "-0". NaN is "---" and an infinite x is "OL" or "-OL", as on a
// meter.
func Number(x, resolution float64) string {
	switch {
	case x != x:
		return "---"
	case math.IsInf(x, 1):
		return "OL"
	case math.IsInf(x, -1):
		return "-OL"
	}
	rounded, decimals := roundTo(x, resolution)
	s := strconv.FormatFloat(rounded, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// Format is [Number] with a space and the unit's symbol; without the space when
// there is no symbol. Format(12.4567, 0.01, "V") is "12.46 V".
func Format(x, resolution float64, unit string) string {
	if unit == "" {
		return Number(x, resolution)
	}
	return Number(x, resolution) + " " + unit
}

// Show writes an SI value in unit u to a resolution given in u.
func (u Unit) Show(si, resolution float64) string {
	return Format(u.FromSI(si), resolution, u.Symbol())
}

// Round returns x rounded to a multiple of resolution as [Number] does.
func Round(x, resolution float64) float64 {
	rounded, _ := roundTo(x, resolution)
	return rounded
}

func roundTo(x, resolution float64) (rounded float64, decimals int) {
	if !(resolution > 0) || math.IsInf(resolution, 0) {
		resolution = 1e-9
	}
	decimals, scale := 0, 1.0
	for decimals < maxDecimals && !isWhole(float64(resolution*scale)) {
		decimals++
		scale *= 10
	}
	// Dividing by a power of ten gives the nearest double to the decimal
	// number; multiplying by 0.01 would not.
	steps := math.Round(x / resolution)
	if unit := math.Round(resolution * scale); unit > 0 {
		if v := steps * unit / scale; !math.IsInf(v, 0) {
			return v, decimals
		}
	}
	return x, decimals
}

// isWhole allows for decimal fractions that a double cannot hold.
func isWhole(x float64) bool {
	r := math.Round(x)
	return r != 0 && math.Abs(x-r) < float64(1e-6*r)
}
