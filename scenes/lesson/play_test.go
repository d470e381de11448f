package lesson_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	inside "coldbay/sim/cutaway"
)

func (x *house) find(step string) *lessons.Step {
	x.t.Helper()
	l, at, _ := x.lesson.Lesson()
	require.Equal(x.t, step, l.Steps[at].ID)
	return &l.Steps[at]
}

// The clock runs at its speed, stops where the step wants it to, can be set back, and goes on to the end when asked.
func TestClock(t *testing.T) {
	x := open(t, 1280, 720, "en")
	x.press("lesson.open.why_it_runs")
	p, st := x.panel(), x.find("rich")
	require.True(t, p.Playing())
	from := p.At()
	x.run(2)
	require.InDelta(t, from+2*st.Show.Speed, p.At(), 0.1)
	x.run(20)
	require.InDelta(t, st.Show.Until, p.At(), 1e-9)
	require.False(t, p.Playing())
	x.press("film.back", "film.back")
	require.InDelta(t, st.Show.Until-2, p.At(), 1e-9)
	x.press("time.5")
	require.InDelta(t, 50, p.At(), 1e-9)
	x.press("film.speed.10", "film.play")
	x.run(10)
	require.InDelta(t, 130, p.At(), 1e-9)
	require.False(t, p.Playing())
	x.press("film.play")
	require.Less(t, p.At(), 5.0, "at the end it begins anew")
}

// A fault is faded in: each severity is another film of the same car, and the readings follow.
func TestFade(t *testing.T) {
	x := open(t, 1024, 600, "en")
	x.press("lesson.free", "cutaway.fault")
	for range 5 {
		if _, ok := x.Page.Find("fault.valve_line_split"); ok {
			break
		}
		x.press("fault.page.on")
	}
	x.press("fault.valve_line_split", "time.3")
	p := x.panel()
	read := func() float64 {
		f, ok := p.Film(inside.ColdStart, lessons.Who{Fault: p.Shown().Fault, Severity: p.Shown().Severity})
		require.True(t, ok)
		return f.Read(inside.Reading{Of: "chamber_vacuum", At: p.At()})
	}
	last := 1e9
	for _, n := range []int{3, 6, 8, 10} {
		x.press(fmt.Sprintf("fade.%d", n))
		require.InDelta(t, float64(n)/10, p.Shown().Severity, 1e-9)
		require.Less(t, read(), last)
		last = read()
	}
	require.Less(t, last, 3.0)
	x.press("fade.0")
	var all []string
	for _, n := range x.Page.Tree() {
		all = append(all, n.Name)
	}
	require.Contains(t, strings.Join(all, "\n"), "Healthy car")
	require.Contains(t, strings.Join(all, "\n"), "valve chamber: 49.3 kPa")
}

// Answers are graded and kept at once, wrong ones too; the lesson goes on where it was.
func TestAnswersAreKept(t *testing.T) {
	x := open(t, 1024, 600, "en")
	x.press("lesson.open.electrics", "lesson.next")
	c, ok := x.Page.Find("lesson.answer")
	require.True(t, ok)
	require.True(t, c.Off, "nothing to answer with yet")
	x.Page.Focus("lesson.number")
	x.Tick(ui.Input{Typed: []rune("31")})
	x.settle()
	x.press("lesson.answer")
	said := x.said()
	require.Contains(t, said, "You read 31; it is 27 A.")
	x.press("lesson.retry")
	x.Page.Focus("lesson.number")
	x.Tick(ui.Input{Typed: []rune("26,9")})
	x.settle()
	x.Tick(ui.Input{Keys: []ui.Key{ui.KeyEnter}})
	x.settle()
	require.Contains(t, x.said(), "Right: 27 A.")
	shelf, err := lessons.Builtin()
	require.NoError(t, err)
	l, err := shelf.Find("electrics")
	require.NoError(t, err)
	marks, err := l.ReadRecord(x.store.files["lesson-electrics"])
	require.NoError(t, err)
	require.Len(t, marks, 3)
	require.Equal(t, lessons.Standing{Begun: true, Asked: 6, Right: 1, Points: 1, Seen: 1}, l.Stand(marks))
	// A strike by its suspects.
	x.press("lesson.next", "lesson.next", "lesson.next", "lesson.next")
	st := x.find("joint")
	for i, s := range st.Ask.Suspects {
		if s.Struck {
			x.press(fmt.Sprintf("lesson.option.%d", i))
		}
	}
	x.press("lesson.answer")
	require.Contains(t, x.said(), "That is right.")
	require.Contains(t, x.said(), "still a suspect: pump ground corroded")
	// Leaving and coming back.
	x.Tick(ui.Input{Keys: []ui.Key{ui.KeyEscape}})
	x.settle()
	require.Equal(t, stage.Lessons, x.Desk.Scene())
	require.Contains(t, x.said(), "begun, 2 of 6 right")
	x.press("lesson.open.electrics")
	x.find("same")
}

