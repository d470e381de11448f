package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// The page is shown at exactly the bay's logical size and one device pixel a CSS
// pixel, so that a logical coordinate is a coordinate of the page.
const viewWidth, viewHeight = 1280, 720

// browserPatience bounds everything one test does in the browser. Software
// rendering on a busy machine is slow; a hang is what it is for.
const browserPatience = 4 * time.Minute

// browser is a headless Chromium with one page, driven by real mouse and key
// events. Its methods fail the test that started it.
type browser struct {
	t      *testing.T
	ctx    context.Context
	cancel context.CancelFunc // of a tab that is not the first

	mu    sync.Mutex
	lines []string // what the page wrote to its console
	wrong []string // uncaught exceptions, errors on the console, refused files, breaches of the content policy
	// mayFail says that the test itself makes things go wrong.
	mayFail bool
	// shrunk says that the window shows the smallest layout at half its size.
	shrunk bool
}

// startBrowser starts a browser that ends with the test. It skips the test where
// no Chromium is installed.
func startBrowser(t *testing.T) *browser {
	t.Helper()
	executable, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium in the PATH; Debian's package chromium has it")
	}
	profile, err := os.MkdirTemp("", "coldbay-browser-")
	require.NoError(t, err)
	// The browser may still be writing to its profile; what is left is the system's to clear.
	t.Cleanup(func() { _ = os.RemoveAll(profile) })

	ctx, cancel := context.WithTimeout(context.Background(), browserPatience)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewExecAllocator(ctx,
		chromedp.ExecPath(executable),
		chromedp.Flag("headless", true),
		chromedp.Flag("no-sandbox", true),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("no-first-run", true),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true),
		chromedp.Flag("use-gl", "angle"),
		chromedp.Flag("use-angle", "swiftshader"),
		chromedp.Flag("enable-unsafe-swiftshader", true),
		chromedp.UserDataDir(profile),
		chromedp.WindowSize(viewWidth, viewHeight),
	)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)

	b := &browser{t: t, ctx: ctx}
	t.Cleanup(func() {
		if wrong := b.faults(); len(wrong) > 0 && !b.mayFail {
			t.Errorf("the page reported errors:\n%s", strings.Join(wrong, "\n"))
		}
	})
	require.NoError(t, chromedp.Listen(ctx, b.listen), "start %s", executable)
	b.run(chromedp.EmulateViewport(viewWidth, viewHeight))
	return b
}

// listen collects what the page reports. It must not call the browser.
func (b *browser) listen(event any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		words := make([]string, len(e.Args))
		for i, arg := range e.Args {
			words[i] = strings.Trim(string(arg.Value), `"`)
		}
		b.lines = append(b.lines, strings.Join(words, " "))
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeAssert {
			b.wrong = append(b.wrong, strings.Join(words, " "))
		}
	case *runtime.EventExceptionThrown:
		b.wrong = append(b.wrong, describe(e.ExceptionDetails))
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError {
			b.wrong = append(b.wrong, e.Entry.Text+" "+e.Entry.URL)
		}
	}
}

// describe puts an uncaught exception on one line where the browser gave a cause.
func describe(e *runtime.ExceptionDetails) string {
	if e.Exception != nil && e.Exception.Description != "" {
		return e.Text + " " + e.Exception.Description
	}
	return e.Text
}

// run carries out steps in order.
func (b *browser) run(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, actions...))
}

// send gives the browser one command of its protocol.
func send[P, R any](b *browser, command cdp.Command[P, R], params P) R {
	b.t.Helper()
	result, err := chromedp.Call(b.ctx, command, params)
	require.NoError(b.t, err)
	return result
}

