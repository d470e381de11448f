package bay

import (
	"slices"
	"strings"

	"coldbay/assets/messages"
	"coldbay/scenarios/drawing"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// Past shows the bay as it was at a moment of a closed attempt. Nothing in it can be touched, and the place of the fault is marked.
type Past struct {
	desk  *stage.Desk // the one that the window has
	then  stage.Desk  // the same at that moment, without a session
	scene *Scene
}

// NewPast makes the bay's past for a desk.
func NewPast(desk *stage.Desk) *Past {
	p := &Past{desk: desk}
	p.scene = New(&p.then)
	p.scene.past = true
	return p
}

// Turn goes to the place where a moment's action was done, when the drawing has it.
func (p *Past) Turn(place string) {
	if _, ok := p.desk.Draw.View(place); ok {
		p.scene.place = place
	}
}

// Build shows a moment: the ways to the places in tabs, the picture.
func (p *Past) Build(b *ui.Build, moment int, tabs, picture paint.Rect) {
	d, past := p.desk, p.desk.Past
	p.then.Msg, p.then.Cat, p.then.Draw, p.then.Phrase, p.then.Prefs = d.Msg, d.Cat, d.Draw, d.Phrase, d.Prefs
	p.then.View, p.then.Ledger = past.Moments[moment].View, past.Ledger[:moment]
	p.scene.wounds = nil
	if past.Moments[moment].Faulty {
		p.scene.wounds = past.Wounds
	}
	if _, ok := d.Draw.View(p.scene.place); !ok {
		p.scene.place = d.Draw.Views[0].ID
	}
	p.ways(b, tabs, past)
	p.scene.drawPicture(b, picture.Fit(drawing.Width, drawing.Height))
	p.uncover(b, past, past.Moments[moment].Faulty)
}

// Live paints what moved at the moment that shows.
func (p *Past) Live(m *paint.Mesh, seconds float64) { p.scene.Live(m, seconds) }

// ways are tabs to the places. Those where the fault sat have a bar with a dot on their upper edge.
func (p *Past) ways(b *ui.Build, r paint.Rect, past *stage.Past) {
	b.Group("places")
	var places []bench.Named
	for _, x := range p.desk.Cat.Places {
		if _, ok := p.desk.Draw.View(x.ID); ok {
			places = append(places, x)
		}
	}
	boxes, words := p.scene.tabs(b.Front.Fonts, r, places)
	for i, box := range boxes {
		x := places[i]
		name := b.T("bay.goto", "place", p.desk.Phrase.Place(x.ID))
		here := slices.Contains(past.Places, x.ID)
		if here {
			name += ". " + b.T("debrief.replay.here")
		}
		b.Control(ui.Control{ID: "replay.go." + x.ID, Name: name, Role: ui.Tab, Rect: box, On: p.scene.place == x.ID,
			Do: func() { p.scene.place = x.ID; p.desk.Touch() }}, words[i], ui.Look{Style: paint.Label, Align: paint.Centre})
		if here {
			b.Front.Box(paint.Rect{X: box.X + 3, Y: box.Y + 1.5, W: box.W - 6, H: 4}, 2, paint.Vermil)
			b.Front.Disc(paint.Pt{X: box.Mid().X, Y: box.Y + 3.5}, 4, paint.Vermil)
		}
	}
}

// tabs shares a row out among places: each has the room that its name needs, and what is left is spread evenly. Where there is too little
// the names are shortened.
func (s *Scene) tabs(f *paint.Fonts, r paint.Rect, places []bench.Named) (boxes []paint.Rect, words []string) {
	const gap = 3
	boxes = r.Columns(len(places), gap)
	for _, p := range places {
		words = append(words, s.placeWord(p.ID, p.Name))
	}
	small := paint.Style{Face: paint.Label.Face, Size: 11} // what a tab's words are set in where they don't fit otherwise
	for _, try := range []struct {
		style paint.Style
		pad   float64
	}{{paint.Label, 12}, {small, 12}} {
		spare := r.W - gap*float64(len(places)-1)
		for _, w := range words {
			spare -= f.Width(w, try.style) + try.pad
		}
		if spare < 0 {
			continue
		}
		x := r.X
		for i := range boxes {
			boxes[i].X, boxes[i].W = x, f.Width(words[i], try.style)+try.pad+spare/float64(len(places))
			x = boxes[i].Right() + gap
		}
		return boxes, words
	}
	for i := range words {
		words[i] = fitting(f, words[i], boxes[i].W-12)
	}
	return boxes, words
}

// fitting drops words from the end of a name until it fits.
func fitting(f *paint.Fonts, words string, w float64) string {
	for f.Width(words, paint.Style{Face: paint.Label.Face, Size: 11}) > w {
		i := strings.LastIndexByte(words, ' ')
		if i < 0 {
			break
		}
		words = strings.TrimRight(words[:i], ",")
	}
	return words
}

// uncover marks the fault where the picture shows it: a ring round a point, and round the middle of a hose.
func (p *Past) uncover(b *ui.Build, past *stage.Past, faulty bool) {
	s := p.scene
	v := s.pic.view
	if v == nil {
		return
	}
	var at []paint.Pt
	var boxes []paint.Rect
	seen := func(id string) bool { return slices.Contains(past.At, id) }
	for _, list := range [][]drawing.Spot{v.Terminals, v.Ports, v.Clamps} {
		for _, x := range list {
			if seen(x.ID) {
				at = append(at, s.pic.at(x.At))
			}
		}
	}
	for _, list := range [][]drawing.Spot{v.Parts, v.Connectors} {
		for _, x := range list {
			if seen(x.ID) {
				boxes = append(boxes, s.pic.rect(x.Box))
			}
		}
	}
	for _, h := range v.Hoses {
		a, z := s.ends(h)
		for _, e := range []end{a, z} {
			if seen(e.id) {
				at = append(at, s.pic.at(drawing.Point{e.at.X, e.at.Y}))
			}
		}
		if seen(h.ID) {
			line := s.run(h)
			m := line[len(line)/2]
			at = append(at, s.pic.at(drawing.Point{m.X, m.Y}))
		}
	}
	for _, x := range v.Regions {
		if len(at)+len(boxes) == 0 && slices.Contains(past.Places, x.ID) {
			boxes = append(boxes, s.pic.rect(x.Box))
		}
	}
	l := b.Front
	words := b.T("debrief.replay.mark")
	if !faulty {
		words = b.T("debrief.replay.mended")
	}
	ink := choose(faulty, paint.Vermil, paint.Green)
	for _, c := range at {
		l.Ring(c, 21, 7, paint.Black)
		l.Ring(c, 21, 4, paint.White)
		l.Ring(c, 21, 2.5, ink)
	}
	for _, r := range boxes {
		l.Frame(r, 9, 7, paint.Black)
		l.Frame(r, 9, 4, paint.White)
		l.Frame(r, 9, 2.5, ink)
	}
	switch {
	case len(at) > 0:
		s.mark(b, words, "n", at[0], 26)
	case len(boxes) > 0:
		s.mark(b, words, "n", boxes[0].Mid(), boxes[0].H/2-4)
	default:
		return
	}
	b.Read(words + ": " + past.Fault)
}

// Instruments lists what was on the car at the moment that was built last: what it is, what it showed, where it was.
func (p *Past) Instruments(b *ui.Build) [][3]string {
	var out [][3]string
	for _, c := range p.scene.cards(b) {
		out = append(out, [3]string{c.name, c.reading, strings.Join(c.lines, ", ")})
	}
	return out
}

// State says what key and engine were doing.
func State(msg *messages.Catalogue, v *bench.View) string {
	if v.Engine == "off" {
		return msg.T("engine.key." + v.Key)
	}
	return msg.T("engine."+v.Engine, "rpm", num(v.Rpm))
}
