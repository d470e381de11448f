package bay

import (
	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
)

// probes are the tools that go on terminals, in the bay or on the wiring diagram.
func probes() []tool { return []tool{toolMeter, toolLamp, toolJumper} }

// Probes offers the tools that go on terminals as a row of buttons, and tells whether one of them is in hand.
func (s *Scene) Probes(b *ui.Build, boxes []paint.Rect) bool {
	held := false
	for i, t := range probes() {
		if i >= len(boxes) {
			break
		}
		name := b.T("tool." + string(t) + ".name")
		on := s.hold.tool == t
		held = held || on
		c := ui.Control{ID: "probe." + string(t), Name: name, Role: ui.Toggle, Rect: boxes[i], On: on, Do: func() {
			if on {
				s.hold.tool, s.hold.red, s.hold.end = toolStep, "", ""
				s.desk.Touch()
				return
			}
			s.take(t)
		}}
		if !s.desk.Allowed(t.id()) {
			c.Off, c.Name = true, b.T("tool.withheld", "tool", name)
		}
		b.Control(c, b.T("tool."+string(t)+".label"), ui.Look{Paper: true, Style: paint.Small, Align: paint.Centre})
	}
	return held
}

// ProbeHint says what the lead in hand waits for.
func (s *Scene) ProbeHint(b *ui.Build) string { return s.hint(b) }

// ProbeReach tells whether a probe reaches a terminal as the car stands: not a pin in a connector that is shut.
func (s *Scene) ProbeReach(terminal string) bool {
	return reachable(&s.desk.View, s.when(terminal))
}

// Probe sets the lead in hand on a terminal: the same as a click on it in the bay.
func (s *Scene) Probe(terminal string) { s.do(aTerminal, terminal) }

// ProbeInk is the colour of the lead that sits on a terminal or is about to, if one does.
func (s *Scene) ProbeInk(terminal string) (paint.Ink, bool) {
	v := &s.desk.View
	if terminal == s.hold.red {
		return paint.Vermil, true
	}
	for _, x := range []struct {
		id  string
		ink paint.Ink
	}{{v.Meter.Red, paint.RGB(0xc0392b)}, {v.Meter.Black, paint.RGB(0x111517)}, {v.Lamp21.Red, paint.RGB(0xd8c23a)}, {v.Lamp21.Black, paint.RGB(0x3a3f42)}} {
		if x.id != "" && x.id == terminal {
			return x.ink, true
		}
	}
	for _, j := range v.Jumpers {
		if j.From == terminal || j.To == terminal {
			return paint.Green, true
		}
	}
	return art.Brass, false
}

// ProbeReading is what the instruments with leads show now, for example "12.64 V"; empty when none is connected.
func (s *Scene) ProbeReading(b *ui.Build) string {
	v := &s.desk.View
	switch {
	case v.Meter.Mode != "":
		return b.Msg.Decimal(v.Meter.Text)
	case v.Lamp21.Mode != "":
		return b.Msg.Or("word."+v.Lamp21.Text, "phrase.id", "id", v.Lamp21.Text)
	}
	return ""
}
