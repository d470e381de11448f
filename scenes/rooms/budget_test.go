package rooms_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/cutaway"
	"coldbay/scenes/lesson"
	"coldbay/scenes/paint"
	"coldbay/scenes/prefs"
	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/scenes/ui"
)

// frameBudget is what a frame may cost in which nothing but what moves has changed (DEVELOPERS.md, "Pictures").
var frameBudget = paint.Cost{Calls: 12, Triangles: 6000, Words: 15}

// meter finds the dearest frames.
type meter struct {
	dearest paint.Cost
	at      string
}

// frames draws what moves over some seconds of a screen on which nothing happens, and holds each frame
// against the budget.
func (m *meter) frames(x *house, name string) {
	x.t.Helper()
	x.Tick(ui.Input{})
	x.Draw(x.screen) // what was built anew is painted here
	most := paint.Cost{}
	for range 4 {
		x.now = x.now.Add(610 * time.Millisecond)
		x.Tick(ui.Input{})
		before := x.Spent()
		x.Draw(x.screen)
		c := x.Spent().Less(before)
		most = paint.Cost{Calls: max(most.Calls, c.Calls), Triangles: max(most.Triangles, c.Triangles), Words: max(most.Words, c.Words)}
	}
	x.screen.At(0, 0) // carries out what was queued
	if most.Calls > frameBudget.Calls || most.Triangles > frameBudget.Triangles || most.Words > frameBudget.Words {
		x.t.Errorf("%s: a frame costs %+v, at most %+v is allowed", name, most, frameBudget)
	}
	if most.Triangles > m.dearest.Triangles {
		m.dearest, m.at = most, name
	}
}

// moving is a window in which everything moves that can.
func moving(t *testing.T, w, h float64, car string) *house {
	t.Helper()
	x := openWith(t, w, h, "en", &standin.Orders{Car: car})
	x.Scenes[stage.Lesson].(*lesson.Scene).Keep = memory{}
	x.wish(func(p *prefs.Prefs) { p.Motion = prefs.Full })
	return x
}

// No scene's frame goes over the budget while nothing is built anew: all stations of car A, the places of the other cars with a running
// engine and a rough pump, lessons and the cutaway with their flows moving.
func TestFrameBudget(t *testing.T) {
	t.Run("car_a", func(t *testing.T) {
		m, x := meter{}, moving(t, 1280, 720, "")
		stations(x, func(name string) { m.frames(x, name) })
		t.Logf("dearest: %s, %+v", m.at, m.dearest)
	})
	for _, id := range shippedCars(t) {
		t.Run(id+" running", func(t *testing.T) {
			m, x := meter{}, moving(t, 1280, 720, id)
			x.press("board.open.first", "order.read", "order.go", "engine.start")
			x.Desk.View.PumpRough = true
			for _, p := range x.Desk.Cat.Places {
				x.press("go." + p.ID)
				m.frames(x, id+"-"+p.ID)
			}
			t.Logf("dearest: %s, %+v", m.at, m.dearest)
		})
	}
	t.Run("lessons", func(t *testing.T) {
		m, x := meter{}, moving(t, 1280, 720, "")
		x.Desk.Go(stage.Lessons)
		x.settle()
		m.frames(x, "lessons")
		x.press("lesson.open.electrics")
		x.panel(20)
		m.frames(x, "lesson")
		x.Desk.Go(stage.Cutaway)
		x.settle()
		p := x.Scenes[stage.Cutaway].(*cutaway.Scene).Panel
		for _, view := range p.Sheet.ViewIDs() {
			for _, beside := range []string{"nothing", "without_air"} {
				x.press("view."+view, "beside."+beside)
				x.panel(30)
				m.frames(x, "cutaway-"+view+"-"+beside)
			}
		}
		t.Logf("dearest: %s, %+v", m.at, m.dearest)
	})
}

// The count counts: a frame after a change paints words anew, the next does not.
func TestFrameCostIsCounted(t *testing.T) {
	x := moving(t, 1280, 720, "")
	x.press("board.open.first")
	frame := func() paint.Cost {
		before := x.Spent()
		x.Draw(x.screen)
		return x.Spent().Less(before)
	}
	c := frame()
	require.GreaterOrEqual(t, c.Words, len(x.Built().Front.Words))
	require.Greater(t, c.Triangles, x.Built().Front.Triangles())
	require.Equal(t, paint.Cost{Calls: 1, Triangles: 2}, frame(), "a copy of what was painted")
	x.Page.Ring = true
	x.Page.Focus("order.read")
	c = frame()
	require.Equal(t, 2, c.Calls, "a copy and the mark")
	require.Greater(t, c.Triangles, 50)
	require.Zero(t, c.Words)
}

// Nothing but the paint package draws, so that its count is of everything. Tests and the probe that reads pictures are no part of a frame.
func TestOnlyPaintDraws(t *testing.T) {
	seen := 0
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		seen++
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, call := range []string{".DrawImage(", ".DrawTriangles", ".DrawRectShader(", "text.Draw(", "ebiten/v2/vector\"", "ebitenutil\""} {
			if strings.Contains(string(src), call) && filepath.Dir(path) != filepath.Join("..", "paint") {
				t.Errorf("%s draws by itself: %s", path, call)
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.Greater(t, seen, 80)
}
