package rooms_test

import (
	"image"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/paint"
	"coldbay/scenes/standin"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// worst is the score of the block that differs most.
func worst(a, b *image.RGBA) float64 {
	if u := unlike(a, b, 0); len(u) > 0 {
		return u[0].Score
	}
	return 0
}

// altered draws the screen once more after a change to what was built, and then as it is.
func (x *house) altered(change func(b *ui.Build)) *image.RGBA {
	x.t.Helper()
	x.Desk.Touch()
	x.Tick(ui.Input{})
	change(x.Built())
	img := x.seen()
	x.Desk.Touch()
	x.Tick(ui.Input{})
	return img
}

// likenessScreens are screens of each kind: paper, a drawing, a diagram, readings.
func likenessScreens(t *testing.T, look func(name string, x *house)) {
	x := sitter(t, 1024, 600, &standin.Orders{}, nil)
	look("board", x)
	x.press("board.open.first", "order.read", "order.go", "tool.meter")
	x.press("go.fusebox")
	look("fusebox", x)
	x.press("way.info", "info.wiring")
	look("wiring", x)
	x.press("way.scantool", "scan.plug", "scan.data")
	look("scantool", x)
	x.press("way.notebook")
	look("notebook", x)
}

// What another renderer may do to a picture passes: corners that fall on another sixteenth of a pixel, colours rounded the other way,
// and fewer colours in the file.
func TestLikenessPasses(t *testing.T) {
	likenessScreens(t, func(name string, x *house) {
		want := asRGBA(few(x.seen()))
		rng := rand.New(rand.NewPCG(1, 2))
		got := x.altered(func(b *ui.Build) {
			for _, l := range []*paint.List{b.Back, b.Front} {
				for i := range l.V {
					// OpenGL asks for four bits of a pixel's part at least (OpenGL 4.6 core, table 23.52, SUBPIXEL_BITS).
					l.V[i].DstX += float32(rng.Float64()-0.5) / 8
					l.V[i].DstY += float32(rng.Float64()-0.5) / 8
				}
			}
		})
		for i := range got.Pix {
			if i%4 != 3 {
				got.Pix[i] = uint8(min(255, max(0, int(got.Pix[i])+rng.IntN(3)-1)))
			}
		}
		w := worst(got, want)
		t.Logf("%s: another renderer: %.2f", name, w)
		require.Less(t, w, maxUnlike, name)
	})
}

// What a person would see fails: any label that is 10 units from where it was, any other colour of a label.
func TestLikenessRefusesWords(t *testing.T) {
	likenessScreens(t, func(name string, x *house) {
		want := asRGBA(few(x.seen()))
		n := len(x.Built().Front.Words)
		leastMoved, leastInk := 1e9, 1e9
		for i := 0; i < n; i += 11 {
			var word string
			moved := worst(want, x.altered(func(b *ui.Build) {
				w := &b.Front.Words[i]
				word, w.X = w.S, w.X+10
			}))
			inked := worst(want, x.altered(func(b *ui.Build) { b.Front.Words[i].Ink = paint.Vermil }))
			if moved <= maxUnlike || inked <= maxUnlike {
				t.Errorf("%s: %q moved by ten: %.1f; in another colour: %.1f", name, word, moved, inked)
			}
			leastMoved, leastInk = min(leastMoved, moved), min(leastInk, inked)
		}
		t.Logf("%s, %d words: moved %.1f at least, another colour %.1f at least", name, n, leastMoved, leastInk)
	})
}

// A hose that is not drawn fails, wherever a piece of it is to be seen, and so does one that was pulled off.
func TestLikenessRefusesHoses(t *testing.T) {
	for _, id := range []string{"car_a", "car_d"} {
		x := sitter(t, 1024, 600, &standin.Orders{Car: id}, nil)
		x.press("board.open.first", "order.read", "order.go", "tool.step")
		for i := range x.Desk.Draw.Views {
			v := &x.Desk.Draw.Views[i]
			if len(v.Hoses) == 0 {
				continue
			}
			x.press("go." + v.ID)
			want := x.seen()
			for j, h := range v.Hoses {
				all := v.Hoses
				missing := worst(want, x.altered(func(*ui.Build) {
					v.Hoses = slices.Delete(slices.Clone(all), j, j+1)
					x.Desk.Touch()
					x.Built()
					v.Hoses = all
				}))
				require.Greater(t, missing, maxUnlike, "%s, %s without %s", id, v.ID, h.ID)
			}
		}
		for _, h := range x.Desk.Cat.Hoses {
			x.press("go." + h.PlaceA)
			want := x.seen()
			x.act(bench.Action{Verb: bench.Pull, On: h.ID + ".a"})
			require.Greater(t, worst(want, x.seen()), maxUnlike, "%s: %s pulled", id, h.ID)
			x.act(bench.Action{Verb: bench.Fit, On: h.ID + ".a", To: h.PortA})
		}
	}
}

// A button of another colour fails: the change of a ground that carries words, and of a thin border.
func TestLikenessRefusesColours(t *testing.T) {
	x := sitter(t, 1024, 600, &standin.Orders{}, nil)
	x.press("board.open.first", "order.read", "order.go")
	want := asRGBA(few(x.seen()))
	for _, c := range x.Page.Live() {
		if c.Role == ui.Spot {
			continue
		}
		got := worst(want, x.altered(func(b *ui.Build) {
			for i := range b.Front.V {
				v := &b.Front.V[i]
				if p := (paint.Pt{X: float64(v.DstX), Y: float64(v.DstY)}); c.Rect.Has(p) {
					v.ColorR, v.ColorG, v.ColorB = v.ColorB, v.ColorR, v.ColorG
				}
			}
		}))
		require.Greater(t, got, maxUnlike, c.ID)
	}
}
