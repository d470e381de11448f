package dmath

import "math"

// Tanh returns the hyperbolic tangent of x.
//
// Tanh(±0) = ±0, Tanh(±Inf) = ±1, Tanh(NaN) = NaN.
func Tanh(x float64) float64 {
	// Rational approximation for small arguments: Cephes mathematical
	// library, tanh.c (Moshier 1984), as in the Go standard library.
	const (
		p0 = -9.64399179425052238628e-1
		p1 = -9.92877231001918586564e1
		p2 = -1.61468768441708447952e3
		q0 = 1.12811678491632931402e2
		q1 = 2.23548839060100448583e3
		q2 = 4.84406305325125486048e3
	)
	a := math.Abs(x)
	switch {
	case a < 0.625:
		if x == 0 {
			return x
		}
		s := float64(x * x)
		p := float64((float64(p0*s)+p1)*s) + p2
		q := float64((float64((s+q0)*s)+q1)*s) + q2
		return x + float64(float64(x*s)*(p/q))
	case a > 22: // 1 - tanh is below half a unit in the last place
		return math.Copysign(1, x)
	}
	// NaN comes here and stays NaN.
	return math.Copysign(1-2/(Exp(2*a)+1), x)
}
