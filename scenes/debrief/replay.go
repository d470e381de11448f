package debrief

import (
	"coldbay/scenarios/drawing"
	"coldbay/scenes/bay"
	"coldbay/scenes/debrief/page"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	"coldbay/sim/bench/phrase"
)

// look goes to the replay at a ledger line; the attempt is played again when that was not done yet.
func (s *Scene) look(line int) {
	s.desk.LoadPast(func() {
		s.tab = "replay"
		s.to(line)
	})
}

// to shows a moment, at the place where its action was done.
func (s *Scene) to(moment int) {
	past := s.desk.Past
	s.moment = min(max(moment, 0), len(past.Moments)-1)
	s.past.Turn(past.Moments[s.moment].View.Place)
	s.desk.Touch()
}

// replay shows the bay at a moment that a slider chooses, with the truth uncovered.
func (s *Scene) replay(b *ui.Build, room paint.Rect, d *page.Document) {
	past := s.desk.Past
	if past == nil {
		ui.Paper(b.Front, room)
		b.Front.Para(b.T("work.replay"), paint.Body, room.Pad(24, 16), paint.PageInk)
		return
	}
	foot, rest := room.CutBottom(96, 6)
	side, left := rest.CutRight(min(264, room.W*0.24), 8)
	tabs, pic := left.CutTop(28, 4)
	pic = pic.Fit(drawing.Width, drawing.Height)
	s.past.Build(b, s.moment, paint.Rect{X: pic.X, Y: tabs.Y, W: pic.W, H: tabs.H}, pic)
	// What the picture leaves free is given to the words beside it.
	side.X, side.W = pic.Right()+8, room.Right()-pic.Right()-8
	s.truth(b, side, past)
	s.slider(b, foot, past)
}

// truth is the column at the right: when it is, what stands on the car, what is wrong with it, who is left.
func (s *Scene) truth(b *ui.Build, r paint.Rect, past *stage.Past) {
	l, m := b.Front, &past.Moments[s.moment]
	ui.Paper(l, r)
	in := r.Pad(12, 10)
	y := in.Y
	put := func(words string, st paint.Style, ink paint.Ink, gap float64) {
		h := l.ParaHeight(words, st, in.W)
		if words == "" || y+h > in.Bottom() {
			return
		}
		y += l.Para(words, st, paint.Rect{X: in.X, Y: y, W: in.W, H: h + 2}, ink) + gap
	}
	put(b.T("debrief.replay.fault"), paint.LabelB, paint.PageDim, 0)
	put(past.Fault, paint.SmallB, paint.RGB(0x9c4400), 1)
	state := b.T("debrief.replay.faulty")
	if !m.Faulty {
		state = b.T("debrief.replay.mended")
	}
	put(state, paint.Small, paint.PageInk, 8)
	left := b.N("debrief.replay.left", len(m.Left))
	put(left, paint.SmallB, paint.PageInk, 1)
	b.Read(past.Fault + ", " + state + ". " + left)
	// Room for the instruments is kept below; of the suspects as many are named as there is room for.
	inst := s.past.Instruments(b)
	low := in.Bottom() - 20
	for range inst {
		low -= 38
	}
	for i, name := range m.Left {
		h := l.ParaHeight(name, paint.Label, in.W-10) + 1
		more := b.N("debrief.replay.more", len(m.Left)-i)
		if y+h > low-16 && i < len(m.Left)-1 {
			put(more, paint.Label, paint.PageDim, 0)
			b.Read(more)
			break
		}
		ink := paint.PageInk
		if name == past.Fault {
			l.Disc(paint.Pt{X: in.X + 3, Y: y + 8}, 3, paint.Vermil)
		} else {
			l.Disc(paint.Pt{X: in.X + 3, Y: y + 8}, 2, paint.PageDim)
		}
		y += l.Para(name, paint.Label, paint.Rect{X: in.X + 10, Y: y, W: in.W - 10, H: h + 2}, ink) + 1
		b.Read(name)
	}
	y = max(y+4, low)
	v := &m.View
	words := bay.State(b.Msg, v)
	l.Box(paint.Rect{X: in.X, Y: y - 3, W: in.W, H: 1}, 0, paint.PageRul)
	put(words, paint.SmallB, paint.PageInk, 1)
	b.Read(words)
	for _, c := range inst {
		if y+34 > in.Bottom()+4 {
			break
		}
		w := l.Fonts.Width(c[1], paint.SmallB) + 4
		l.TextIn(c[0], paint.Label, paint.Rect{X: in.X, Y: y, W: in.W - w, H: 17}, paint.Left, paint.PageDim)
		l.TextIn(c[1], paint.SmallB, paint.Rect{X: in.Right() - w, Y: y, W: w, H: 17}, paint.Right, paint.PageInk)
		l.TextIn(c[2], paint.Label, paint.Rect{X: in.X, Y: y + 17, W: in.W, H: 16}, paint.Left, paint.PageInk)
		b.Read(c[0] + ", " + c[1] + ", " + c[2])
		y += 38
	}
}

