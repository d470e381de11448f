package rooms_test

import (
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/scenes/rooms"
	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// sizes are the smallest and the usual window.
var sizes = [][2]float64{{1024, 600}, {1280, 720}}

// house is a window without a window: ticks and frames are driven by the test.
type house struct {
	t testing.TB
	*stage.Director
	screen *ebiten.Image
	now    time.Time
	pace   time.Duration // how far the clock goes on with each update
}

func open(t testing.TB, w, h float64) *house {
	t.Helper()
	return openWith(t, w, h, "en", &standin.Orders{})
}

func openWith(t testing.TB, w, h float64, lang string, orders stage.Orders) *house {
	t.Helper()
	msg, err := messages.Load(lang)
	require.NoError(t, err)
	d, err := rooms.New(orders, msg)
	require.NoError(t, err)
	x := &house{t: t, Director: d, now: time.Unix(1000, 0), pace: 16 * time.Millisecond}
	d.Now = func() time.Time { return x.now }
	d.Size(w, h, 1)
	x.screen = ebiten.NewImage(int(w), int(h))
	t.Cleanup(func() { d.Free(); x.screen.Deallocate() })
	x.settle()
	return x
}

// settle ticks until no work is under way.
func (x *house) settle() {
	x.t.Helper()
	for i := 0; ; i++ {
		x.Tick(ui.Input{})
		x.now = x.now.Add(x.pace)
		if !x.Desk.Busy() {
			x.Tick(ui.Input{})
			if !x.Desk.Busy() {
				return
			}
		}
		require.Less(x.t, i, 5000, "work does not end")
		time.Sleep(time.Millisecond)
	}
}

// press uses a control and waits for what it started.
func (x *house) press(ids ...string) {
	x.t.Helper()
	for _, id := range ids {
		x.find(id)
		require.True(x.t, x.Page.Press(id), "control %s is missing or can't be used in scene %s", id, x.Desk.Scene())
		x.Desk.Touch()
		x.settle()
	}
}

// find turns the page of whatever list has the control on another page.
func (x *house) find(id string) {
	x.t.Helper()
	if _, ok := x.Page.Find(id); ok {
		return
	}
	for _, on := range x.pagers() {
		back, _ := strings.CutSuffix(on, ".on")
		for range 40 {
			if c, ok := x.Page.Find(back + ".back"); !ok || c.Off {
				break
			}
			x.Page.Press(back + ".back")
			x.Desk.Touch()
			x.settle()
		}
		for range 40 {
			if _, ok := x.Page.Find(id); ok {
				return
			}
			if c, ok := x.Page.Find(on); !ok || c.Off {
				break
			}
			x.Page.Press(on)
			x.Desk.Touch()
			x.settle()
		}
	}
}

func (x *house) pagers() []string {
	var out []string
	for _, c := range x.Page.Live() {
		if strings.HasSuffix(c.ID, ".on") && strings.Contains(c.ID, "page") {
			out = append(out, c.ID)
		}
	}
	return out
}

func (x *house) act(a bench.Action) {
	x.t.Helper()
	x.Desk.Act(a)
	x.settle()
}

// frame draws the screen; when the environment names a folder for pictures it is kept there.
func (x *house) frame(name string) {
	x.t.Helper()
	x.Draw(x.screen)
	x.screen.At(0, 0) // carries out what was queued; unread frames would pile up
	dir := os.Getenv("COLDBAY_SHOTS")
	if dir == "" {
		return
	}
	w, _ := x.Logical()
	f, err := os.Create(filepath.Join(dir, fmt.Sprintf("%s-%d.png", name, int(w))))
	require.NoError(x.t, err)
	defer f.Close()
	require.NoError(x.t, png.Encode(f, x.screen))
}

// shot is frame only where pictures are kept: what it would find, the list of what is painted tells, too.
func (x *house) shot(name string) {
	x.t.Helper()
	if os.Getenv("COLDBAY_SHOTS") != "" {
		x.frame(name)
	}
}

// stations walks through the window and stops at every screen worth checking.
func stations(x *house, stop func(name string)) {
	stop("board")
	x.press("board.open.first")
	stop("order")
	x.press("order.read")
	stop("order-read")
	x.press("order.go")
	stop("bay-front")
	x.press("tool.eye")
	stop("bay-eye")
	for _, place := range []string{"battery", "fusebox", "pump", "valve", "solenoid", "manifold", "dash", "tailpipe"} {
		x.press("tool.meter", "go."+place)
		stop("bay-meter-" + place)
		x.press("tool.handpump")
		stop("bay-ports-" + place)
		x.press("tool.hands")
		stop("bay-hands-" + place)
	}
	x.press("tool.clamp", "go.battery")
	stop("bay-clamp")
	x.press("clamp.bat_cable", "tool.jumper", "go.fusebox", "terminal.f40_in")
	stop("bay-jumper-first")
	x.press("terminal.rly_87")
	x.press("tool.meter", "go.battery", "terminal.bat_pos", "go.pump", "terminal.pump_1h")
	x.press("tool.lamp", "go.solenoid", "terminal.sol_1h", "terminal.sol_2h")
	x.press("tool.hands", "end.line_supply.b", "connector.sol_plug", "tool.handpump", "end.line_supply.b", "opt.stroke.5")
	stop("bay-full")
	x.press("tool.meter", "go.fusebox")
	stop("bay-jumper-on")
	x.press("tool.hands", "part.relay", "part.fuse40", "tool.meter")
	stop("bay-relay-out")
	x.press("tool.hands", "go.pump", "connector.pump_plug", "end.inlet_hose.b", "end.pressure_pipe.a", "part.pump")
	stop("bay-pump-off")
	x.press("go.valve", "end.line_valve.a", "part.valve")
	stop("bay-valve-off")
	x.press("go.front")
	stop("bay-front-apart")
	x.press("engine.start", "tool.extract", "go.tailpipe")
	stop("bay-extraction")
	x.press("go.dash")
	stop("bay-dash-running")
	x.press("tool.repair")
	stop("repair")
	x.press("repair.solenoid")
	stop("sure")
	x.press("sure.do")
	x.press("way.info")
	for _, s := range []string{"air", "wiring", "spec", "causes"} {
		x.press("info." + s)
		stop("info-" + s)
	}
	x.press("way.scantool")
	stop("scan-unplugged")
	x.press("scan.plug", "scan.stored", "scan.pid.0C", "scan.data")
	stop("scan")
	x.press("scan.data", "scan.pid.05", "scan.data", "scan.data")
	stop("scan-chart")
	x.press("way.notebook")
	stop("notebook-ledger")
	x.press("suspect.pump_fuse_blown", "suspect.solenoid_open", "notebook.notes")
	x.Page.Focus("notebook.note")
	x.Tick(ui.Input{Typed: []rune("12.6 V at the feed, 3 V lost in the ground")})
	stop("notebook-notes")
	x.press("notebook.write", "notebook.close", "close.cause.solenoid_open", "close.unit")
	stop("notebook-close-unit")
	x.press("close.unit.solenoid", "close.proof")
	stop("notebook-close-proof")
	x.act(bench.Action{Verb: bench.Codes, Mode: "stored"})
	x.press("close.cause")
	stop("notebook-close-cause")
	x.press("close.proof")
	for _, c := range x.Page.Live() {
		if c.Role == ui.Toggle && len(c.ID) > 12 && c.ID[:12] == "close.proof." {
			x.press(c.ID)
			break
		}
	}
	x.press("close.finish")
	debriefs(x, stop)
}

// debriefs walks through the debrief of a closed order.
func debriefs(x *house, stop func(name string)) {
	for _, s := range []string{"marks", "timeline", "predictions", "practise", "board", "bill", "thought"} {
		x.press("debrief." + s)
		stop("debrief-" + s)
	}
	x.press("debrief.suspect.pump_worn")
	stop("debrief-thought-asked")
	x.press("debrief.replay")
	stop("debrief-replay-start")
	require.True(x.t, x.Page.Slide("replay.at", 9))
	x.Desk.Touch()
	stop("debrief-replay")
	x.press("replay.go.front")
	stop("debrief-replay-front")
	require.True(x.t, x.Page.Slide("replay.at", 18))
	x.Desk.Touch()
	stop("debrief-replay-end")
	x.press("replay.again")
	require.Equal(x.t, stage.Bay, x.Desk.Scene())
	x.Desk.LoadDebrief()
	x.settle()
	for _, s := range []string{"marks", "timeline"} {
		x.press("debrief." + s)
		stop("debrief-retake-" + s)
	}
}

// No screen has overlapping, cut or lost words, nameless controls, or controls that lie on each other.
func TestScreensAreLegible(t *testing.T) {
	for _, c := range []struct {
		w, h float64
		lang string
	}{{1024, 600, "en"}, {1280, 720, "en"}, {1024, 600, "de"}, {1024, 600, "es"}} {
		t.Run(fmt.Sprintf("%gx%g %s", c.w, c.h, c.lang), func(t *testing.T) {
			x := openWith(t, c.w, c.h, c.lang, &standin.Orders{})
			stations(x, func(name string) {
				for _, f := range x.Built().Faults() {
					t.Errorf("%s: %s", name, f)
				}
				x.frame(name + map[string]string{"en": "", "de": "-de", "es": "-es"}[c.lang])
			})
		})
	}
}
