package bay

import (
	"math"

	"coldbay/scenarios/drawing"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
)

// named is a thing of the view with what it is called.
type named struct {
	words string
	box   paint.Rect // where it is; of a hose, empty
	run   []paint.Pt // where a hose lies, the best place for its name first; empty for a thing with a box
}

// nameThings sets the names of what can be seen close up, each beside its thing, so that hands free of tools can learn what is what. A name
// is the thing's own, whatever state it is in.
func (s *Scene) nameThings(b *ui.Build) {
	if s.hold.tool != toolStep || s.pic.view.ID == "front" {
		return
	}
	things := s.things(b)
	taken := s.written(b.Front)
	for i := range things {
		r := s.label(b.Front, things, i, taken)
		taken = append(taken, r)
		if p := things[i].near(r); things[i].away(r) > 8 {
			b.Front.Line([]paint.Pt{r.Mid(), p}, 1.5, paint.Chalk)
			b.Front.Disc(p, 3, paint.Chalk)
		}
		b.Front.Box(r, 4, paint.Fade(paint.Black, 0.78))
		b.Front.TextIn(things[i].words, paint.LabelB, r.Pad(4, 0), paint.Centre, paint.Chalk)
		b.Read(things[i].words)
	}
}

// thingOf says what a painted thing that can't be touched is, for its name; empty for what is only there to be looked at.
func thingOf(kind string) string {
	switch kind {
	case "battery", "battery_old":
		return "battery"
	case "airbox", "airbox_flat", "air_cleaner":
		return "airfilter"
	case "plenum", "plenum_vee", "plenum_old":
		return "manifold"
	case "ground_stud", "reservoir", "solenoid", "checkvalve", "tee", "main_relay", "ecm_plug", "crank_wheel":
		return kind
	}
	return ""
}

// things lists the parts, connectors, hoses and what belongs to the system and can't be taken off.
func (s *Scene) things(b *ui.Build) []named {
	v := s.pic.view
	var out []named
	add := func(words string, box paint.Rect, run []paint.Pt) {
		out = append(out, named{words: words, box: box, run: run})
	}
	for _, sp := range v.Parts {
		add(s.desk.Phrase.Thing(sp.ID), s.whereIs(sp, isOn(s.desk.View.Parts, sp.ID)), nil)
	}
	for _, sp := range v.Connectors {
		add(s.desk.Phrase.Thing(sp.ID), s.whereIs(sp, isOn(s.desk.View.Connectors, sp.ID)), nil)
	}
	for _, h := range v.Hoses {
		if run := s.seen(h); len(run) > 0 {
			add(s.hoseName(h.ID), paint.Rect{}, run)
		}
	}
	for _, p := range v.Props {
		if kind := thingOf(p.Kind); kind != "" && p.Part == "" {
			add(b.T("thing."+kind), s.pic.rect(p.Box).Overlap(s.pic.box), nil)
		}
	}
	return out
}

// hoseName is what a hose is called; a service unit may have its id and another name.
func (s *Scene) hoseName(id string) string {
	for _, h := range s.desk.Cat.Hoses {
		if h.ID == id {
			return h.Name
		}
	}
	return s.desk.Phrase.Thing(id)
}

// whereIs is the box of a part or connector on the screen, in its place or off.
func (s *Scene) whereIs(sp drawing.Spot, off bool) paint.Rect {
	r := s.pic.rect(sp.Box)
	if p := s.lying(sp.ID); off && p != (drawing.Box{}) {
		return s.pic.rect(p)
	}
	if off && sp.Away != (drawing.Point{}) {
		c := s.pic.at(sp.Away)
		return paint.Rect{X: c.X - r.W/2, Y: c.Y - r.H/2, W: r.W, H: r.H}
	}
	return r
}

// seen are points along the part of a hose that the picture shows, the middle first and then by turns to both sides.
func (s *Scene) seen(h drawing.Hose) []paint.Pt {
	var all []paint.Pt
	for _, p := range s.run(h) {
		if q := s.pic.at(drawing.Point{p.X, p.Y}); s.pic.box.Has(q) {
			all = append(all, q)
		}
	}
	if len(all) == 0 {
		return nil
	}
	out := []paint.Pt{all[len(all)/2]}
	for i := 1; i <= 4; i++ {
		out = append(out, all[len(all)*(10-2*i)/20], all[min(len(all)-1, len(all)*(10+2*i)/20)])
	}
	return out
}