// before runs a script in every page before the page's own.
func (b *browser) before(script string) {
	b.t.Helper()
	send(b, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
}

// open loads a page.
func (b *browser) open(url string) {
	b.t.Helper()
	b.run(chromedp.Navigate(url))
}

// frames waits until the page has drawn n more frames, so that the bay, which
// looks at its inputs once a frame, has seen what was done before.
func (b *browser) frames(n int) {
	b.t.Helper()
	_, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](fmt.Sprintf(`new Promise((done) => {
		let left = %d;
		const step = () => (left-- <= 0 ? done(true) : requestAnimationFrame(step));
		requestAnimationFrame(step);
	})`, n), chromedp.EvalAwaitPromise))
	if err != nil && strings.Contains(err.Error(), "navigated or closed") {
		return // what was pressed loads the page again, and its frames are gone with it
	}
	require.NoError(b.t, err, "waiting for %d frames", n)
}

// point moves the mouse to logical coordinates.
func (b *browser) point(x, y float64) {
	b.t.Helper()
	b.mouse(input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseMoved, X: x, Y: y})
}

// click presses and releases the left button at logical coordinates, slowly enough
// for both to be seen.
func (b *browser) click(x, y float64) {
	b.t.Helper()
	b.drag(x, y, x, y)
}

// drag presses the left button at one place and releases it at another.
func (b *browser) drag(fromX, fromY, toX, toY float64) {
	b.t.Helper()
	b.point(fromX, fromY)
	b.mouse(input.DispatchMouseEventParams{
		Type: input.DispatchMouseEventTypeMousePressed, X: fromX, Y: fromY,
		Button: input.MouseButtonLeft, Buttons: 1, ClickCount: 1,
	})
	if fromX != toX || fromY != toY {
		b.mouse(input.DispatchMouseEventParams{
			Type: input.DispatchMouseEventTypeMouseMoved, X: toX, Y: toY, Button: input.MouseButtonLeft, Buttons: 1,
		})
	}
	b.mouse(input.DispatchMouseEventParams{
		Type: input.DispatchMouseEventTypeMouseReleased, X: toX, Y: toY, Button: input.MouseButtonLeft, ClickCount: 1,
	})
}

// wheel turns the mouse wheel at logical coordinates; positive is downwards.
func (b *browser) wheel(x, y, pixels float64) {
	b.t.Helper()
	// The library leaves a zero out, and the browser wants both distances named.
	type turn struct {
		input.DispatchMouseEventParams
		DeltaX float64 `json:"deltaX"`
	}
	send(b, cdp.Command[turn, cdp.Empty]{Method: input.CommandDispatchMouseEvent}, turn{
		DispatchMouseEventParams: input.DispatchMouseEventParams{
			Type: input.DispatchMouseEventTypeMouseWheel, X: x, Y: y, DeltaY: pixels,
		},
	})
	b.frames(2)
}

// mouse sends one event and lets the page see it before the next.
func (b *browser) mouse(event input.DispatchMouseEventParams) {
	b.t.Helper()
	send(b, input.DispatchMouseEvent, event)
	b.frames(2)
}

// namedKeys are the keys that type no character.
var namedKeys = map[string]string{
	"Enter": kb.Enter, "Escape": kb.Escape, "Tab": kb.Tab, "Backspace": kb.Backspace, "Delete": kb.Delete,
	"Left": kb.ArrowLeft, "Right": kb.ArrowRight, "Up": kb.ArrowUp, "Down": kb.ArrowDown,
	"Home": kb.Home, "End": kb.End, "PageUp": kb.PageUp, "PageDown": kb.PageDown, "Space": " ",
	"F1": kb.F1, "F2": kb.F2, "F3": kb.F3, "F4": kb.F4, "F5": kb.F5, "F6": kb.F6,
}

// modifierKey is a key that is held while another is pressed.
type modifierKey struct {
	bit            chromedp.Modifier
	key, code      string
	windowsKeyCode int64
}

var modifierKeys = map[string]modifierKey{
	"Shift": {chromedp.ModifierShift, "Shift", "ShiftLeft", 16},
	"Ctrl":  {chromedp.ModifierCtrl, "Control", "ControlLeft", 17},
	"Alt":   {chromedp.ModifierAlt, "Alt", "AltLeft", 18},
}

