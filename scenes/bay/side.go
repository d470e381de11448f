package bay

import (
	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// drawSide is the column at the right: clocks and bill, key and engine, time, and the instruments in use.
func (s *Scene) drawSide(b *ui.Build, r paint.Rect) {
	clocks, rest := r.CutTop(62, 6)
	engine, rest := rest.CutTop(126, 6)
	clock, rest := rest.CutTop(70, 6)
	s.drawClocks(b, clocks)
	s.drawEngine(b, engine)
	s.drawTime(b, clock)
	s.drawInstruments(b, rest)
}

func (s *Scene) drawClocks(b *ui.Build, r paint.Rect) {
	b.Group("clocks")
	l, v := b.Front, &s.desk.View
	ui.Board(l, r)
	top, low := r.Pad(10, 6).CutTop(r.H/2-8, 4)
	cells := append(halves(top), halves(low)...)
	for i, c := range []struct{ key, value string }{
		{"side.bench", phrase.Clock(v.Bench)}, {"side.bill", b.Msg.Decimal(phrase.Money(v.Bill))},
		{"side.calendar", b.T("side.hours", "n", b.Msg.Decimal(phrase.Number(float64(int(v.Calendar/360))/10)))},
		{"side.labour", b.Msg.Decimal(phrase.Money(v.Labour))},
	} {
		words := b.T(c.key)
		w := l.Fonts.Width(words, paint.Label) + 6
		l.TextIn(words, paint.Label, cells[i], paint.Left, paint.Mist)
		l.TextIn(c.value, choose(i == 0, paint.Style{Face: paint.Mono, Size: 17}, paint.Style{Face: paint.Mono, Size: 14}),
			paint.Rect{X: cells[i].X + w, Y: cells[i].Y, W: cells[i].W - w, H: cells[i].H}, paint.Right, paint.Chalk)
		b.Read(b.T("side.read", "what", words, "value", c.value))
	}
}

func halves(r paint.Rect) []paint.Rect {
	left, right := r.CutLeft(r.W*0.49, 12)
	return []paint.Rect{left, right}
}

func (s *Scene) drawEngine(b *ui.Build, r paint.Rect) {
	b.Group("engine")
	l, v := b.Front, &s.desk.View
	ui.Board(l, r)
	in := r.Pad(8, 6)
	line, rest := in.CutTop(20, 2)
	state := b.T("engine."+v.Engine, "rpm", num(v.Rpm))
	if v.Engine == "off" {
		state = b.T("engine.key." + v.Key)
	}
	l.TextIn(state, paint.SmallB, paint.Rect{X: line.X, Y: line.Y, W: line.W * 0.56, H: line.H}, paint.Left, paint.Chalk)
	coolant := b.T("engine.coolant." + v.Coolant)
	if v.Key == "off" {
		coolant = ""
	}
	l.TextIn(coolant, paint.Label, paint.Rect{X: line.X + line.W*0.56, Y: line.Y, W: line.W*0.44 - 26, H: line.H}, paint.Right, paint.Mist)
	if v.Lamp {
		art.LampSign(&l.Mesh, paint.Rect{X: line.Right() - 22, Y: line.Y + 2, W: 22, H: 16}, paint.Orange)
		b.Read(b.T("engine.lamp"))
	}
	b.Read(state)
	b.Read(coolant)
	keys, rest := rest.CutTop(28, 5)
	run, rest := rest.CutTop(28, 5)
	hold, _ := rest.CutTop(28, 0)
	running := v.Engine != "off"
	look := ui.Look{Style: paint.Small, Align: paint.Centre}
	k := keys.Columns(2, 5)
	for i, mode := range []string{"off", "on"} {
		b.Control(ui.Control{ID: "key." + mode, Name: b.T("side.key." + mode), Role: ui.Toggle, Rect: k[i], On: v.Key == mode && !running,
			Do: func() { s.desk.Act(bench.Action{Verb: bench.Key, Mode: mode}) }}, b.T("side.key."+mode), look)
	}
	c := run.Columns(2, 5)
	b.Control(ui.Control{ID: "engine.start", Name: b.T("side.start"), Role: ui.Push, Rect: c[0], Off: running,
		Do: func() { s.desk.Act(bench.Action{Verb: bench.Start}) }}, b.T("side.start"), look)
	b.Control(ui.Control{ID: "engine.stop", Name: b.T("side.stop"), Role: ui.Push, Rect: c[1], Off: !running,
		Do: func() { s.desk.Act(bench.Action{Verb: bench.Stop}) }}, b.T("side.stop"), look)
	for i, rpm := range []int{0, 1500, 2500} {
		words := b.T("side.idle")
		name := b.T("side.idle.name")
		if rpm > 0 {
			words, name = num(rpm), b.T("side.hold", "rpm", num(rpm))
		}
		b.Control(ui.Control{ID: "engine.hold." + num(rpm), Name: name, Role: ui.Push, Rect: hold.Columns(3, 5)[i], Off: !running,
			Do: func() { s.desk.Act(bench.Action{Verb: bench.Hold, N: float64(rpm)}) }}, words, look)
	}
}

func (s *Scene) drawTime(b *ui.Build, r paint.Rect) {
	b.Group("time")
	ui.Board(b.Front, r)
	in := r.Pad(8, 6)
	top, low := in.CutTop(27, 5)
	look := ui.Look{Style: paint.Small, Align: paint.Centre}
	for i, n := range []int{1, 10, 60} {
		words := b.T("side.watch", "n", num(n))
		b.Control(ui.Control{ID: "watch." + num(n), Name: b.N("side.watch.name", n), Role: ui.Push, Rect: top.Columns(3, 5)[i],
			Do: func() { s.desk.Act(bench.Action{Verb: bench.Watch, N: float64(n)}) }}, words, look)
	}
	c := low.Columns(2, 5)
	b.Control(ui.Control{ID: "watch.play", Name: b.T(choose(s.desk.Play, "side.pause", "side.play")), Role: ui.Toggle, Rect: c[0], On: s.desk.Play,
		Do: func() { s.desk.Play = !s.desk.Play; s.desk.Touch() }}, b.T(choose(s.desk.Play, "side.pause", "side.play")), look)
	b.Control(ui.Control{ID: "watch.soak", Name: b.T("side.soak.name"), Role: ui.Push, Rect: c[1],
		Do: func() { s.desk.Act(bench.Action{Verb: bench.Soak}) }}, b.T("side.soak"), look)
}