// said is all that assistive technology can read on the screen.
func (x *house) said() string {
	var out []string
	for _, n := range x.Page.Tree() {
		out = append(out, n.Name)
	}
	return strings.Join(out, "\n")
}

// A damaged record is put aside and does not keep anybody out; a store that fails is told of.
func TestStoreTroubles(t *testing.T) {
	x := open(t, 1024, 600, "en")
	x.store.files["lesson-air"] = []byte("rubbish\n")
	x.press("lesson.open.air")
	require.Equal(t, stage.Lesson, x.Desk.Scene())
	require.Equal(t, "rubbish\n", string(x.store.files["lesson-air-before"]))
	x.store.fail = errors.New("disk full")
	x.press("lesson.next", "lesson.next")
	require.True(t, x.Desk.ToastBad)
	require.Contains(t, x.Desk.Toast, "disk full")
	x.lesson.Open("nothing")
	require.Contains(t, x.Desk.Toast, `there is no lesson "nothing"`)
}

// A line that was cut off when the program ended costs that line only, and what is kept afterwards can be read.
func TestTornRecord(t *testing.T) {
	x := open(t, 1024, 600, "en")
	x.press("lesson.open.air", "lesson.next", "lesson.next")
	x.store.files["lesson-air"] = append(x.store.files["lesson-air"], `{"step":"pre`...)
	x.press("lesson.back", "lesson.back")
	x.Desk.Go(stage.Lessons)
	x.settle()
	x.press("lesson.open.air", "lesson.next", "lesson.next")
	x.Desk.Go(stage.Lessons)
	x.settle()
	x.press("lesson.open.air")
	l, at, _ := x.lesson.Lesson()
	require.Equal(t, "leak", l.Steps[at].ID)
}

// Two windows with one lesson add to one record: each has what the other did, and neither takes anything from it, also when the record was moved
// out of the way meanwhile or could not be written for a time.
func TestTwoWindowsOfOneLesson(t *testing.T) {
	x, y := open(t, 1024, 600, "en"), open(t, 1024, 600, "en")
	y.store, y.lesson.Keep = x.store, x.store
	number := func(h *house, typed string) {
		c, ok := h.Page.Find("lesson.number")
		require.True(t, ok)
		c.Edit(typed)
		h.settle()
		h.press("lesson.answer")
	}
	l, err := lessons.Builtin()
	require.NoError(t, err)
	electrics, err := l.Find("electrics")
	require.NoError(t, err)
	round := func(s lessons.Standing) lessons.Standing { s.Points = math.Floor(s.Points); return s }
	stand := func() lessons.Standing {
		marks, err := electrics.ReadRecord(x.store.files["lesson-electrics"])
		require.NoError(t, err)
		return electrics.Stand(marks)
	}
	x.press("lesson.open.electrics", "lesson.next")
	y.press("lesson.open.electrics", "lesson.next") // which begins with what x has not seen yet
	number(x, "27")
	y.wrong(electrics.Steps[1].Ask)
	require.Equal(t, lessons.Standing{Begun: true, Asked: 6, Right: 1, First: 1, Points: 1, Seen: 2}, round(stand()))
	x.press("lesson.next", "lesson.next", "lesson.next")
	require.Equal(t, 3, stand().Seen)
	y.Desk.Go(stage.Lessons)
	y.settle()
	require.Contains(t, y.said(), "begun, 1 of 6 right")
	y.press("lesson.open.electrics")
	_, step, _ := y.lesson.Lesson()
	require.Equal(t, 3, step, "it goes on behind what was read in the other window")
	require.Equal(t, 1, strings.Count(string(x.store.files["lesson-electrics"]), lessons.RecordFormat))

	// An older program in another window could not read the record and moved it away.
	require.NoError(t, x.store.Aside("lesson-electrics"))
	y.press("lesson.next")
	require.Equal(t, lessons.Standing{Begun: true, Asked: 6, Right: 1, First: 1, Points: 1, Seen: 4}, round(stand()))
	// What could not be kept is with the next thing that can.
	x.store.fail = errors.New("disk full")
	x.press("lesson.next", "lesson.next", "lesson.next", "lesson.next", "lesson.next")
	require.Equal(t, 4, stand().Seen)
	x.store.fail = nil
	x.press("lesson.next")
	require.Equal(t, 6, stand().Seen)
}

