package bay

import (
	"strings"

	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// card is one instrument in use: what it shows and where it is.
type card struct {
	id, name, reading string
	lines             []string
	marks             []string // the same without the place, where there are two and little room
	inks              []paint.Ink
	off               bench.Action
	offName           string
	gauge             bool
}

func (s *Scene) cards(b *ui.Build) []card {
	v := &s.desk.View
	black := paint.RGB(0x05090b)
	var out []card
	if v.HandPump.On != "" {
		c := card{id: "handpump", name: b.T("instrument.handpump"), reading: s.gauge(), lines: []string{s.short(v.HandPump.On)},
			inks: []paint.Ink{art.Vacuum}, off: bench.Action{Verb: bench.PumpOff}, offName: b.T("opt.pumpoff"), gauge: true}
		c.lines = append(c.lines, b.N("side.strokes", v.HandPump.Strokes))
		c.inks = append(c.inks, paint.Nothing)
		out = append(out, c)
	}
	if v.Meter.Mode != "" {
		out = append(out, card{id: "meter", name: b.T("mode." + v.Meter.Mode), reading: b.Msg.Decimal(v.Meter.Text),
			lines: []string{s.short(v.Meter.Red), s.short(v.Meter.Black)}, marks: s.marks(v.Meter.Red, v.Meter.Black), inks: []paint.Ink{paint.RGB(0xc0392b), black},
			off: bench.Action{Verb: bench.MeterOff}, offName: b.T("side.meteroff")})
	}
	if v.Clamp.Mode != "" {
		out = append(out, card{id: "clamp", name: b.T("instrument.clamp"), reading: b.Msg.Decimal(v.Clamp.Text), lines: []string{s.short(v.Clamp.Red)},
			inks: []paint.Ink{paint.Orange}, off: bench.Action{Verb: bench.ClampOff}, offName: b.T("opt.clampoff")})
	}
	if v.Lamp21.Mode != "" {
		out = append(out, card{id: "lamp", name: b.T("instrument.lamp"), reading: b.Msg.Or("word."+v.Lamp21.Text, "phrase.id", "id", v.Lamp21.Text),
			lines: []string{s.short(v.Lamp21.Red), s.short(v.Lamp21.Black)}, marks: s.marks(v.Lamp21.Red, v.Lamp21.Black), inks: []paint.Ink{paint.Yellow, black},
			off: bench.Action{Verb: bench.LampOff}, offName: b.T("side.lampoff")})
	}
	for i, j := range v.Jumpers {
		fuse := b.T("opt.nofuse")
		if j.Fuse > 0 {
			fuse = num(j.Fuse) + " A"
		}
		name, state := b.T("side.jumper", "awg", num(j.AWG), "fuse", fuse), j.State
		if state != "" {
			// What has become of the lead needs the room that its fuse has otherwise.
			name = b.T("side.jumper.bare", "awg", num(j.AWG))
			key := strings.ReplaceAll(state, " ", "_")
			if state = b.Msg.Or("word."+key, "phrase.id", "id", state); b.Msg.Has("card." + key) {
				state = b.T("card." + key)
			}
		}
		out = append(out, card{id: "jumper" + num(i), name: name, reading: state,
			lines: []string{s.short(j.From), s.short(j.To)}, marks: s.marks(j.From, j.To), inks: []paint.Ink{paint.Green, paint.Green},
			off: bench.Action{Verb: bench.Unjump, On: j.From, To: j.To}, offName: b.T("side.unjump")})
	}
	return out
}

func (s *Scene) drawInstruments(b *ui.Build, r paint.Rect) {
	b.Group("instruments")
	l := b.Front
	ui.Board(l, r)
	in := r.Pad(6, 6)
	cards := s.cards(b)
	if len(cards) == 0 {
		l.Para(b.T("side.none"), paint.Small, in.Pad(4, 2), paint.Mist)
		return
	}
	full := 64.0
	h := min(full, (in.H-4*float64(len(cards)-1))/float64(len(cards)))
	for i, c := range cards {
		s.drawCard(b, c, paint.Rect{X: in.X, Y: in.Y + float64(i)*(h+4), W: in.W, H: h}, h >= full-8)
	}
}

func (s *Scene) drawCard(b *ui.Build, c card, r paint.Rect, full bool) {
	l := b.Front
	l.Box(r, 5, paint.Black)
	l.Box(r.Inset(1), 4, paint.RGB(0x0a171c))
	head := paint.Rect{X: r.X + 8, Y: r.Y + 2, W: r.W - 16, H: min(24, r.H-4)}
	off := paint.Rect{X: head.Right() - 20, Y: head.Y + (head.H-20)/2, W: 24, H: 20}
	room := head.W - 30
	least := l.Fonts.Width(c.name, paint.Style{Face: paint.SmallB.Face, Size: 11}) + 6 // the name has its room in small letters at least
	w := max(0, min(l.Fonts.Width(c.reading, paint.Digits)+4, room-min(least, room/2)))
	l.TextIn(c.name, paint.SmallB, paint.Rect{X: head.X, Y: head.Y, W: room - w - 4, H: head.H}, paint.Left, paint.Mist)
	l.TextIn(c.reading, paint.Digits, paint.Rect{X: head.X + room - w, Y: head.Y, W: w, H: head.H}, paint.Right, paint.Orange)
	look := ui.Look{Icon: func(l *paint.List, q paint.Rect, ink paint.Ink) {
		m := off.Mid()
		ui.Cross(l, paint.Rect{X: m.X - 4, Y: m.Y - 4, W: 8, H: 8}, ink)
	}}
	b.Control(ui.Control{ID: "off." + c.id, Name: c.offName, Role: ui.Push, Rect: off, Do: func() { s.desk.Act(c.off) }}, "", look)
	said := append([]string{c.name, c.reading}, c.lines...)
	b.Read(strings.Join(said, ", "))
	if !full {
		s.brief(b, c, r)
		return
	}
	width := r.W - 34
	if c.gauge {
		width -= 44
		vacuumDial(&l.Mesh, paint.Pt{X: r.Right() - 26, Y: r.Bottom() - 22}, 18, s.desk.View.HandPump.KPa)
	}
	for i, line := range c.lines {
		y := r.Y + 27 + 17*float64(i)
		if c.inks[i].A > 0 {
			l.Disc(paint.Pt{X: r.X + 15, Y: y + 8}, 5, paint.Mist)
			l.Disc(paint.Pt{X: r.X + 15, Y: y + 8}, 4, c.inks[i])
		}
		st := paint.Label
		for st.Size > 8 && l.Fonts.Width(line, st) > width {
			st.Size -= 0.5
		}
		l.TextIn(line, st, paint.Rect{X: r.X + 26, Y: y, W: width, H: 16}, paint.Left, paint.Chalk)
	}
}

// brief is what a low card has room for below its reading: one line.
func (s *Scene) brief(b *ui.Build, c card, r paint.Rect) {
	if r.H < 44 {
		return
	}
	words := c.marks
	if words == nil {
		words = c.lines[:1]
	}
	line := paint.Rect{X: r.X + 8, Y: r.Y + 26, W: r.W - 16, H: 16}
	for i, box := range line.Columns(len(words), 6) {
		dot := paint.Pt{X: box.X + 5, Y: box.Mid().Y}
		b.Front.Disc(dot, 4.5, paint.Mist)
		b.Front.Disc(dot, 3.5, c.inks[i])
		b.Front.TextIn(words[i], paint.Label, paint.Rect{X: box.X + 14, Y: box.Y, W: box.W - 14, H: box.H}, paint.Left, paint.Chalk)
	}
}

func (s *Scene) marks(ids ...string) []string {
	out := make([]string, len(ids))
	for i, id := range ids {
		_, out[i] = s.labelled(id)
	}
	return out
}

// gauge is the hand pump's reading. The bench writes it in kPa.
func (s *Scene) gauge() string {
	if s.desk.Prefs.Inches {
		return s.desk.Phrase.Vacuum(s.desk.View.HandPump.KPa)
	}
	return s.desk.Msg.Decimal(s.desk.View.HandPump.Text)
}
