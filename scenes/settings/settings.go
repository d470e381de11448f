// Package settings is the sheet on which the window is set to one's liking: sound, captions, size of text, theme, motion, units, language.
package settings

import (
	"math"

	"coldbay/assets/messages"
	"coldbay/scenes/paint"
	"coldbay/scenes/prefs"
	"coldbay/scenes/sound"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// Scene is the settings.
type Scene struct {
	desk  *stage.Desk
	state func() sound.State
}

// New makes the settings of a desk; state tells how far the sound has come and may be nil.
func New(desk *stage.Desk, state func() sound.State) *Scene { return &Scene{desk, state} }

// Live moves nothing.
func (s *Scene) Live(*paint.Mesh, float64) {}

// choice is one button of a row.
type choice struct {
	id, words string
	on        bool
	pick      func(*prefs.Prefs)
}

// Build sets one row a setting, its name at the left and its choices beside it.
func (s *Scene) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Settings)
	b.Page.Title = b.T("settings.title")
	room := stage.Below(b.W, b.H).Pad(12, 6)
	room.W = math.Min(room.W, 1000)
	room.X = (b.W - room.W) / 2
	ui.Paper(b.Front, room)
	in := room.Pad(28, 16)
	l := b.Front
	head, rest := in.CutTop(36, 8)
	l.TextIn(b.T("settings.title"), paint.Title, paint.Rect{X: head.X, Y: head.Y, W: head.W - 180, H: 32}, paint.Left, paint.PageInk)
	b.Group("settings")
	p := s.desk.Prefs
	y := rest.Y
	high := math.Min(48, (rest.H-44)/9)
	row := func(id string, choices ...choice) {
		l.Box(paint.Rect{X: in.X, Y: y, W: in.W, H: 1}, 0, paint.PageRul)
		l.TextIn(b.T("settings."+id), paint.Strong, paint.Rect{X: in.X, Y: y + 4, W: 220, H: high - 8}, paint.Left, paint.PageInk)
		at := paint.Rect{X: in.X + 230, Y: y + 6, W: in.W - 230, H: math.Min(32, high-11)}
		for i, box := range at.Columns(5, 6) {
			if i >= len(choices) {
				break
			}
			c := choices[i]
			name := b.T("settings.name", "what", b.T("settings."+id), "value", c.words)
			b.Control(ui.Control{ID: "set." + c.id, Name: name, Role: ui.Toggle, Rect: box, On: c.on,
				Do: func() { s.desk.Wish(c.pick) }}, c.words, ui.Look{Paper: true, Style: paint.Small, Align: paint.Centre})
		}
		y += high
	}
	var loud []choice
	for i := range 5 {
		n := []int{10, 30, 60, 80, 100}[i]
		v := float64(n) / 100
		loud = append(loud, choice{"volume." + stage.Num(n), b.T("settings.percent", "n", stage.Num(n)), math.Abs(p.Sound.Volume-v) < 0.001,
			func(q *prefs.Prefs) { q.Sound.Volume = v }})
	}
	row("volume", loud...)
	row("mute", choice{"mute.off", b.T("settings.sound.on"), !p.Sound.Muted, func(q *prefs.Prefs) { q.Sound.Muted = false }},
		choice{"mute.on", b.T("settings.sound.off"), p.Sound.Muted, func(q *prefs.Prefs) { q.Sound.Muted = true }})
	row("captions", choice{"captions.on", b.T("settings.on"), p.Captions, func(q *prefs.Prefs) { q.Captions = true }},
		choice{"captions.off", b.T("settings.off"), !p.Captions, func(q *prefs.Prefs) { q.Captions = false }})
	var sizes []choice
	for _, n := range prefs.Sizes {
		sizes = append(sizes, choice{"text." + stage.Num(n), b.T("settings.percent", "n", stage.Num(n)), p.Text == n, func(q *prefs.Prefs) { q.Text = n }})
	}
	row("text", sizes...)
	row("theme", choice{"theme.usual", b.T("settings.theme.usual"), !p.Contrast, func(q *prefs.Prefs) { q.Contrast = false }},
		choice{"theme.contrast", b.T("settings.theme.contrast"), p.Contrast, func(q *prefs.Prefs) { q.Contrast = true }})
	var motion []choice
	for _, m := range []prefs.Motion{prefs.System, prefs.Less, prefs.Full} {
		motion = append(motion, choice{"motion." + string(m), b.T("settings.motion." + string(m)), p.Motion == m, func(q *prefs.Prefs) { q.Motion = m }})
	}
	row("motion", motion...)
	row("vacuum", choice{"vacuum.kpa", "kPa", !p.Inches, func(q *prefs.Prefs) { q.Inches = false }},
		choice{"vacuum.inhg", "inHg", p.Inches, func(q *prefs.Prefs) { q.Inches = true }})
	row("temperature", choice{"temperature.c", b.T("unit.degC"), !p.Fahrenheit, func(q *prefs.Prefs) { q.Fahrenheit = false }},
		choice{"temperature.f", b.T("unit.degF"), p.Fahrenheit, func(q *prefs.Prefs) { q.Fahrenheit = true }})
	var langs []choice
	for _, code := range messages.Languages() {
		langs = append(langs, choice{"lang." + code, b.T("settings.lang." + code), p.Lang == code, func(q *prefs.Prefs) { q.Lang = code }})
	}
	row("lang", langs...)
	note := b.T("settings.note")
	if s.state != nil && s.state() == sound.Absent {
		note = b.T("settings.absent") + " " + note
	}
	l.Para(note, paint.Small, paint.Rect{X: in.X, Y: y + 6, W: in.W, H: in.Bottom() - y - 4}, paint.PageDim)
	b.Read(note)
	b.Button("settings.back", b.T("settings.back"), paint.Rect{X: head.Right() - 160, Y: head.Y, W: 160, H: 32}, ui.Look{Paper: true, Primary: true, Align: paint.Centre}, s.desk.Back)
	b.Escape(s.desk.Back)
}
