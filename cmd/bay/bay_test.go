package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/cmd/bay/start"
	"coldbay/scenes/platform"
	"coldbay/scenes/prefs"
	"coldbay/scenes/rooms"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// game hands the tests to the first update of a running engine.
type game struct {
	m    *testing.M
	code int
}

func (g *game) Update() error {
	g.code = g.m.Run()
	return ebiten.Termination
}

func (*game) Draw(*ebiten.Image) {}

func (*game) Layout(w, h int) (int, int) { return w, h }

func TestMain(m *testing.M) {
	g := &game{m: m, code: 1}
	ebiten.SetWindowSize(320, 180)
	if err := ebiten.RunGame(g); err != nil {
		panic(err)
	}
	os.Exit(g.code)
}

// window is the program without its window: the test gives it ticks.
type window struct {
	t *testing.T
	*stage.Director
	orders *orders
}

// end is what the end of the program does to what it holds.
func (w *window) end() {
	if w.orders.held.id != "" {
		w.orders.held.let()
		w.orders.held = claimed{}
	}
}

func openWindow(t *testing.T, width, height float64) *window {
	t.Helper()
	return openIn(t, "en", width, height)
}

func openIn(t *testing.T, lang string, width, height float64) *window {
	t.Helper()
	msg, err := messages.Load(lang)
	require.NoError(t, err)
	o, err := newOrders(msg)
	require.NoError(t, err)
	d, err := rooms.New(o, msg)
	require.NoError(t, err)
	w := &window{t, d, o}
	t.Cleanup(w.end)
	w.Size(width, height, 1)
	w.settle()
	return w
}

func (w *window) settle() {
	w.t.Helper()
	end := time.Now().Add(5 * time.Minute)
	for first := true; first || w.Desk.Busy(); first = false {
		w.Tick(ui.Input{})
		w.Tick(ui.Input{})
		require.True(w.t, time.Now().Before(end), "work does not end")
		time.Sleep(time.Millisecond)
	}
	w.Tick(ui.Input{})
	require.NoError(w.t, w.Desk.Fault)
}

func (w *window) press(ids ...string) {
	w.t.Helper()
	for _, id := range ids {
		w.find(id)
		require.True(w.t, w.Page.Press(id), "control %s is missing or can't be used in scene %s", id, w.Desk.Scene())
		w.Desk.Touch()
		w.settle()
		require.False(w.t, w.Desk.ToastBad, "after %s: %s", id, w.Desk.Toast)
		for _, f := range w.Built().Faults() {
			w.t.Errorf("after %s: %s", id, f)
		}
	}
}

// find turns the pages of the lists until the control shows.
func (w *window) find(id string) {
	w.t.Helper()
	for range 40 {
		if _, ok := w.Page.Find(id); ok {
			return
		}
		turned := false
		for _, c := range w.Page.Live() {
			if strings.HasSuffix(c.ID, ".page.on") && !c.Off {
				turned = w.Page.Press(c.ID) || turned
			}
		}
		w.Desk.Touch()
		w.settle()
		if !turned {
			return
		}
	}
}

// last is the last line of the ledger in words.
func (w *window) last() string {
	return w.Desk.Phrase.Line(w.Desk.Ledger[len(w.Desk.Ledger)-1])
}

func (w *window) keep(name string) {
	w.t.Helper()
	dir := os.Getenv("COLDBAY_SHOTS")
	if dir == "" {
		return
	}
	img := ebiten.NewImage(1280, 720)
	defer img.Deallocate()
	w.Draw(img)
	f, err := os.Create(filepath.Join(dir, "real-"+name+".png"))
	require.NoError(w.t, err)
	defer f.Close()
	require.NoError(w.t, png.Encode(f, img))
}