// written are the boxes of words that the picture has already.
func (s *Scene) written(l *paint.List) []paint.Rect {
	var out []paint.Rect
	for _, w := range l.Words {
		if o := w.Box.Overlap(s.pic.box); o.W > 0 && o.H > 0 {
			out = append(out, w.Box.Inset(-3))
		}
	}
	return out
}

// What it costs a label to stand somewhere: on another label is out of the question, on another thing is worse than some way off.
const (
	costTaken = 1e6
	costThing = 1.5 // per unit of area, over the label's own
	costAway  = 1.0 // per unit of distance from its thing
	costOver  = 8.0 // on its own thing rather than beside it
)

// label finds the place for the name of a thing.
func (s *Scene) label(l *paint.List, things []named, i int, taken []paint.Rect) paint.Rect {
	n := &things[i]
	const h = 16.0
	in := s.pic.box.Inset(4)
	w := min(l.Fonts.Width(n.words, paint.LabelB)+8, in.W)
	best, least := paint.Rect{}, math.Inf(1)
	try := func(c paint.Pt, cost float64) {
		r := paint.Rect{X: min(max(c.X-w/2, in.X), in.Right()-w), Y: min(max(c.Y-h/2, in.Y), in.Bottom()-h), W: w, H: h}
		for _, t := range taken {
			if o := r.Inset(-2).Overlap(t); o.W > 0 && o.H > 0 {
				cost += costTaken
			}
		}
		for j, t := range things {
			if o := r.Overlap(t.box); j != i && o.W > 0 && o.H > 0 {
				cost += costThing * o.W * o.H / h
			}
		}
		if cost += costAway * n.away(r); cost < least {
			best, least = r, cost
		}
	}
	for k, p := range n.run {
		try(p, float64(k)*2)
	}
	if len(n.run) == 0 {
		m := n.box.Mid()
		try(paint.Pt{X: m.X, Y: n.box.Bottom() + h/2 + 2}, 0)
		try(paint.Pt{X: m.X, Y: n.box.Y - h/2 - 2}, 1)
		try(paint.Pt{X: n.box.Right() + w/2 + 2, Y: m.Y}, 2)
		try(paint.Pt{X: n.box.X - w/2 - 2, Y: m.Y}, 2)
		try(paint.Pt{X: m.X, Y: n.box.Bottom() - h/2 - 2}, costOver)
		try(m, costOver)
	}
	for y := in.Y + h/2; y < in.Bottom() && least >= 40; y += 9 {
		for x := in.X + w/2; x <= in.Right()-w/2; x += 14 {
			try(paint.Pt{X: x, Y: y}, 6)
		}
	}
	return best
}

// away is how far a label stands from its thing.
func (n *named) away(r paint.Rect) float64 {
	if len(n.run) == 0 {
		return gap(r, n.box)
	}
	d := math.Inf(1)
	for _, p := range n.run {
		d = min(d, gap(r, paint.Rect{X: p.X, Y: p.Y}))
	}
	return d
}

// near is the point of a thing that a line from its label leads to.
func (n *named) near(r paint.Rect) paint.Pt {
	if len(n.run) == 0 {
		m, in := r.Mid(), n.box.Inset(min(8, n.box.W/4, n.box.H/4))
		return paint.Pt{X: min(max(m.X, in.X), in.Right()), Y: min(max(m.Y, in.Y), in.Bottom())}
	}
	best := n.run[0]
	for _, p := range n.run {
		if gap(r, paint.Rect{X: p.X, Y: p.Y}) < gap(r, paint.Rect{X: best.X, Y: best.Y}) {
			best = p
		}
	}
	return best
}

// gap is the distance between two boxes, 0 where they touch.
func gap(a, b paint.Rect) float64 {
	return math.Hypot(max(0, a.X-b.Right(), b.X-a.Right()), max(0, a.Y-b.Bottom(), b.Y-a.Bottom()))
}
