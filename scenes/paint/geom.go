package paint

import "math"

// Pt is a point in logical units, y downwards.
type Pt struct{ X, Y float64 }

// Add returns the sum of two points taken as vectors.
func (p Pt) Add(q Pt) Pt { return Pt{p.X + q.X, p.Y + q.Y} }

// Sub returns p minus q.
func (p Pt) Sub(q Pt) Pt { return Pt{p.X - q.X, p.Y - q.Y} }

// Mul scales p.
func (p Pt) Mul(k float64) Pt { return Pt{p.X * k, p.Y * k} }

// Len is the length of p taken as a vector.
func (p Pt) Len() float64 { return math.Hypot(p.X, p.Y) }

// Unit returns p with length one, or zero for a zero vector.
func (p Pt) Unit() Pt {
	if l := p.Len(); l > 1e-9 {
		return Pt{p.X / l, p.Y / l}
	}
	return Pt{}
}

// Rect is a box in logical units.
type Rect struct{ X, Y, W, H float64 }

// Right is the x of the right edge.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the y of the lower edge.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Mid is the centre.
func (r Rect) Mid() Pt { return Pt{r.X + r.W/2, r.Y + r.H/2} }

// Inset returns r smaller by d on each side.
func (r Rect) Inset(d float64) Rect { return Rect{r.X + d, r.Y + d, r.W - 2*d, r.H - 2*d} }

// Pad returns r smaller by dx left and right and dy above and below.
func (r Rect) Pad(dx, dy float64) Rect { return Rect{r.X + dx, r.Y + dy, r.W - 2*dx, r.H - 2*dy} }

// Has tells whether p lies in r.
func (r Rect) Has(p Pt) bool {
	return p.X >= r.X && p.X < r.X+r.W && p.Y >= r.Y && p.Y < r.Y+r.H
}

// Holds tells whether q lies in r, with a slack in logical units.
func (r Rect) Holds(q Rect, slack float64) bool {
	return q.X >= r.X-slack && q.Y >= r.Y-slack && q.Right() <= r.Right()+slack && q.Bottom() <= r.Bottom()+slack
}

// Overlap is the common box of r and q; its W and H are zero when there is none.
func (r Rect) Overlap(q Rect) Rect {
	x0, y0 := math.Max(r.X, q.X), math.Max(r.Y, q.Y)
	x1, y1 := math.Min(r.Right(), q.Right()), math.Min(r.Bottom(), q.Bottom())
	if x1 <= x0 || y1 <= y0 {
		return Rect{}
	}
	return Rect{x0, y0, x1 - x0, y1 - y0}
}

// CutLeft splits r into its left part of width w and the rest, with a gap between.
func (r Rect) CutLeft(w, gap float64) (left, rest Rect) {
	return Rect{r.X, r.Y, w, r.H}, Rect{r.X + w + gap, r.Y, r.W - w - gap, r.H}
}

// CutRight splits r into its right part of width w and the rest, with a gap between.
func (r Rect) CutRight(w, gap float64) (right, rest Rect) {
	return Rect{r.Right() - w, r.Y, w, r.H}, Rect{r.X, r.Y, r.W - w - gap, r.H}
}

// CutTop splits r into its upper part of height h and the rest, with a gap between.
func (r Rect) CutTop(h, gap float64) (top, rest Rect) {
	return Rect{r.X, r.Y, r.W, h}, Rect{r.X, r.Y + h + gap, r.W, r.H - h - gap}
}

// CutBottom splits r into its lower part of height h and the rest, with a gap between.
func (r Rect) CutBottom(h, gap float64) (bottom, rest Rect) {
	return Rect{r.X, r.Bottom() - h, r.W, h}, Rect{r.X, r.Y, r.W, r.H - h - gap}
}

// Columns splits r into n boxes side by side.
func (r Rect) Columns(n int, gap float64) []Rect {
	w := (r.W - gap*float64(n-1)) / float64(n)
	out := make([]Rect, n)
	for i := range out {
		out[i] = Rect{r.X + float64(i)*(w+gap), r.Y, w, r.H}
	}
	return out
}

// Fit is the largest box of the proportions w:h centred in r.
func (r Rect) Fit(w, h float64) Rect {
	k := math.Min(r.W/w, r.H/h)
	return Rect{r.X + (r.W-w*k)/2, r.Y + (r.H-h*k)/2, w * k, h * k}
}

// Curve runs a Catmull-Rom spline through the points and returns it as short straight pieces, for hoses and wires.
func Curve(pts []Pt) []Pt {
	if len(pts) < 3 {
		return pts
	}
	const steps = 10
	out := make([]Pt, 0, len(pts)*steps)
	at := func(i int) Pt { return pts[min(max(i, 0), len(pts)-1)] }
	for i := 0; i+1 < len(pts); i++ {
		p0, p1, p2, p3 := at(i-1), at(i), at(i+1), at(i+2)
		for s := range steps {
			t := float64(s) / steps
			out = append(out, Pt{spline(p0.X, p1.X, p2.X, p3.X, t), spline(p0.Y, p1.Y, p2.Y, p3.Y, t)})
		}
	}
	return append(out, pts[len(pts)-1])
}

func spline(a, b, c, d, t float64) float64 {
	return 0.5 * (2*b + (c-a)*t + (2*a-5*b+4*c-d)*t*t + (3*b-a-3*c+d)*t*t*t)
}
