package sparse

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// The reference is gonum's dense LU with partial pivoting, a general-purpose library.
func TestAgainstDenseLU(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		n := 1 + rng.IntN(40)
		adj := make([]uint64, n)
		dense := mat.NewDense(n, n, nil)
		link := func(i, j int) {
			if i == j {
				return
			}
			g, h := rng.ExpFloat64(), rng.ExpFloat64()
			adj[i] |= 1 << uint(j)
			adj[j] |= 1 << uint(i)
			dense.Set(i, j, dense.At(i, j)-g)
			dense.Set(j, i, dense.At(j, i)-h)
			dense.Set(i, i, dense.At(i, i)+h)
			dense.Set(j, j, dense.At(j, j)+g)
		}
		for i := 1; i < n; i++ {
			link(i, rng.IntN(i))
		}
		for range n / 4 {
			link(rng.IntN(n), rng.IntN(n))
		}
		for i := range n {
			dense.Set(i, i, dense.At(i, i)+0.01+rng.Float64())
		}
		p, err := NewPlan(n, adj)
		require.NoError(t, err)
		a := make([]float64, p.Size())
		for i := range n {
			for j := range n {
				if k := p.At(i, j); k >= 0 {
					a[k] = dense.At(i, j)
				}
			}
		}
		b := make([]float64, n)
		for i := range b {
			b[i] = rng.NormFloat64()
		}
		var want mat.VecDense
		require.NoError(t, want.SolveVec(dense, mat.NewVecDense(n, append([]float64(nil), b...))))
		require.NoError(t, p.Factor(a))
		p.Solve(a, b)
		for i := range b {
			require.InDelta(t, want.AtVec(i), b[i], 1e-9*(1+mat.Norm(&want, 2)))
		}
	}
}

func TestSingular(t *testing.T) {
	p, err := NewPlan(2, []uint64{2, 1})
	require.NoError(t, err)
	a := make([]float64, p.Size())
	a[p.At(0, 0)], a[p.At(1, 1)], a[p.At(0, 1)], a[p.At(1, 0)] = 1, 1, -1, -1
	require.ErrorIs(t, p.Factor(a), ErrSingular)
}
