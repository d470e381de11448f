package sparse

import (
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// A shelf gives the plan that NewPlan makes, the same one to everybody who asks for the same topology, and forgets rather than grow.
func TestShelf(t *testing.T) {
	var s Shelf
	ring := func(bits uint64) []uint64 {
		adj := make([]uint64, 12)
		for i := range adj {
			if j := (i + 1) % len(adj); bits&(1<<uint(i)) != 0 {
				adj[i] |= 1 << uint(j)
				adj[j] |= 1 << uint(i)
			}
		}
		return adj
	}
	want, err := NewPlan(12, ring(0xFFF))
	require.NoError(t, err)
	var got [4]*Plan
	var wg sync.WaitGroup
	for i := range got {
		wg.Go(func() { got[i], _ = s.Plan(12, ring(0xFFF)) })
	}
	wg.Wait()
	for _, p := range got {
		require.Equal(t, want, p)
	}
	again, err := s.Plan(12, ring(0xFFF))
	require.NoError(t, err)
	other, err := s.Plan(12, ring(0xFFE))
	require.NoError(t, err)
	require.NotEqual(t, again, other)
	same, err := s.Plan(12, ring(0xFFF))
	require.NoError(t, err)
	require.Same(t, again, same)
	for i := range uint64(3 * shelved) {
		_, err := s.Plan(12, ring(i))
		require.NoError(t, err)
	}
	require.LessOrEqual(t, len(s.plans), shelved)
	_, err = s.Plan(Max+1, make([]uint64, Max+1))
	require.Error(t, err)
}
