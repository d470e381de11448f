package dmath

import (
	"math"
	"math/bits"
)

const (
	// pi/2 in three parts. The first two have 33 bits, so that their product
	// with a whole number below 2^20 is exact.
	halfPi1 = 0x1.921fb544p+0
	halfPi2 = 0x1.0b4611a6p-34
	halfPi3 = 0x1.3198a2e037073p-69

	twoOverPi   = 2 / math.Pi
	trigFastMax = 1 << 19
)

// Sin returns the sine of x radians.
//
// Sin(±0) = ±0, Sin(±Inf) = NaN, Sin(NaN) = NaN.
func Sin(x float64) float64 {
	if math.Abs(x) < math.Pi/4 {
		return sinNear(x, 0)
	}
	n, y0, y1 := trigReduce(x)
	return quadrant(n, y0, y1)
}

// Cos returns the cosine of x radians.
//
// Cos(±Inf) = NaN, Cos(NaN) = NaN.
func Cos(x float64) float64 {
	if math.Abs(x) < math.Pi/4 {
		return cosNear(x, 0)
	}
	n, y0, y1 := trigReduce(x)
	return quadrant(n+1, y0, y1)
}

// quadrant returns sin(n·pi/2 + y0 + y1).
func quadrant(n uint64, y0, y1 float64) float64 {
	switch n & 3 {
	case 0:
		return sinNear(y0, y1)
	case 1:
		return cosNear(y0, y1)
	case 2:
		return -sinNear(y0, y1)
	}
	return -cosNear(y0, y1)
}

// trigReduce splits x = n·pi/2 + y0 + y1 with |y0| at most a little over pi/4.
// Only the two low bits of n count. Infinity and NaN give NaN.
func trigReduce(x float64) (n uint64, y0, y1 float64) {
	a := math.Abs(x)
	if !(a < trigFastMax) {
		return trigReduceFar(x)
	}
	t := float64(x*twoOverPi) + roundShift
	n = math.Float64bits(t)
	t -= roundShift
	r1 := x - float64(t*halfPi1)
	w := float64(t * halfPi2)
	r := r1 - w
	w = float64(t*halfPi3) - (r1 - r - w)
	y0 = r - w
	return n, y0, r - y0 - w
}

// trigReduceFar is trigReduce for large arguments after Payne and Hanek: only
// those bits of 2/pi are multiplied that can reach the quadrant or the
// fraction.
func trigReduceFar(x float64) (n uint64, y0, y1 float64) {
	if math.IsInf(x, 0) || x != x {
		return 0, math.NaN(), 0
	}
	b := math.Float64bits(x)
	m := b&(1<<52-1) | 1<<52
	e := int(b>>52&0x7ff) - 1075 // |x| = m·2^e
	// 192 bits of 2/pi from the bit of weight 2^(1-e): what lies above makes
	// whole turns. The table begins with 64 zero bits, for e below 2.
	at := uint(e + 62)
	w2, w1, w0 := tableBits(at), tableBits(at+64), tableBits(at+128)
	// The low 192 bits of m·w: two of quadrant, 190 of fraction.
	h0, p0 := bits.Mul64(m, w0)
	h1, l1 := bits.Mul64(m, w1)
	p1, carry := bits.Add64(l1, h0, 0)
	p2 := m*w2 + h1 + carry
	n = p2 >> 62
	p2 = p2<<2 | p1>>62
	p1 = p1<<2 | p0>>62
	negative := p2>>63 == 1
	if negative { // nearer to the next quadrant
		n++
		var borrow uint64
		p1, borrow = bits.Sub64(0, p1, 0)
		p2, _ = bits.Sub64(0, p2, borrow)
	}
	// Shift the leading bit up, then 53 bits and the next 53.
	shift := uint(bits.LeadingZeros64(p2))
	p2 = p2<<shift | p1>>(64-shift)
	p1 <<= shift
	scale := math.Float64frombits(uint64(1023-shift) << 52)
	hi := float64(float64(p2>>11) * 0x1p-53 * scale)
	lo := float64(float64((p2<<53|p1>>11)>>11) * 0x1p-106 * scale)
	y0 = float64(hi * (math.Pi / 2))
	y1 = float64(lo * (math.Pi / 2))
	if negative != (x < 0) {
		y0, y1 = -y0, -y1
	}
	if x < 0 {
		n = -n
	}
	return n, y0, y1
}

// tableBits returns 64 bits of the table from bit at on.
func tableBits(at uint) uint64 {
	i, s := at/64, at%64
	return twoOverPiBits[i]<<s | twoOverPiBits[i+1]>>(64-s)
}

// sinNear and cosNear are the minimax polynomials of fdlibm (Sun Microsystems
// 1993, k_sin.c and k_cos.c) for |x| up to about pi/4, where y is the part of
// the argument below x's last place.

func sinNear(x, y float64) float64 {
	const (
		s1 = -1.66666666666666324348e-01
		s2 = 8.33333333332248946124e-03
		s3 = -1.98412698298579493134e-04
		s4 = 2.75573137070700676789e-06
		s5 = -2.50507602534068634195e-08
		s6 = 1.58969099521155010221e-10
	)
	z := float64(x * x)
	w := float64(z * z)
	r := s2 + float64(z*(s3+float64(z*s4))) + float64(float64(z*w)*(s5+float64(z*s6)))
	v := float64(z * x)
	return x - (float64(z*(float64(0.5*y)-float64(v*r))) - y - float64(v*s1))
}

func cosNear(x, y float64) float64 {
	const (
		c1 = 4.16666666666666019037e-02
		c2 = -1.38888888888741095749e-03
		c3 = 2.48015872894767294178e-05
		c4 = -2.75573143513906633035e-07
		c5 = 2.08757232129817482790e-09
		c6 = -1.13596475577881948265e-11
	)
	z := float64(x * x)
	w := float64(z * z)
	r := float64(z*(c1+float64(z*(c2+float64(z*c3))))) +
		float64(float64(w*w)*(c4+float64(z*(c5+float64(z*c6)))))
	h := float64(0.5 * z)
	a := 1 - h
	return a + (1 - a - h + float64(z*r) - float64(x*y))
}
