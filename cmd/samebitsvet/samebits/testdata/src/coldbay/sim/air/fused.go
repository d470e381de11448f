package air

import "coldbay/sim/dmath"

type point struct{ x, y, z float64 }

func (p *point) add(v float64) float64 { return p.x + v } // want add:`sums \[1\]`

func sums(x, y, z float64, p *point) float64 { // want sums:`sums \[2\]`
	a := x*y + z     // want `x \* y may be fused into the sum in line 10: write float64\(x \* y\)`
	a = z - x*y      // want `x \* y may be fused into the sum`
	a += x * z       // want `x \* z may be fused into the sum`
	a -= (x * z)     // want `x \* z may be fused into the sum`
	a = -(x * y) + z // want `x \* y may be fused`
	a = x*y*z - z    // want `x \* y \* z may be fused`
	t := x * y       // want `x \* y may be fused into the sum in line 17`
	a += t + z
	t = x
	t *= z // want `t \* z may be fused into the sum in line 20`
	return a + t
}

func branches(x, y float64, up bool) float64 { // want branches:`sums \[0\]`
	t := x
	if up {
		t = x * y // want `x \* y may be fused into the sum in line 28`
	}
	return 1 + t
}

func memory(x, y, z float64, p *point, list []float64) float64 { // want memory:`sums \[2\]`
	p.x = x * y // want `x \* y may be fused into the sum in line 33`
	a := p.x + z
	list[2] = x * y // want `x \* y may be fused into the sum in line 35`
	a += list[2]
	var q point
	q.y = y * z // want `y \* z may be fused into the sum in line 38`
	a += q.y
	b := p.z + a
	p.z = x * z // stored only after the load
	return b
}

func calls(x, y, z float64, p *point) float64 { // want calls:`sums`
	a := dmath.Square(x) + z // want `Square gives a product, which may be fused into the sum in line 45: have Square round it by a conversion`
	a += float64(dmath.Square(x))
	a += dmath.Rounded(x)
	a = dmath.Plus(x*y, z) // want `x \* y may be fused into a sum in Plus`
	a = dmath.Plus(float64(x*y), z)
	a += dmath.Same(2, x*y)  // want `x \* y may be fused into the sum in line 50`
	_, b := dmath.Both(x, y) // want `Both gives a product`
	a += b
	a += p.add(x * z) // want `x \* z may be fused into a sum in add`
	a += p.add(float64(x * z))
	return a + later(x) // want `later gives a product`
}

// What it calls stands below it and in a circle with it.
func later(x float64) float64 { // want later:`product \[0\]`
	if x > 1 {
		return earlier(x) // an unrounded product handed on
	}
	return 0
}

func earlier(x float64) float64 { return x * later(x-1) } // want earlier:`product \[0\]`

func literal(x, y float64) func(float64) float64 {
	return func(z float64) float64 { return x*y + z } // want `may be fused`
}

func generic[T ~float64](x, y, z T) T { // want generic:`sums \[2\]`
	return x*y + z // want `may be fused`
}

type metres float64

var whole = 3.5

var table = [2]float64{whole*whole + 1, 2} // want `whole \* whole may be fused`

func (m metres) twice() metres { return 2 * m }

func sound(x, y, z float64, n, m int, p *point) float64 { // want sound:`sums \[1 2\]`
	a := float64(x*y) + z
	a -= float64(x * y)
	a += float64(-(x * y))
	a += x*y/z + 1
	a += max(x*y, 0) + 1
	a += 2*x + 0.5*y - x*-4 // powers of two are exact
	a = float64(float64(x*y)+z) * z
	a = x * (y + z) / x
	n = n*m + n
	const k = 3.5 * 2.1
	a += k + 1.5*2.5
	a += float64(metres(x*y) + metres(z))
	t := x * y
	a = float64(t) + z
	a += dmath.Plus(float64(t), z)
	return a / t
}

func complexes(a, b complex128) complex128 {
	return a * b // want `complex`
}
