package rooms_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/paint"
	"coldbay/scenes/prefs"
	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

func (x *house) wish(change func(*prefs.Prefs)) {
	x.t.Helper()
	x.Desk.Wish(change)
	x.settle()
}

// With larger text nothing overlaps or is cut, and the keys bring every control into the window, whole where it fits.
func TestLargerText(t *testing.T) {
	for _, percent := range []int{125, 150, 200} {
		for _, size := range sizes {
			t.Run(fmt.Sprintf("%d%% at %gx%g", percent, size[0], size[1]), func(t *testing.T) {
				x := open(t, size[0], size[1])
				x.wish(func(p *prefs.Prefs) { p.Text = percent })
				look := func(name string) {
					for _, f := range x.Built().Faults() {
						t.Errorf("%s: %s", name, f)
					}
					x.frame(fmt.Sprintf("text%d-%s", percent, name))
					live := append([]ui.Control(nil), x.Page.Live()...)
					x.Page.Focus("")
					for range live {
						x.Tick(ui.Input{Keys: []ui.Key{ui.KeyTab}})
						c, ok := x.Page.Focused()
						require.True(t, ok)
						want := c.Rect
						want.W, want.H = min(want.W, x.Shown().W-40), min(want.H, x.Shown().H-40)
						require.True(t, x.Shown().Holds(want, 1), "%s: %s at %v is not in %v", name, c.ID, c.Rect, x.Shown())
					}
				}
				look("board")
				x.press("board.open.first")
				look("order")
				x.press("order.read", "order.go")
				look("bay")
				x.press("tool.repair")
				look("repair")
				x.press("repair.solenoid")
				look("sure")
				x.key(ui.KeyEscape)
				x.Page.Handle(ui.Input{Keys: []ui.Key{ui.KeyEscape}})
				x.press("way.info")
				look("info")
				x.press("way.scantool")
				look("scantool")
				x.press("way.notebook")
				look("notebook")
				x.press("way.settings")
				look("settings")
			})
		}
	}
}

// Wheel, keys and bars move the view, and it never leaves the screen.
func TestMovesTheView(t *testing.T) {
	x := open(t, 1280, 720)
	require.Equal(t, paint.Rect{W: 1280, H: 720}, x.Shown())
	x.wish(func(p *prefs.Prefs) { p.Text = 200 })
	require.InDelta(t, 640, x.Shown().W, 20)
	x.Tick(ui.Input{At: paint.Pt{X: 300, Y: 80}, Wheel: -2})
	require.Greater(t, x.Shown().Y, 50.0)
	x.Tick(ui.Input{Pan: paint.Pt{X: 100}})
	w, _ := x.Logical()
	require.LessOrEqual(t, x.Shown().Right(), w+1)
	require.Greater(t, x.Shown().X, 300.0)
	x.Tick(ui.Input{Pan: paint.Pt{X: -100, Y: -100}})
	require.Zero(t, x.Shown().X)
	require.Zero(t, x.Shown().Y)
	x.wish(func(p *prefs.Prefs) { p.Text = 100 })
	require.Equal(t, paint.Rect{W: 1280, H: 720}, x.Shown())
}

// Letters stand out from what lies behind them: 4.5 to 1 in the usual theme (WCAG 2.1, 1.4.3), 7 to 1 in the high-contrast one (1.4.6).
// What can't be used now is left out, as the standard has it, and so are the drawings' own words.
func TestContrast(t *testing.T) {
	for _, high := range []bool{false, true} {
		want := 4.5
		if high {
			want = 7
		}
		x := open(t, 1280, 720)
		x.wish(func(p *prefs.Prefs) { p.Contrast = high })
		look := func(name string) {
			x.Draw(x.screen)
			x.frame(fmt.Sprintf("contrast-%v-%s", high, name))
			b := x.Built()
			for _, w := range b.Front.Words {
				off := false
				for _, c := range x.Page.Controls {
					off = off || c.Off && c.Rect.Holds(w.Box, 2)
				}
				if off {
					continue
				}
				ground := behind(x, w.Box, w.Ink)
				if r := paint.Contrast(w.Ink, ground); r < want {
					t.Errorf("high contrast %v, %s: %q has %.1f to 1 on %v", high, name, w.S, r, ground)
				}
			}
		}
		look("board")
		x.press("board.open.first", "order.read")
		look("order")
		x.press("way.info", "info.spec")
		look("info")
		x.press("way.notebook")
		look("notebook")
		x.press("way.scantool", "scan.plug")
		look("scantool")
		x.press("way.settings")
		look("settings")
	}
}

// behind is the commonest colour in a box that is not the letters' own.
func behind(x *house, r paint.Rect, ink paint.Ink) paint.Ink {
	count := map[paint.Ink]int{}
	for py := int(r.Y); py < int(r.Bottom()); py++ {
		for px := int(r.X) - 3; px < int(r.Right())+3; px++ {
			cr, cg, cb, _ := x.screen.At(px, py).RGBA()
			c := paint.Ink{R: uint8(cr>>8) &^ 3, G: uint8(cg>>8) &^ 3, B: uint8(cb>>8) &^ 3, A: 255}
			count[c]++
		}
	}
	best, n := paint.Ink{}, 0
	for c, k := range count {
		if paint.Contrast(c, ink) > 1.3 && k > n {
			best, n = c, k
		}
	}
	return best
}

