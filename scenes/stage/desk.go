package stage

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strconv"
	"sync/atomic"
	"time"

	"coldbay/assets/messages"
	"coldbay/scenarios/drawing"
	"coldbay/scenes/debrief/page"
	"coldbay/scenes/platform"
	"coldbay/scenes/prefs"
	"coldbay/scenes/schematic"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// Names of the scenes.
const (
	Board    = "board"
	Sheet    = "order"
	Bay      = "bay"
	Info     = "info"
	ScanTool = "scantool"
	Notebook = "notebook"
	Debrief  = "debrief"
	Settings = "settings"
)

// Desk holds what all scenes share: the job board, the open order with what can be seen and was done, and the action
// that is under way. It belongs to the window's goroutine; work runs on one other goroutine at a time, and while it
// does the session is not touched from here.
type Desk struct {
	Orders Orders
	Msg    *messages.Catalogue

	List []Order

	ID      string // open order, or the retake of one
	Turn    int    // counts the attempts that were laid on the desk: what a scene keeps of one is not kept for the next
	Session bench.Session
	Cat     bench.Catalogue // in the trainee's language
	View    bench.View
	Ledger  []bench.Finding
	Draw    *drawing.Drawing
	Phrase  *phrase.Book
	Doc     *page.Document
	Past    *Past // the closed attempt played again
	Fault   error // the last error that is not a refusal

	// Toast is one sentence for the trainee: a refusal, or what just happened. ToastBad marks a refusal or an error.
	Toast    string
	ToastBad bool
	// Read is true once the cautions of the open order were confirmed.
	Read bool
	// Prefs are the settings, changed through Wish; Keep keeps them and may be nil.
	Prefs prefs.Prefs
	Keep  func(prefs.Prefs) error
	// Play is true while the clock is let run: once a second Repeat is done, or a second is watched when Repeat has no verb.
	Play   bool
	Repeat bench.Action

	// Lesson is the id of the open lesson.
	Lesson string

	car     string           // id of the open order's car
	plain   bench.Catalogue  // as the session gives it
	drawn   *drawing.Drawing // with the words of the data
	scene   string
	from    string // scene before the settings
	job     *job
	changed bool
	tick    time.Time
	said    []string
}

type job struct {
	cancel context.CancelFunc
	done   chan func()
	start  time.Time
	words  atomic.Pointer[telling]
	heard  telling // what was read out last
	heavy  bool
}

// telling is what work is at, in words, and what kind of thing that is.
type telling struct{ kind, words string }

// NewDesk makes a desk; nothing is loaded before Start.
func NewDesk(orders Orders, msg *messages.Catalogue) *Desk {
	u := prefs.Usual()
	u.Lang = msg.Lang()
	return &Desk{Orders: orders, Msg: msg, Prefs: u, scene: Board, from: Board, changed: true}
}

// Go shows a scene.
func (d *Desk) Go(scene string) {
	if d.scene != scene {
		d.Play, d.Repeat = false, bench.Action{}
	}
	if scene == Settings && d.scene != Settings {
		d.from = d.scene
	}
	d.scene, d.changed, d.Toast, d.ToastBad = scene, true, "", false
}

// Back leaves the settings for the scene before.
func (d *Desk) Back() { d.Go(d.from) }

// Scene is the name of the scene that shows.
func (d *Desk) Scene() string { return d.scene }

// Touch says that something changed and the screen has to be built again.
func (d *Desk) Touch() { d.changed = true }

// Say shows a sentence and reads it out to assistive technology.
func (d *Desk) Say(s string, bad bool) {
	d.Toast, d.ToastBad, d.changed = s, bad, true
	if s != "" {
		d.said = append(d.said, s)
	}
}

// Busy tells whether work is under way.
func (d *Desk) Busy() bool { return d.job != nil }

// Cancel stops the work under way as soon as it can; what was done until then stands.
func (d *Desk) Cancel() {
	d.Play = false
	if d.job != nil {
		d.job.cancel()
	}
	d.changed = true
}

// heavyStart is how long heavy work waits before it begins, so that the words for it are on the screen: a browser page has
// one thread, and paints nothing while it computes.
const heavyStart = 80 * time.Millisecond

