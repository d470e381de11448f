package lesson

import (
	"errors"
	"fmt"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/platform"
)

// Keeper is where answers are kept.
type Keeper interface {
	// Load gives what was kept under a name, nil for nothing.
	Load(name string) ([]byte, error)
	// Append adds to it. What another window adds at the same time is kept as well.
	Append(name string, data []byte) error
	// Aside moves it out of the way.
	Aside(name string) error
}

// kept is the platform's store of attempts.
type kept struct{}

func (kept) Load(name string) ([]byte, error) {
	raw, err := platform.Load(name)
	if errors.Is(err, platform.ErrNoAttempt) {
		return nil, nil
	}
	return raw, err
}

func (kept) Append(name string, data []byte) error { return platform.Add(name, data) }

func (kept) Aside(name string) error {
	err := platform.MoveAside(name, name+"-before")
	if errors.Is(err, platform.ErrNoAttempt) {
		return nil
	}
	return err
}

// nameOf is the name under which a lesson is kept; orders have names of their own.
func nameOf(l *lessons.Lesson) string { return "lesson-" + l.ID }

// record is what was kept of a lesson. Several windows may have the lesson open, and each adds to one record: before a window adds something, it
// joins what it knows with what the others have kept meanwhile.
type record struct {
	keep  Keeper
	l     *lessons.Lesson
	marks []lessons.Mark
}

// load reads a lesson's record; one that can't be read is moved aside and a new one begun.
func load(k Keeper, l *lessons.Lesson) (*record, error) {
	r := &record{keep: k, l: l}
	_, _, err := r.join()
	return r, err
}

// join takes in what is kept, and gives what has to be written before the next mark: the header where there is none, the end of a line that was in
// progress when a program ended, and marks of this window that are not there. Lost tells whether there are such marks.
func (r *record) join() (owed []byte, lost bool, err error) {
	raw, err := r.keep.Load(nameOf(r.l))
	if err != nil {
		return nil, false, fmt.Errorf("read lesson %s: %w", r.l.ID, err)
	}
	there, err := r.l.ReadRecord(raw)
	if err != nil {
		if aside := r.keep.Aside(nameOf(r.l)); aside != nil {
			return nil, false, fmt.Errorf("put lesson %s aside: %w", r.l.ID, aside)
		}
		raw = nil
	}
	add := func(m lessons.Mark) error {
		line, err := m.Line()
		owed = append(owed, line...)
		return err
	}
	switch {
	case len(raw) == 0:
		err = add(r.l.Header())
	case raw[len(raw)-1] != '\n':
		owed, err = []byte("\n"), nil
	default:
		err = nil
	}
	known := map[string]int{}
	for _, m := range there {
		line, bad := m.Line()
		err = errors.Join(err, bad)
		known[string(line)]++
	}
	for _, m := range r.marks {
		line, bad := m.Line()
		err = errors.Join(err, bad)
		if known[string(line)] > 0 {
			known[string(line)]--
			continue
		}
		lost = true
		there = append(there, m)
		err = errors.Join(err, add(m))
	}
	r.marks = there
	return owed, lost, err
}

// add keeps a mark. Where it can't be kept, it is with the next one that can.
func (r *record) add(m lessons.Mark) error {
	owed, _, err := r.join()
	r.marks = append(r.marks, m)
	if err != nil {
		return err
	}
	line, err := m.Line()
	if err != nil {
		return err
	}
	return r.write(append(owed, line...))
}

func (r *record) write(data []byte) error {
	if err := r.keep.Append(nameOf(r.l), data); err != nil {
		return fmt.Errorf("keep lesson %s: %w", r.l.ID, err)
	}
	return nil
}

// seen keeps that a step was read, once.
func (r *record) seen(step string) error {
	if !r.has(step) {
		return r.add(lessons.Mark{Step: step, Seen: true})
	}
	owed, lost, err := r.join()
	if err != nil || !lost {
		return err
	}
	return r.write(owed)
}

func (r *record) has(step string) bool {
	for _, m := range r.marks {
		if m.Step == step {
			return true
		}
	}
	return false
}

// next is the first step that was not seen, the first one when all were.
func (r *record) next() int {
	for i, st := range r.l.Steps {
		if !r.has(st.ID) {
			return i
		}
	}
	return 0
}
