package dmath

import "math"

const (
	// expN is the number of table steps to one doubling.
	expN    = 1 << expBits
	expBits = 7

	// roundShift added to and taken from a number below 2^51 rounds it to an
	// integer, and leaves that integer in the low bits in between.
	roundShift = 0x1.8p52

	// Inside these limits neither the scale nor the result leaves the normal
	// numbers.
	expFastMin = -708.0
	expFastMax = 709.0
)

// Exp returns e**x.
//
// Exp(+Inf) = +Inf, Exp(-Inf) = 0, Exp(NaN) = NaN. Above about 709.78 the
// result is +Inf, below about -745.13 it is 0.
func Exp(x float64) float64 {
	if !(x > expFastMin && x < expFastMax) {
		return expWide(x, 0)
	}
	r, k := expReduce(x)
	row := &expTable[k%expN]
	scale := math.Float64frombits(row.bits + k<<(52-expBits))
	return scale + float64(scale*expSeries(r, row.tail))
}

// expSum returns e**(x+lo) for |lo| up to about 3e-5, which is what Pow needs to
// carry a logarithm in two words.
func expSum(x, lo float64) float64 {
	if !(x > expFastMin && x < expFastMax) {
		return expWide(x, lo)
	}
	r, k := expReduce(x)
	row := &expTable[k%expN]
	scale := math.Float64frombits(row.bits + k<<(52-expBits))
	return scale + float64(scale*expSeries(r+lo, row.tail))
}

// expWide is expSum where the result may overflow, underflow or be NaN.
func expWide(x, lo float64) float64 {
	switch {
	case x != x:
		return x
	case x > 1024:
		return math.Inf(1)
	case x < -1075:
		return 0
	}
	r, k := expReduce(x)
	row := &expTable[k%expN]
	bits := row.bits + k<<(52-expBits)
	// Keep the scale a normal number, then finish with an exact power of two.
	if x > 0 {
		scale := math.Float64frombits(bits - 1009<<52)
		y := scale + float64(scale*expSeries(r+lo, row.tail))
		return y * 0x1p1009
	}
	scale := math.Float64frombits(bits + 1022<<52)
	y := scale + float64(scale*expSeries(r+lo, row.tail))
	return y * 0x1p-1022
}

// expReduce splits x = k·ln2/128 + r with |r| <= ln2/256. Only the low bits of
// k count: it wraps as a two's complement number.
func expReduce(x float64) (r float64, k uint64) {
	t := float64(x*expInvStep) + roundShift
	k = math.Float64bits(t)
	t -= roundShift
	return x - float64(t*expStepHi) - float64(t*expStepLo), k
}

// expSeries returns tail + e**r - 1 by Taylor's series. The first term left out
// is r^6/720, below 6e-19 for |r| <= ln2/256.
func expSeries(r, tail float64) float64 {
	r2 := float64(r * r)
	p := 1.0/2 + float64(r*(1.0/6))
	q := 1.0/24 + float64(r*(1.0/120))
	return tail + r + float64(r2*p) + float64(float64(r2*r2)*q)
}
