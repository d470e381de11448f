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
	// Append adds to it.
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

func (kept) Append(name string, data []byte) error { return platform.Append(name, data) }

func (kept) Aside(name string) error {
	err := platform.MoveAside(name, name+"-before")
	if errors.Is(err, platform.ErrNoAttempt) {
		return nil
	}
	return err
}

// nameOf is the name under which a lesson is kept; orders have names of their own.
func nameOf(l *lessons.Lesson) string { return "lesson-" + l.ID }

// record is what was kept of a lesson.
type record struct {
	keep  Keeper
	l     *lessons.Lesson
	marks []lessons.Mark
	begun bool // the header is written
}

// load reads a lesson's record; one that can't be read is moved aside and a new one begun.
func load(k Keeper, l *lessons.Lesson) (*record, error) {
	r := &record{keep: k, l: l}
	raw, err := k.Load(nameOf(l))
	if err != nil {
		return r, fmt.Errorf("read lesson %s: %w", l.ID, err)
	}
	if len(raw) == 0 {
		return r, nil
	}
	marks, err := l.ReadRecord(raw)
	if err != nil {
		if aside := k.Aside(nameOf(l)); aside != nil {
			return r, fmt.Errorf("put lesson %s aside: %w", l.ID, aside)
		}
		return r, nil
	}
	r.marks, r.begun = marks, true
	if raw[len(raw)-1] != '\n' {
		// The line in progress when the program ended: what follows begins on a line of its own.
		if err := k.Append(nameOf(l), []byte("\n")); err != nil {
			return r, fmt.Errorf("keep lesson %s: %w", l.ID, err)
		}
	}
	return r, nil
}

// add keeps a mark.
func (r *record) add(m lessons.Mark) error {
	r.marks = append(r.marks, m)
	var data []byte
	if !r.begun {
		line, err := r.l.Header().Line()
		if err != nil {
			return err
		}
		data = line
	}
	line, err := m.Line()
	if err != nil {
		return err
	}
	if err := r.keep.Append(nameOf(r.l), append(data, line...)); err != nil {
		return fmt.Errorf("keep lesson %s: %w", r.l.ID, err)
	}
	r.begun = true
	return nil
}

// seen keeps that a step was read, once.
func (r *record) seen(step string) error {
	for _, m := range r.marks {
		if m.Step == step {
			return nil
		}
	}
	return r.add(lessons.Mark{Step: step, Seen: true})
}

// next is the first step that was not seen, the first one when all were.
func (r *record) next() int {
	for i, st := range r.l.Steps {
		found := false
		for _, m := range r.marks {
			found = found || m.Step == st.ID
		}
		if !found {
			return i
		}
	}
	return 0
}
