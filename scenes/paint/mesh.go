package paint

import (
	"math"

	"github.com/hajimehoshi/ebiten/v2"
)

// Mesh collects triangles in device pixels. Every outline gets an edge one pixel wide that fades to nothing: that is
// the whole anti-aliasing.
type Mesh struct {
	V []ebiten.Vertex
	I []uint32
	// Scale is device pixels per logical unit.
	Scale float64
	// Shift moves everything that is added, in logical units; Zoom multiplies it first (0 counts as 1).
	Shift Pt
	Zoom  float64
	// Mirror, when it is not zero, turns what is added left to right before that: x becomes Mirror - x.
	Mirror float64
	// Off moves everything after that, in device pixels.
	Off Pt
	// Theme replaces inks of the palette; nil leaves them.
	Theme *Theme

	buf []Pt
}

// Reset empties the mesh and keeps its memory.
func (m *Mesh) Reset() { m.V, m.I = m.V[:0], m.I[:0] }

func (m *Mesh) zoom() float64 {
	if m.Zoom == 0 {
		return 1
	}
	return m.Zoom
}

// dev turns a logical point into device pixels.
func (m *Mesh) dev(p Pt) Pt {
	z := m.zoom()
	if m.Mirror != 0 {
		p.X = m.Mirror - p.X
	}
	return Pt{(p.X*z+m.Shift.X)*m.Scale + m.Off.X, (p.Y*z+m.Shift.Y)*m.Scale + m.Off.Y}
}

func (m *Mesh) vertex(p Pt, c Ink) uint32 {
	m.V = append(m.V, ebiten.Vertex{
		DstX: float32(p.X), DstY: float32(p.Y), SrcX: 1, SrcY: 1,
		ColorR: float32(c.R) / 255, ColorG: float32(c.G) / 255, ColorB: float32(c.B) / 255, ColorA: float32(c.A) / 255,
	})
	return uint32(len(m.V) - 1)
}

func (m *Mesh) tri(a, b, c uint32) { m.I = append(m.I, a, b, c) }

// Fill fills a convex outline with one colour.
func (m *Mesh) Fill(pts []Pt, c Ink) { m.FillGrad(pts, c, c) }

// FillGrad fills a convex outline, top colour above and bottom colour below.
func (m *Mesh) FillGrad(pts []Pt, top, bottom Ink) {
	if len(pts) < 3 {
		return
	}
	top, bottom = m.Theme.Ink(top), m.Theme.Ink(bottom)
	d := m.device(pts)
	inner, outer := m.ring(d, top, bottom)
	for i := 2; i < len(d); i++ {
		m.tri(inner, inner+uint32(i-1), inner+uint32(i))
	}
	m.band(inner, outer, len(d), true)
}

// Poly fills a simple outline that need not be convex.
func (m *Mesh) Poly(pts []Pt, c Ink) { m.PolyGrad(pts, c, c) }

// PolyGrad is Poly with a vertical change of colour.
func (m *Mesh) PolyGrad(pts []Pt, top, bottom Ink) {
	if len(pts) < 3 {
		return
	}
	top, bottom = m.Theme.Ink(top), m.Theme.Ink(bottom)
	d := m.device(pts)
	inner, outer := m.ring(d, top, bottom)
	for _, t := range earClip(d) {
		m.tri(inner+t[0], inner+t[1], inner+t[2])
	}
	m.band(inner, outer, len(d), true)
}

func (m *Mesh) device(pts []Pt) []Pt {
	m.buf = m.buf[:0]
	for _, p := range pts {
		m.buf = append(m.buf, m.dev(p))
	}
	return m.buf
}

// ring adds the outline twice: half a pixel inside in full colour, half a pixel outside transparent.
func (m *Mesh) ring(d []Pt, top, bottom Ink) (inner, outer uint32) {
	n := len(d)
	lo, hi := math.Inf(1), math.Inf(-1)
	area := 0.0
	for i, p := range d {
		lo, hi = math.Min(lo, p.Y), math.Max(hi, p.Y)
		q := d[(i+1)%n]
		area += p.X*q.Y - q.X*p.Y
	}
	side := 0.5
	if area < 0 {
		side = -0.5
	}
	tint := func(y float64) Ink {
		if hi-lo < 1e-6 {
			return top
		}
		return Blend(top, bottom, math.Min(1, math.Max(0, (y-lo)/(hi-lo))))
	}
	inner = uint32(len(m.V))
	for i := range d {
		k := miter(d[(i+n-1)%n], d[i], d[(i+1)%n]).Mul(side)
		m.vertex(d[i].Sub(k), tint(d[i].Y))
	}
	outer = uint32(len(m.V))
	for i := range d {
		k := miter(d[(i+n-1)%n], d[i], d[(i+1)%n]).Mul(side)
		c := tint(d[i].Y)
		c.A = 0
		m.vertex(d[i].Add(k), c)
	}
	return inner, outer
}

// band joins two rows of n vertices with triangles; closed joins the last to the first.
func (m *Mesh) band(a, b uint32, n int, closed bool) {
	last := n - 1
	if closed {
		last = n
	}
	for i := range last {
		j := uint32((i + 1) % n)
		i := uint32(i)
		m.tri(a+i, b+i, b+j)
		m.tri(a+i, b+j, a+j)
	}
}

