package bay

import (
	"slices"

	"github.com/hajimehoshi/ebiten/v2"

	"coldbay/scenarios/drawing"
	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
)

// still keeps the triangles of a view's things between rebuilds: they change only when a part comes off or the window changes, and
// cutting outlines into triangles is most of what a picture costs.
type still struct {
	view  *drawing.View
	box   paint.Rect
	scale float64
	theme *paint.Theme
	off   []bool // which parts are off, in the order of the props
	v     []ebiten.Vertex
	i     []uint32
}

// drawProps paints the things of the view and its harness.
func (s *Scene) drawProps(l *paint.List) {
	if s.kit == nil || s.coat != s.desk.Draw.Coat {
		s.kit, s.coat, s.still = art.New(s.desk.Draw.Coat), s.desk.Draw.Coat, still{}
	}
	gone := s.beltGone()
	off := make([]bool, len(s.pic.view.Props))
	for i, p := range s.pic.view.Props {
		off[i] = p.Part != "" && isOn(s.desk.View.Parts, p.Part) || p.Kind == "belt_run" && gone
	}
	k := &s.still
	if k.view != s.pic.view || k.box != s.pic.box || k.scale != l.Scale || k.theme != l.Theme || !slices.Equal(k.off, off) {
		v, n := len(l.V), len(l.I)
		s.paintProps(l, off)
		*k = still{view: s.pic.view, box: s.pic.box, scale: l.Scale, theme: l.Theme, off: off, v: slices.Clone(l.V[v:]), i: slices.Clone(l.I[n:])}
		for j := range k.i {
			k.i[j] -= uint32(v)
		}
		return
	}
	from := uint32(len(l.V))
	l.V = append(l.V, k.v...)
	for _, j := range k.i {
		l.I = append(l.I, from+j)
	}
}

func (s *Scene) paintProps(l *paint.List, off []bool) {
	for i, p := range s.pic.view.Props {
		where := p.Box
		if off[i] {
			if where = p.Away; where == (drawing.Box{}) {
				continue
			}
		}
		r := box(where)
		if p.Mirror {
			l.Mirror = 2 * r.Mid().X
		}
		s.kit.Paint(p.Kind, l, r)
		l.Mirror = 0
	}
	for _, w := range s.pic.view.Wires {
		art.Tube(&l.Mesh, paint.Curve(points(w.Path)), w.Width, art.Ink(w.Ink))
	}
}
