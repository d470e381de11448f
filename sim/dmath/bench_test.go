package dmath

import "testing"

var sink float64

func benchInputs(lo, hi float64) *[256]float64 {
	var xs [256]float64
	s := sequence(7)
	for i := range xs {
		xs[i] = s.between(lo, hi)
	}
	return &xs
}

func bench(b *testing.B, lo, hi float64, f func(float64) float64) {
	xs := benchInputs(lo, hi)
	i := 0
	for b.Loop() {
		sink = f(xs[i&255])
		i++
	}
}

func BenchmarkExp(b *testing.B)    { bench(b, -20, 20, Exp) }
func BenchmarkLog(b *testing.B)    { bench(b, 0.01, 20, Log) }
func BenchmarkTanh(b *testing.B)   { bench(b, -3, 3, Tanh) }
func BenchmarkSin(b *testing.B)    { bench(b, -6, 6, Sin) }
func BenchmarkCos(b *testing.B)    { bench(b, -6, 6, Cos) }
func BenchmarkSinFar(b *testing.B) { bench(b, 1e9, 1e12, Sin) }
func BenchmarkPow(b *testing.B) {
	bench(b, 0.1, 3, func(x float64) float64 { return Pow(x, 1.0/1.4) })
}
