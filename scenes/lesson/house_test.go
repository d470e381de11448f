package lesson_test

import (
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/scenarios/lessons"
	"coldbay/scenes/board"
	"coldbay/scenes/cutaway"
	"coldbay/scenes/lesson"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/scenes/ui"
)

// store keeps answers in memory.
type store struct {
	files map[string][]byte
	fail  error
}

func (s *store) Load(name string) ([]byte, error) { return s.files[name], nil }

func (s *store) Append(name string, data []byte) error {
	if s.fail != nil {
		return s.fail
	}
	s.files[name] = append(s.files[name], data...)
	return nil
}

func (s *store) Aside(name string) error {
	s.files[name+"-before"] = s.files[name]
	delete(s.files, name)
	return nil
}

// house is a window without a window that has lesson mode only: ticks and frames are driven by the test.
type house struct {
	t testing.TB
	*stage.Director
	screen *ebiten.Image
	now    time.Time
	lesson *lesson.Scene
	cut    *cutaway.Scene
	store  *store
	hasty  bool // films are not waited for
	mesh   paint.Mesh
}

func open(t testing.TB, w, h float64, lang string) *house {
	t.Helper()
	msg, err := messages.Load(lang)
	require.NoError(t, err)
	desk := stage.NewDesk(&standin.Orders{}, msg)
	shelf, scene := lesson.New(desk, lessons.Builtin)
	x := &house{t: t, now: time.Unix(1000, 0), lesson: scene, cut: cutaway.New(desk, lessons.Builtin), store: &store{files: map[string][]byte{}}}
	scene.Keep = x.store
	x.Director, err = stage.New(desk, map[string]stage.Scene{stage.Board: board.New(desk), stage.Lessons: shelf, stage.Lesson: scene, stage.Cutaway: x.cut})
	require.NoError(t, err)
	desk.Go(stage.Lessons)
	x.Director.Now = func() time.Time { return x.now }
	x.Size(w, h, 1)
	x.screen = ebiten.NewImage(int(w), int(h))
	t.Cleanup(func() { x.Free(); x.screen.Deallocate() })
	x.settle()
	return x
}

// panel is the cutaway that shows, nil for none. Its clock is the test's.
func (x *house) panel() *cutaway.Panel {
	p := x.lesson.Panel
	if x.Desk.Scene() == stage.Cutaway {
		p = x.cut.Panel
	} else if x.Desk.Scene() != stage.Lesson {
		return nil
	}
	if p != nil {
		p.Now = func() time.Time { return x.now }
	}
	return p
}

// step is one frame, ms later. What moves is drawn into a mesh that nobody sees.
func (x *house) step(ms int) {
	p := x.panel()
	x.Tick(ui.Input{})
	if p != nil {
		x.mesh.Reset()
		x.mesh.Scale = 1
		p.Live(&x.mesh, 1)
	}
	x.now = x.now.Add(time.Duration(ms) * time.Millisecond)
}

// settle waits for films without letting the clock run.
func (x *house) settle() {
	x.t.Helper()
	for i := 0; ; i++ {
		x.step(0)
		if p := x.panel(); p == nil || x.hasty || p.Ready() && !p.Busy() {
			break
		}
		require.Less(x.t, i, 20000, "films are not done")
		time.Sleep(time.Millisecond)
	}
	x.step(0)
	x.step(0)
}

// run lets the clock run for a time.
func (x *house) run(seconds float64) {
	for range int(seconds * 50) {
		x.step(20)
	}
}

func (x *house) press(ids ...string) {
	x.t.Helper()
	for _, id := range ids {
		require.True(x.t, x.Page.Press(id), "control %s is missing or can't be used in scene %s", id, x.Desk.Scene())
		x.Desk.Touch()
		x.settle()
	}
}

// good requires a legible screen; when the environment names a folder for pictures it is kept there.
func (x *house) good(name string) {
	x.t.Helper()
	for _, f := range x.Built().Faults() {
		x.t.Errorf("%s: %s", name, f)
	}
	dir := os.Getenv("COLDBAY_SHOTS")
	if dir == "" {
		return
	}
	x.Draw(x.screen)
	w, _ := x.Logical()
	f, err := os.Create(filepath.Join(dir, fmt.Sprintf("%s-%d.png", name, int(w))))
	require.NoError(x.t, err)
	defer f.Close()
	require.NoError(x.t, png.Encode(f, x.screen))
}
