package cutaway

import (
	"context"
	"fmt"
	"time"

	inside "coldbay/sim/cutaway"
)

// How long the background works before it lets the window draw: a browser page has one thread.
const (
	workSlice = 4 * time.Millisecond
	restSlice = 3 * time.Millisecond
)

// maxFilms bounds the films that are kept; the oldest goes first.
const maxFilms = 24

// Studio makes films in the background, one after the other, and keeps the latest. It belongs to the window's goroutine.
type Studio struct {
	sheet *inside.Schematic
	films map[string]*inside.Film
	order []string
	now   *take
	queue []inside.Setup
	fault error
}

// take is a film that is being made.
type take struct {
	key    string
	cancel context.CancelFunc
	done   chan made
}

type made struct {
	film *inside.Film
	err  error
}

// NewStudio films one car.
func NewStudio(sheet *inside.Schematic) *Studio {
	return &Studio{sheet: sheet, films: map[string]*inside.Film{}}
}

func keyOf(set inside.Setup) string { return fmt.Sprintf("%+v", set) }

// Film gives a film that was made.
func (s *Studio) Film(set inside.Setup) (*inside.Film, bool) {
	f, ok := s.films[keyOf(set)]
	return f, ok
}

// Want says which films are needed now, the most urgent first. What is being made and is not wanted any more is given up.
func (s *Studio) Want(sets ...inside.Setup) {
	s.queue = s.queue[:0]
	wanted := false
	for _, set := range sets {
		key := keyOf(set)
		if s.films[key] != nil {
			continue
		}
		if s.now != nil && s.now.key == key {
			wanted = true
			continue
		}
		s.queue = append(s.queue, set)
	}
	if s.now != nil && !wanted {
		s.now.cancel()
	}
	s.start()
}

func (s *Studio) start() {
	if s.now != nil || len(s.queue) == 0 {
		return
	}
	set := s.queue[0]
	s.queue = s.queue[1:]
	ctx, cancel := context.WithCancel(context.Background())
	t := &take{key: keyOf(set), cancel: cancel, done: make(chan made, 1)}
	s.now = t
	sheet := s.sheet
	go func() {
		f, err := inside.Shoot(ctx, sheet, set, breather())
		t.done <- made{f, err}
	}()
}

// breather rests after each slice of work.
func breather() func() {
	last := time.Now()
	return func() {
		if time.Since(last) >= workSlice {
			time.Sleep(restSlice)
			last = time.Now()
		}
	}
}

// Poll takes what was finished and says whether there is something new. It is called once a frame.
func (s *Studio) Poll() bool {
	if s.now == nil {
		return false
	}
	select {
	case m := <-s.now.done:
		key := s.now.key
		given := s.now
		s.now = nil
		given.cancel()
		fresh := m.err == nil
		if fresh {
			s.keep(key, m.film)
		} else if !given.givenUp(m.err) {
			s.fault = m.err
			fresh = true
		}
		s.start()
		return fresh
	default:
		return false
	}
}

// givenUp tells work that was stopped from work that failed.
func (t *take) givenUp(err error) bool { return err == context.Canceled }

func (s *Studio) keep(key string, f *inside.Film) {
	s.films[key] = f
	s.order = append(s.order, key)
	if len(s.order) > maxFilms {
		delete(s.films, s.order[0])
		s.order = s.order[1:]
	}
}

// Busy tells whether a film is being made.
func (s *Studio) Busy() bool { return s.now != nil }

// Fault gives the error of a film that could not be made, once.
func (s *Studio) Fault() error {
	err := s.fault
	s.fault = nil
	return err
}
