package rooms_test

import (
	"errors"
	"flag"
	"fmt"
	"image"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
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
	"coldbay/sim/bench"
)

var update = flag.Bool("update", false, "keep the pictures of the scenes as they are drawn now, where they differ from those kept")

// golden is where the kept pictures are.
const golden = "testdata/golden"

// memory keeps lessons' answers for the length of a test.
type memory map[string][]byte

func (m memory) Load(name string) ([]byte, error) { return m[name], nil }

func (m memory) Append(name string, data []byte) error {
	m[name] = append(m[name], data...)
	return nil
}

func (m memory) Aside(name string) error {
	delete(m, name)
	return nil
}

// sitter is a window that holds still: its clock stands, nothing moves by itself, nothing is pointed at.
func sitter(t *testing.T, w, h float64, orders stage.Orders, wish func(*prefs.Prefs)) *house {
	t.Helper()
	x := openWith(t, w, h, "en", orders)
	x.pace, x.Still = 0, true
	x.Scenes[stage.Lesson].(*lesson.Scene).Keep = memory{}
	if wish != nil {
		x.wish(wish)
	}
	return x
}

// panel is the cutaway that shows, with its films made and its clock stopped at a time.
func (x *house) panel(at float64) {
	x.t.Helper()
	var p *cutaway.Panel
	switch s := x.Scenes[x.Desk.Scene()].(type) {
	case *lesson.Scene:
		p = s.Panel
	case *cutaway.Scene:
		p = s.Panel
	}
	require.NotNil(x.t, p)
	p.Now = func() time.Time { return x.now }
	if p.Playing() {
		p.Play()
	}
	p.Seek(at)
	for i := 0; !p.Ready() || p.Busy(); i++ {
		x.Tick(ui.Input{})
		x.Draw(x.screen) // takes a film that is done
		require.Less(x.t, i, 20000, "films are not done")
		time.Sleep(time.Millisecond)
	}
	x.Draw(x.screen)
	x.settle()
}

// seen is the screen as it is drawn now, at half size.
func (x *house) seen() *image.RGBA {
	x.t.Helper()
	x.Draw(x.screen)
	r := x.screen.Bounds()
	pix := make([]byte, 4*r.Dx()*r.Dy())
	x.screen.ReadPixels(pix)
	return halve(pix, r.Dx(), r.Dy())
}

// gallery is all pictures that were drawn in a run.
type gallery struct{ drawn []string }

// hang draws the screen and compares it with the kept picture of that name.
func (g *gallery) hang(x *house, name string) {
	x.t.Helper()
	g.drawn = append(g.drawn, name+".png")
	got := x.seen()
	x.frame("golden-" + name)
	path := filepath.Join(golden, name+".png")
	want, err := readPicture(path)
	if errors.Is(err, fs.ErrNotExist) && *update {
		require.NoError(x.t, writePicture(path, few(got)))
		return
	}
	require.NoError(x.t, err, "-update keeps the picture as it is now")
	blots := []blot{{At: got.Rect}}
	if want.Rect == got.Rect {
		blots = unlike(got, want, maxUnlike)
	}
	switch {
	case len(blots) == 0:
	case *update:
		require.NoError(x.t, writePicture(path, few(got)))
	default:
		x.t.Error(g.complain(x, name, got, want, blots))
	}
}

// complain keeps what was drawn, what was expected and where they differ, and says so.
func (g *gallery) complain(x *house, name string, got, want *image.RGBA, blots []blot) string {
	dir := artifacts(x.t.(*testing.T))
	words := fmt.Sprintf("%s is not as it was: %d blocks differ", name, len(blots))
	if want.Rect != got.Rect {
		words = fmt.Sprintf("%s is %v, was %v", name, got.Rect.Max, want.Rect.Max)
	} else {
		at := blots[0].At
		words += fmt.Sprintf(", most at %d,%d on the screen (%.1f, at most %.1f passes)%s", at.Min.X*shrink, at.Min.Y*shrink, blots[0].Score, maxUnlike, x.around(at))
	}
	for what, img := range map[string]image.Image{"got": got, "want": want, "diff": marked(want, blots)} {
		if err := writePicture(filepath.Join(dir, name+"-"+what+".png"), img); err != nil {
			words += "\n" + err.Error()
		}
	}
	return fmt.Sprintf("%s\n  %s-{got,want,diff}.png\n  if this is as it should be: go test ./scenes/rooms -run 'Golden' -update, and look at the picture",
		words, filepath.Join(dir, name))
}

