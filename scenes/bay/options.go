package bay

import (
	"strings"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// drawOptions is the bar below the picture: what to do next with the tool in hand, and its choices.
func (s *Scene) drawOptions(b *ui.Build, r paint.Rect) {
	b.Group("options")
	ui.Board(b.Front, r)
	hint := phrase.Sentence(s.hint(b))
	b.Front.TextIn(hint, paint.Small, paint.Rect{X: r.X + 10, Y: r.Y + 2, W: r.W - 20, H: 20}, paint.Left, paint.Chalk)
	b.Tell(hint)
	o := &row{b: b, x: r.X + 8, y: r.Y + 25, right: r.Right() - 8, scene: s}
	v := &s.desk.View
	switch s.hold.tool {
	case toolEye:
		o.toggle("opt.bend", b.T("opt.bend"), s.hold.bend, func() { s.hold.bend = !s.hold.bend })
	case toolHands:
		o.toggle("opt.pull", b.T("opt.pull"), !s.hold.plug, func() { s.hold.plug, s.hold.end = false, "" })
		o.toggle("opt.plug", b.T("opt.plug"), s.hold.plug, func() { s.hold.plug, s.hold.end = true, "" })
	case toolMeter:
		for _, m := range meterModes {
			o.toggle("opt.meter."+m, b.T("opt.meter."+m), s.hold.meter == m, func() { s.hold.meter = m })
		}
		o.act("opt.read.meter", b.T("opt.read"), v.Meter.Mode == "", bench.Action{Verb: bench.Read, On: "meter"})
		o.act("opt.off.meter", b.T("opt.off"), v.Meter.Mode == "", bench.Action{Verb: bench.MeterOff})
	case toolClamp:
		o.act("opt.read.clamp", b.T("opt.read"), v.Clamp.Mode == "", bench.Action{Verb: bench.Read, On: "clamp"})
		o.act("opt.off.clamp", b.T("opt.clampoff"), v.Clamp.Mode == "", bench.Action{Verb: bench.ClampOff})
	case toolLamp:
		for _, w := range lampWatts {
			o.toggle("opt.lamp."+w, b.T("opt.watts", "n", w), s.hold.lamp == w, func() { s.hold.lamp = w })
		}
		o.act("opt.read.lamp", b.T("opt.read"), v.Lamp21.Mode == "", bench.Action{Verb: bench.Read, On: "lamp"})
		o.act("opt.off.lamp", b.T("opt.off"), v.Lamp21.Mode == "", bench.Action{Verb: bench.LampOff})
	case toolJumper:
		o.words(b.T("opt.gauge"))
		for _, g := range gauges {
			o.toggle("opt.gauge."+g, g, s.hold.gauge == g, func() { s.hold.gauge = g })
		}
		o.words(b.T("opt.fuse"))
		for _, f := range fuses {
			o.toggle("opt.fuse."+f, choose(f == "none", b.T("opt.nofuse"), f), s.hold.fuse == f, func() { s.hold.fuse = f })
		}
	case toolHandPump:
		on := v.HandPump.On != ""
		for _, n := range []int{1, 5, 10} {
			o.act("opt.stroke."+num(n), b.T("opt.strokes", "n", num(n)), !on, bench.Action{Verb: bench.Stroke, N: float64(n)})
		}
		for _, n := range []int{10, 60} {
			o.act("opt.hold."+num(n), b.T("opt.holdvac", "n", num(n)), !on, bench.Action{Verb: bench.HoldVac, N: float64(n)})
		}
		o.act("opt.release", b.T("opt.release"), !on, bench.Action{Verb: bench.Release})
		o.act("opt.pumpoff", b.T("opt.pumpoff"), !on, bench.Action{Verb: bench.PumpOff})
	}
	if s.hold.tool != toolStep {
		w := 74.0
		b.Button("opt.away", b.T("opt.away"), paint.Rect{X: r.Right() - w - 8, Y: r.Y + 26, W: w, H: 27}, ui.Look{Style: paint.Small},
			func() { s.hold.tool, s.hold.red, s.hold.end = toolStep, "", ""; s.desk.Touch() })
	}
}

// hint says in one line what the tool in hand waits for.
func (s *Scene) hint(b *ui.Build) string {
	h := &s.hold
	key := "hint." + string(h.tool)
	var kv []string
	switch {
	case h.red != "":
		key, kv = "hint.second", []string{"thing", s.held(h.red)}
	case h.end != "":
		key, kv = "hint.fit", []string{"thing", s.held(h.end)}
	case h.tool == toolHands && h.plug:
		key = "hint.plug"
	case h.tool == toolStep && s.place != "front":
		key = "hint.step.near"
	case h.tool == toolHandPump && s.desk.View.HandPump.On != "":
		key, kv = "hint.handpump.on", []string{"thing", s.held(s.desk.View.HandPump.On)}
	case s.place == "front" && !h.takes(aPlace, &s.desk.View, "") && h.tool != toolStep:
		key += ".far"
	}
	return b.T(key, kv...)
}

// row lays buttons out from left to right.
type row struct {
	b           *ui.Build
	x, y, right float64
	scene       *Scene
}

func (o *row) box(words string) paint.Rect {
	w := o.b.Front.Fonts.Width(words, paint.Small) + 18
	r := paint.Rect{X: o.x, Y: o.y + 1, W: w, H: 27}
	o.x += w + 5
	return r
}

func (o *row) words(s string) {
	w := o.b.Front.Fonts.Width(s, paint.Small)
	o.b.Front.TextIn(s, paint.Small, paint.Rect{X: o.x + 2, Y: o.y, W: w + 1, H: 28}, paint.Left, paint.Mist)
	o.x += w + 8
}

func (o *row) toggle(id, words string, on bool, do func()) {
	name := o.b.Msg.Or(strings.Replace(id, "opt.", "optname.", 1), "phrase.id", "id", words)
	o.b.Control(ui.Control{ID: id, Name: name, Role: ui.Toggle, Rect: o.box(words), On: on,
		Do: func() { do(); o.scene.desk.Touch() }}, words, ui.Look{Style: paint.Small, Align: paint.Centre})
}

func (o *row) act(id, words string, off bool, a bench.Action) {
	o.b.Control(ui.Control{ID: id, Name: words, Role: ui.Push, Rect: o.box(words), Off: off,
		Do: func() { o.scene.desk.Act(a) }}, words, ui.Look{Style: paint.Small, Align: paint.Centre})
}
