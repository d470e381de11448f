// Package dmath has what other packages' products get into.
package dmath

// Square gives a product that nothing has rounded.
func Square(x float64) float64 { return x * x } // want Square:`product \[0\] passes \[\[\]\] sums \[\]`

// Rounded gives one that has been.
func Rounded(x float64) float64 { return float64(x * x) }

// Plus sums what it is given.
func Plus(x, y float64) float64 { return x + y } // want Plus:`product \[\] passes \[\[\]\] sums \[0 1\]`

// Same hands it on.
func Same(n int, x float64) float64 { // want Same:`product \[\] passes \[\[1\]\] sums \[\]`
	if n > 0 {
		return -x
	}
	return x
}

// Both gives two.
func Both(x, y float64) (float64, float64) { return x / y, x * y } // want Both:`product \[1\] passes \[\[\] \[\]\] sums \[\]`
