package stage

import (
	"math"
	"strconv"
	"time"

	"github.com/hajimehoshi/ebiten/v2"

	"coldbay/scenes/paint"
	"coldbay/scenes/platform"
	"coldbay/scenes/prefs"
	"coldbay/scenes/sound"
	"coldbay/scenes/ui"
)

// The smallest and the usual logical size of the window. Smaller windows show the smallest size scaled down, larger
// ones the usual size scaled up.
const (
	MinW, MinH     = 1024, 600
	UsualW, UsualH = 1280, 720
	maxScale       = 2    // device pixels per outside unit that are drawn at most
	maxPixels      = 4096 // width of a picture in device pixels that every graphics card takes
)

// Director is the engine's game: it shows the desk's scene, hands it input and keeps its layers.
type Director struct {
	Desk   *Desk
	Page   ui.Page
	Scenes map[string]Scene
	// Now tells the time; tests replace it.
	Now func() time.Time
	// First is an order to open at once.
	First string
	// Still stops everything that moves by itself, whatever the settings say.
	Still bool
	// Sound plays what is heard; nil is silent.
	Sound *sound.Player
	// Keep says that the screen keeps its picture between frames, so that a frame in which nothing changed draws nothing.
	Keep bool
	// Before, when set, runs at the start of each update; an error ends the program. After runs after each frame.
	Before func() error
	After  func(screen *ebiten.Image)

	fonts             *paint.Fonts
	back, front, over *paint.List
	build             *ui.Build
	layers            [2]paint.Layer
	base, top         paint.Layer // the two layers as one picture; what lies above everything
	last              shownFrame
	spent             paint.Cost // on what moves
	live              paint.Mesh
	w, h              float64 // logical size of what is laid out
	view              view
	applied           prefs.Prefs
	outW, outH        float64 // outside size
	device            float64 // device pixels per outside unit
	theme             *paint.Theme
	captions          captions
	zoom, scale       float64 // logical to outside; logical to device
	pxW, pxH          int
	shown             string // scene that was built last
	fresh             bool   // lists changed since they were drawn
	opened            time.Time
	overKey           overKey
	hands             hands
	waiting           []platform.Event // done in the page's mirror while work was under way
	order, lesson     string           // what the page's address names
	stop              paint.Rect       // where the words about work stand; a click there stops it
}

// overKey is what the top layer shows; it is built again when this changes.
type overKey struct {
	toast, tip, working, caption string
	scene                        string // on which it lies: each keeps another place free
	bad, modal                   bool
	w, h, scale                  float64
	at                           paint.Rect
	contrast                     bool
}

// New makes a director over a desk and scenes by name.
func New(desk *Desk, scenes map[string]Scene) (*Director, error) {
	fonts, err := paint.LoadFonts()
	if err != nil {
		return nil, err
	}
	d := &Director{Desk: desk, Scenes: scenes, Now: time.Now, fonts: fonts, applied: desk.Prefs}
	d.back, d.front, d.over = paint.NewList(fonts, 1), paint.NewList(fonts, 1), paint.NewList(fonts, 1)
	d.Size(UsualW, UsualH, 1)
	return d, nil
}

// Size sets the window's outside size and the device's pixels per outside unit.
func (d *Director) Size(outW, outH, device float64) {
	outW, outH = math.Max(outW, 200), math.Max(outH, 120)
	d.outW, d.outH, d.device = outW, outH, device
	zoom := math.Min(outW/MinW, outH/MinH)
	if zoom >= 1 {
		zoom = math.Max(1, math.Min(outW/UsualW, outH/UsualH))
	}
	zoom *= float64(max(d.applied.Text, 100)) / 100
	device = math.Min(math.Max(device, 1), maxScale)
	// What is laid out is never smaller than the smallest screen; a window that shows less of it is moved over it.
	w, h := math.Max(outW/zoom, MinW), math.Max(outH/zoom, MinH)
	device = math.Max(1, math.Min(device, maxPixels/(w*zoom)))
	v := paint.Rect{W: outW / zoom, H: outH / zoom}
	if w != d.w || h != d.h || zoom*device != d.scale || v.W != d.view.W || v.H != d.view.H {
		d.w, d.h, d.zoom, d.scale = w, h, zoom, zoom*device
		d.pxW, d.pxH = int(math.Ceil(outW*device)), int(math.Ceil(outH*device))
		d.view.W, d.view.H = v.W, v.H
		d.view.clamp(d.w, d.h)
		d.Desk.Touch()
	}
}

// LayoutF is the engine's question for the size of the screen in device pixels.
func (d *Director) LayoutF(outW, outH float64) (float64, float64) {
	device := 1.0
	if m := ebiten.Monitor(); m != nil {
		device = m.DeviceScaleFactor()
	}
	d.Size(outW, outH, device)
	return float64(d.pxW), float64(d.pxH)
}

// Layout is not used by the engine because LayoutF is there.
func (d *Director) Layout(w, h int) (int, int) { return w, h }

