package lesson

import (
	"fmt"
	"math"
	"slices"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/cutaway"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// Scene is the open lesson.
type Scene struct {
	// Keep is where answers are kept; the platform's store unless it is replaced.
	Keep Keeper
	// Panel is the cutaway beside the text; nil without an open lesson.
	Panel *cutaway.Panel

	desk    *stage.Desk
	load    func() (*lessons.Shelf, error)
	l       *lessons.Lesson // in the words of the data
	said    *lessons.Lesson // in those of the window
	saidIn  string          // the language of said
	rec     *record
	step    int
	asking  bool  // the question of the step shows, not its text
	chosen  []int // of a choice or a strike
	typed   string
	verdict *lessons.Verdict
	leaf    int // page of a text that is longer than its paper
}

// New makes the lessons of a desk: the shelf and the open lesson.
func New(desk *stage.Desk, load func() (*lessons.Shelf, error)) (*Shelf, *Scene) {
	s := &Scene{desk: desk, load: load, Keep: kept{}}
	return &Shelf{desk: desk, scene: s}, s
}

func (s *Scene) shelf() (*lessons.Shelf, error) { return s.load() }

// Open opens a lesson where it was left.
func (s *Scene) Open(id string) {
	if err := s.open(id); err != nil {
		s.desk.Say(s.desk.Msg.T("work.error", "what", err.Error()), true)
		if s.l == nil {
			s.desk.Go(stage.Lessons)
		}
		return
	}
	s.desk.Lesson = id
	s.desk.Go(stage.Lesson)
}

func (s *Scene) open(id string) error {
	shelf, err := s.shelf()
	if err != nil {
		return err
	}
	l, err := shelf.Find(id)
	if err != nil {
		return err
	}
	sheet, ok := shelf.Sheet(l.Car)
	if !ok {
		return fmt.Errorf("lesson %s: car %s has no schematic", id, l.Car)
	}
	rec, err := load(s.Keep, l)
	if err != nil {
		return err
	}
	if s.Panel == nil || s.Panel.Sheet != sheet {
		now := s.now()
		s.Panel = cutaway.NewPanel(sheet, s.desk.Touch)
		s.Panel.Now = now
	}
	s.l, s.rec = l, rec
	s.turn(rec.next(), false)
	return nil
}

// now is the clock of the panel that there is, or the wall's.
func (s *Scene) now() cutaway.Clock {
	if s.Panel != nil {
		return s.Panel.Now
	}
	return cutaway.Wall
}

// Lesson is the open lesson, nil for none, and the step that shows.
func (s *Scene) Lesson() (l *lessons.Lesson, step int, asking bool) { return s.l, s.step, s.asking }

// turn goes to a step, or to its question.
func (s *Scene) turn(step int, asking bool) {
	moved := step != s.step || s.Panel.Shown().Run == ""
	s.step, s.asking, s.leaf = step, asking, 0
	s.chosen, s.typed, s.verdict = nil, "", nil
	st := s.current()
	if moved || !asking {
		s.Panel.Show(st.Show)
	}
	if err := s.rec.seen(st.ID); err != nil {
		s.desk.Say(s.desk.Msg.T("work.error", "what", err.Error()), true)
	}
	s.desk.Touch()
}

// words is the lesson in the language of the window.
func (s *Scene) words() *lessons.Lesson {
	if lang := s.desk.Msg.Lang(); s.said == nil || s.said.ID != s.l.ID || s.saidIn != lang {
		s.said, s.saidIn = s.l.In(s.desk.Msg), lang
	}
	return s.said
}

func (s *Scene) current() *lessons.Step { return &s.words().Steps[s.step] }

// next goes on: from the text to its question, from the question to the next step, from the last to the shelf.
func (s *Scene) next() {
	switch {
	case !s.asking && s.current().Ask != nil:
		s.turn(s.step, true)
	case s.step+1 < len(s.l.Steps):
		s.turn(s.step+1, false)
	default:
		s.desk.Go(stage.Lessons)
	}
}

func (s *Scene) back() {
	switch {
	case s.asking:
		s.turn(s.step, false)
	case s.step > 0:
		s.turn(s.step-1, s.l.Steps[s.step-1].Ask != nil)
	}
}

// Live runs the film.
func (s *Scene) Live(m *paint.Mesh, seconds float64) {
	if s.Panel == nil || s.l == nil {
		return
	}
	s.Panel.Live(m, seconds)
	if err := s.Panel.Failed(); err != nil {
		s.desk.Say(s.desk.Msg.T("work.error", "what", err.Error()), true)
	}
}

// Build sets the paper at the left and the cutaway beside it.
func (s *Scene) Build(b *ui.Build) {
	stage.Bar(b, s.desk, stage.Lesson)
	room := stage.Below(b.W, b.H)
	if s.l == nil {
		b.Page.Title = b.T("lesson.shelf")
		b.Front.Para(b.T("lesson.none"), paint.Body, room.Pad(20, 20), paint.Chalk)
		b.Read(b.T("lesson.none"))
		b.Escape(func() { s.desk.Go(stage.Lessons) })
		return
	}
	b.Page.Title = s.words().Title + ": " + s.current().Title
	paper, panel := room.CutLeft(math.Min(430, math.Max(350, room.W*0.33)), 10)
	ui.Paper(b.Front, paper)
	b.Escape(func() { s.desk.Go(stage.Lessons) })
	s.paper(b, paper)
	s.Panel.Build(b, panel)
}

// truth is the number that a question asks for, once its car has been filmed.
func (s *Scene) truth() (v float64, ok bool) {
	st := s.current()
	if st.Ask.Kind != lessons.Number {
		return math.NaN(), true
	}
	who := st.Show.Who()
	if st.Ask.Who != nil {
		who = *st.Ask.Who
	}
	f, ok := s.Panel.Film(st.Show.Run, who)
	if !ok {
		return math.NaN(), false
	}
	return f.Read(st.Ask.Read.Cutaway()), true
}

// answer grades and keeps the answer.
func (s *Scene) answer() {
	truth, ok := s.truth()
	if !ok || s.verdict != nil || !s.answered() {
		return
	}
	st := s.current()
	slices.Sort(s.chosen)
	a := lessons.Answer{Chosen: slices.Clone(s.chosen), Typed: s.typed}
	v := st.Ask.Grade(a, truth)
	s.verdict = &v
	if err := s.rec.add(lessons.Mark{Step: st.ID, Answer: &a, Right: v.Right, Share: v.Share}); err != nil {
		s.desk.Say(s.desk.Msg.T("work.error", "what", err.Error()), true)
		return
	}
	s.desk.Touch()
}

// answered tells whether there is an answer that can be given.
func (s *Scene) answered() bool {
	if s.current().Ask.Kind == lessons.Number {
		_, ok := lessons.ParseNumber(s.typed)
		return ok
	}
	return len(s.chosen) > 0
}

// pick chooses or takes back a line.
func (s *Scene) pick(i int) {
	if s.verdict != nil {
		return
	}
	one := s.current().Ask.Kind == lessons.Choice
	at := slices.Index(s.chosen, i)
	switch {
	case one:
		s.chosen = []int{i}
	case at >= 0:
		s.chosen = slices.Delete(s.chosen, at, at+1)
	default:
		s.chosen = append(s.chosen, i)
	}
	s.desk.Touch()
}

// again lets the question be answered once more.
func (s *Scene) again() {
	s.chosen, s.typed, s.verdict = nil, "", nil
	s.desk.Touch()
}
