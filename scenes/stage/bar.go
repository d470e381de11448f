package stage

import (
	"strconv"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench/phrase"
)

const barHeight = 40

// Below is the room below the bar, with a margin.
func Below(w, h float64) paint.Rect {
	return paint.Rect{X: 8, Y: barHeight + 6, W: w - 16, H: h - barHeight - 14}
}

// Bar paints the bar at the top: the name, the open order with its clock and bill, and the ways to the other scenes.
func Bar(b *ui.Build, d *Desk, current string) {
	l := b.Front
	r := paint.Rect{W: b.W, H: barHeight}
	l.Box(r, 0, paint.Black)
	l.Box(paint.Rect{Y: barHeight - 2, W: b.W, H: 2}, 0, paint.Edge)
	// The sign: a drop of cold over a line.
	l.Poly([]paint.Pt{{X: 22, Y: 7}, {X: 30, Y: 21}, {X: 27, Y: 28}, {X: 22, Y: 30}, {X: 17, Y: 28}, {X: 14, Y: 21}}, paint.Sky)
	l.Box(paint.Rect{X: 11, Y: 32, W: 22, H: 2.5}, 1, paint.Orange)
	x := 42 + l.Text(b.T("app.name"), paint.Heading, 42, 9, paint.Chalk)
	b.Group("bar")
	ways := []string{Board}
	if d.Session != nil && current != Board && (current != Settings || d.from != Board) {
		ways = []string{Board, Sheet, Bay, Info, ScanTool, Notebook}
		if d.Doc != nil {
			ways = append(ways, Debrief)
		}
	}
	const w, gap = 92.0, 4.0
	const gear = 34.0
	left := b.W - 8 - gear - float64(len(ways))*(w+gap)
	for i, way := range ways {
		c := ui.Control{ID: "way." + way, Name: b.T("way." + way), Role: ui.Tab, On: way == current,
			Rect: paint.Rect{X: left + float64(i)*(w+gap), Y: 5, W: w, H: 28}, Do: func() { d.Go(way) }}
		switch {
		case way == Bay && !d.Read:
			c.Off, c.Name = true, b.T("way.bay.unread")
		case way == ScanTool && !d.Allowed("scan"):
			c.Off, c.Name = true, b.T("way.scantool.withheld")
		case way == ScanTool && !d.Read:
			c.Off, c.Name = true, b.T("way.scantool.unread")
		}
		b.Control(c, b.T("way."+way), ui.Look{Style: paint.Small, Align: paint.Centre})
	}
	b.Control(ui.Control{ID: "way.settings", Name: b.T("way.settings"), Role: ui.Tab, On: current == Settings,
		Rect: paint.Rect{X: b.W - 8 - gear, Y: 5, W: gear, H: 28}, Do: func() { d.Go(Settings) }}, "", ui.Look{Icon: sliders})
	b.Group("page")
	if d.Session != nil && current != Board && current != Settings && current != Bay {
		words := b.T("bar.clock", "bench", phrase.Clock(d.View.Bench), "bill", b.Msg.Decimal(phrase.Money(d.View.Bill)))
		room := paint.Rect{X: x + 18, Y: 4, W: left - x - 30, H: 30}
		if l.Fonts.Width(words, paint.Small) <= room.W {
			l.TextIn(words, paint.Small, room, paint.Left, paint.Mist)
		}
		b.Read(words)
	} else if d.Session != nil && current == Bay {
		room := paint.Rect{X: x + 18, Y: 4, W: left - x - 30, H: 30}
		if l.Fonts.Width(d.Cat.Order.Title, paint.Small) <= room.W {
			l.TextIn(d.Cat.Order.Title, paint.Small, room, paint.Left, paint.Mist)
		}
	}
}

// sliders is the sign of the settings: three slides set differently.
func sliders(l *paint.List, r paint.Rect, ink paint.Ink) {
	for i, at := range []float64{0.7, 0.25, 0.55} {
		y := r.Y + r.H*(0.2+0.3*float64(i))
		l.Box(paint.Rect{X: r.X, Y: y - 1, W: r.W, H: 2}, 1, ink)
		l.Disc(paint.Pt{X: r.X + r.W*at, Y: y}, 3.6, ink)
	}
}

// Num writes a whole number.
func Num(n int) string { return strconv.Itoa(n) }
