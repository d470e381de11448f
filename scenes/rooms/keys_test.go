package rooms_test

import (
	"fmt"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"coldbay/assets/messages"
	"coldbay/scenes/paint"
	"coldbay/scenes/prefs"
	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// key presses keys one after the other and lets the work end.
func (x *house) key(k ...ui.Key) {
	x.t.Helper()
	for _, k := range k {
		x.Tick(ui.Input{Keys: []ui.Key{k}})
		x.settle()
	}
}

// tabTo walks with Tab until a control has the focus.
func (x *house) tabTo(id string) {
	x.t.Helper()
	for range 120 {
		if c, ok := x.Page.Focused(); ok && c.ID == id {
			return
		}
		x.key(ui.KeyTab)
	}
	require.Fail(x.t, "Tab never reaches "+id)
}

// With Tab, arrows, Enter and Escape alone: from the board to a voltage read at the battery.
func TestKeyboardAlone(t *testing.T) {
	x := open(t, 1024, 600)
	x.tabTo("board.open.first")
	x.key(ui.KeyEnter)
	require.Equal(t, stage.Sheet, x.Desk.Scene())
	x.tabTo("order.read")
	x.key(ui.KeySpace, ui.KeyTab, ui.KeyEnter)
	require.Equal(t, stage.Bay, x.Desk.Scene())
	x.tabTo("tool.meter")
	x.key(ui.KeyEnter)
	x.tabTo("go.battery")
	x.key(ui.KeyEnter)
	x.tabTo("terminal.bat_pos")
	x.key(ui.KeyEnter, ui.KeyRight, ui.KeyEnter)
	last := x.Desk.Ledger[len(x.Desk.Ledger)-1].Action
	require.Equal(t, bench.MeterOn, last.Verb)
	require.Equal(t, "bat_pos", last.On)
	require.NotEqual(t, "bat_pos", last.To)
	// Escape lets go step by step: the lead, then the tool.
	x.tabTo("terminal.bat_pos")
	x.key(ui.KeyEnter)
	x.key(ui.KeyEscape)
	c, _ := x.Page.Find("terminal.bat_pos")
	require.False(t, c.On)
	x.key(ui.KeyEscape)
	c, _ = x.Page.Find("tool.meter")
	require.False(t, c.On)
}

// While work is under way, input does nothing but stop it.
func TestInputIsLockedWhileWorking(t *testing.T) {
	x := open(t, 1024, 600)
	x.press("board.open.first", "order.read", "order.go")
	x.Desk.Act(bench.Action{Verb: bench.Watch, N: 5})
	require.True(t, x.Desk.Busy())
	c, _ := x.Page.Find("key.on")
	x.Feed(ui.Input{At: c.Rect.Mid(), Clicked: true})
	x.settle()
	require.Equal(t, "off", x.Desk.View.Key)
}

// The clock that is let run watches once a second, and stands still on paper.
func TestPlay(t *testing.T) {
	x := open(t, 1024, 600)
	x.press("board.open.first", "order.read", "order.go", "watch.play")
	x.settle()
	n := len(x.Desk.Ledger)
	for range 200 {
		x.now = x.now.Add(20e6)
		x.Tick(ui.Input{})
		x.settle()
	}
	require.InDelta(t, 4, len(x.Desk.Ledger)-n, 3)
	x.press("way.info")
	require.False(t, x.Desk.Play)
}

// An order that can't be opened is told in a sentence, and the board stays.
func TestOpenFails(t *testing.T) {
	x := open(t, 1024, 600)
	x.Desk.Open("missing", false)
	x.settle()
	require.Equal(t, stage.Board, x.Desk.Scene())
	require.True(t, x.Desk.ToastBad)
	require.Contains(t, x.Desk.Toast, "missing")
}

// The accessibility tree has the screen's text and every control, with what is on and what is off.
func TestTree(t *testing.T) {
	x := open(t, 1024, 600)
	x.press("board.open.first")
	var prose, offs []string
	for _, n := range x.Page.Tree() {
		if n.Role == ui.Prose {
			prose = append(prose, n.Name)
		}
		if n.Off {
			offs = append(offs, n.ID)
		}
		require.NotEmpty(t, n.Name)
	}
	all := strings.Join(prose, "\n")
	require.Contains(t, all, "The yellow lamp came on")
	require.Contains(t, all, "training only")
	require.Contains(t, offs, "order.go")
}

// The typefaces have every letter of the catalogue and of the car's names.
func TestFontsCoverTheWords(t *testing.T) {
	runes := map[rune]bool{'◄': true, '►': true, '…': true, '–': true, 'Ω': true, '°': true}
	for _, lang := range messages.Languages() {
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		for _, k := range msg.Keys() {
			for _, r := range msg.T(k) {
				runes[r] = true
			}
		}
	}
	for name, ttf := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF, "mono": gomono.TTF} {
		f, err := sfnt.Parse(ttf)
		require.NoError(t, err)
		var buf sfnt.Buffer
		for r := range runes {
			if r == '\n' {
				continue
			}
			i, err := f.GlyphIndex(&buf, r)
			require.NoError(t, err)
			require.NotZero(t, i, "%s has no %q", name, r)
		}
	}
}

// The stand-in bench is for tests and stays out of the program.
func TestStandInIsNotShipped(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "coldbay/cmd/bay").Output()
	require.NoError(t, err)
	require.NotContains(t, string(out), "coldbay/scenes/standin")
	for _, heavy := range []string{"net/http\n", "gonum.org", "html/template"} {
		require.NotContains(t, string(out), heavy)
	}
}

