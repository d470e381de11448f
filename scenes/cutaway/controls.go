package cutaway

import (
	"math"
	"strconv"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
)

// speeds that the clock offers.
var speeds = []float64{0.2, 1, 4, 10}

// timeStop is how far apart the stops of the time's slider are, s; fadeStops how many a severity has beside none.
const (
	timeStop  = 10.0
	fadeStops = 10
)

// Build lays the panel out in r and adds what works it.
func (p *Panel) Build(b *ui.Build, r paint.Rect) {
	p.arrange(b, r)
	for i := range p.pictures {
		p.head(b, i)
		p.drawStill(b.Back, i)
		p.drawLabels(b, i)
	}
	p.drawKey(b)
	p.line(b)
	b.Group(b.T("cutaway.group.charts"))
	p.drawCharts(b)
	b.Group(b.T("cutaway.group.clock"))
	p.clock(b)
	if p.fades() {
		p.fade(b)
	}
}

// who names a picture's car.
func (p *Panel) who(b *ui.Build, i int) string {
	switch {
	case i == 1 && p.show.Beside == lessons.WithoutAir:
		car := p.Sheet.CarOf().ID
		return b.Msg.Or("cutaway.who.without."+car, "cutaway.who.without.other")
	case i == 1 || p.show.Fault == "" || p.show.Severity == 0:
		return b.T("cutaway.who.healthy")
	}
	name := p.faultName(b, p.show.Fault)
	if p.fixed() {
		return b.T("cutaway.who.fixed", "fault", name)
	}
	return b.T("cutaway.who.fault", "fault", name, "n", percent(p.show.Severity))
}

// faultName is what a fault of the car is called.
func (p *Panel) faultName(b *ui.Build, id string) string {
	c := p.Sheet.CarOf()
	return b.Msg.Name(c.ID, "fault", id, lessons.FaultName(c, id))
}

func percent(x float64) string { return strconv.Itoa(int(math.Round(x * 100))) }

// fixed tells whether the fault is there or not, with nothing in between.
func (p *Panel) fixed() bool {
	for _, f := range p.Sheet.CarOf().Faults {
		if f.ID == p.show.Fault {
			return f.Fixed
		}
	}
	return false
}

// head says which car a picture shows, as fully as there is room for.
func (p *Panel) head(b *ui.Build, i int) {
	r := p.lay.heads[i]
	tries := []string{p.who(b, i)}
	switch {
	case i == 1 && p.show.Beside == lessons.WithoutAir:
		tries = append(tries, b.T("cutaway.who.without.short"))
	case i == 0 && p.show.Fault != "" && p.show.Severity > 0:
		tries = append(tries, p.faultName(b, p.show.Fault), b.T("cutaway.who.some", "n", percent(p.show.Severity)))
	}
	if _, ok := p.studio.Film(p.wanted[i]); !ok {
		for n := range tries {
			tries[n] = b.T("cutaway.filming", "what", tries[n])
		}
		tries = append(tries, b.T("cutaway.working"))
	}
	room := paint.Rect{X: r.X + 18, Y: r.Y, W: r.W - 22, H: r.H - 2}
	words, face := tries[len(tries)-1], paint.LabelB
	for n := len(tries) - 1; n >= 0; n-- {
		for _, st := range []paint.Style{paint.LabelB, paint.SmallB} {
			if b.Front.Fonts.Width(tries[n], st) <= room.W {
				words, face = tries[n], st
			}
		}
	}
	mark(b.Front, i, paint.Pt{X: r.X + 8, Y: r.Y + 11})
	b.Front.TextIn(words, face, room, paint.Left, paint.Chalk)
	b.Read(tries[0])
}

// line writes all readings of the chosen part of the first car.
func (p *Panel) line(b *ui.Build) {
	r := p.lay.line
	words := b.T("cutaway.choose")
	for n := range p.Sheet.Items {
		if it := &p.Sheet.Items[n]; it.ID == p.part {
			words = p.reading(b, 0, it)
		}
	}
	b.Front.TextIn(words, paint.Small, paint.Rect{X: r.X + 4, Y: r.Y, W: r.W - 8, H: r.H}, paint.Left, paint.Mist)
	if p.part != "" && !p.playing {
		b.Tell(words)
	} else if p.part != "" {
		b.Read(words)
	}
}

