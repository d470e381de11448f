package stage

import (
	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"coldbay/scenes/paint"
	"coldbay/scenes/platform"
	"coldbay/scenes/ui"
)

// hands reads mouse, touch and keys.
type hands struct {
	at      paint.Pt
	touches []ebiten.TouchID
	held    []ebiten.TouchID
	typed   []rune
	keys    []ui.Key
}

// repeatAfter and repeatEvery are frames until a held key repeats.
const (
	repeatAfter = 26
	repeatEvery = 5
)

func pressed(k ebiten.Key) bool {
	n := inpututil.KeyPressDuration(k)
	return n == 1 || (n > repeatAfter && n%repeatEvery == 0)
}

func (h *hands) read(scale float64) ui.Input {
	var in ui.Input
	x, y := ebiten.CursorPosition()
	at := paint.Pt{X: float64(x) / scale, Y: float64(y) / scale}
	in.Moved = at != h.at
	h.at, in.At = at, at
	in.Clicked = inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonLeft)
	h.touches = inpututil.AppendJustPressedTouchIDs(h.touches[:0])
	if len(h.touches) > 0 {
		x, y := ebiten.TouchPosition(h.touches[0])
		in.At, in.Clicked = paint.Pt{X: float64(x) / scale, Y: float64(y) / scale}, true
	}
	_, in.Wheel = ebiten.Wheel()
	in.Held = ebiten.IsMouseButtonPressed(ebiten.MouseButtonLeft)
	h.held = ebiten.AppendTouchIDs(h.held[:0])
	if len(h.held) > 0 {
		x, y := ebiten.TouchPosition(h.held[0])
		in.At, in.Held = paint.Pt{X: float64(x) / scale, Y: float64(y) / scale}, true
	}
	h.typed = ebiten.AppendInputChars(h.typed[:0])
	in.Typed = h.typed
	ctrl := ebiten.IsKeyPressed(ebiten.KeyControl)
	shift := ebiten.IsKeyPressed(ebiten.KeyShift)
	if ctrl && inpututil.IsKeyJustPressed(ebiten.KeyM) {
		platform.LeaveCanvas()
	}
	if ctrl {
		for k, d := range map[ebiten.Key]paint.Pt{ebiten.KeyArrowLeft: {X: -1}, ebiten.KeyArrowRight: {X: 1}, ebiten.KeyArrowUp: {Y: -1}, ebiten.KeyArrowDown: {Y: 1}} {
			if pressed(k) {
				in.Pan = in.Pan.Add(d)
			}
		}
		in.Keys = nil
		return in
	}
	h.keys = h.keys[:0]
	for _, k := range [...]struct {
		key         ebiten.Key
		plain, back ui.Key
	}{
		{ebiten.KeyTab, ui.KeyTab, ui.KeyBackTab}, {ebiten.KeyF6, ui.KeyGroup, ui.KeyBackF6},
		{ebiten.KeyEnter, ui.KeyEnter, ui.KeyEnter}, {ebiten.KeyNumpadEnter, ui.KeyEnter, ui.KeyEnter},
		{ebiten.KeySpace, ui.KeySpace, ui.KeySpace}, {ebiten.KeyEscape, ui.KeyEscape, ui.KeyEscape},
		{ebiten.KeyArrowLeft, ui.KeyLeft, ui.KeyLeft}, {ebiten.KeyArrowRight, ui.KeyRight, ui.KeyRight},
		{ebiten.KeyArrowUp, ui.KeyUp, ui.KeyUp}, {ebiten.KeyArrowDown, ui.KeyDown, ui.KeyDown},
		{ebiten.KeyPageUp, ui.KeyPageUp, ui.KeyPageUp}, {ebiten.KeyPageDown, ui.KeyPageDown, ui.KeyPageDown},
		{ebiten.KeyBackspace, ui.KeyErase, ui.KeyErase}, {ebiten.KeyHome, ui.KeyHome, ui.KeyHome}, {ebiten.KeyEnd, ui.KeyEnd, ui.KeyEnd},
	} {
		if !pressed(k.key) {
			continue
		}
		if shift {
			h.keys = append(h.keys, k.back)
		} else {
			h.keys = append(h.keys, k.plain)
		}
	}
	in.Keys = h.keys
	return in
}
