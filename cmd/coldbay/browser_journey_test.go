package main

import (
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"coldbay/scenarios/lessons"
)

// sayInto keeps what the page says beside the screenshots, for reading it as a screen reader would.
func (b *browser) sayInto(name string) {
	b.t.Helper()
	dir := os.Getenv("COLDBAY_SHOTS")
	if dir == "" {
		return
	}
	require.NoError(b.t, os.MkdirAll(dir, 0o755))
	require.NoError(b.t, os.WriteFile(filepath.Join(dir, name+".txt"), []byte(b.inMirror()+"\n--- heard\n"+b.heard()+"\n"), 0o644))
}

// small makes the window small: nobody looks, and a small picture is soon drawn by a machine that has to do it in software.
func (b *browser) small() {
	b.t.Helper()
	b.run(chromedp.EmulateViewport(512, 300))
	b.shrunk = true
}

// Every name that can be used is there once, on every screen of the journeys: what has the same name can't be told apart by ear.
func (b *browser) noNameTwice(where string) {
	b.t.Helper()
	seen := map[string]string{}
	for _, c := range b.controls() {
		if c.Role != "button" && c.Role != "input" {
			continue
		}
		if other, ok := seen[c.Name]; ok {
			b.t.Errorf("%s: %s and %s are both called %q", where, other, c.ID, c.Name)
		}
		seen[c.Name] = c.ID
	}
}

// journey works a whole order in one way; after is called at each stop.
func journey(b *browser, w way, after func(stop string)) {
	b.t.Helper()
	b.waitMirror("Each card is a car with a complaint")
	after("board")
	use := func(steps ...step) {
		b.t.Helper()
		for _, s := range steps {
			w.use(s)
		}
	}
	use(step{"board.open.cold_whisper", "Take the order: Lamp on after cold nights"})
	b.waitMirror("Complaint:")
	after("order")
	use(step{"order.read", "I have read the cautions"}, step{"order.go", "To the bay"})
	b.waitMirror("Choose a tool")
	after("bay")
	// Look at the valve and move its hoses: the split shows.
	use(step{"tool.eye", "Look at a place"}, step{"opt.bend", "move hoses and covers while looking"}, step{"go.valve", "Go to: air valve"}, step{"place.valve", "Look: air valve"})
	b.waitMirror("split")
	require.Contains(b.t, b.heard(), "split", "what was seen is read out")
	// A reading: the meter on the battery.
	use(step{"tool.meter", "Meter: volts"}, step{"go.battery", "Go to: battery"}, step{"terminal.bat_pos", "battery positive post"},
		step{"terminal.bat_neg", "battery negative post"})
	require.Regexp(b.t, `Meter, volts, red on battery positive post.* 12[.,]\d+ V`, b.heard())
	after("meter")
	use(step{"off.meter", "take the meter's leads off"})
	// The line off the solenoid, the hand pump on its free end, and how long the vacuum holds.
	use(step{"tool.hands", "Hands on: "}, step{"go.solenoid", "Go to: solenoid"}, step{"end.line_valve.b", "Pull off: vacuum line, solenoid to air valve"})
	after("hands")
	use(step{"tool.handpump", "Hand vacuum pump"}, step{"end.line_valve.b", "vacuum line, solenoid to air valve, end"}, step{"opt.stroke.10", "pump 10"})
	require.Contains(b.t, b.waitHeard("strokes"), "kPa")
	use(step{"opt.pumpoff", "take off"}, step{"tool.hands", "Hands on: "}, step{"end.line_valve.b", "Take hold"}, step{"port.sol_out", "solenoid outlet port"})
	after("fitted")
	// The codes.
	use(step{"way.scantool", "Scan tool"}, step{"scan.plug", "Plug in"}, step{"scan.ignition.on", "Key on"}, step{"scan.stored", "Stored"})
	b.waitHeard("P0491")
	after("scantool")
	use(step{"scan.ignition.off", "Key off"}, step{"way.info", "Service info"})
	b.waitMirror("vents the valve's line")
	after("info")
	// Strike a suspect, write a note, repair, verify.
	use(step{"way.notebook", "Notebook"}, step{"suspect.pump_fuse_blown", "pump fuse blown"}, step{"notebook.notes", "Page: Notes"})
	w.write(step{"notebook.note", "note or expected reading"}, "holds no vacuum")
	use(step{"notebook.write", "Write it down"})
	b.waitMirror("1 holds no vacuum")
	after("notebook")
	use(step{"way.bay", "Bay"}, step{"tool.repair", "Repair bench"})
	after("repair")
	use(step{"repair.line_valve", "vacuum line, solenoid to air valve"})
	after("sure")
	use(step{"sure.do", "Yes: "}, step{"tool.repair", "Repair bench"}, step{"repair.drive", "Verify: "})
	b.waitHeard("Verify with an overnight cold start")
	use(step{"way.notebook", "Notebook"}, step{"notebook.close", "Page: Close the order"}, step{"close.cause.valve_line_split", "vacuum line split, solenoid to air valve"},
		step{"close.unit", "2 Unit"}, step{"close.unit.line_valve", "vacuum line, solenoid to air valve"}, step{"close.proof", "3 Proof"}, step{"close.proof.1", "1 Look at"})
	after("closing")
	use(step{"close.finish", "Close the order"})
	said := b.waitMirror("of 100, passed")
	require.Contains(b.t, said, "vacuum line split")
	after("debrief")
}