// press presses and releases keys one after another: a character, a name such as
// "Enter" or "Down", or either with modifiers, such as "Ctrl+m" or "Shift+Tab".
func (b *browser) press(keys ...string) {
	b.t.Helper()
	for _, key := range keys {
		var held []modifierKey
		for {
			name, rest, ok := strings.Cut(key, "+")
			modifier, known := modifierKeys[name]
			if !ok || !known {
				break
			}
			held, key = append(held, modifier), rest
		}
		if named, ok := namedKeys[key]; ok {
			key = named
		}
		require.Len(b.t, []rune(key), 1, "no key is called %q", key)
		b.strike([]rune(key)[0], held)
	}
}

// strike holds the modifiers, strikes one key and lets go, in the order in which a
// keyboard reports it.
func (b *browser) strike(key rune, held []modifierKey) {
	b.t.Helper()
	var bits chromedp.Modifier
	for _, m := range held {
		bits |= m.bit
		b.key(input.DispatchKeyEventParams{
			Type: kb.KeyRawDown, Key: m.key, Code: m.code, WindowsVirtualKeyCode: m.windowsKeyCode, Modifiers: int64(bits),
		})
	}
	for _, event := range kb.Encode(key) {
		event.Modifiers |= int64(bits)
		if bits&^chromedp.ModifierShift != 0 {
			if event.Type == kb.KeyChar {
				continue // a shortcut types nothing
			}
			event.Text, event.UnmodifiedText = "", ""
		}
		b.key(*event)
	}
	for _, m := range slices.Backward(held) {
		bits &^= m.bit
		b.key(input.DispatchKeyEventParams{
			Type: kb.KeyUp, Key: m.key, Code: m.code, WindowsVirtualKeyCode: m.windowsKeyCode, Modifiers: int64(bits),
		})
	}
}

// key sends one event and lets the page see it before the next.
func (b *browser) key(event input.DispatchKeyEventParams) {
	b.t.Helper()
	send(b, input.DispatchKeyEvent, event)
	b.frames(2)
}

// typeText types characters as they come.
func (b *browser) typeText(s string) {
	b.t.Helper()
	for _, r := range s {
		b.press(string(r))
	}
}

// eval returns the value of a JavaScript expression; the page's own content policy
// does not hold for it.
func eval[T any](b *browser, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err, "evaluate %s", expression)
	return v
}

// mirror is what the bay says about itself in words: the text of the region that
// mirrors its controls.
func (b *browser) mirror() string {
	b.t.Helper()
	return eval[string](b, `document.getElementById("mirror").textContent`)
}

// control is one of the bay's controls as its mirror names it.
type control struct {
	ID   string `json:"id"`
	Role string `json:"role"` // button, input or p, the element that stands for it
	Name string `json:"name"`
	On   bool   `json:"on"`  // pressed, of a toggle or tab
	Off  bool   `json:"off"` // can't be used now
	At   string `json:"at"`  // its middle on the canvas, in logical coordinates
}

// controls lists what the mirror holds, in reading order, plain sentences included.
func (b *browser) controls() []control {
	b.t.Helper()
	return eval[[]control](b, `[...document.getElementById("mirror").children].map((e) => ({
		id: e.dataset.id || "",
		role: e.localName,
		name: e.getAttribute("aria-label") || e.textContent,
		on: e.getAttribute("aria-pressed") === "true",
		off: e.getAttribute("aria-disabled") === "true",
		at: e.dataset.at || "",
	}))`)
}

// named returns the first control whose name holds the words.
func (b *browser) named(words string) control {
	b.t.Helper()
	all := b.controls()
	at := slices.IndexFunc(all, func(c control) bool {
		return (c.Role == "button" || c.Role == "input") && strings.Contains(c.Name, words)
	})
	require.GreaterOrEqual(b.t, at, 0, "no control is named %q among %v", words, all)
	return all[at]
}

// patientFrames bounds how long a control is waited for, in looks of a few frames each. It is far more than any screen takes.
const patientFrames = 200

// busy tells whether the bay has work under way, during which nothing can be used.
func (b *browser) busy() bool {
	b.t.Helper()
	return eval[bool](b, `document.getElementById("mirror").dataset.busy === "true"`)
}