// A frame shows something of each kind: dark room, light paper, and the focus ring's yellow after a key.
func TestPixels(t *testing.T) {
	x := open(t, 1280, 720)
	count := func(want paint.Ink) int {
		x.Draw(x.screen)
		n := 0
		for py := 0; py < 720; py += 2 {
			for px := 0; px < 1280; px += 2 {
				r, g, b, _ := x.screen.At(px, py).RGBA()
				near := func(a uint32, b uint8) bool { d := int(a>>8) - int(b); return d > -24 && d < 24 }
				if near(r, want.R) && near(g, want.G) && near(b, want.B) {
					n++
				}
			}
		}
		return n
	}
	require.Greater(t, count(paint.Petrol), 20000)
	require.Greater(t, count(paint.Page), 20000)
	require.Zero(t, count(paint.Yellow))
	x.tabTo("board.open.first")
	require.Greater(t, count(paint.Yellow), 100)
}

// A repair is paid for by two acts: neither a double click nor a key that is pressed again and again repairs anything, the question names
// the part, its price and its time, shows whole at twice the size of text, and "yes" repairs once.
func TestRepairTakesTwoActs(t *testing.T) {
	for _, percent := range []int{100, 200} {
		x := open(t, 1024, 600)
		x.wish(func(p *prefs.Prefs) { p.Text = percent })
		x.press("board.open.first", "order.read", "order.go")
		x.press("tool.repair")
		for _, u := range x.Desk.Cat.Units {
			x.find("repair." + u.ID)
			c, ok := x.Page.Find("repair." + u.ID)
			require.True(t, ok, u.ID)
			for range 2 {
				x.Tick(ui.Input{At: c.Rect.Mid(), Moved: true, Clicked: true})
				x.settle()
			}
			require.Equal(t, "sure.back", x.Page.FocusID())
			require.True(t, x.Shown().Holds(x.Built().SheetRect, 1), "%v of the question shows, it is %v", x.Shown(), x.Built().SheetRect)
			yes, ok := x.Page.Find("sure.do")
			require.True(t, ok)
			for _, words := range []string{u.Name, phrase.Money(u.Price), fmt.Sprint(u.Minutes)} {
				require.Contains(t, yes.Name, words)
			}
			x.key(ui.KeyEscape)
			require.Equal(t, "repair."+u.ID, x.Page.FocusID())
			x.key(ui.KeyEnter, ui.KeyEnter, ui.KeyEnter)
			x.key(ui.KeyEscape)
		}
		require.Empty(t, x.Desk.Ledger)
		x.press("repair.solenoid")
		x.tabTo("sure.do")
		x.key(ui.KeyEnter)
		require.False(t, x.Page.Modal())
		x.key(ui.KeyEnter)
		require.Len(t, x.Desk.Ledger, 1)
		require.Equal(t, bench.Repair, x.Desk.Ledger[0].Action.Verb)
	}
}

// Whoever waits for a debrief is told in words how far it is, as it goes, and Escape
// stops it without a word of an error.
func TestDebriefTellsWhatItIsAt(t *testing.T) {
	told := make(chan struct{})
	x := openWith(t, 1024, 600, "en", &standin.Orders{Told: told,
		Telling: [][2]string{{"replay", "line 1 of 2"}, {"replay", "line 2 of 2"}, {"weigh", "weighing"}, {"plan", "telling"}}})
	x.press("board.open.first", "order.read", "order.go")
	shows := func(words string) {
		t.Helper()
		for range 10_000 {
			x.Tick(ui.Input{})
			x.now = x.now.Add(x.pace)
			if got, shown := x.Desk.Working(x.now); shown && got == words {
				return
			}
			time.Sleep(time.Millisecond)
		}
		require.Fail(t, "it never said so", words)
	}
	x.Desk.LoadDebrief()
	for _, words := range []string{"line 1 of 2", "line 2 of 2", "weighing"} {
		shows(words)
		told <- struct{}{}
	}
	shows("telling")
	x.key(ui.KeyEscape)
	x.settle()
	require.Nil(t, x.Desk.Fault)
	require.Nil(t, x.Desk.Doc)
	require.Equal(t, x.Desk.Msg.T("work.cancelled"), x.Desk.Toast)
}

// What was half done at one car is not half done at the next: the tool in hand, the view, an open question, the page of the repair bench,
// the closing form.
func TestNextOrderStartsAfresh(t *testing.T) {
	x := open(t, 1024, 600)
	x.press("board.open.first", "order.read", "order.go")
	cause := "close.cause." + x.Desk.Cat.Suspects[0].ID
	x.press("way.notebook", "notebook.close", cause, "close.unit")
	x.press("way.bay", "tool.meter", "go.battery", "tool.repair", "repair.page.on")
	x.key(ui.KeyEscape)
	x.press("way.board", "board.open.second", "order.read", "order.go")
	for id, on := range map[string]bool{"tool.step": true, "tool.meter": false, "go.front": true} {
		c, ok := x.Page.Find(id)
		require.True(t, ok, id)
		require.Equal(t, on, c.On, id)
	}
	x.press("tool.repair")
	back, ok := x.Page.Find("repair.page.back")
	require.True(t, ok)
	require.True(t, back.Off, "the repair bench opens where it was left at the other car")
	x.key(ui.KeyEscape)
	x.press("way.notebook", "notebook.close")
	c, ok := x.Page.Find(cause)
	require.True(t, ok)
	require.False(t, c.On, "a cause that was named at the other car")
}