// miter is the outward vector at b for the corner a-b-c whose sides are pushed out by one, limited at sharp corners.
// Outward is to the right of the direction of travel in y-down coordinates for a clockwise outline.
func miter(a, b, c Pt) Pt {
	u, v := b.Sub(a).Unit(), c.Sub(b).Unit()
	if u == (Pt{}) {
		u = v
	}
	if v == (Pt{}) {
		v = u
	}
	n := Pt{u.Y + v.Y, -u.X - v.X}
	l2 := n.X*n.X + n.Y*n.Y
	if l2 < 0.25 {
		return Pt{u.Y, -u.X}
	}
	return n.Mul(2 / l2)
}

// Line strokes an open line of the given width.
func (m *Mesh) Line(pts []Pt, width float64, c Ink) { m.stroke(pts, width, c, false) }

// Loop strokes a closed outline.
func (m *Mesh) Loop(pts []Pt, width float64, c Ink) { m.stroke(pts, width, c, true) }

func (m *Mesh) stroke(pts []Pt, width float64, c Ink, closed bool) {
	n := len(pts)
	if n < 2 {
		return
	}
	c = m.Theme.Ink(c)
	d := m.device(pts)
	half := math.Max(width*m.zoom()*m.Scale/2, 0.5)
	clear := c
	clear.A = 0
	var rows [4]uint32
	for r, off := range [4]float64{-half - 0.5, -half + 0.5, half - 0.5, half + 0.5} {
		rows[r] = uint32(len(m.V))
		tint := c
		if r == 0 || r == 3 {
			tint = clear
		}
		for i := range d {
			a, b := d[max(i-1, 0)], d[min(i+1, n-1)]
			if closed {
				a, b = d[(i+n-1)%n], d[(i+1)%n]
			}
			m.vertex(d[i].Add(miter(a, d[i], b).Mul(off)), tint)
		}
	}
	for r := range 3 {
		m.band(rows[r], rows[r+1], n, closed)
	}
}

// Rope strokes a line with round ends.
func (m *Mesh) Rope(pts []Pt, width float64, c Ink) {
	if len(pts) < 2 {
		return
	}
	m.Line(pts, width, c)
	m.Disc(pts[0], width/2, c)
	m.Disc(pts[len(pts)-1], width/2, c)
}

// Disc fills a circle.
func (m *Mesh) Disc(c Pt, r float64, ink Ink) { m.Fill(arc(c, r, r, m.segments(r)), ink) }

// Oval fills an ellipse with a vertical change of colour.
func (m *Mesh) Oval(c Pt, rx, ry float64, top, bottom Ink) {
	m.FillGrad(arc(c, rx, ry, m.segments(math.Max(rx, ry))), top, bottom)
}

// Ring strokes a circle.
func (m *Mesh) Ring(c Pt, r, width float64, ink Ink) { m.Loop(arc(c, r, r, m.segments(r)), width, ink) }

// Arc strokes part of a circle; angles in degrees, 0 to the right, 90 downwards.
func (m *Mesh) Arc(c Pt, r, from, to, width float64, ink Ink) {
	n := max(3, int(math.Abs(to-from)/6))
	pts := make([]Pt, n+1)
	for i := range pts {
		a := (from + (to-from)*float64(i)/float64(n)) * math.Pi / 180
		pts[i] = Pt{c.X + r*math.Cos(a), c.Y + r*math.Sin(a)}
	}
	m.Line(pts, width, ink)
}

func (m *Mesh) segments(r float64) int {
	return min(64, max(10, int(3*math.Sqrt(r*m.zoom()*m.Scale))+6))
}

func arc(c Pt, rx, ry float64, n int) []Pt {
	pts := make([]Pt, n)
	for i := range pts {
		a := 2 * math.Pi * float64(i) / float64(n)
		pts[i] = Pt{c.X + rx*math.Cos(a), c.Y + ry*math.Sin(a)}
	}
	return pts
}

// Box fills a rectangle with rounded corners.
func (m *Mesh) Box(r Rect, round float64, c Ink) { m.Fill(roundRect(r, round), c) }

// BoxGrad is Box with a vertical change of colour.
func (m *Mesh) BoxGrad(r Rect, round float64, top, bottom Ink) {
	m.FillGrad(roundRect(r, round), top, bottom)
}

// Frame strokes a rectangle with rounded corners, the line inside the box.
func (m *Mesh) Frame(r Rect, round, width float64, c Ink) {
	m.Loop(roundRect(r.Inset(width/2), round), width, c)
}

func roundRect(r Rect, round float64) []Pt {
	round = math.Min(round, math.Min(r.W, r.H)/2)
	if round < 0.5 {
		return []Pt{{r.X, r.Y}, {r.Right(), r.Y}, {r.Right(), r.Bottom()}, {r.X, r.Bottom()}}
	}
	const n = 5
	pts := make([]Pt, 0, 4*(n+1))
	for q, c := range [4]Pt{
		{r.Right() - round, r.Bottom() - round}, {r.X + round, r.Bottom() - round},
		{r.X + round, r.Y + round}, {r.Right() - round, r.Y + round},
	} {
		for i := range n + 1 {
			a := (float64(q) + float64(i)/n) * math.Pi / 2
			pts = append(pts, Pt{c.X + round*math.Cos(a), c.Y + round*math.Sin(a)})
		}
	}
	return pts
}