// slider is the strip at the foot: the action of the moment, the slider over all of them, and the way to try again.
func (s *Scene) slider(b *ui.Build, r paint.Rect, past *stage.Past) {
	l := b.Front
	ui.Paper(l, r)
	in := r.Pad(14, 8)
	last := len(past.Moments) - 1
	when := b.T("debrief.replay.start")
	did := b.T("debrief.replay.before")
	if s.moment > 0 {
		f := past.Ledger[s.moment-1]
		when = b.T("debrief.replay.when", "line", stage.Num(s.moment), "of", stage.Num(last), "time", phrase.Clock(f.Start+f.Seconds))
		did = s.desk.Phrase.Line(f)
	}
	again, text := in.CutRight(190, 16)
	w := l.Fonts.Width(when, paint.SmallB) + 10
	l.TextIn(when, paint.SmallB, paint.Rect{X: text.X, Y: text.Y, W: w, H: 18}, paint.Left, paint.PageDim)
	lines := l.Fonts.Wrap(did, paint.Small, text.W-w)
	for i, line := range lines {
		if i == 1 && len(lines) > 2 {
			line += " …"
		}
		if i < 2 {
			l.Text(line, paint.Small, text.X+w, text.Y+1+17*float64(i), paint.PageInk)
		}
	}
	b.Read(did)
	b.Group("slider")
	run := paint.Rect{X: text.X + 36, Y: in.Bottom() - 34, W: text.W - 72, H: 26}
	for _, st := range s.desk.Doc.Steps {
		if st.Seq <= last {
			x := run.X + 9 + (run.W-18)*float64(st.Seq)/float64(max(last, 1))
			l.Box(paint.Rect{X: x - 1, Y: run.Bottom() + 1, W: 2, H: 5}, 0, paint.PageDim)
			if st.Regret > 0.05 {
				l.Fill([]paint.Pt{{X: x - 4, Y: run.Bottom() + 8}, {X: x, Y: run.Bottom() + 1}, {X: x + 4, Y: run.Bottom() + 8}}, paint.Vermil)
			}
		}
	}
	ends := ui.Look{Paper: true, Align: paint.Centre}
	b.Control(ui.Control{ID: "replay.back", Name: b.T("debrief.replay.back"), Role: ui.Push, Off: s.moment == 0,
		Rect: paint.Rect{X: text.X, Y: run.Y, W: 30, H: 26}, Do: func() { s.to(s.moment - 1) }}, "◄", ends)
	b.Slide("replay.at", b.T("debrief.replay.slider"), when+": "+did, run, s.moment, last, s.to)
	b.Control(ui.Control{ID: "replay.on", Name: b.T("debrief.replay.on"), Role: ui.Push, Off: s.moment == last,
		Rect: paint.Rect{X: text.Right() - 30, Y: run.Y, W: 30, H: 26}, Do: func() { s.to(s.moment + 1) }}, "►", ends)
	from := min(s.moment, past.Last)
	note := b.T("debrief.replay.note")
	b.Control(ui.Control{ID: "replay.again", Name: b.T("debrief.replay.again.name", "line", stage.Num(from)), Role: ui.Push,
		Rect: paint.Rect{X: again.X, Y: again.Y, W: again.W, H: 32}, Do: func() { s.desk.Retake(from) }},
		b.T("debrief.replay.again"), ui.Look{Paper: true, Primary: true, Align: paint.Centre})
	l.Para(note, paint.Label, paint.Rect{X: again.X, Y: again.Y + 36, W: again.W, H: again.H - 36}, paint.PageDim)
	b.Read(note)
}
