package dmath

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

// sequence is splitmix64 (Steele, Lea and Flood 2014): inputs that are the same
// everywhere without any floating-point library in between.
type sequence uint64

func (s *sequence) next() uint64 {
	*s += 0x9e3779b97f4a7c15
	z := uint64(*s)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// between is evenly spread in [lo, hi).
func (s *sequence) between(lo, hi float64) float64 {
	u := float64(s.next()>>11) * 0x1p-53
	return lo + float64(u*(hi-lo))
}

// scaled has a random mantissa and a binary exponent in [lo, hi).
func (s *sequence) scaled(lo, hi int) float64 {
	e := lo + int(s.next()%uint64(hi-lo))
	return math.Ldexp(1+float64(s.next()>>11)*0x1p-53, e)
}

func relative(got, want float64) float64 {
	if got == want {
		return 0
	}
	return math.Abs(got-want) / math.Abs(want)
}

// The library's own functions are the outside reference here (Go standard
// library, package math, itself within about one unit in the last place).
func TestAgainstLibrary(t *testing.T) {
	const n = 100_000
	tests := []struct {
		name      string
		got, want func(float64) float64
		draw      func(*sequence) float64
	}{
		{"exp near 0", Exp, math.Exp, func(s *sequence) float64 { return s.between(-1, 1) }},
		{"exp", Exp, math.Exp, func(s *sequence) float64 { return s.between(-708, 709.7) }},
		{"exp tiny", Exp, math.Exp, func(s *sequence) float64 { return -s.scaled(-80, 0) }},
		{"log near 1", Log, math.Log, func(s *sequence) float64 { return s.between(0.5, 2) }},
		{"log at 1", Log, math.Log, func(s *sequence) float64 { return 1 + s.between(-1e-3, 1e-3) }},
		{"log", Log, math.Log, func(s *sequence) float64 { return s.scaled(-1022, 1024) }},
		{"tanh", Tanh, math.Tanh, func(s *sequence) float64 { return s.between(-25, 25) }},
		{"tanh near 0", Tanh, math.Tanh, func(s *sequence) float64 { return s.scaled(-60, 0) }},
		{"sin near 0", Sin, math.Sin, func(s *sequence) float64 { return s.between(-1.5, 1.5) }},
		{"cos near 0", Cos, math.Cos, func(s *sequence) float64 { return s.between(-1.5, 1.5) }},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := sequence(1)
			worst, at := 0.0, 0.0
			for range n {
				x := test.draw(&s)
				if e := relative(test.got(x), test.want(x)); !(e <= worst) {
					worst, at = e, x
				}
			}
			t.Logf("worst %.3g at %g", worst, at)
			require.LessOrEqual(t, worst, 7e-16, "at %x", at)
		})
	}
}

// Beside a zero of the sine only an absolute bound holds for the library.
func TestTrigonometryAgainstLibrary(t *testing.T) {
	s := sequence(2)
	for range 100_000 {
		x := s.between(-1e4, 1e4)
		require.InDelta(t, math.Sin(x), Sin(x), 2.5e-16, "sin %x", x)
		require.InDelta(t, math.Cos(x), Cos(x), 2.5e-16, "cos %x", x)
		x = -s.scaled(10, 1024)
		require.InDelta(t, math.Sin(x), Sin(x), 2.5e-16, "sin %x", x)
		require.InDelta(t, math.Cos(x), Cos(x), 2.5e-16, "cos %x", x)
	}
}

// Hard arguments: doubles nearest to a multiple of pi/2. sin(pi rounded) is
// what rounding pi leaves, pi - RN(pi) = 1.2246467991473532e-16; the other is
// the worst case for doubles, 6381956970095103·2^797, whose distance to a
// multiple of pi/2 is 2^-60.9 (J.-M. Muller et al., Handbook of Floating-Point
// Arithmetic, section on range reduction; from memory).
func TestNearZeroOfSine(t *testing.T) {
	require.InEpsilon(t, 1.2246467991473532e-16, Sin(math.Pi), 1e-15)
	x := math.Ldexp(6381956970095103, 797)
	require.InEpsilon(t, -4.6871659242546277e-19, Cos(x), 1e-15)
	require.Equal(t, 1.0, math.Abs(Sin(x)))
	for _, k := range []float64{1, 2, 3, 11, 100, 355, 100_000, 300_000} {
		x := k * (math.Pi / 2)
		d := bigNew().Mul(bigF(k), bigNew().Quo(bigPi(), bigF(2)))
		rest := nearest(d.Sub(bigF(x), d))
		got := math.Min(math.Abs(Sin(x)), math.Abs(Cos(x)))
		require.InEpsilon(t, math.Abs(rest), got, 1e-15, "k = %g", k)
	}
}

const wideBits = 200

func bigWide() *big.Float { return new(big.Float).SetPrec(wideBits) }

// bigLog returns log x for finite x > 0, given ln 2.
func bigLog(x float64, ln2 *big.Float) *big.Float {
	f, e := math.Frexp(x)
	l := bigLogNear(bigWide().SetFloat64(f), wideBits)
	return l.Add(l, bigWide().Mul(ln2, bigF(float64(e))))
}

