package main

import (
	"fmt"
	"io"
	"math"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/cmd/coldbay/browserbay"
)

func serve(t *testing.T, h http.Handler) string {
	t.Helper()
	server := httptest.NewServer(h)
	t.Cleanup(server.Close)
	return server.URL
}

// The page around the bay: what it shows while the bay comes, and when it can't.
func TestPageShell(t *testing.T) {
	site := shellSite(t)

	t.Run("hands over to the bay", func(t *testing.T) {
		b := startBrowser(t)
		b.before(`window.told = []; window.shares = [];
			new MutationObserver(() => {
				const what = document.getElementById("loading-what");
				const bar = document.getElementById("bar");
				if (what && what.textContent !== window.told.at(-1)) window.told.push(what.textContent);
				if (bar) window.shares.push(bar.position);
			}).observe(document, { subtree: true, childList: true, characterData: true, attributes: true });`)
		b.open(serve(t, site) + browserbay.PagePath("order-7"))
		require.Equal(t, "up, asked for ?order=order-7", b.waitMirror("up"))
		b.wait("page", func() string { return "<" + b.gate() + ">" }, "<>")
		require.Contains(t, b.console(), "shellbay says hello")
		require.Equal(t, 1.0, eval[float64](b, `document.getElementById("bar").position`), "every byte was counted")
		told := eval[string](b, `window.told.join("|")`)
		require.Regexp(t, `^Fetching the bay.*\|Compiling the bay\|Starting the bay$`, told)
		shares := eval[[]float64](b, `window.shares`)
		require.True(t, slices.IsSorted(shares), "%v", shares)
		require.Empty(t, b.faults())
	})

	t.Run("shows how far the download is", func(t *testing.T) {
		b := startBrowser(t)
		release := make(chan struct{})
		b.open(serve(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if strings.HasSuffix(r.URL.Path, ".wasm") {
				w = &halvedWriter{ResponseWriter: w, left: site.WasmGzipBytes / 2, wait: release}
			}
			site.ServeHTTP(w, r)
		})) + "/")
		said := b.waitGate(" MB")
		require.Contains(t, said, "Fetching the bay")
		require.Regexp(t, fmt.Sprintf(`[0-9]+ %%, [0-9.]+ of %.1f MB\b`, float64(site.WasmGzipBytes)/1e6), said)
		require.NotContains(t, said, "unpacked")
		b.screenshot("page-fetching")
		part := eval[float64](b, `document.getElementById("bar").position`)
		// Half of the bytes were let through, less what the decoder holds back.
		require.Greater(t, part, 0.4)
		require.LessOrEqual(t, part, 0.51)
		require.Empty(t, b.mirror())
		close(release)
		b.waitMirror("up")
	})

	// The engine's sound output hands the browser a script of its own making.
	t.Run("policy lets sound through", func(t *testing.T) {
		b := startBrowser(t)
		b.open(serve(t, site) + "/")
		b.waitMirror("up")
		require.Equal(t, "loaded", eval[string](b, `(async () => {
			const script = "registerProcessor('silence', class extends AudioWorkletProcessor { process() { return true; } })";
			const url = URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
			await new AudioContext().audioWorklet.addModule(url);
			return "loaded";
		})()`))
		require.Empty(t, b.faults())
	})

	t.Run("policy stops foreign scripts", func(t *testing.T) {
		b := startBrowser(t)
		b.mayFail = true
		b.open(serve(t, site) + "/")
		b.waitMirror("up")
		require.Equal(t, "refused", eval[string](b, `new Promise((done) => {
			document.addEventListener("securitypolicyviolation", () => done("refused"));
			const s = document.createElement("script");
			s.onload = () => done("loaded");
			s.textContent = "window.foreign = true";
			document.body.append(s);
			if (window.foreign) done("ran");
		})`))
	})

	for lack, script := range map[string]string{
		"WebGL 2":     "HTMLCanvasElement.prototype.getContext = () => null",
		"WebAssembly": "delete globalThis.WebAssembly",
	} {
		t.Run("without "+lack, func(t *testing.T) {
			b := startBrowser(t)
			b.before(script)
			b.open(serve(t, site) + "/")
			said := b.waitGate("can't run the bay")
			require.Contains(t, said, "It has no "+lack)
			require.Contains(t, said, "For training only")
			require.Empty(t, b.mirror())
		})
	}

	t.Run("program not there, then there", func(t *testing.T) {
		b := startBrowser(t)
		b.mayFail = true
		var back atomic.Bool
		b.open(serve(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if strings.HasSuffix(r.URL.Path, ".wasm") && !back.Load() {
				http.Error(w, "away", http.StatusServiceUnavailable)
				return
			}
			site.ServeHTTP(w, r)
		})) + "/")
		said := b.waitGate("could not be fetched")
		require.Contains(t, said, "the server answered 503")
		require.Contains(t, said, "Load the page again")
		b.screenshot("page-not-fetched")
		back.Store(true)
		b.press("Tab", "Enter")
		b.waitMirror("up")
	})

	for end, want := range map[string]string{
		"well":  "The bay is closed",
		"code":  "It ended with code 3",
		"panic": "It ended with code 2",
	} {
		t.Run("ends "+end, func(t *testing.T) {
			b := startBrowser(t)
			b.mayFail = end != "well"
			b.open(serve(t, site) + "/?end=" + end)
			require.Contains(t, b.waitGate(want), "Load the page again")
		})
	}
}