// around names what stands at a place of the screen.
func (x *house) around(at image.Rectangle) string {
	off := x.Shown()
	_, scale := x.screen.Bounds().Dx(), float64(x.screen.Bounds().Dx())/off.W
	r := paint.Rect{X: off.X + float64(at.Min.X*shrink)/scale, Y: off.Y + float64(at.Min.Y*shrink)/scale, W: block * shrink / scale, H: block * shrink / scale}
	var near []string
	for _, w := range x.Built().Front.Words {
		if o := w.Box.Overlap(r); o.W > 0 && o.H > 0 {
			near = append(near, fmt.Sprintf("%q", w.S))
		}
	}
	for _, c := range x.Page.Live() {
		if o := c.Rect.Overlap(r); o.W > 0 && o.H > 0 && c.Rect.W < off.W/2 {
			near = append(near, c.ID)
		}
	}
	if len(near) == 0 {
		return ""
	}
	return ", at " + strings.Join(slices.Compact(near), ", ")
}

// artifacts is a directory that outlives the test: the one that -artifacts names, otherwise one among the temporary files.
func artifacts(t *testing.T) string {
	if f := flag.Lookup("test.artifacts"); f != nil && f.Value.String() == "true" {
		return t.ArtifactDir()
	}
	dir, err := os.MkdirTemp("", "coldbay-golden-")
	require.NoError(t, err)
	return dir
}

func readPicture(path string) (*image.RGBA, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return asRGBA(img), nil
}

func writePicture(path string, img image.Image) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	if err := enc.Encode(f, img); err != nil {
		f.Close()
		return fmt.Errorf("%s: %w", path, err)
	}
	return f.Close()
}

// Every scene looks as it did when somebody last looked at it.
func TestGolden(t *testing.T) {
	g := &gallery{}
	t.Run("car_a", g.first)
	for _, id := range []string{"car_b", "car_c", "car_d"} {
		t.Run(id, func(t *testing.T) { g.car(t, id) })
	}
	t.Run("lessons", g.lessons)
	t.Run("usual", func(t *testing.T) { g.other(t, "1280", 1280, 720, nil) })
	t.Run("large", func(t *testing.T) { g.other(t, "200", 1024, 600, func(p *prefs.Prefs) { p.Text = 200 }) })
	t.Run("contrast", func(t *testing.T) { g.other(t, "contrast", 1024, 600, func(p *prefs.Prefs) { p.Contrast = true }) })
	if strings.Contains(flag.Lookup("test.run").Value.String(), "/") || t.Failed() {
		return // not all were drawn
	}
	kept, err := filepath.Glob(filepath.Join(golden, "*.png"))
	require.NoError(t, err)
	for _, f := range kept {
		if slices.Contains(g.drawn, filepath.Base(f)) {
			continue
		}
		if !*update {
			t.Errorf("%s is a picture of nothing that is drawn", f)
			continue
		}
		require.NoError(t, os.Remove(f))
	}
}

// stops are the stations of car A that are kept.
var stops = []string{
	"board", "order", "bay-front", "bay-eye", "bay-meter-battery", "bay-meter-fusebox", "bay-meter-pump", "bay-meter-valve", "bay-meter-solenoid",
	"bay-meter-manifold", "bay-meter-dash", "bay-meter-tailpipe", "bay-hands-pump", "bay-full", "bay-relay-out", "bay-front-apart", "bay-extraction",
	"bay-dash-running", "repair", "sure", "info-air", "info-wiring", "info-spec", "info-causes", "scan-unplugged", "scan", "scan-chart", "notebook-ledger",
	"notebook-notes", "notebook-close-unit", "notebook-close-proof", "notebook-close-cause", "debrief-marks", "debrief-timeline",
	"debrief-predictions", "debrief-practise", "debrief-board", "debrief-bill", "debrief-thought", "debrief-thought-asked", "debrief-replay",
	"debrief-replay-front",
}

func (g *gallery) first(t *testing.T) {
	x := sitter(t, 1024, 600, &standin.Orders{}, nil)
	left := slices.Clone(stops)
	stations(x, func(name string) {
		if i := slices.Index(left, name); i >= 0 {
			left = slices.Delete(left, i, i+1)
			g.hang(x, name)
		}
	})
	require.Empty(t, left, "stations that were not passed")
	x.press("way.settings")
	g.hang(x, "settings")
}

