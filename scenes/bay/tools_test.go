package bay

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/sim/bench"
)

func view() *bench.View {
	return &bench.View{
		HoseEnds:   []bench.HoseEnd{{ID: "h.a", At: "p1"}, {ID: "h.b"}, {ID: "k.a", Plugged: true}},
		Ports:      []bench.PortState{{ID: "p1", Hose: "h.a"}, {ID: "p2"}, {ID: "p3", Plugged: true}},
		Connectors: []bench.OnOff{{ID: "c1"}, {ID: "c2", On: true}},
		Parts:      []bench.OnOff{{ID: "x1"}, {ID: "x2", On: true}},
	}
}

// Each click of each tool becomes the action that it means.
func TestUse(t *testing.T) {
	for name, c := range map[string]struct {
		hold hold
		kind kind
		id   string
		want bench.Action
	}{
		"look":          {hold{tool: toolEye}, aPlace, "pump", bench.Action{Verb: bench.Look, On: "pump"}},
		"look, bending": {hold{tool: toolEye, bend: true}, aPlace, "pump", bench.Action{Verb: bench.Look, On: "pump", Mode: "bend"}},
		"listen":        {hold{tool: toolEar}, aPlace, "valve", bench.Action{Verb: bench.Listen, On: "valve"}},
		"feel":          {hold{tool: toolHand}, anEnd, "h.b", bench.Action{Verb: bench.Feel, On: "h.b"}},
		"open":          {hold{tool: toolHands}, aConnector, "c1", bench.Action{Verb: bench.Open, On: "c1"}},
		"close":         {hold{tool: toolHands}, aConnector, "c2", bench.Action{Verb: bench.Close, On: "c2"}},
		"remove":        {hold{tool: toolHands}, aPart, "x1", bench.Action{Verb: bench.Remove, On: "x1"}},
		"refit":         {hold{tool: toolHands}, aPart, "x2", bench.Action{Verb: bench.Refit, On: "x2"}},
		"pull":          {hold{tool: toolHands}, anEnd, "h.a", bench.Action{Verb: bench.Pull, On: "h.a"}},
		"fit":           {hold{tool: toolHands, end: "h.b"}, aPort, "p2", bench.Action{Verb: bench.Fit, On: "h.b", To: "p2"}},
		"plug":          {hold{tool: toolHands, plug: true}, aPort, "p2", bench.Action{Verb: bench.Plug, On: "p2"}},
		"unplug a port": {hold{tool: toolHands, plug: true}, aPort, "p3", bench.Action{Verb: bench.Unplug, On: "p3"}},
		"unplug an end": {hold{tool: toolHands, plug: true}, anEnd, "k.a", bench.Action{Verb: bench.Unplug, On: "k.a"}},
		"meter":         {hold{tool: toolMeter, red: "a", meter: "ohms"}, aTerminal, "b", bench.Action{Verb: bench.MeterOn, On: "a", To: "b", Mode: "ohms"}},
		"lamp":          {hold{tool: toolLamp, red: "a", lamp: "5"}, aTerminal, "b", bench.Action{Verb: bench.LampOn, On: "a", To: "b", Mode: "5"}},
		"jumper, fused": {hold{tool: toolJumper, red: "a", gauge: "12", fuse: "30"}, aTerminal, "b", bench.Action{Verb: bench.Jump, On: "a", To: "b", Mode: "12awg 30A"}},
		"jumper, bare":  {hold{tool: toolJumper, red: "a", gauge: "18", fuse: "none"}, aTerminal, "b", bench.Action{Verb: bench.Jump, On: "a", To: "b", Mode: "18awg none"}},
		"clamp":         {hold{tool: toolClamp}, aClamp, "w", bench.Action{Verb: bench.ClampOn, On: "w"}},
		"hand pump":     {hold{tool: toolHandPump}, aPort, "p2", bench.Action{Verb: bench.HandPump, On: "p2"}},
		"breath":        {hold{tool: toolBreath}, anEnd, "h.b", bench.Action{Verb: bench.Blow, On: "h.b"}},
	} {
		h := c.hold
		a, more := h.use(c.kind, view(), c.id)
		require.False(t, more, name)
		require.Equal(t, c.want, a, name)
	}
}

// Two clicks: the first is kept, the same thing again lets go of it.
func TestTwoClicks(t *testing.T) {
	h := hold{tool: toolMeter, meter: "volts"}
	_, more := h.use(aTerminal, view(), "a")
	require.True(t, more)
	require.Equal(t, "a", h.red)
	_, more = h.use(aTerminal, view(), "a")
	require.True(t, more)
	require.Empty(t, h.red)

	h = hold{tool: toolHands}
	_, more = h.use(anEnd, view(), "h.b")
	require.True(t, more)
	require.Equal(t, "h.b", h.end)
	require.True(t, h.takes(aPort, view(), "p2"))
	require.False(t, h.takes(aPort, view(), "p1"), "a taken port is offered")
	_, more = h.use(anEnd, view(), "h.b")
	require.True(t, more)
	require.Empty(t, h.end)
}

// What a look found on a hose shows until the hose is renewed.
func TestFoundOn(t *testing.T) {
	saw := bench.Finding{Action: bench.Action{Verb: bench.Look, On: "valve", Mode: "bend"},
		Percepts: []bench.Percept{{Sense: bench.Eye, Key: "sign", Of: "h", Word: "line split on its underside"}}}
	mended := bench.Finding{Action: bench.Action{Verb: bench.Repair, On: "h"}}
	s := &Scene{desk: &stage.Desk{Ledger: []bench.Finding{saw}}}
	require.Contains(t, s.foundOn("h"), "split")
	require.Empty(t, s.foundOn("other"))
	s.desk.Ledger = append(s.desk.Ledger, mended)
	require.Empty(t, s.foundOn("h"))
	for word, want := range map[string]bool{"line split": true, "line kinked": true, "hangs free": false} {
		var m paint.Mesh
		m.Scale = 1
		wound(&m, []paint.Pt{{}, {X: 10}, {X: 20}, {X: 30}}, 18, word)
		require.Equal(t, want, len(m.I) > 0, word)
	}
}

func TestReachable(t *testing.T) {
	v := view()
	for when, want := range map[string]bool{"": true, "open:c1": false, "open:c2": true, "removed:x1": false, "removed:x2": true} {
		require.Equal(t, want, reachable(v, when), when)
	}
}