// Tab, arrows, Enter and Escape reach everything: from the shelf through a step, the clock and a question.
func TestKeyboardAlone(t *testing.T) {
	x := open(t, 1024, 600, "en")
	key := func(k ...ui.Key) {
		for _, k := range k {
			x.Tick(ui.Input{Keys: []ui.Key{k}})
			x.settle()
		}
	}
	tab := func(id string) {
		for range 160 {
			if c, ok := x.Page.Focused(); ok && c.ID == id {
				return
			}
			key(ui.KeyTab)
		}
		require.Fail(t, "Tab never reaches "+id)
	}
	tab("lesson.open.vacuum")
	key(ui.KeyEnter)
	require.Equal(t, stage.Lesson, x.Desk.Scene())
	tab("part.0.reservoir")
	key(ui.KeyEnter)
	c, _ := x.Page.Find("part.0.reservoir")
	require.True(t, c.On)
	require.Contains(t, c.Name, "kPa")
	tab("time.3")
	key(ui.KeySpace)
	require.InDelta(t, 30, x.panel().At(), 1e-9)
	tab("lesson.next")
	key(ui.KeyEnter)
	tab("lesson.number")
	x.Tick(ui.Input{Typed: []rune("49.5")})
	x.settle()
	key(ui.KeyEnter)
	require.Contains(t, x.said(), "Right: 49 kPa.")
	key(ui.KeyEscape)
	require.Equal(t, stage.Lessons, x.Desk.Scene())
	key(ui.KeyEscape)
	require.Equal(t, stage.Board, x.Desk.Scene())
}

// With the clock stopped the flows come to rest, so that an unchanged screen is not drawn again; with reduced motion nothing moves at all
// unless the clock was started.
func TestComesToRest(t *testing.T) {
	x := open(t, 1280, 720, "en")
	x.press("lesson.free", "time.3")
	p := x.panel()
	sum := func(seconds float64, ms int) uint64 {
		x.mesh.Reset()
		x.mesh.Scale = 1
		p.Live(&x.mesh, seconds)
		x.now = x.now.Add(time.Duration(ms) * time.Millisecond)
		return x.mesh.Sum()
	}
	require.NotEqual(t, sum(1, 50), sum(1, 50), "flows are shown to move after the clock was set")
	x.now = x.now.Add(10 * time.Second)
	sum(1, 50)
	require.Equal(t, sum(1, 50), sum(1, 50))
	x.press("time.4")
	sum(0, 50)
	require.Equal(t, sum(0, 50), sum(0, 50), "reduced motion")
	p.Play()
	before := p.At()
	sum(0, 50)
	sum(0, 50)
	require.Greater(t, p.At(), before, "a clock that was started runs")
}

// What moves stays within the budget of triangles: two cars laid open in full, in the usual window and in a large one.
func TestLiveTriangles(t *testing.T) {
	for _, size := range [][2]float64{{1280, 720}, {2560, 1440}} {
		x := open(t, size[0], size[1], "en")
		x.press("lesson.free", "beside.healthy")
		p := x.panel()
		p.Fault("valve_line_split")
		x.settle()
		most := 0
		for at := 0.0; at < 120; at += 7 {
			p.Seek(at)
			x.settle()
			x.Draw(x.screen)
			most = max(most, x.LiveTriangles())
		}
		require.Less(t, most, 6000)
		require.Greater(t, most, 500)
	}
}

// The pictures have what they are about: a healthy run is blue with vacuum and green with air, and without air the green is gone.
func TestPixels(t *testing.T) {
	x := open(t, 1280, 720, "en")
	x.press("lesson.free", "view.airside", "time.3")
	count := func(want paint.Ink) int {
		x.Draw(x.screen)
		n := 0
		for py := 130; py < 620; py += 2 {
			for px := 8; px < 940; px += 2 {
				r, g, b, _ := x.screen.At(px, py).RGBA()
				near := func(a uint32, b uint8) bool { d := int(a>>8) - int(b); return d > -20 && d < 20 }
				if near(r, want.R) && near(g, want.G) && near(b, want.B) {
					n++
				}
			}
		}
		return n
	}
	green := paint.Blend(paint.RGB(0x10252c), paint.Green, 0.5)
	require.Greater(t, count(green), 1500)
	x.panel().Fault("pump_fuse_blown")
	x.settle()
	require.Less(t, count(green), 300)
}

// BenchmarkFrame is one frame on the processor's side while a film runs; rebuild is one in which the readings are written anew.
func BenchmarkFrame(b *testing.B) {
	x := open(b, 1280, 720, "en")
	for _, c := range []struct {
		name  string
		press []string
	}{{"shelf", nil}, {"cutaway", []string{"lesson.free", "time.3"}}, {"cutaway-two", []string{"beside.without_air", "time.3"}}, {"lesson", []string{"cutaway.lessons", "lesson.open.why_it_runs"}}} {
		x.press(c.press...)
		if p := x.panel(); p != nil && !p.Playing() {
			p.Play()
		}
		for _, change := range []bool{false, true} {
			name := c.name
			if change {
				name += "/rebuild"
			}
			b.Run(name, func(b *testing.B) {
				b.ReportAllocs()
				tri := 0
				for b.Loop() {
					if p := x.panel(); p != nil && p.At() > 60 {
						p.Seek(20)
					}
					x.now = x.now.Add(16 * time.Millisecond)
					if change {
						x.Desk.Touch()
					}
					x.Tick(ui.Input{})
					x.Draw(x.screen)
					tri = x.LiveTriangles()
				}
				b.ReportMetric(float64(tri), "live-triangles")
			})
		}
	}
}