// The first work order from the board to the debrief, as a trainee would play it, through the window's controls only.
func TestFirstOrderInTheWindow(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	w := openWindow(t, 1280, 720)
	w.keep("board")
	w.press("board.open.cold_whisper")
	require.Equal(t, stage.Sheet, w.Desk.Scene())
	require.False(t, w.Page.Press("order.go"), "the bay opens before the cautions were confirmed")
	w.press("order.read", "order.go")
	w.press("tool.eye", "place.valve", "go.solenoid", "place.solenoid")
	w.keep("looked")
	w.press("tool.extract", "way.scantool", "scan.plug", "scan.ignition.on", "scan.stored")
	require.Contains(t, w.last(), "P0")
	w.keep("codes")
	w.press("scan.data")
	w.keep("data")
	w.press("scan.act.both", "way.bay", "tool.ear", "go.pump", "place.pump")
	w.keep("listened")
	w.press("way.scantool", "scan.act.off", "way.bay")
	w.press("tool.hands", "go.solenoid", "end.line_valve.b", "tool.handpump", "end.line_valve.b", "opt.stroke.5", "opt.hold.10")
	w.keep("handpump")
	line := w.Desk.Ledger[len(w.Desk.Ledger)-1].Seq
	w.press("opt.pumpoff", "tool.hands", "end.line_valve.b", "port.sol_out")
	w.press("tool.meter", "go.battery", "terminal.bat_pos", "terminal.bat_neg")
	require.Contains(t, w.last(), " V")
	w.keep("metered")
	w.press("opt.off.meter", "key.off", "tool.repair", "repair.line_valve", "sure.do", "tool.repair", "repair.drive")
	w.keep("verified")
	w.press("way.notebook", "suspect.pump_fuse_blown", "notebook.close", "close.cause.valve_line_split", "close.unit", "close.unit.line_valve", "close.proof")
	w.press("close.proof." + stage.Num(line))
	w.keep("closing")
	w.press("close.finish")
	require.Equal(t, stage.Debrief, w.Desk.Scene())
	require.NotNil(t, w.Desk.Doc)
	for _, s := range []string{"marks", "timeline", "predictions", "practise", "board", "bill", "thought"} {
		w.press("debrief." + s)
		w.keep("debrief-" + s)
	}
	w.press("debrief.suspect.supply_line_off")
	w.keep("debrief-thought-asked")
	asked, ok := w.Desk.Doc.Find("supply_line_off")
	require.True(t, ok)
	require.Positive(t, asked.PartsAt, "the readings told the supply line from the valve's line")
	require.Equal(t, asked.PartsAt, asked.Lines[len(asked.Lines)-1].Seq)
	require.NotNil(t, w.Desk.Doc.Practise.Next)
	w.press("debrief.replay")
	past := w.Desk.Past
	require.Len(t, past.Moments, len(w.Desk.Ledger)+1)
	require.Equal(t, w.Desk.View.Bill, past.Moments[len(w.Desk.Ledger)].View.Bill)
	require.True(t, past.Moments[0].Faulty)
	require.False(t, past.Moments[len(w.Desk.Ledger)].Faulty, "the line was replaced")
	require.Greater(t, len(past.Moments[0].Left), len(past.Moments[line].Left))
	require.Contains(t, past.At, "line_valve")
	require.Contains(t, past.Places, "valve")
	w.slide("replay.at", line)
	w.keep("debrief-replay")
	w.press("replay.go.front")
	w.keep("debrief-replay-front")
	w.press("replay.on", "replay.back")
	// The grader speaks the language that is set, also of a debrief that shows already.
	w.Desk.Wish(func(p *prefs.Prefs) { p.Lang = "de" })
	w.settle()
	require.Equal(t, "Aufwand", w.Desk.Doc.Marks[0].Name)
	for _, s := range []string{"marks", "timeline", "predictions", "practise", "board", "bill", "thought", "replay"} {
		w.press("debrief." + s)
		w.keep("de-debrief-" + s)
	}
	w.Desk.Wish(func(p *prefs.Prefs) { p.Lang = "en" })
	w.settle()
	w.press("debrief.replay")
	w.slide("replay.at", line)
	w.retakesFrom(line)
	require.Len(t, w.Desk.Doc.Marks, 5)
	require.NotEmpty(t, w.Desk.Doc.Steps)

	// The board knows that it is closed; another window finds it so.
	w.press("way.board")
	i := 0
	for n, o := range w.Desk.List {
		if o.ID == "cold_whisper" {
			i = n
		}
	}
	require.True(t, w.Desk.List[i].Done)
}

