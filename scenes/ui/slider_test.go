package ui

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/paint"
)

// A slider follows a pointer that holds it, also beside its track, and lets go with the button; keys move it and stay in its bounds.
func TestSlider(t *testing.T) {
	var p Page
	at := 4
	build := func() {
		p.begin()
		p.Controls = append(p.Controls,
			Control{ID: "s", Name: "moment", Role: Slider, Rect: paint.Rect{X: 91, Y: 90, W: 218, H: 20}, Now: at, Max: 20, Set: func(n int) { at = n },
				Track: paint.Rect{X: 100, Y: 90, W: 200, H: 20}},
			Control{ID: "b", Name: "button", Role: Push, Rect: paint.Rect{X: 400, Y: 90, W: 60, H: 20}})
	}
	do := func(in Input) bool {
		used := p.Handle(in)
		build()
		return used
	}
	build()
	require.True(t, do(Input{At: paint.Pt{X: 200, Y: 100}, Clicked: true, Held: true}))
	require.Equal(t, 10, at)
	require.Equal(t, "s", p.FocusID())
	do(Input{At: paint.Pt{X: 430, Y: 300}, Moved: true, Held: true})
	require.Equal(t, 20, at, "the pointer may leave the track")
	do(Input{At: paint.Pt{X: 150, Y: 100}, Moved: true})
	require.Equal(t, 5, at, "where the button was let go")
	do(Input{At: paint.Pt{X: 250, Y: 100}, Moved: true})
	require.Equal(t, 5, at, "nothing holds it any more")
	for _, c := range []struct {
		k    Key
		want int
	}{{KeyRight, 6}, {KeyUp, 7}, {KeyLeft, 6}, {KeyDown, 5}, {KeyPageUp, 7}, {KeyPageDown, 5}, {KeyHome, 0}, {KeyLeft, 0}, {KeyEnd, 20}, {KeyRight, 20}} {
		do(Input{Keys: []Key{c.k}})
		require.Equal(t, c.want, at, c.k)
		require.Equal(t, "s", p.FocusID(), c.k)
	}
	do(Input{Keys: []Key{KeyTab}})
	require.Equal(t, "b", p.FocusID())
	do(Input{Keys: []Key{KeyLeft}})
	require.Equal(t, 20, at, "arrows leave it alone when it has no focus")
	require.True(t, p.Slide("s", 3))
	build()
	require.False(t, p.Slide("s", 3))
	require.False(t, p.Slide("b", 3))
	n := p.Tree()[0]
	require.Equal(t, []int{3, 20}, []int{n.Now, n.Max})
}
