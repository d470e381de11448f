package dmath

import "math"

// Pow returns x**y, with the special cases of [math.Pow]: x**0 = 1 and 1**y =
// 1 for any operand, a negative base only with a whole exponent, NaN otherwise.
func Pow(x, y float64) float64 {
	switch {
	case y == 0 || x == 1:
		return 1
	case y == 1:
		return x
	case x != x || y != y:
		return math.NaN()
	case x == 0 || math.IsInf(x, 0):
		return powEdge(x, y)
	case math.IsInf(y, 0):
		return powEndless(x, y)
	}
	negate := false
	if x < 0 {
		if math.Floor(y) != y {
			return math.NaN()
		}
		negate = isOdd(y)
		x = -x
	}
	p := powPositive(x, y)
	if negate {
		return -p
	}
	return p
}

// powPositive is x**y for finite x > 0 and finite y.
func powPositive(x, y float64) float64 {
	const lower27 = 1<<27 - 1
	hi, lo := logWide(math.Float64bits(x))
	yHi := math.Float64frombits(math.Float64bits(y) &^ lower27)
	yLo := y - yHi
	lHi := math.Float64frombits(math.Float64bits(hi) &^ lower27)
	lLo := hi - lHi + lo
	eHi := float64(yHi * lHi) // 26 bits by 26 bits: exact
	if !(eHi > -1100 && eHi < 1100) {
		return expWide(eHi, 0)
	}
	return expSum(eHi, float64(yLo*lHi)+float64(y*lLo))
}

// powEdge is x**y for x zero or infinite.
func powEdge(x, y float64) float64 {
	magnitude := 0.0
	if (x == 0) == (y < 0) {
		magnitude = math.Inf(1)
	}
	if math.Signbit(x) && isOdd(y) {
		return -magnitude
	}
	return magnitude
}

// powEndless is x**y for infinite y and finite x other than 0 and 1.
func powEndless(x, y float64) float64 {
	a := math.Abs(x)
	switch {
	case a == 1:
		return 1
	case (a > 1) == (y > 0):
		return math.Inf(1)
	}
	return 0
}

func isOdd(y float64) bool {
	if !(math.Abs(y) < 1<<53) {
		return false // 2^53 and up are even, infinities count as even
	}
	n := int64(y)
	return float64(n) == y && n&1 == 1
}
