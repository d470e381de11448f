package sim

import "sync/atomic" //samebits:ok a mark that copies share; it decides who may write in place, never what is written

// shared is a part of a world that its copies share until one of them writes it. It is written in place only by a world that has it
// alone, so worlds may be copied and stepped in several goroutines.
type shared[T any] struct {
	by atomic.Bool // several worlds, or so it was once
	v  T
}

// share comes before a copy. Most often the mark is set already, and many goroutines copy one world: looking first leaves the memory
// between them alone.
func (s *shared[T]) share() {
	if s != nil && !s.by.Load() {
		s.by.Store(true)
	}
}

// own is what a world may write: what it has alone, a copy of what it shares, or a new part where it had none.
func own[T any](at **shared[T]) *T {
	switch s := *at; {
	case s == nil:
		*at = &shared[T]{}
	case s.by.Load():
		*at = &shared[T]{v: s.v}
	}
	return &(*at).v
}