// slide puts a slider at a step.
func (w *window) slide(id string, step int) {
	w.t.Helper()
	require.True(w.t, w.Page.Slide(id, step), "slider %s is missing or stands there already", id)
	w.Desk.Touch()
	w.settle()
	for _, f := range w.Built().Faults() {
		w.t.Errorf("slider %s at %d: %s", id, step, f)
	}
}

// retakesFrom tries the closed order again after a line of its ledger, in this window and in another, and comes back to its debrief.
func (w *window) retakesFrom(line int) {
	w.t.Helper()
	first, err := platform.Load(w.Desk.ID)
	require.NoError(w.t, err)
	id, ledger := w.Desk.ID, w.Desk.Ledger
	w.press("replay.again")
	require.Equal(w.t, stage.Bay, w.Desk.Scene())
	require.Equal(w.t, ledger[:line], w.Desk.Ledger, "what was done before is done again")
	require.False(w.t, w.Desk.View.Closed)
	w.press("tool.eye", "go.valve", "place.valve")
	going := w.Desk.Ledger
	w.press("way.board")
	w.keep("board-retake")

	w.end()
	again := openWindow(w.t, 1024, 600)
	again.press("board.retake." + id)
	require.Equal(w.t, going, again.Desk.Ledger)
	again.Desk.Act(bench.Action{Verb: bench.Finish, List: []string{"supply_line_off"}})
	again.settle()
	again.Desk.LoadDebrief()
	again.settle()
	require.Contains(w.t, again.Desk.Doc.Retake, stage.Num(line))
	require.Equal(w.t, "supply_line_off", again.Desk.Doc.Thoughts[0].Suspect, "the cause that was named wrongly is shown without asking")
	for _, s := range []string{"marks", "timeline", "thought", "practise", "replay"} {
		again.press("debrief." + s)
		again.keep("retake-" + s)
	}
	raw, err := platform.Load(id + stage.RetakeSuffix)
	require.NoError(w.t, err)
	a, err := bench.ReadAttempt("retake", bytes.NewReader(raw))
	require.NoError(w.t, err)
	sum := sha256.Sum256(first)
	require.Equal(w.t, &bench.Retake{After: line, Of: hex.EncodeToString(sum[:])}, a.Header.Retake)
	same, err := platform.Load(id)
	require.NoError(w.t, err)
	require.Equal(w.t, string(first), string(same), "the first attempt is left as it was")
	w.find("board.open." + id)
	w.press("board.open." + id)
	require.Empty(w.t, w.Desk.Doc.Retake)
}

// A window that is closed in the middle goes on where it was.
func TestGoesOnWhereItWas(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	w := openWindow(t, 1024, 600)
	w.press("board.open.cold_whisper", "order.read", "order.go", "tool.eye", "place.valve", "tool.hands", "go.solenoid", "end.line_supply.b")
	before, ledger := w.Desk.View, w.Desk.Ledger
	w.end()

	again := openWindow(t, 1024, 600)
	again.press("board.open.cold_whisper")
	require.Equal(t, before, again.Desk.View)
	require.Equal(t, ledger, again.Desk.Ledger)
	require.True(t, again.Desk.Read, "cautions confirmed before are asked for again")
	again.press("way.scantool", "scan.plug", "scan.ignition.on", "scan.data", "way.bay", "engine.start", "tool.handpump", "go.valve")

	again.end()
	fresh := openWindow(t, 1024, 600)
	fresh.press("board.again.cold_whisper")
	require.Empty(t, fresh.Desk.Ledger)
}

