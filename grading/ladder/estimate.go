package ladder

import "math"

// Estimate is a mean with its 95 % confidence interval. Low and High equal Mean where it is exact.
type Estimate struct {
	Mean float64 `json:"mean"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Exact says whether the estimate is no estimate.
func (e Estimate) Exact() bool { return e.Low == e.High }

// least is the smallest difference of two figures that is not rounding.
const least = 1e-6

// Above says that e is above o beyond both intervals.
func (e Estimate) Above(o Estimate) bool { return e.Low > o.High+least }

// rounding is the relative variance that summing leaves of replicates that are all the same.
const rounding = 1e-24

// estimate is the mean of independent replicates; one replicate is taken as exact.
func estimate(x []float64) Estimate {
	var mean, square float64
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		square += float64((v - mean) * (v - mean))
	}
	if n := float64(len(x)); n < 2 || square <= float64(n*float64(mean*mean))*rounding {
		return Estimate{mean, mean, mean}
	}
	n := float64(len(x))
	half := student(n-1) * math.Sqrt(square/(n-1)/n)
	return Estimate{mean, mean - half, mean + half}
}

// student is the 97.5 % point of Student's t with nu degrees of freedom: expansion of M. Abramowitz and I. Stegun, Handbook of
// Mathematical Functions, 26.7.5 (formula from memory; checked against table 26.10 in the tests).
func student(nu float64) float64 {
	const z = 1.959963985
	z3, z5, z7, z9 := z*z*z, z*z*z*z*z, z*z*z*z*z*z*z, z*z*z*z*z*z*z*z*z
	return z + (z3+z)/4/nu + (5*z5+16*z3+3*z)/96/(nu*nu) + (3*z7+19*z5+17*z3-15*z)/384/(nu*nu*nu) +
		(79*z9+776*z7+1482*z5-1920*z3-945*z)/92160/(nu*nu*nu*nu)
}