// Logical is the size of the screen in logical units.
func (d *Director) Logical() (w, h float64) { return d.w, d.h }

// Update reads input and lets the desk go on.
func (d *Director) Update() error {
	if d.Before != nil {
		if err := d.Before(); err != nil {
			return err
		}
	}
	d.Tick(d.through(d.hands.read(d.scale)))
	return nil
}

// Tick is one update with the given input; tests come in here.
func (d *Director) Tick(in ui.Input) {
	now := d.Now()
	if d.opened.IsZero() {
		d.opened = now
	}
	if d.First != "" && !d.Desk.Busy() {
		d.Desk.Open(d.First, false)
		d.First = ""
	}
	before := d.Page.FocusID()
	d.Feed(in)
	d.Desk.Poll(now)
	d.events()
	d.apply()
	d.hear(now)
	d.rebuild()
	if c, ok := d.Page.Focused(); ok && c.ID != before && d.Page.Ring {
		d.view.reveal(c.Rect, d.w, d.h)
	}
}

// events does what was done in the page's mirror. What is pressed while work is under way waits for its end; only stopping does not.
func (d *Director) events() {
	d.waiting = append(d.waiting, platform.Events()...)
	for len(d.waiting) > 0 {
		if d.Desk.Busy() {
			for _, e := range d.waiting {
				if e.ID == stopID && !e.Focus || e.Escape {
					d.Desk.Cancel()
					d.waiting = nil
				}
			}
			return
		}
		e := d.waiting[0]
		d.waiting = d.waiting[1:]
		d.event(e)
	}
}

func (d *Director) event(e platform.Event) {
	switch {
	case e.Escape:
		d.Feed(ui.Input{Keys: []ui.Key{ui.KeyEscape}})
	case e.Edit:
		if c, ok := d.Page.Find(e.ID); ok && c.Edit != nil {
			c.Edit(e.Text)
		} else if step, err := strconv.Atoi(e.Text); ok && err == nil {
			d.Page.Slide(e.ID, step)
		}
	case e.Focus:
		d.Page.Focus(e.ID)
		d.Page.Ring = true
	default:
		d.Desk.Toast = ""
		if c, ok := d.Page.Find(e.ID); ok && c.Off {
			d.Page.Say(c.Name)
		}
		d.Page.Press(e.ID)
	}
	d.Desk.Touch()
	d.rebuild()
}

// Feed hands input to the page. While work is under way only Escape counts, and stops it.
func (d *Director) Feed(in ui.Input) {
	if d.Desk.Busy() {
		for _, k := range in.Keys {
			if k == ui.KeyEscape {
				d.Desk.Cancel()
			}
		}
		if _, shown := d.Desk.Working(d.Now()); shown && in.Clicked && d.stop.Has(in.At) {
			d.Desk.Cancel()
		}
		in.Clicked, in.Keys, in.Typed, in.Wheel = false, nil, nil, 0
	}
	if in.Clicked || len(in.Keys) > 0 {
		d.Desk.Toast = ""
	}
	if d.Page.Handle(in) {
		d.Desk.Touch()
	}
	if in.Wheel != 0 && !d.Page.Turns(in.At) {
		d.view.move(paint.Pt{Y: -wheelStep * in.Wheel}, d.w, d.h)
	}
	d.view.move(paint.Pt{X: in.Pan.X * keyStep, Y: in.Pan.Y * keyStep}, d.w, d.h)
}

// rebuild builds the scene again when something changed.
func (d *Director) rebuild() {
	if !d.Desk.changed && d.shown == d.Desk.scene {
		return
	}
	d.Desk.changed = false
	name := d.Desk.scene
	scene := d.Scenes[name]
	fresh := name != d.shown
	if fresh {
		d.shown = name
		d.Page.Focus("")
		d.view.X, d.view.Y = 0, 0
		if e, ok := scene.(Enterer); ok {
			e.Enter()
		}
	}
	for _, l := range []*paint.List{d.back, d.front, d.over} {
		l.Theme = d.theme
	}
	modal := d.Page.Modal() && !fresh
	var sheet paint.Rect
	if modal {
		sheet = d.build.SheetRect
	}
	d.build = ui.NewBuild(d.back, d.front, &d.Page, d.Desk.Msg, d.w, d.h, d.scale)
	scene.Build(d.build)
	d.Page.Settle(modal, fresh)
	d.fresh = true
	if d.Page.Modal() && d.build.SheetRect != sheet {
		d.view.reveal(d.build.SheetRect, d.w, d.h)
	}
	d.mirror()
}