// What is chosen on the settings sheet takes effect and is kept.
func TestSettingsSheet(t *testing.T) {
	x := open(t, 1024, 600)
	var kept []prefs.Prefs
	x.Desk.Keep = func(p prefs.Prefs) error { kept = append(kept, p); return nil }
	x.press("way.settings")
	for _, f := range x.Built().Faults() {
		t.Error(f)
	}
	x.press("set.mute.on", "set.volume.30", "set.theme.contrast", "set.vacuum.inhg", "set.temperature.f", "set.motion.less", "set.captions.off")
	last := kept[len(kept)-1]
	require.True(t, last.Sound.Muted && last.Contrast && last.Inches && last.Fahrenheit && !last.Captions)
	require.InDelta(t, 0.3, last.Sound.Volume, 1e-9)
	require.True(t, last.Still())
	x.press("settings.back")
	require.Equal(t, stage.Board, x.Desk.Scene())
	x.press("board.open.first", "order.read", "order.go", "tool.hands", "go.valve", "end.line_valve.a", "tool.handpump", "port.valve_nipple", "opt.stroke.5")
	require.Contains(t, x.Desk.Phrase.Line(x.Desk.Ledger[len(x.Desk.Ledger)-1]), "inHg")
}

// Sounds come as captions in the bay, and go when they are not wanted.
func TestCaptions(t *testing.T) {
	x := open(t, 1024, 600)
	x.press("board.open.first", "order.read", "order.go", "engine.start")
	has := func() bool {
		x.Draw(x.screen)
		for _, w := range x.Over().Words {
			if strings.Contains(w.S, "air pump") || strings.Contains(w.S, "engine") {
				return true
			}
		}
		return false
	}
	require.True(t, has())
	x.frame("captions")
	x.now = x.now.Add(10 * time.Second)
	x.Tick(ui.Input{})
	x.wish(func(p *prefs.Prefs) { p.Captions = false })
	require.False(t, has() && x.Desk.Toast == "")
}

// Long lists turn by wheel and by keys and say where one is: suspects, units, causes, and a ledger of three hundred lines.
func TestLongLists(t *testing.T) {
	x := openWith(t, 1024, 600, "en", &standin.Orders{Long: true})
	x.press("board.open.first", "order.read", "order.go")
	for i := range 300 {
		_, err := x.Desk.Session.Do(t.Context(), bench.Action{Verb: bench.Note, Text: fmt.Sprint("note ", i)})
		require.NoError(t, err)
	}
	x.act(bench.Action{Verb: bench.Look, On: "pump"})
	require.GreaterOrEqual(t, len(x.Desk.Cat.Suspects), 70)
	require.GreaterOrEqual(t, len(x.Desk.Cat.Units), 40)
	good := func(name string) {
		t.Helper()
		for _, f := range x.Built().Faults() {
			t.Errorf("%s: %s", name, f)
		}
		x.frame("long-" + name)
	}
	x.press("tool.repair")
	good("repair")
	for _, u := range x.Desk.Cat.Units {
		x.find("repair." + u.ID)
		_, ok := x.Page.Find("repair." + u.ID)
		require.True(t, ok, u.ID)
	}
	x.Page.Handle(ui.Input{Keys: []ui.Key{ui.KeyEscape}})
	x.press("way.info", "info.causes")
	good("causes")
	x.press("info.causes.page.on")
	good("causes-2")
	x.press("way.notebook")
	good("notebook")
	first := x.Page.Live()[len(x.Page.Live())-1].ID
	c, ok := x.Page.Find("board.page.on")
	require.True(t, ok)
	x.Tick(ui.Input{At: paint.Pt{X: c.Rect.X, Y: c.Rect.Y - 200}, Moved: true, Wheel: -1})
	require.NotEmpty(t, first)
	b, _ := x.Page.Find("board.page.back")
	require.False(t, b.Off, "the wheel did not turn the suspect board")
	x.Page.Focus("board.page.back")
	x.key(ui.KeyPageUp)
	b, _ = x.Page.Find("board.page.back")
	require.True(t, b.Off, "the page keys did not turn the suspect board back")
	for _, s := range x.Desk.Cat.Suspects {
		x.find("suspect." + s.ID)
		_, ok := x.Page.Find("suspect." + s.ID)
		require.True(t, ok, s.ID)
	}
	x.press("notebook.close", "close.cause")
	good("close-cause")
	x.press("close.cause." + x.Desk.Cat.Suspects[len(x.Desk.Cat.Suspects)-1].ID)
	x.press("close.unit")
	good("close-unit")
	x.press("close.unit." + x.Desk.Cat.Units[len(x.Desk.Cat.Units)-1].ID)
}

// The bay itself is legible in the high-contrast theme, with a view of each kind.
func TestBayInHighContrast(t *testing.T) {
	x := open(t, 1024, 600)
	x.wish(func(p *prefs.Prefs) { p.Contrast = true })
	x.press("board.open.first", "order.read", "order.go")
	for _, place := range []string{"front", "fusebox", "pump"} {
		x.press("tool.meter", "go."+place)
		for _, f := range x.Built().Faults() {
			t.Errorf("%s: %s", place, f)
		}
		x.frame("contrast-bay-" + place)
		for _, c := range x.Page.Live() {
			if c.Role != ui.Toggle || c.Off || c.On {
				continue
			}
			// A button's border stands out from the room by 3 to 1 (WCAG 2.1, 1.4.11).
			best := 0.0
			for dy := range 3 { // an edge between two pixels is shared by both
				r, g, b, _ := x.screen.At(int(c.Rect.X)+20, int(c.Rect.Y)+dy-1).RGBA()
				best = max(best, paint.Contrast(paint.Ink{R: uint8(r >> 8), G: uint8(g >> 8), B: uint8(b >> 8), A: 255}, paint.RGB(0)))
			}
			require.Greater(t, best, 3.0, "%s: %s", place, c.ID)
		}
	}
}
