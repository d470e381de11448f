package air

import (
	"math"

	"coldbay/sim/dmath"
)

// Gas constants of dry air.
const (
	R     = 287.05 // J/(kg K), ISO 2533
	Gamma = 1.4
)

const (
	tableN = 1024
	// uCrit is 1 - critical pressure ratio, (2/(gamma+1))^(gamma/(gamma-1)) = 0.5282818.
	uCrit = 1 - 0.528281787717174
	// psiMax is sqrt(gamma (2/(gamma+1))^((gamma+1)/(gamma-1))), the flow function of a choked orifice.
	psiMax = 0.6847314563772704
)

// psiTable holds psi(1-u)/sqrt(u) at equal steps of u up to the critical value: without the square root the function
// is smooth, and straight lines between the points err by less than 1e-7.
var psiTable = func() (t [tableN + 2]float64) {
	for i := range t {
		u := float64(i) * uCrit / tableN
		t[i] = psiSmooth(u)
	}
	return t
}()

// psiSmooth is sqrt(2 gamma/(gamma-1) (pr^(2/gamma) - pr^((gamma+1)/gamma)) / u) for pr = 1 - u.
func psiSmooth(u float64) float64 {
	if u < 1e-6 {
		return math.Sqrt2
	}
	l := dmath.Log(1 - u)
	return math.Sqrt(7 * (dmath.Exp(float64(l*(2/Gamma))) - dmath.Exp(float64(l*((Gamma+1)/Gamma)))) / u)
}

// Psi is the flow function of an orifice, and its derivative, at u = 1 - p_down/p_up in [0, 1]: mass flow is
// CdA p_up / sqrt(R T) Psi. laminar is the u below which the flow is linear in the difference.
func Psi(u, laminar float64) (psi, dpsi float64) {
	if !(u < uCrit) { // choked; and what is no number finds its way out through the caller's own
		return psiMax, 0
	}
	if u == 0 { // the same as below, to the bit, without one of the roots
		return 0, psiTable[0] * (1 / math.Sqrt(laminar))
	}
	s := float64(u*u) + float64(laminar*laminar)
	q := 1 / math.Sqrt(math.Sqrt(s))
	x := u * q
	f := float64(u * (tableN / uCrit))
	i := int(f)
	d := psiTable[i+1] - psiTable[i]
	g := psiTable[i] + float64(d*(f-float64(i)))
	dx := q * (1 - float64(0.5*u*u)/s)
	return float64(g * x), float64(g*dx) + float64(d*(tableN/uCrit)*x)
}

// MassFlow is the flow in kg/s through an effective area cda (m2) from p1 to p2 (Pa, absolute) with air at tK upstream.
func MassFlow(cda, p1, p2, tK float64) float64 {
	if p1 < p2 {
		return -MassFlow(cda, p2, p1, tK)
	}
	psi, _ := Psi(1-p2/p1, laminarOrifice/p1)
	return cda * p1 / math.Sqrt(R*tK) * psi
}

// laminarOrifice is the pressure difference in Pa below which a sharp orifice is treated as linear [chosen: below anything a
// gauge or a hand can tell].
const laminarOrifice = 30.0