// Exp, Log and Pow against 200 bits computed here.
func TestAgainstManyBits(t *testing.T) {
	ln2 := bigWide().Set(bigLn2())
	pow := func(x, y float64) *big.Float {
		return bigExp(bigWide().Mul(bigLog(x, ln2), bigF(y)), wideBits)
	}
	tests := []struct {
		name string
		draw func(*sequence) (got float64, want *big.Float)
	}{
		{"exp", func(s *sequence) (float64, *big.Float) {
			x := s.between(-700, 700)
			return Exp(x), bigExp(bigF(x), wideBits)
		}},
		{"exp near 0", func(s *sequence) (float64, *big.Float) {
			x := s.between(-2, 2)
			return Exp(x), bigExp(bigF(x), wideBits)
		}},
		{"log", func(s *sequence) (float64, *big.Float) {
			x := s.between(0.25, 4)
			return Log(x), bigLog(x, ln2)
		}},
		{"log subnormal", func(s *sequence) (float64, *big.Float) {
			x := s.scaled(-1074, -1022)
			return Log(x), bigLog(x, ln2)
		}},
		{"pow", func(s *sequence) (float64, *big.Float) {
			x, y := s.between(0.1, 10), s.between(-5, 5)
			return Pow(x, y), pow(x, y)
		}},
		{"pow far", func(s *sequence) (float64, *big.Float) {
			x, y := s.scaled(-300, 300), s.between(-3, 3)
			return Pow(x, y), pow(x, y)
		}},
		{"pow near 1", func(s *sequence) (float64, *big.Float) {
			x, y := 1+s.between(-1e-3, 1e-3), s.between(-7e5, 7e5)
			return Pow(x, y), pow(x, y)
		}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			s := sequence(3)
			const n = 2000
			worst, nearestMissed := 0.0, 0
			for range n {
				got, wide := test.draw(&s)
				want := nearest(wide)
				if math.IsInf(want, 0) || math.Abs(want) < 0x1p-1022 {
					continue
				}
				if got != want {
					nearestMissed++
				}
				worst = math.Max(worst, relative(got, want))
			}
			t.Logf("worst %.3g, not the nearest %d of %d", worst, nearestMissed, n)
			require.LessOrEqual(t, worst, 0x1p-52, "one unit in the last place")
			require.Less(t, nearestMissed, n/10)
		})
	}
}

func TestEdges(t *testing.T) {
	inf, nan := math.Inf(1), math.NaN()
	negZero := math.Copysign(0, -1)
	tests := []struct {
		name      string
		got, want float64
	}{
		{"exp 0", Exp(0), 1}, {"exp -0", Exp(negZero), 1}, {"exp 1", Exp(1), math.E},
		{"exp inf", Exp(inf), inf}, {"exp -inf", Exp(-inf), 0}, {"exp nan", Exp(nan), nan},
		{"exp over", Exp(709.79), inf}, {"exp far over", Exp(1e300), inf},
		{"exp largest", Exp(709.782712893384), nearest(bigExp(bigF(709.782712893384), 128))},
		{"exp under", Exp(-745.14), 0}, {"exp far under", Exp(-1e300), 0},
		{"exp least", Exp(-745.13), 0x1p-1074}, {"exp subnormal", Exp(-740), math.Exp(-740)},
		{"log 1", Log(1), 0}, {"log 0", Log(0), -inf}, {"log -0", Log(negZero), -inf},
		{"log -1", Log(-1), nan}, {"log -inf", Log(-inf), nan}, {"log inf", Log(inf), inf}, {"log nan", Log(nan), nan},
		{"log 2", Log(2), math.Ln2}, {"log e", Log(math.E), 1}, {"log least", Log(0x1p-1074), -1074 * math.Ln2},
		{"log largest", Log(math.MaxFloat64), 709.782712893384},
		{"tanh 0", Tanh(0), 0}, {"tanh -0", Tanh(negZero), negZero}, {"tanh inf", Tanh(inf), 1},
		{"tanh -inf", Tanh(-inf), -1}, {"tanh nan", Tanh(nan), nan}, {"tanh 100", Tanh(100), 1},
		{"sin 0", Sin(0), 0}, {"sin -0", Sin(negZero), negZero}, {"sin inf", Sin(inf), nan}, {"sin nan", Sin(nan), nan},
		{"cos 0", Cos(0), 1}, {"cos -inf", Cos(-inf), nan}, {"cos nan", Cos(nan), nan},
		{"sin tiny", Sin(1e-300), 1e-300}, {"sin pi/2", Sin(math.Pi / 2), 1},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) { requireSame(t, test.want, test.got) })
	}
}

// requireSame is equality that tells -0 from 0 and accepts NaN for NaN.
func requireSame(t *testing.T, want, got float64, about ...any) {
	t.Helper()
	if want != want {
		require.True(t, got != got, about...)
		return
	}
	require.Equal(t, math.Float64bits(want), math.Float64bits(got), about...)
}

// Every pair of special operands, and whole exponents, must agree with the
// library to the bit.
func TestPowEdges(t *testing.T) {
	inf := math.Inf(1)
	xs := []float64{0, math.Copysign(0, -1), 1, -1, 2, -2, 0.5, -0.5, inf, -inf, math.NaN(), 0x1p-1074, math.MaxFloat64}
	ys := []float64{0, 1, -1, 2, -2, 3, -3, 2000, -2000, 2001, -2001, inf, -inf, math.NaN(), 1e300, -1e300, 1 << 53, 1<<53 - 1}
	for _, x := range xs {
		for _, y := range ys {
			requireSame(t, math.Pow(x, y), Pow(x, y), "Pow(%g, %g)", x, y)
		}
	}
	requireSame(t, math.NaN(), Pow(-2, 0.5))
	requireSame(t, 32, Pow(2, 5))
	requireSame(t, 1000, Pow(10, 3))
	requireSame(t, -1.0/32, Pow(-2, -5))
	requireSame(t, 3, Pow(9, 0.5))
	requireSame(t, 0x1p-1074, Pow(2, -1074))
}
