package cutaway

import (
	"math"
	"strconv"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

// traceInks tell the two cars' curves apart, together with the mark before their reading: a disc and a square.
var traceInks = [2]paint.Ink{paint.Orange, paint.Sky}

const (
	chartHead = 34.0 // name, and readings
	chartFoot = 13.0 // times
)

// field is where the curves of a chart are drawn.
func field(r paint.Rect) paint.Rect {
	return paint.Rect{X: r.X + 6, Y: r.Y + chartHead, W: r.W - 12, H: r.H - chartHead - chartFoot}
}

// drawCharts paints curves into the back, which changes only with a new film, and readings into the front.
func (p *Panel) drawCharts(b *ui.Build) {
	for n, r := range p.lay.charts {
		c, ok := p.Sheet.Channel(p.show.Channels[n])
		if !ok {
			continue
		}
		l := b.Back
		l.Box(r, 5, casing)
		l.Box(r.Inset(1), 4, ground)
		g := field(r)
		for i := range 3 {
			l.Box(paint.Rect{X: g.X, Y: g.Y + g.H*float64(i)/2, W: g.W, H: 1}, 0, paint.Fade(edge, 0.25))
		}
		for i := range p.pictures {
			// The first car's curve lies on top.
			k := p.pictures - 1 - i
			if f := p.films[k]; f != nil {
				l.Line(p.curve(f, c, g), 1.8, traceInks[k])
			}
		}
		name := b.T("cutaway.channel." + c.ID)
		words := name
		if c.Unit != "" {
			words = b.T("cutaway.chart.unit", "name", name, "unit", UnitWords(b, c.Unit))
		}
		l.TextIn(words, paint.LabelB, paint.Rect{X: r.X + 7, Y: r.Y + 2, W: r.W - 14, H: 16}, paint.Left, paint.Mist)
		p.ends(b, r, c)
		p.readings(b, r, c, name)
	}
}

// ends writes the ends of the scales, small.
func (p *Panel) ends(b *ui.Build, r paint.Rect, c inside.Channel) {
	l, tiny := b.Back, paint.Style{Face: paint.Regular, Size: 11}
	foot := paint.Rect{X: r.X + 6, Y: r.Bottom() - chartFoot - 1, W: r.W - 12, H: chartFoot}
	l.TextIn(b.T("cutaway.seconds", "n", "0"), tiny, foot, paint.Left, paint.Mist)
	l.TextIn(b.T("cutaway.seconds", "n", strconv.FormatFloat(p.seconds(), 'f', 0, 64)), tiny, foot, paint.Right, paint.Mist)
	scale := b.T("cutaway.scale", "low", b.Msg.Decimal(strconv.FormatFloat(c.Low, 'f', -1, 64)), "high", b.Msg.Decimal(strconv.FormatFloat(c.High, 'f', -1, 64)))
	if w := l.Fonts.Width(scale, tiny); w < foot.W-90 {
		l.TextIn(scale, tiny, foot, paint.Centre, paint.Mist)
	}
}

// readings writes what the chart's channel is now in each car.
func (p *Panel) readings(b *ui.Build, r paint.Rect, c inside.Channel, name string) {
	l := b.Front
	row := paint.Rect{X: r.X + 7, Y: r.Y + 17, W: r.W - 14, H: 17}
	for i, box := range row.Columns(2, 4) {
		if i >= p.pictures || p.films[i] == nil {
			continue
		}
		v := p.films[i].Channel(c, p.at)
		words := digits(b, c, v) // the unit stands in the head
		dot := paint.Pt{X: box.X + 4, Y: box.Y + 9}
		mark(l, i, dot)
		l.TextIn(words, paint.Style{Face: paint.Mono, Size: 13}, paint.Rect{X: box.X + 13, Y: box.Y, W: box.W - 13, H: 17}, paint.Left, traceInks[i])
		b.Read(b.T("cutaway.read", "car", p.who(b, i), "what", name, "value", Value(b, c, v)))
	}
}

func mark(l *paint.List, i int, c paint.Pt) {
	if i == 0 {
		l.Disc(c, 4, traceInks[0])
		return
	}
	l.Box(paint.Rect{X: c.X - 3.5, Y: c.Y - 3.5, W: 7, H: 7}, 0, traceInks[1])
}

// curve is a channel over a whole film.
func (p *Panel) curve(f *inside.Film, c inside.Channel, g paint.Rect) []paint.Pt {
	n := max(2, int(g.W/1.6))
	pts := make([]paint.Pt, n+1)
	for i := range pts {
		x := float64(i) / float64(n)
		v := (f.Channel(c, x*f.Seconds) - c.Low) / (c.High - c.Low)
		pts[i] = paint.Pt{X: g.X + x*g.W, Y: g.Bottom() - math.Min(1, math.Max(0, v))*g.H}
	}
	return pts
}

// cursor marks the present in all charts and dims what is still to come.
func (p *Panel) cursor(m *paint.Mesh) {
	m.Shift, m.Zoom = paint.Pt{}, 0
	for _, r := range p.lay.charts {
		g := field(r)
		x := g.X + g.W*p.at/p.seconds()
		if w := g.Right() - x; w > 0.5 {
			m.Box(paint.Rect{X: x, Y: g.Y - 1, W: w + 1, H: g.H + 2}, 0, paint.Fade(ground, 0.62))
		}
		m.Box(paint.Rect{X: x - 1, Y: g.Y - 2, W: 2, H: g.H + 4}, 0, paint.Chalk)
	}
}