// ready waits until the control with this id is there and can be used.
func (b *browser) ready(id string) control {
	b.t.Helper()
	for range patientFrames {
		if !b.busy() {
			all := b.controls()
			if at := slices.IndexFunc(all, func(c control) bool { return c.ID == id && !c.Off && c.At != "" }); at >= 0 {
				return all[at]
			}
		}
		b.frames(2)
	}
	b.failedIn("the mirror", "the control "+id)
	return control{}
}

// failedIn ends the test with what the page shows.
func (b *browser) failedIn(where, what string) {
	b.t.Helper()
	b.screenshot("failed-" + strings.ReplaceAll(b.t.Name(), "/", "-"))
	require.Failf(b.t, "waited in vain", "for %s in %s, which says:\n%s\nheard:\n%s\nconsole:\n%s\nwrong:\n%s", what, where, b.inMirror(), b.heard(),
		strings.Join(b.console(), "\n"), strings.Join(b.faults(), "\n"))
}

// clickOn clicks on the canvas where the control with this id stands, once it is there and can be used.
func (b *browser) clickOn(id string) {
	b.t.Helper()
	var x, y float64
	_, err := fmt.Sscanf(b.ready(id).At, "%g %g", &x, &y)
	require.NoError(b.t, err)
	if b.shrunk {
		x, y = x/2, y/2
	}
	b.click(x, y)
	b.frames(4)
}

// pressNamed uses a control through the mirror, as a screen reader does.
func (b *browser) pressNamed(words string) {
	b.t.Helper()
	id := b.named(words).ID
	eval[bool](b, fmt.Sprintf(`(document.querySelector('#mirror [data-id=%q]').click(), true)`, id))
	b.frames(3)
}

// gate is the text of the page's own panel, or "" once the bay has taken over.
func (b *browser) gate() string {
	b.t.Helper()
	return eval[string](b, `(() => { const g = document.getElementById("gate"); return g.hidden ? "" : g.innerText; })()`)
}

// wait returns as soon as read gives a text that holds want.
func (b *browser) wait(what string, read func() string, want string) string {
	b.t.Helper()
	for n := 0; ; n++ {
		got := read()
		if strings.Contains(got, want) {
			return got
		}
		b.frames(2)
		if n > 2*patientFrames {
			b.screenshot("failed-" + strings.ReplaceAll(b.t.Name(), "/", "-"))
			require.Failf(b.t, "waited in vain", "for %q in the %s, which says:\n%s\nconsole:\n%s\nwrong:\n%s",
				want, what, got, strings.Join(b.console(), "\n"), strings.Join(b.faults(), "\n"))
		}
	}
}

// waitMirror waits until the mirror holds want and returns all of it.
func (b *browser) waitMirror(want string) string {
	b.t.Helper()
	return b.wait("mirror", b.mirror, want)
}

// waitHeard waits until what has been read out last holds want and returns it.
func (b *browser) waitHeard(want string) string {
	b.t.Helper()
	return b.wait("live region", b.heard, want)
}

// waitGate waits until the page's own panel shows want and returns all of it.
func (b *browser) waitGate(want string) string {
	b.t.Helper()
	return b.wait("page", b.gate, want)
}

// console is what the page wrote to its console so far, one entry a call. What the
// bay prints in Go arrives here.
func (b *browser) console() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string(nil), b.lines...)
}

// faults is what went wrong in the page so far.
func (b *browser) faults() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return append([]string(nil), b.wrong...)
}

// screenshot writes what is on the screen as NAME.png into the directory that the
// environment variable COLDBAY_SHOTS names, and nothing without it. It returns the
// picture either way.
func (b *browser) screenshot(name string) []byte {
	b.t.Helper()
	picture, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	require.NoError(b.t, err)
	if dir := os.Getenv("COLDBAY_SHOTS"); dir != "" {
		require.NoError(b.t, os.MkdirAll(dir, 0o755))
		require.NoError(b.t, os.WriteFile(filepath.Join(dir, name+".png"), picture, 0o644))
	}
	return picture
}