// car is another car: whole, at each place with the meter in hand, and with what comes off taken off.
func (g *gallery) car(t *testing.T, id string) {
	x := sitter(t, 1024, 600, &standin.Orders{Car: id}, nil)
	x.press("board.open.first", "order.read", "order.go", "go.pump")
	g.hang(x, id+"-named-pump")
	x.press("go.front", "tool.hands")
	g.hang(x, id+"-hands-front")
	for _, p := range x.Desk.Cat.Places {
		if p.ID != "front" {
			x.press("tool.meter", "go."+p.ID)
			g.hang(x, id+"-meter-"+p.ID)
		}
	}
	for _, h := range x.Desk.Cat.Hoses {
		x.press("tool.hands", "go."+h.PlaceA, "end."+h.ID+".a")
	}
	for _, s := range x.Desk.Cat.Parts {
		x.press("go."+s.Place, "part."+s.ID)
	}
	x.press("go.front")
	g.hang(x, id+"-apart-front")
	var stems []bench.Stem
	for _, p := range x.Desk.View.Parts {
		stems = append(stems, bench.Stem{ID: p.ID, Share: 0.4})
	}
	last := x.Desk.Cat.Parts[len(x.Desk.Cat.Parts)-1].Place
	if id == "car_d" {
		last = "diverter"
	}
	x.press("tool.hands", "go."+last)
	for _, h := range x.Desk.Cat.Hoses {
		if h.PlaceB == last {
			x.press("end." + h.ID + ".b")
		}
	}
	x.Desk.View.Stems = stems
	x.press("tool.step")
	g.hang(x, id+"-stem")
	x.press("way.info", "info.air")
	g.hang(x, id+"-air")
	x.press("info.wiring")
	g.hang(x, id+"-wiring")
}

func (g *gallery) lessons(t *testing.T) {
	x := sitter(t, 1024, 600, &standin.Orders{}, nil)
	x.Desk.Go(stage.Lessons)
	x.settle()
	g.hang(x, "lessons")
	x.press("lesson.open.electrics")
	x.panel(20)
	g.hang(x, "lesson-step")
	x.press("lesson.next")
	x.panel(20)
	g.hang(x, "lesson-number")
	x.Desk.Go(stage.Lessons)
	x.settle()
	x.press("lesson.open.why_it_runs", "lesson.next")
	x.panel(30)
	g.hang(x, "lesson-number-two")
	x.toOptions()
	x.press("lesson.option.1", "lesson.answer")
	x.panel(30)
	g.hang(x, "lesson-choice")
	x.Desk.Go(stage.Lessons)
	x.settle()
	x.press("lesson.open.electrics")
	x.toOptions()
	x.press("lesson.option.0", "lesson.option.2", "lesson.answer")
	x.panel(20)
	g.hang(x, "lesson-strike")
	x.Desk.Go(stage.Lessons)
	x.settle()
	x.press("lesson.free")
	x.panel(30)
	g.hang(x, "cutaway")
	x.press("beside.without_air", "view.airside")
	x.panel(30)
	g.hang(x, "cutaway-two")
	x.press("cutaway.fault")
	g.hang(x, "cutaway-faults")
	x.press("fault.close", "beside.nothing", "view.all", "cutaway.car")
	g.hang(x, "cutaway-cars")
	for _, id := range []string{"car_b", "car_c", "car_d"} {
		if id != "car_b" {
			x.press("cutaway.car")
		}
		x.press("car." + id)
		x.panel(30)
		g.hang(x, "cutaway-"+id)
	}
	x.press("beside.healthy", "cutaway.fault", "fault.belt_gone")
	x.panel(30)
	g.hang(x, "cutaway-car_d-two")
}

// toOptions goes on in a lesson to the next question that is answered by choosing.
func (x *house) toOptions() {
	x.t.Helper()
	for range 20 {
		if _, ok := x.Page.Find("lesson.option.0"); ok {
			return
		}
		x.press("lesson.next")
	}
	require.Fail(x.t, "no question to choose in")
}

// other is a walk through one scene of each kind, in another window or with other wishes.
func (g *gallery) other(t *testing.T, tag string, w, h float64, wish func(*prefs.Prefs)) {
	x := sitter(t, w, h, &standin.Orders{}, wish)
	g.hang(x, "board-"+tag)
	x.press("board.open.first")
	g.hang(x, "order-"+tag)
	x.press("order.read", "order.go", "tool.meter")
	g.hang(x, "bay-front-"+tag)
	x.press("go.pump")
	g.hang(x, "bay-pump-"+tag)
	x.press("way.info", "info.wiring")
	g.hang(x, "info-wiring-"+tag)
	x.press("way.notebook")
	g.hang(x, "notebook-"+tag)
	x.Desk.LoadDebrief()
	x.settle()
	g.hang(x, "debrief-"+tag)
	x.Desk.Go(stage.Lessons)
	x.settle()
	x.press("lesson.open.electrics")
	x.panel(20)
	g.hang(x, "lesson-"+tag)
}