// clock is the row of buttons that run the film, with the slider of its time below.
func (p *Panel) clock(b *ui.Build) {
	r := p.lay.play
	x := r.X
	next := func(w float64) paint.Rect {
		box := paint.Rect{X: x, Y: r.Y + 1, W: w, H: r.H - 3}
		x += w + 5
		return box
	}
	key, icon := "cutaway.play", playIcon
	if p.playing {
		key, icon = "cutaway.pause", pauseIcon
	}
	b.Control(ui.Control{ID: "film.play", Name: b.T(key), Role: ui.Push, Off: !p.Ready(), Rect: next(104), Do: p.Play}, b.T(key), ui.Look{Icon: icon, Primary: !p.playing})
	for _, s := range []struct {
		id string
		by float64
	}{{"back", -1}, {"on", 1}} {
		b.Control(ui.Control{ID: "film." + s.id, Name: b.T("cutaway.step." + s.id), Role: ui.Push, Rect: next(46), Do: func() { p.playing = false; p.Seek(math.Round((p.at+s.by)*10) / 10) }},
			b.T("cutaway.step."+s.id+".short"), ui.Look{})
	}
	x += 8
	for _, v := range speeds {
		words := b.T("cutaway.speed", "n", b.Msg.Decimal(strconv.FormatFloat(v, 'g', -1, 64)))
		b.Control(ui.Control{ID: "film.speed." + strconv.FormatFloat(v, 'g', -1, 64), Name: b.T("cutaway.speed.name", "n", b.Msg.Decimal(strconv.FormatFloat(v, 'g', -1, 64))), Role: ui.Toggle,
			On: p.nearSpeed(v), Rect: next(46), Do: func() { p.Speed(v) }}, words, ui.Look{Style: paint.Small, Align: paint.Centre})
	}
	words := b.T("cutaway.time", "n", b.Msg.Decimal(strconv.FormatFloat(p.at, 'f', 1, 64)), "of", strconv.FormatFloat(p.seconds(), 'f', 0, 64))
	b.Front.TextIn(words, paint.Digits, paint.Rect{X: x + 6, Y: r.Y, W: r.Right() - x - 8, H: r.H}, paint.Right, paint.Chalk)
	b.Read(words)
	p.slider(b, p.lay.time, "time", int(p.seconds()/timeStop), p.at/p.seconds(), func(i int) string {
		return b.N("cutaway.time.name", int(math.Round(timeStop*float64(i))))
	}, func(i int) { p.Seek(timeStop * float64(i)) })
}

// nearSpeed tells whether a speed is the offered one nearest to that of the clock.
func (p *Panel) nearSpeed(v float64) bool {
	best := speeds[0]
	for _, s := range speeds {
		if math.Abs(math.Log(s/p.show.Speed)) < math.Abs(math.Log(best/p.show.Speed)) {
			best = s
		}
	}
	return v == best
}

// fade is the slider of the fault's severity; a fault that is there or not has two stops.
func (p *Panel) fade(b *ui.Build) {
	b.Group(b.T("cutaway.group.fault"))
	r := p.lay.severity
	stops := fadeStops
	if p.fixed() {
		stops = 1
	}
	name, track := r.CutLeft(min(150, r.W*0.25), 8)
	b.Front.TextIn(b.T("cutaway.severity"), paint.SmallB, name, paint.Left, paint.Chalk)
	value, track := track.CutRight(54, 6)
	b.Front.TextIn(b.T("cutaway.percent", "n", percent(p.show.Severity)), paint.Digits, value, paint.Right, paint.Chalk)
	p.slider(b, track, "fade", stops, p.show.Severity, func(i int) string {
		return b.T("cutaway.severity.name", "n", percent(float64(i)/float64(stops)))
	}, func(i int) { p.Severity(float64(i) / float64(stops)) })
}

// slider is a track with stops; each stop is a control, so that mouse, keys and the page mirror set it in the same way.
func (p *Panel) slider(b *ui.Build, r paint.Rect, id string, stops int, value float64, name func(int) string, set func(int)) {
	l := b.Front
	track := paint.Rect{X: r.X + 12, Y: r.Mid().Y - 3, W: r.W - 24, H: 6}
	l.Box(track, 3, paint.Edge)
	l.Box(track.Inset(1), 2, paint.Raised)
	knob := track.X + track.W*share(value)
	if knob-track.X > 2 {
		l.Box(paint.Rect{X: track.X, Y: track.Y, W: knob - track.X, H: track.H}, 3, paint.Sky)
	}
	step := track.W / float64(stops)
	for i := range stops + 1 {
		x := track.X + step*float64(i)
		l.Box(paint.Rect{X: x - 1, Y: track.Y - 4, W: 2, H: track.H + 8}, 0, paint.Mist)
		w := math.Min(step-2, 44)
		box := paint.Rect{X: x - w/2, Y: r.Y + 2, W: w, H: r.H - 4}
		box.X = math.Min(math.Max(box.X, r.X), r.Right()-w)
		b.Add(ui.Control{ID: id + "." + strconv.Itoa(i), Name: name(i), Role: ui.Toggle, Rect: box, On: math.Abs(value*float64(stops)-float64(i)) < 0.05, Do: func() { set(i) }})
	}
	l.Disc(paint.Pt{X: knob, Y: track.Mid().Y}, 9, paint.Black)
	l.Disc(paint.Pt{X: knob, Y: track.Mid().Y}, 7.5, paint.Chalk)
}

func playIcon(l *paint.List, r paint.Rect, ink paint.Ink) {
	c := r.Mid()
	l.Fill([]paint.Pt{{X: c.X - 5, Y: c.Y - 7}, {X: c.X + 7, Y: c.Y}, {X: c.X - 5, Y: c.Y + 7}}, ink)
}

func pauseIcon(l *paint.List, r paint.Rect, ink paint.Ink) {
	c := r.Mid()
	l.Box(paint.Rect{X: c.X - 6, Y: c.Y - 7, W: 4, H: 14}, 1, ink)
	l.Box(paint.Rect{X: c.X + 2, Y: c.Y - 7, W: 4, H: 14}, 1, ink)
}
