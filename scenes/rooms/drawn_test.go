package rooms_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios/drawing"
	"coldbay/scenes/standin"
	"coldbay/sim/bench"
)

// Every car with a drawing of its own is legible at each place with each kind of tool, whole and taken apart, and everything that a
// tool takes can be clicked where it is drawn.
func TestEveryDrawnCar(t *testing.T) {
	for _, id := range shippedCars(t) {
		if _, err := drawing.Load(id); err != nil || id == "car_a" { // car A: TestScreensAreLegible
			continue
		}
		for _, size := range sizes {
			t.Run(fmt.Sprintf("%s %g", id, size[0]), func(t *testing.T) { walkDrawn(t, id, size) })
		}
	}
}

func walkDrawn(t *testing.T, id string, size [2]float64) {
	x := openWith(t, size[0], size[1], "en", &standin.Orders{Car: id})
	x.press("board.open.first", "order.read", "order.go")
	look := func(name string) {
		t.Helper()
		for _, f := range x.Built().Faults() {
			t.Errorf("%s: %s", name, f)
		}
		x.frame(id + "-" + name)
	}
	for _, p := range x.Desk.Cat.Places {
		x.press("go." + p.ID)
		for _, tool := range []string{"step", "eye", "hands", "meter", "clamp", "handpump"} {
			x.press("tool." + tool)
			look(p.ID + "-" + tool)
		}
	}
	cat := x.Desk.Cat
	for _, s := range cat.Terminals {
		if s.When == "" {
			x.press("tool.meter", "go."+s.Place)
			hits(t, x, "terminal."+s.ID)
		}
	}
	for _, s := range cat.Clamps {
		x.press("tool.clamp", "go."+s.Place)
		hits(t, x, "clamp."+s.ID)
	}
	for _, s := range cat.Connectors {
		x.press("tool.hands", "go."+s.Place)
		hits(t, x, "connector."+s.ID)
		x.press("connector." + s.ID)
	}
	for _, h := range cat.Hoses {
		x.press("tool.hands", "go."+h.PlaceA)
		hits(t, x, "end."+h.ID+".a")
		x.press("end."+h.ID+".a", "go."+h.PlaceB)
		hits(t, x, "end."+h.ID+".b")
		x.press("end."+h.ID+".b", "tool.handpump", "go."+h.PlaceA)
		hits(t, x, "port."+h.PortA)
		x.press("go." + h.PlaceB)
		hits(t, x, "port."+h.PortB)
	}
	for _, s := range cat.Parts {
		x.press("tool.hands", "go."+s.Place)
		hits(t, x, "part."+s.ID)
		x.press("part." + s.ID)
		hits(t, x, "part."+s.ID)
	}
	for _, s := range cat.Terminals {
		x.press("tool.meter", "go."+s.Place)
		hits(t, x, "terminal."+s.ID)
	}
	for _, p := range cat.Places {
		for _, tool := range []string{"hands", "meter", "handpump"} {
			x.press("tool."+tool, "go."+p.ID)
			look(p.ID + "-" + tool + "-apart")
		}
	}
	for _, s := range cat.Parts {
		x.press("tool.hands", "go."+s.Place, "part."+s.ID)
	}
	slices.Reverse(cat.Hoses)
	for _, h := range cat.Hoses {
		x.act(bench.Action{Verb: bench.Fit, On: h.ID + ".a", To: h.PortA})
		x.act(bench.Action{Verb: bench.Fit, On: h.ID + ".b", To: h.PortB})
	}
	x.press("engine.start", "tool.extract")
	for _, place := range []string{"front", "dash", "tailpipe"} {
		x.press("go." + place)
		look(place + "-running")
	}
	for _, sheet := range []string{"air", "wiring"} {
		x.press("way.info", "info."+sheet)
		look(sheet)
	}
	probeFromSheet(t, x)
	look("wiring-probed")
	require.NotEmpty(t, x.Page.Tree())
}

// probeFromSheet sets both leads of the meter from the wiring diagram, as a click there does.
func probeFromSheet(t *testing.T, x *house) {
	t.Helper()
	x.press("way.bay", "tool.meter", "way.info", "info.wiring")
	sheet, ok := x.Desk.Draw.Sheet("wiring")
	require.True(t, ok)
	require.GreaterOrEqual(t, len(sheet.Terminals), 2)
	for _, s := range sheet.Terminals {
		if c, ok := x.Page.Find("terminal." + s.ID); ok && !c.Off {
			hits(t, x, "terminal."+s.ID)
		}
	}
	a, b := sheet.Terminals[0].ID, sheet.Terminals[len(sheet.Terminals)-1].ID
	x.press("terminal."+a, "terminal."+b)
	require.Equal(t, a, x.Desk.View.Meter.Red)
	require.Equal(t, b, x.Desk.View.Meter.Black)
	require.NotEmpty(t, x.Desk.Ledger)
	last := x.Desk.Ledger[len(x.Desk.Ledger)-1].Action
	require.Equal(t, bench.MeterOn, last.Verb, "the diagram does not do what the bay does")
	x.press("probe.meter")
	_, ok = x.Page.Find("terminal." + a)
	require.False(t, ok, "a terminal is offered to an empty hand")
}
