package rooms_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/standin"
	"coldbay/scenes/ui"
)

// shippedCars are the ids of the cars in the scenarios' folder.
func shippedCars(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("../../scenarios/cars/*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	var out []string
	for _, f := range files {
		out = append(out, strings.TrimSuffix(filepath.Base(f), ".yaml"))
	}
	return out
}

// Every shipped car, drawn from its data alone, is legible at each place with each kind of tool, and everything that a tool takes can be
// clicked where it is drawn.
func TestEveryCarDrawnFromItsData(t *testing.T) {
	for _, id := range shippedCars(t) {
		t.Run(id, func(t *testing.T) {
			x := openWith(t, 1024, 600, "en", &standin.Orders{Car: id, Bare: true})
			x.press("board.open.first", "order.read", "order.go")
			for _, p := range x.Desk.Cat.Places {
				x.press("go." + p.ID)
				for _, tool := range []string{"eye", "hands", "meter", "clamp", "handpump"} {
					x.press("tool." + tool)
					for _, f := range x.Built().Faults() {
						t.Errorf("%s, %s: %s", p.ID, tool, f)
					}
				}
				x.frame("bare-" + id + "-" + p.ID)
			}
			for _, s := range x.Desk.Cat.Terminals {
				if s.When == "" {
					x.press("tool.meter", "go."+s.Place)
					hits(t, x, "terminal."+s.ID)
				}
			}
			for _, s := range x.Desk.Cat.Connectors {
				x.press("tool.hands", "go."+s.Place)
				hits(t, x, "connector."+s.ID)
			}
			for _, s := range x.Desk.Cat.Parts {
				x.press("tool.hands", "go."+s.Place)
				hits(t, x, "part."+s.ID)
			}
			for _, h := range x.Desk.Cat.Hoses {
				x.press("tool.hands", "go."+h.PlaceA, "end."+h.ID+".a", "tool.handpump")
				hits(t, x, "port."+h.PortA)
			}
			for _, sheet := range []string{"air", "wiring", "spec", "causes"} {
				x.press("way.info", "info."+sheet)
				for _, f := range x.Built().Faults() {
					t.Errorf("%s: %s", sheet, f)
				}
				x.frame("bare-" + id + "-" + sheet)
			}
			probeFromSheet(t, x)
			x.frame("bare-" + id + "-probed")
			if os.Getenv("COLDBAY_SHOTS") == "" {
				require.NotEmpty(t, x.Page.Tree())
			}
		})
	}
}

// hits requires that a click on the middle of a control uses it and nothing else.
func hits(t *testing.T, x *house, id string) {
	t.Helper()
	c, ok := x.Page.Find(id)
	require.True(t, ok, "%s is missing", id)
	x.Page.Handle(ui.Input{At: c.Rect.Mid(), Moved: true})
	h, ok := x.Page.Hovered()
	require.True(t, ok, "%s can't be pointed at", id)
	require.Equal(t, id, h.ID)
}