// halvedWriter lets the first bytes of a body through, and the rest when it may.
type halvedWriter struct {
	http.ResponseWriter
	left int64
	wait <-chan struct{}
}

func (w *halvedWriter) Write(p []byte) (int, error) {
	if int64(len(p)) <= w.left {
		w.left -= int64(len(p))
		return w.ResponseWriter.Write(p)
	}
	first, err := w.ResponseWriter.Write(p[:w.left])
	if err != nil {
		return first, err
	}
	if err := http.NewResponseController(w.ResponseWriter).Flush(); err != nil {
		return first, err
	}
	<-w.wait
	w.left = math.MaxInt64
	rest, err := w.ResponseWriter.Write(p[first:])
	return first + rest, err
}

// The driver itself: what it does arrives in the page as a person's doing would.
func TestDriver(t *testing.T) {
	b := startBrowser(t)
	b.mayFail = true
	b.open(serve(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		_, _ = io.WriteString(w, `<!DOCTYPE html><title>driver</title><body><pre id="mirror"></pre><script>
			const say = (s) => { document.getElementById("mirror").textContent += s + "; "; };
			const where = (e) => e.clientX + "," + e.clientY;
			onmousedown = (e) => say("down " + where(e) + " button " + e.button);
			onmouseup = (e) => say("up " + where(e));
			onwheel = (e) => say("wheel " + where(e) + " by " + e.deltaY);
			onkeydown = (e) => {
				say("key " + (e.ctrlKey ? "Ctrl+" : "") + (e.shiftKey ? "Shift+" : "") + e.code + " " + e.key);
				e.preventDefault();
			};
			say(innerWidth + "x" + innerHeight + " at " + devicePixelRatio);
			console.log("heard", 42);
			setTimeout(() => { throw new Error("thrown") });
		</script>`)
	})))
	b.waitMirror("1280x720 at 1;")
	b.click(1279, 719)
	b.waitMirror("down 1279,719 button 0; up 1279,719;")
	b.drag(10, 20, 300, 400)
	b.waitMirror("down 10,20 button 0; up 300,400;")
	b.wheel(640, 360, 120)
	b.waitMirror("wheel 640,360 by 120;")
	b.press("Enter", "Down", "Shift+Tab", "Ctrl+m", "+")
	b.waitMirror("key Enter Enter; key ArrowDown ArrowDown; " +
		"key Shift+ShiftLeft Shift; key Shift+Tab Tab; key Ctrl+ControlLeft Control; key Ctrl+KeyM m; key Shift+Equal +;")
	b.typeText("a 1")
	b.waitMirror("key KeyA a; key Space  ; key Digit1 1;")
	require.Contains(t, b.console(), "heard 42")
	require.Len(t, b.faults(), 1)
	require.Contains(t, b.faults()[0], "thrown")
	require.NotEmpty(t, b.screenshot("driver"))
}