// The cards of the board fit the smallest window in every language, the easiest order first, for eyes and for a screen reader alike.
func TestBoardFits(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	want := []string{"cold_whisper", "half_a_breath", "quiet_pump", "second_pump", "left_bank", "burnt_hose", "whole_board"}
	for _, lang := range messages.Languages() {
		w := openIn(t, lang, 1024, 600)
		var got, said []string
		for range 3 {
			for _, f := range w.Built().Faults() {
				t.Errorf("%s: %s", lang, f)
			}
			for _, c := range w.Page.Live() {
				if id, ok := strings.CutPrefix(c.ID, "board.open."); ok {
					got = append(got, id)
				}
			}
			for _, n := range w.Page.Tree() {
				said = append(said, n.Name)
			}
			w.Page.Press("board.page.on")
			w.Desk.Touch()
			w.settle()
		}
		require.Equal(t, want, got, lang)
		last := -1
		for _, o := range w.Desk.List {
			i := slices.IndexFunc(said, func(s string) bool {
				return strings.HasPrefix(s, o.Title+". ") && strings.Contains(s, w.Built().T("board.level."+strconv.Itoa(o.Level)))
			})
			require.Greater(t, i, last, "%s: %s", lang, o.ID)
			last = i
		}
	}
}

// Every order's papers and every place of its car fit the smallest window.
func TestAllOrdersFit(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	w := openWindow(t, 1024, 600)
	require.GreaterOrEqual(t, len(w.Desk.List), 3)
	for _, o := range w.Desk.List {
		w.press("board.open."+o.ID, "order.read", "way.info", "info.wiring", "info.spec", "info.causes", "way.notebook", "notebook.close", "close.unit", "way.bay")
		for _, p := range w.Desk.Cat.Places {
			w.press("go." + p.ID)
		}
		w.press("way.board")
	}
}

// A refusal is one sentence, costs nothing and changes nothing.
func TestRefusalIsToldAndCostsNothing(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	w := openWindow(t, 1024, 600)
	w.press("board.open.cold_whisper", "order.read", "order.go")
	before := w.Desk.View
	w.Desk.Act(bench.Action{Verb: bench.Stroke, N: 5})
	w.settle()
	require.True(t, w.Desk.ToastBad)
	require.NotEmpty(t, w.Desk.Toast)
	require.Equal(t, before, w.Desk.View)
}

// Without a screen the program says so in one sentence, before the engine can panic, and still answers for help. What is started is this
// test's own program: it is the window's, with tests.
func TestNoScreen(t *testing.T) {
	if os.Getenv("DISPLAY") == "" {
		t.Skip("only where windows need DISPLAY")
	}
	self, err := os.Executable()
	require.NoError(t, err)
	for _, c := range []struct {
		display string
		args    []string
		code    int
		want    string
	}{
		{"DISPLAY=", nil, 1, "bay: there is no screen to open a window on: DISPLAY is not set; "},
		{"DISPLAY=:59535", []string{"-order", "cold_whisper"}, 1, "bay: no screen answers on DISPLAY :59535 "},
		{"DISPLAY=", []string{"-help"}, 0, start.Usage},
	} {
		cmd := exec.Command(self, c.args...)
		cmd.Env = append(os.Environ(), c.display)
		out, err := cmd.CombinedOutput()
		code := 0
		if exit := (*exec.ExitError)(nil); errors.As(err, &exit) {
			code = exit.ExitCode()
		} else {
			require.NoError(t, err)
		}
		require.Equal(t, c.code, code, "%s", out)
		require.True(t, strings.HasPrefix(string(out), c.want), "%s", out)
		require.NotContains(t, string(out), "panic")
		if c.code != 0 {
			require.Equal(t, 1, strings.Count(string(out), "\n"), "%s", out)
		}
	}
}

func TestParse(t *testing.T) {
	for name, c := range map[string]struct {
		args []string
		want string
	}{
		"bad size":   {[]string{"-size", "10x10"}, "want width x height"},
		"bad frames": {[]string{"-frames", "0"}, "want at least 1"},
		"bad audio":  {[]string{"-audio", "loud"}, "want on or off"},
		"bad lang":   {[]string{"-lang", "xx"}, "want one of"},
		"left over":  {[]string{"cold"}, "not expected"},
		"unknown":    {[]string{"-colour"}, "not defined"},
	} {
		var out strings.Builder
		_, err := parse(c.args, &out)
		require.ErrorContains(t, err, c.want, name)
	}
	o, err := parse([]string{"-order", "x", "-size", "1024x600"}, &strings.Builder{})
	require.NoError(t, err)
	require.Equal(t, options{order: "x", w: 1024, h: 600, frames: 60, audio: "on"}, o)
}
