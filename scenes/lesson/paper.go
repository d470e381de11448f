package lesson

import (
	"strconv"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/cutaway"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
)

// paper is the page of the lesson: its head, the text or the question, and the ways on.
func (s *Scene) paper(b *ui.Build, r paint.Rect) {
	l, st := b.Front, s.current()
	b.Group(b.T("lesson.group.paper"))
	in := r.Pad(20, 14)
	head, in := in.CutTop(54, 4)
	where := b.T("lesson.where", "n", strconv.Itoa(s.step+1), "of", strconv.Itoa(len(s.l.Steps)))
	small, title := head.CutTop(20, 0)
	l.TextIn(s.words().Title, paint.Small, paint.Rect{X: small.X, Y: small.Y, W: small.W - 92, H: 18}, paint.Left, paint.PageDim)
	l.TextIn(where, paint.Small, paint.Rect{X: small.Right() - 90, Y: small.Y, W: 90, H: 18}, paint.Right, paint.PageDim)
	words := st.Title
	if s.asking {
		words = b.T("lesson.question", "title", st.Title)
	}
	b.Page.Title = s.words().Title + ": " + words
	l.TextIn(words, paint.Heading, paint.Rect{X: title.X, Y: title.Y, W: title.W, H: 26}, paint.Left, paint.PageInk)
	l.Box(paint.Rect{X: in.X, Y: title.Y + 30, W: in.W, H: 1.5}, 0, paint.PageRul)
	b.Read(where + ". " + words)
	foot, body := in.CutBottom(36, 8)
	if s.asking {
		s.question(b, body)
	} else {
		s.text(b, body, st.Text)
	}
	s.foot(b, foot)
}

// text sets the step's text; what is longer than the paper is turned.
func (s *Scene) text(b *ui.Build, r paint.Rect, words string) {
	l := b.Front
	style := paint.Style{Face: paint.Regular, Size: 17}
	for style.Size > 14 && l.ParaHeight(words, style, r.W) > r.H {
		style.Size--
	}
	lines := l.Fonts.Wrap(words, style, r.W)
	b.Read(words)
	per := max(1, int(r.H/style.LineHeight()))
	pages := 1
	if len(lines) > per {
		per = max(1, int((r.H-32)/style.LineHeight()))
		pages = (len(lines) + per - 1) / per
	}
	s.leaf = min(max(s.leaf, 0), pages-1)
	y := r.Y
	for _, line := range lines[s.leaf*per : min(len(lines), (s.leaf+1)*per)] {
		l.TextIn(line, style, paint.Rect{X: r.X, Y: y, W: r.W + 2, H: style.LineHeight()}, paint.Left, paint.PageInk)
		y += style.LineHeight()
	}
	b.Pager("lesson.leaf", paint.Pt{X: r.Right() - 150, Y: r.Bottom() - 28}, s.leaf, pages, true, r, func(d int) { s.leaf += d; s.desk.Touch() })
}

func (s *Scene) question(b *ui.Build, r paint.Rect) {
	ask := s.current().Ask
	if s.verdict != nil {
		s.judged(b, r, ask)
		return
	}
	l := b.Front
	y := r.Y
	y += l.Para(ask.Text, paint.Body, paint.Rect{X: r.X, Y: y, W: r.W, H: r.H}, paint.PageInk) + 8
	b.Read(ask.Text)
	switch ask.Kind {
	case lessons.Number:
		field := paint.Rect{X: r.X, Y: y + 4, W: min(180, r.W-90), H: 34}
		b.TextField("lesson.number", b.T("lesson.number", "unit", cutaway.UnitWords(b, ask.Unit)), s.typed, b.T("lesson.number.hint"), field,
			func(v string) { s.typed = v[:min(len(v), 12)]; s.desk.Touch() }, s.answer)
		l.TextIn(cutaway.UnitWords(b, ask.Unit), paint.Strong, paint.Rect{X: field.Right() + 10, Y: field.Y, W: 70, H: field.H}, paint.Left, paint.PageInk)
		y = field.Bottom() + 10
		y += l.Para(b.T("lesson.number.how"), paint.Small, paint.Rect{X: r.X, Y: y, W: r.W, H: 60}, paint.PageDim)
	default:
		for i, words := range s.lines(ask) {
			y = s.option(b, r, y, i, words, ask.Kind == lessons.Strike)
		}
	}
	button := paint.Rect{X: r.X, Y: r.Bottom() - 36, W: 150, H: 34}
	if y+6 < button.Y {
		button.Y = y + 6
	}
	_, ready := s.truth()
	b.Control(ui.Control{ID: "lesson.answer", Name: b.T("lesson.answer"), Role: ui.Push, Off: !ready || !s.answered(), Rect: button, Do: s.answer},
		b.T("lesson.answer"), ui.Look{Paper: true, Align: paint.Centre, Primary: true})
}

