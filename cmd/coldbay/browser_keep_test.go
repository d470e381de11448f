package main

import (
	"context"
	"net"
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"coldbay/cmd/coldbay/browserbay"
)

// stoppable serves the bay until it is stopped, and again at the same address when it is started again.
type stoppable struct {
	t       *testing.T
	site    *browserbay.Site
	address string
	server  *http.Server
}

func newStoppable(t *testing.T) *stoppable {
	t.Helper()
	site, err := browserbay.FromSource(context.Background())
	require.NoError(t, err)
	s := &stoppable{t: t, site: site, address: "127.0.0.1:0"}
	s.start()
	t.Cleanup(s.stop)
	return s
}

func (s *stoppable) start() {
	s.t.Helper()
	listener, err := net.Listen("tcp", s.address)
	require.NoError(s.t, err)
	s.address = listener.Addr().String()
	s.server = &http.Server{Handler: s.site}
	go func(server *http.Server) { _ = server.Serve(listener) }(s.server)
}

func (s *stoppable) stop() { _ = s.server.Close() }

func (s *stoppable) url(path string) string { return "http://" + s.address + path }

// Whatever happens to the page, the window, the tab or the server, what was done in the bay stands, and the page comes back to it.
func TestNothingIsLost(t *testing.T) {
	server := newStoppable(t)
	b := startBrowser(t)
	b.before(`window.contexts = []; const Made = window.AudioContext;
		window.AudioContext = class extends Made { constructor(...a) { super(...a); window.contexts.push(this); } };`)
	m := mouse{b}
	b.open(server.url(browserbay.PagePath("cold_whisper")))
	b.waitMirror("Complaint:")
	for _, id := range []string{"order.read", "order.go", "tool.eye", "go.valve"} {
		m.use(step{id: id})
	}
	require.NotContains(t, b.mirror(), "Look at the air valve")
	m.use(step{id: "place.valve"})
	b.waitMirror("Look at the air valve")

	// Sound begins once a person has done something, and not before; a browser stops it otherwise and says so.
	require.Equal(t, "running", eval[string](b, `new Promise((done) => {
		const look = () => (contexts.length && contexts.at(-1).state === "running" ? done("running") : requestAnimationFrame(look)); look(); })`))

	done := func(where string, lines ...string) {
		t.Helper()
		b.waitMirror("Time and money")
		m.use(step{id: "ledger.all"})
		said := b.waitMirror("Suspect board")
		for _, line := range lines {
			require.Contains(t, said, line, where)
		}
		m.use(step{id: "way.bay"})
	}

	t.Log("a window made tiny and large again")
	for _, size := range [][2]int64{{300, 180}, {viewWidth, viewHeight}} {
		b.run(chromedp.EmulateViewport(size[0], size[1]))
		b.frames(5)
	}
	require.Equal(t, "1280 720", eval[string](b, `innerWidth + " " + innerHeight`))
	done("resized", "Look at the air valve")

	t.Log("a page that loses the focus and is hidden, and comes back")
	eval[bool](b, `(window.dispatchEvent(new Event("blur")), document.dispatchEvent(new Event("visibilitychange")), true)`)
	send(b, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: false})
	b.frames(5)
	send(b, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	m.use(step{id: "tool.ear"})
	m.use(step{id: "go.valve"})
	m.use(step{id: "place.valve"})
	done("unfocused", "Look at the air valve", "Listen at the air valve")

	t.Log("a second tab on the same order")
	tab := b.tab()
	tab.open(server.url(browserbay.PagePath("cold_whisper")))
	tab.waitHeard("This order is open in another window or tab.")
	tab.waitMirror("Go on: Lamp on after cold nights")
	tab.close()

	t.Log("settings are kept")
	for _, id := range []string{"way.settings", "set.vacuum.inhg", "set.theme.contrast", "settings.back"} {
		m.use(step{id: id})
	}

	t.Log("a page loaded anew")
	require.Contains(t, eval[string](b, "location.search"), "order=cold_whisper")
	b.run(chromedp.Reload())
	b.waitMirror("Time and money")
	done("loaded anew", "Look at the air valve", "Listen at the air valve")
	m.use(step{id: "way.settings"})
	for _, c := range b.controls() {
		if c.ID == "set.vacuum.inhg" || c.ID == "set.theme.contrast" {
			require.True(t, c.On, c.ID)
		}
	}
	m.use(step{id: "settings.back"})

	t.Log("no server any more: the page opens from what the browser keeps, and an attempt goes on")
	kept := eval[string](b, `navigator.serviceWorker.ready.then((r) => r.active.state === "activated" ? "activated" : new Promise((done) => {
		r.active.addEventListener("statechange", () => r.active.state === "activated" && done("activated")); }))`)
	require.Equal(t, "activated", kept)
	server.stop()
	_, err := http.Get(server.url("/"))
	require.Error(t, err, "the server is gone")
	b.run(chromedp.Reload())
	b.waitMirror("Time and money")
	done("offline", "Look at the air valve", "Listen at the air valve")
	for _, id := range []string{"tool.hand", "go.valve", "place.valve"} {
		m.use(step{id: id})
	}
	b.waitMirror("Feel the air valve")

	t.Log("a tab that is killed")
	b.kill()
	b.open(server.url(browserbay.PagePath("cold_whisper")))
	b.waitMirror("Time and money")
	done("killed", "Look at the air valve", "Listen at the air valve", "Feel the air valve")

	t.Log("a lesson by its address, without the server")
	b.open(server.url("/?lesson=vacuum"))
	b.waitMirror("step 1 of")
	require.Contains(t, eval[string](b, "document.title"), "Coldbay")

	t.Log("another tab on the same lesson: both keep what is done in them")
	const pieces = "coldbay/attempt/lesson-vacuum/+"
	eval[bool](b, `(localStorage.setItem("`+pieces+`0000000000001-000001-other", '{"step":"leak","seen":true}\n'), true)`)
	b.clickOn("lesson.next")
	b.clickOn("lesson.next")
	b.waitMirror("step 2 of")
	require.Equal(t, "3 0", eval[string](b, `[Object.keys(localStorage).filter((k) => k.startsWith("`+pieces+`")).length,
		Object.keys(localStorage).filter((k) => k === "coldbay/attempt/lesson-vacuum").length].join(" ")`), "each piece has a key of its own, and none is counted")
	b.run(chromedp.Reload())
	b.waitMirror("step 4 of")

	// What the browser says about a server that is gone is no fault of the page.
	b.forgive("net::ERR_CONNECTION_REFUSED")
}

// tab opens a second tab in the same browser, with the same store.
func (b *browser) tab() *browser {
	b.t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	b.t.Cleanup(cancel)
	other := &browser{t: b.t, ctx: ctx, cancel: cancel}
	b.t.Cleanup(func() { require.Empty(b.t, other.faults(), "a second tab reported errors") })
	require.NoError(b.t, chromedp.Listen(ctx, other.listen))
	other.run(chromedp.EmulateViewport(viewWidth, viewHeight))
	return other
}

// close ends a tab.
func (b *browser) close() { b.cancel() }

// kill ends the page's process, as a browser does that runs out of memory.
func (b *browser) kill() {
	b.t.Helper()
	// The command can't be answered, since what would answer it is gone.
	go func() { _, _ = chromedp.Call(b.ctx, page.Crash, struct{}{}) }()
}

// forgive drops reports that hold the words.
func (b *browser) forgive(words string) {
	b.mu.Lock()
	defer b.mu.Unlock()
	var left []string
	for _, w := range b.wrong {
		if !strings.Contains(w, words) {
			left = append(left, w)
		}
	}
	b.wrong = left
}