// lessonThrough works a whole lesson: reads every step, answers every question rightly, and comes back to the shelf.
func lessonThrough(b *browser, w way, id string, after func(stop string)) {
	b.t.Helper()
	shelf, err := lessons.Builtin()
	require.NoError(b.t, err)
	l, err := shelf.Find(id)
	require.NoError(b.t, err)
	w.use(step{"board.lessons", "Lessons"})
	b.waitMirror("Why it runs")
	for range shelf.IDs() { // the shelf has more than one page
		if slices.ContainsFunc(b.controls(), func(c control) bool { return c.ID == "lesson.open."+id }) {
			break
		}
		w.use(step{"lesson.page.on", "Lessons: on to page"})
		b.frames(3)
	}
	w.use(step{"lesson.open." + id, ": " + l.Title})
	asked := 0
	for n, st := range l.Steps {
		b.waitMirror("step " + strconv.Itoa(n+1))
		after("text")
		if st.Ask != nil {
			asked++
			w.use(step{"lesson.next", "Question"})
			answer(b, w, l, st.Ask)
			w.use(step{"lesson.answer", "Answer"})
			require.Contains(b.t, strings.ToLower(b.waitHeard(st.Ask.Why)), "right")
			if asked == 1 {
				after("answered")
			}
		}
		last := "Next"
		if n == len(l.Steps)-1 {
			last = "To the shelf"
		}
		w.use(step{"lesson.next", last})
	}
	b.waitMirror("done, " + strconv.Itoa(asked) + " of " + strconv.Itoa(asked) + " right")
}

func answer(b *browser, w way, l *lessons.Lesson, ask *lessons.Ask) {
	b.t.Helper()
	if ask.Kind == lessons.Number {
		w.write(step{"lesson.number", "your reading"}, strconv.FormatFloat(*ask.About, 'f', -1, 64))
		return
	}
	for i, o := range ask.Options {
		if o.Right {
			w.use(step{"lesson.option." + strconv.Itoa(i), o.Text})
		}
	}
	var struck []int
	for i, s := range ask.Suspects {
		if s.Struck {
			struck = append(struck, i)
		}
	}
	for _, i := range struck {
		w.use(step{"lesson.option." + strconv.Itoa(i), b.ready("lesson.option." + strconv.Itoa(i)).Name})
	}
}

// A whole order and a whole lesson through the page's words alone, as a screen reader works them, with the page held against the
// checker's rules at each stop.
func TestOrderAndLessonInWords(t *testing.T) {
	address := serveBay(t, nil, "--no-open")
	b := startBrowser(t)
	b.small()
	b.open(address)
	rules := newAxe(b)
	r := reader{b}
	journey(b, r, func(stop string) {
		b.sayInto("words-" + stop)
		b.noNameTwice(stop)
		rules.check(stop)
	})
	r.use(step{name: "Job board"})
	lessonThrough(b, r, "why_it_runs", func(stop string) {
		b.sayInto("words-" + stop)
		b.noNameTwice(stop)
		if stop != "text" {
			rules.check(stop)
		}
	})
	r.use(step{name: "Settings"})
	b.waitMirror("Captions")
	rules.check("settings")
	b.noNameTwice("settings")
	r.use(step{name: "Language: Deutsch"})
	b.waitMirror("Sprache: Deutsch")
	require.Equal(t, "de", eval[string](b, "document.documentElement.lang"), "a reader has to know in which language to read")
	require.Contains(t, eval[string](b, "document.title"), "Einstellungen")
}

// The same by keys alone.
func TestOrderAndLessonByKeys(t *testing.T) {
	address := serveBay(t, nil, "--no-open")
	b := startBrowser(t)
	b.small()
	b.open(address)
	k := keys{b}
	journey(b, k, func(stop string) { b.screenshot("keys-" + stop) })
	k.use(step{id: "way.board"})
	lessonThrough(b, k, "method", func(string) {})
	// The way out of the picture and back.
	require.Equal(t, "CANVAS", eval[string](b, "document.activeElement.tagName"))
	b.press("Ctrl+m")
	require.Equal(t, "H1", eval[string](b, "document.activeElement.tagName"))
	b.press("Shift+Tab")
	require.Equal(t, "CANVAS", eval[string](b, "document.activeElement.tagName"))
}

// A whole lesson by mouse.
func TestLessonByMouse(t *testing.T) {
	address := serveBay(t, nil, "--no-open")
	b := startBrowser(t)
	b.small()
	b.open(address)
	lessonThrough(b, mouse{b}, "electrics", func(stop string) { b.screenshot("lesson-" + stop) })
}
