package dmath

import "math"

const (
	logN    = 1 << logBits
	logBits = 7

	// logOffset is where the reduced argument's range [0.707, 1.414) begins,
	// as a bit pattern. The odd half step puts 1 in the middle of a table
	// interval, so that the table's entry there is exactly log 1 = 0 and
	// nothing cancels near 1.
	logOffset = 0x3fe6_a000_0000_0000 + 1<<(52-logBits-1)

	minNormalBits = 0x0010_0000_0000_0000
	infBits       = 0x7ff0_0000_0000_0000
)

// Log returns the natural logarithm of x.
//
// Log(+Inf) = +Inf, Log(0) = -Inf, Log(x < 0) = NaN, Log(NaN) = NaN.
func Log(x float64) float64 {
	bits := math.Float64bits(x)
	if bits-minNormalBits >= infBits-minNormalBits {
		switch {
		case x == 0:
			return math.Inf(-1)
		case x < 0:
			return math.NaN()
		case bits >= infBits: // +Inf and NaN
			return x
		}
		bits = math.Float64bits(x*0x1p52) - 52<<52 // below the normal numbers
	}
	t := bits - logOffset
	row := &logTable[t>>(52-logBits)%logN]
	k := float64(int64(t) >> 52)
	z := bits - t&(0xfff<<52)

	rHi, rLo := logResidue(z, row.inv)
	r := rHi + rLo
	// k·ln2Hi and the table's log are whole multiples of 2^-42: exact.
	t1 := float64(k*ln2Hi) + row.log
	t2 := t1 + r
	lo := t1 - t2 + r
	lo += float64(k*ln2Lo) + row.logLo

	r2 := float64(r * r)
	p := -1.0/2 + float64(r*(1.0/3)) +
		float64(r2*(-1.0/4+float64(r*(1.0/5)))) +
		float64(float64(r2*r2)*(-1.0/6+float64(r*(1.0/7))-float64(r2*(1.0/8))))
	return lo + float64(r2*p) + t2
}

// logWide returns log x as hi + lo, good to about 2^-65, for the bits of a
// positive finite x.
func logWide(bits uint64) (hi, lo float64) {
	if bits < minNormalBits {
		bits = math.Float64bits(math.Float64frombits(bits)*0x1p52) - 52<<52
	}
	t := bits - logOffset
	row := &logTable[t>>(52-logBits)%logN]
	k := float64(int64(t) >> 52)
	z := bits - t&(0xfff<<52)

	rHi, rLo := logResidue(z, row.inv)
	r := rHi + rLo
	t1 := float64(k*ln2Hi) + row.log
	t2 := t1 + r
	lo1 := float64(k*ln2Lo) + row.logLo
	lo2 := t1 - t2 + r

	// -r²/2 in two words: rHi has so few bits that its square is exact.
	half, halfHi := float64(-0.5*r), float64(-0.5*rHi)
	sqHi := float64(rHi * halfHi)
	t3 := t2 + sqHi
	lo3 := float64(rLo * (half + halfHi))
	lo4 := t2 - t3 + sqHi
	// The rounding error of rHi + rLo, and the rest of the series.
	lo5 := rHi - r + rLo

	r2 := float64(r * r)
	r3 := float64(r2 * r)
	p := 1.0/3 - float64(r*(1.0/4)) +
		float64(r2*(1.0/5-float64(r*(1.0/6)))) +
		float64(float64(r2*r2)*(1.0/7-float64(r*(1.0/8))+float64(r2*(1.0/9))))
	lo = lo1 + lo2 + lo3 + lo4 + lo5 + float64(r3*p)
	hi = t3 + lo
	return hi, t3 - hi + lo
}

// logResidue returns z·inv - 1 as an exact sum of two numbers. The table's
// reciprocals have at most 10 bits and the upper part of z has 21, so both
// products are exact.
func logResidue(z uint64, inv float64) (hi, lo float64) {
	zHi := math.Float64frombits((z + 1<<31) &^ (1<<32 - 1))
	zLo := math.Float64frombits(z) - zHi
	return float64(zHi*inv) - 1, float64(zLo * inv)
}