// mirror hands the page's copy what was built, and what is to be read out.
func (d *Director) mirror() {
	p := platform.Page{Title: d.Page.Title, App: d.Desk.Msg.T("app.name"), Canvas: d.Desk.Msg.T("page.canvas"), Lang: d.Desk.Msg.Lang(),
		Modal: d.Page.Modal(), Busy: d.Desk.Busy(), Focus: d.Page.FocusID(), Nodes: mirrored(d.Page.Tree())}
	if j := d.Desk.job; j != nil && j.heavy {
		p.Nodes = append(p.Nodes, platform.Node{ID: stopID, Role: string(ui.Push), Name: j.heard.words})
	}
	platform.Mirror(p)
	for _, s := range append(d.Page.Said(), d.Desk.said...) {
		platform.Say(s)
	}
	d.Desk.said = d.Desk.said[:0]
	order, lesson := "", ""
	scene := d.Desk.scene
	if scene == Settings {
		scene = d.Desk.from
	}
	switch scene {
	case Board, Lessons, Cutaway:
	case Lesson:
		lesson = d.Desk.Lesson
	default:
		order = d.Desk.ID
	}
	if order != d.order || lesson != d.lesson {
		d.order, d.lesson = order, lesson
		platform.Address(order, lesson)
	}
}

// stopID is the mirror's button that stops heavy work.
const stopID = "stop"

func mirrored(tree []ui.Node) []platform.Node {
	out := make([]platform.Node, len(tree))
	for i, n := range tree {
		out[i] = platform.Node{ID: n.ID, Role: string(n.Role), Name: n.Name, Value: n.Value, On: n.On, Off: n.Off, Now: n.Now, Max: n.Max,
			X: n.Rect.X, Y: n.Rect.Y, W: n.Rect.W, H: n.Rect.H}
	}
	return out
}

// Built gives the screen that was built last, for tests.
func (d *Director) Built() *ui.Build {
	d.rebuild()
	return d.build
}

// Draw shows the layers, what moves, and the top layer with the focus' name and the toast.
func (d *Director) Draw(screen *ebiten.Image) {
	if d.build == nil {
		return
	}
	now := d.Now()
	bigW, bigH := max(d.pxW, int(math.Ceil(d.w*d.scale))), max(d.pxH, int(math.Ceil(d.h*d.scale)))
	back := d.layers[0].Update(d.back, bigW, bigH, d.fresh)
	front := d.layers[1].Update(d.front, bigW, bigH, d.fresh)
	d.fresh = false
	if back || front {
		d.base.Stack(d.theme.Ink(paint.Petrol), bigW, bigH, &d.layers[0], &d.layers[1])
	}
	d.live.Reset()
	at := d.view.device(d.scale)
	d.live.Scale, d.live.Shift, d.live.Zoom, d.live.Off, d.live.Theme = d.scale, paint.Pt{}, 0, at, d.theme
	seconds := now.Sub(d.opened).Seconds()
	if d.Still || d.applied.Still() {
		seconds = 0
	}
	if s := d.Scenes[d.shown]; s != nil {
		s.Live(&d.live, seconds)
	}
	d.live.Shift, d.live.Zoom = paint.Pt{}, 0
	d.marks(&d.live)
	d.live.Off = paint.Pt{}
	d.view.bars(&d.live, d.w, d.h)
	over := d.updateOver(now)
	f := shownFrame{screen: screen, base: d.base.Repaints, top: d.top.Repaints, over: over, live: d.live.Sum(), at: at}
	if !d.Keep || f != d.last {
		d.last = f
		d.base.ShowAt(screen, at, true)
		d.spent = d.spent.Plus(d.live.Paint(screen))
		if over {
			d.top.Show(screen, false)
		}
	}
	if d.After != nil {
		d.After(screen)
	}
}

// shownFrame tells two frames apart.
type shownFrame struct {
	screen    *ebiten.Image
	base, top int
	over      bool
	live      uint64
	at        paint.Pt
}

// marks paints the pointer's highlight and the focus ring.
func (d *Director) marks(m *paint.Mesh) {
	if d.Desk.Busy() {
		return
	}
	if c, ok := d.Page.Hovered(); ok && !c.Off {
		outline(m, c, 2, paint.Fade(paint.Sky, 0.9), 0)
	}
	if c, ok := d.Page.Focused(); ok && d.Page.Ring {
		outline(m, c, 5, paint.Black, 3)
		outline(m, c, 3, paint.Yellow, 2)
	}
}

func outline(m *paint.Mesh, c ui.Control, width float64, ink paint.Ink, grow float64) {
	r := c.Rect.Inset(-grow)
	if c.Round {
		m.Ring(r.Mid(), math.Max(r.W, r.H)/2, width, ink)
		return
	}
	m.Frame(r, 6, width, ink)
}

// Free gives the layers' memory back.
func (d *Director) Free() {
	d.layers[0].Free()
	d.layers[1].Free()
	d.base.Free()
	d.top.Free()
}

// Spent is the cost of all frames so far; the difference between two moments is what the frames between them cost.
func (d *Director) Spent() paint.Cost {
	c := d.spent.Plus(d.base.Spent).Plus(d.top.Spent)
	for i := range d.layers {
		c = c.Plus(d.layers[i].Spent)
	}
	return c
}

// LiveTriangles is how many triangles the last frame drew anew.
func (d *Director) LiveTriangles() int { return len(d.live.I) / 3 }