// lines are what can be chosen.
func (s *Scene) lines(ask *lessons.Ask) []string {
	var out []string
	for _, o := range ask.Options {
		out = append(out, o.Text)
	}
	for _, x := range ask.Suspects {
		out = append(out, s.desk.Msg.Name(s.l.Car, "fault", x.Fault, lessons.FaultName(s.Panel.Sheet.CarOf(), x.Fault)))
	}
	return out
}

// option is one line with a box (any of them) or a ring (one of them) before it. It gives the y below it.
func (s *Scene) option(b *ui.Build, r paint.Rect, y float64, i int, words string, any bool) float64 {
	l := b.Front
	style := paint.Small
	h := max(30, l.ParaHeight(words, style, r.W-34)+10)
	row := paint.Rect{X: r.X, Y: y, W: r.W, H: h}
	on := false
	for _, c := range s.chosen {
		on = on || c == i
	}
	l.Box(row, 4, paint.PageRul)
	ground := paint.Page
	if on {
		ground = paint.PageLo
	}
	l.Box(row.Inset(1), 3, ground)
	c := paint.Pt{X: row.X + 16, Y: row.Mid().Y}
	if any {
		box := paint.Rect{X: c.X - 8, Y: c.Y - 8, W: 16, H: 16}
		l.Box(box, 3, paint.PageInk)
		l.Box(box.Inset(2), 2, paint.White)
		if on {
			ui.Cross(l, box.Inset(4), paint.Vermil)
		}
	} else {
		l.Disc(c, 8, paint.PageInk)
		l.Disc(c, 6, paint.White)
		if on {
			l.Disc(c, 3.6, paint.Blue)
		}
	}
	l.Para(words, style, paint.Rect{X: row.X + 30, Y: y + (h-l.ParaHeight(words, style, r.W-34))/2, W: r.W - 34, H: h}, paint.PageInk)
	b.Add(ui.Control{ID: "lesson.option." + strconv.Itoa(i), Name: words, Role: ui.Toggle, Rect: row, On: on, Do: func() { s.pick(i) }})
	return y + h + 5
}

// judged shows what the answer was worth, and why.
func (s *Scene) judged(b *ui.Build, r paint.Rect, ask *lessons.Ask) {
	l := b.Front
	v := s.verdict
	words, number, sign := b.T("lesson.wrong"), "lesson.wrong.number", paint.Rect{X: r.X, Y: r.Y + 4, W: 18, H: 16}
	if v.Right {
		words, number = b.T("lesson.right"), "lesson.right.number"
		ui.Tick(l, sign, paint.Green)
	} else {
		ui.Cross(l, sign, paint.Vermil)
	}
	if ask.Kind == lessons.Number {
		words = b.T(number, "value", b.Msg.Decimal(cutNumber(v.Truth, ask.Within)), "unit", cutaway.UnitWords(b, ask.Unit), "typed", b.Msg.Decimal(s.typed))
	}
	y := r.Y
	y += max(26, l.Para(words, paint.Strong, paint.Rect{X: r.X + 28, Y: y + 2, W: r.W - 28, H: 64}, paint.PageInk)+8)
	b.Tell(words)
	for i, line := range s.lines(ask) {
		y = s.shown(b, r, y, i, line, ask)
	}
	if ask.Kind == lessons.Strike {
		y += l.Para(b.T("lesson.strike.key"), paint.Label, paint.Rect{X: r.X, Y: y + 2, W: r.W, H: 34}, paint.PageDim) + 2
	}
	y += 4
	room := paint.Rect{X: r.X, Y: y, W: r.W, H: r.Bottom() - y - 42}
	style := paint.Body
	if l.ParaHeight(ask.Why, style, room.W) > room.H {
		style = paint.Small
	}
	y += l.Para(ask.Why, style, room, paint.PageInk)
	b.Tell(ask.Why)
	if !v.Right {
		b.Button("lesson.retry", b.T("lesson.retry"), paint.Rect{X: r.X, Y: min(y+8, r.Bottom()-34), W: 150, H: 32}, ui.Look{Paper: true, Align: paint.Centre}, s.again)
	}
}