// run starts work on another goroutine. The function it returns is called on the window's goroutine when it is done. Heavy
// work shows its words at once.
func (d *Desk) run(words string, heavy bool, work func(ctx context.Context) func()) {
	d.tellingRun(words, heavy, func(ctx context.Context, _ func(kind, words string)) func() { return work(ctx) })
}

// tellingRun is run for work that tells what it is at.
func (d *Desk) tellingRun(words string, heavy bool, work func(ctx context.Context, tell func(kind, words string)) func()) {
	if d.job != nil {
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	j := &job{cancel: cancel, done: make(chan func(), 1), heard: telling{words: words}, heavy: heavy}
	j.words.Store(&telling{words: words})
	d.job, d.changed = j, true
	if heavy {
		d.said = append(d.said, words)
	}
	go func() {
		if heavy {
			time.Sleep(heavyStart)
		}
		j.done <- work(ctx, func(kind, words string) { j.words.Store(&telling{kind, words}) })
	}()
}

// Poll takes the result of finished work and keeps a running clock going. It is called once a frame.
func (d *Desk) Poll(now time.Time) {
	if d.job != nil {
		if d.job.start.IsZero() {
			d.job.start = now
		}
		select {
		case f := <-d.job.done:
			d.job.cancel()
			d.job = nil
			d.changed = true
			f()
		default:
			d.hearken()
			return
		}
	}
	if d.Play && d.job == nil && d.Session != nil && now.Sub(d.tick) >= time.Second {
		d.tick = now
		a := d.Repeat
		if a.Verb == "" {
			a = bench.Action{Verb: bench.Watch, N: 1}
		}
		d.Act(a)
	}
}

// hearken reads out what work is at when it has come to something of another kind; its counting is for the eyes.
func (d *Desk) hearken() {
	now := *d.job.words.Load()
	if d.job.heavy && now.kind != d.job.heard.kind {
		d.job.heard, d.changed = now, true
		d.said = append(d.said, now.words)
	}
}

// Working gives the words for work that takes long enough to be shown, and whether there is any.
func (d *Desk) Working(now time.Time) (string, bool) {
	if d.job == nil || d.job.start.IsZero() || !d.job.heavy && now.Sub(d.job.start) < 250*time.Millisecond {
		return "", false
	}
	return d.job.words.Load().words, true
}

// LoadBoard reads the job board again.
func (d *Desk) LoadBoard() {
	d.run(d.Msg.T("work.board"), false, func(ctx context.Context) func() {
		list, err := d.Orders.List(ctx)
		return func() {
			if err != nil {
				d.fail(err)
				return
			}
			d.List = list
		}
	})
}

// Open takes up an order and shows its work order, or the bay when its cautions were read before.
func (d *Desk) Open(id string, fresh bool) {
	d.run(d.Msg.T("work.open"), true, func(ctx context.Context) func() {
		o, err := d.Orders.Open(ctx, id, fresh)
		if err != nil {
			return func() {
				d.fail(fmt.Errorf("open order %s: %w", id, err))
				if d.List == nil {
					d.LoadBoard() // an order that was asked for at the start: the board is what there is instead
				}
			}
		}
		return d.takeUp(o, func() {
			d.Read = len(d.Ledger) > 0
			if d.Go(Sheet); d.Read && !d.View.Closed {
				d.Go(Bay)
			}
			if o.Notice != "" {
				d.Say(d.Msg.T("work."+o.Notice), true)
			}
			if d.View.Closed {
				d.LoadDebrief()
			}
		})
	})
}

// takeUp lays an opened order on the desk. What it returns runs on the window's goroutine, and then the given function.
func (d *Desk) takeUp(o Opened, then func()) func() {
	s, cat := o.Session, o.Session.Catalogue()
	draw, err := drawing.Load(o.Car)
	if errors.Is(err, fs.ErrNotExist) {
		draw, err = schematic.Draw(o.Car, &cat, o.Plan), nil
	}
	if err != nil {
		return func() { d.fail(fmt.Errorf("open order %s: %w", o.ID, err)) }
	}
	return func() {
		d.Turn++
		d.ID, d.Session, d.car, d.plain, d.drawn, d.Doc, d.Past = o.ID, s, o.Car, cat, draw, nil, nil
		d.name()
		d.refresh()
		then()
	}
}

// name gives the open order its words, and the things of its car their names, in the language of the window.
func (d *Desk) name() {
	d.Cat = phrase.Named(d.Msg, d.car, d.plain)
	d.Draw = d.drawn.In(func(label string) string { return d.Msg.Said("drawing", label) })
	d.Phrase = phrase.Open(d.Msg, d.car, d.plain)
}

// LoadDebrief grades the closed attempt and shows the debrief.
func (d *Desk) LoadDebrief() { d.debrief(func() { d.Go(Debrief) }) }

func (d *Desk) debrief(then func()) {
	d.tellingRun(d.Msg.T("work.debrief"), true, func(ctx context.Context, tell func(kind, words string)) func() {
		doc, err := d.Orders.Debrief(ctx, d.ID, tell)
		return func() {
			if errors.Is(err, context.Canceled) {
				d.Say(d.Msg.T("work.cancelled"), false)
				return
			}
			if err != nil {
				d.fail(fmt.Errorf("debrief: %w", err))
				return
			}
			d.Doc = doc
			then()
		}
	})
}

// Compare asks for the car of a suspect beside the true one. Then, when it is there, the function runs.
func (d *Desk) Compare(suspect string, then func()) {
	doc := d.Doc
	if doc == nil {
		return
	}
	if _, ok := doc.Find(suspect); ok {
		then()
		return
	}
	d.run(d.Msg.T("work.compare"), true, func(ctx context.Context) func() {
		t, err := d.Orders.Compare(ctx, d.ID, suspect)
		return func() {
			if err != nil {
				d.fail(fmt.Errorf("debrief: %w", err))
				return
			}
			doc.Thoughts = append(doc.Thoughts, t)
			then()
		}
	})
}

// Act carries out an action. Then, when the action was done, the optional functions run.
func (d *Desk) Act(a bench.Action, then ...func(bench.Finding)) {
	if d.Session == nil || d.job != nil {
		return
	}
	s := d.Session
	heavy := a.Verb == bench.Soak || a.Verb == bench.Drive
	d.run(d.Msg.T("work.do", "what", d.Phrase.Doing(a)), heavy, func(ctx context.Context) func() {
		f, err := s.Do(ctx, a)
		return func() { d.did(a, f, err, then) }
	})
}

func (d *Desk) did(a bench.Action, f bench.Finding, err error, then []func(bench.Finding)) {
	d.refresh()
	var no *bench.Refusal
	var broken *bench.BrokenError
	switch {
	case errors.As(err, &no):
		d.Play = false
		d.Say(phrase.Sentence(d.Phrase.Refusal(no.Missing)), true)
		return
	case errors.Is(err, context.Canceled):
		d.Say(d.Msg.T("work.cancelled"), false)
		return
	case errors.Is(err, platform.ErrElsewhere):
		d.Play = false
		d.Say(d.Msg.T("work.taken"), true)
		return
	case errors.As(err, &broken):
		d.Play = false
		d.Say(d.Msg.T("work.broken", "line", strconv.Itoa(broken.Line)), true)
		return
	case err != nil:
		d.fail(fmt.Errorf("%s: %w", d.Phrase.Doing(a), err))
		return
	}
	if !d.Play {
		d.Say("", false)
		d.said = append(d.said, d.Phrase.Line(f))
	}
	if len(f.Hazards) > 0 {
		d.Play = false
		d.Say(d.Phrase.Hazard(f.Hazards[0]), true)
	}
	for _, t := range then {
		t(f)
	}
}

func (d *Desk) refresh() {
	d.View, d.Ledger, d.changed = d.Session.View(), d.Session.Ledger(), true
}

func (d *Desk) fail(err error) {
	if errors.Is(err, platform.ErrElsewhere) {
		d.Play = false
		d.Say(d.Msg.T("work.elsewhere"), true)
		return
	}
	d.Fault, d.Play = err, false
	d.Say(d.Msg.T("work.error", "what", err.Error()), true)
}

// Allowed tells whether the order allows a tool.
func (d *Desk) Allowed(tool string) bool {
	for _, t := range d.Cat.Tools {
		if t == tool {
			return true
		}
	}
	return false
}