// shown is a line of a judged question: what it should have been, and whether it was chosen.
func (s *Scene) shown(b *ui.Build, r paint.Rect, y float64, i int, words string, ask *lessons.Ask) float64 {
	l := b.Front
	right, chosen := false, false
	if ask.Kind == lessons.Choice {
		right = ask.Options[i].Right
	} else {
		right = ask.Suspects[i].Struck
	}
	for _, c := range s.chosen {
		chosen = chosen || c == i
	}
	if ask.Kind == lessons.Choice && !right && !chosen {
		return y
	}
	style := paint.Small
	h := l.ParaHeight(words, style, r.W-30) + 4
	sign := paint.Rect{X: r.X + 4, Y: y + 3, W: 12, H: 11}
	// A choice has one line that is right and perhaps one that was wrong; a strike has an answer to every line.
	if right && ask.Kind == lessons.Choice || right == chosen {
		ui.Tick(l, sign, paint.Green)
	} else {
		ui.Cross(l, sign, paint.Vermil)
	}
	ink := paint.PageDim
	if right {
		ink = paint.PageInk
	}
	l.Para(words, style, paint.Rect{X: r.X + 26, Y: y, W: r.W - 30, H: h}, ink)
	if ask.Kind == lessons.Strike && right {
		for n, line := range l.Fonts.Wrap(words, style, r.W-30) {
			l.Box(paint.Rect{X: r.X + 26, Y: y + style.BoxHeight()/2 + 1 + float64(n)*style.LineHeight(), W: l.Fonts.Width(line, style), H: 1.5}, 0, paint.Vermil)
		}
	}
	key := "lesson.line.kept"
	if right {
		key = "lesson.line.struck"
	}
	if ask.Kind == lessons.Choice {
		key = "lesson.line.right"
		if !right {
			key = "lesson.line.wrong"
		}
	}
	b.Read(b.T(key, "what", words))
	return y + h
}

// cutNumber writes a number with as many places as its tolerance has meaning for.
func cutNumber(v, within float64) string {
	digits := 0
	for w := within; w < 1 && digits < 3; w *= 10 {
		digits++
	}
	return strconv.FormatFloat(v, 'f', digits, 64)
}

// foot has the ways back and on, and how far one is.
func (s *Scene) foot(b *ui.Build, r paint.Rect) {
	l := b.Front
	back, r := r.CutLeft(92, 8)
	on, middle := r.CutRight(128, 8)
	b.Control(ui.Control{ID: "lesson.back", Name: b.T("lesson.back"), Role: ui.Push, Off: s.step == 0 && !s.asking, Rect: back, Do: s.back}, b.T("lesson.back"), ui.Look{Paper: true, Align: paint.Centre})
	key := "lesson.next"
	switch {
	case !s.asking && s.current().Ask != nil:
		key = "lesson.toquestion"
	case s.step+1 == len(s.l.Steps):
		key = "lesson.finish"
	}
	b.Control(ui.Control{ID: "lesson.next", Name: b.T(key), Role: ui.Push, Rect: on, Do: s.next}, b.T(key),
		ui.Look{Paper: true, Align: paint.Centre, Primary: !s.asking || s.verdict != nil})
	n := len(s.l.Steps)
	step := min(14, middle.W/float64(n))
	x := middle.Mid().X - step*float64(n-1)/2
	for i := range n {
		c := paint.Pt{X: x + step*float64(i), Y: middle.Mid().Y}
		if i == s.step {
			l.Disc(c, 4.5, paint.PageInk)
		} else {
			l.Ring(c, 4, 1.5, paint.PageDim)
		}
	}
}
