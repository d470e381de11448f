// Package platform is what differs between a desktop window and a browser page, under the same names: where attempts are
// kept, the page's mirror of the accessibility tree, the address' query, opening a page, and whether less motion is
// wished for.
package platform

import "errors"

// ErrNotKept says that nothing was kept under that key.
var ErrNotKept = errors.New("nothing kept under that key")

// ErrNoAttempt says that there is no attempt of that name.
var ErrNoAttempt = errors.New("no such attempt")

// Node is one entry of the mirrored accessibility tree.
type Node struct {
	ID, Role, Name, Value string
	On, Off               bool
	Now, Max              int     // of a slider, in whole steps from 0
	X, Y, W, H            float64 // where it stands on the screen, in logical units
}

// Event is something done in the mirror: a press, a focus, or an edit with the new text; of a slider, its step.
type Event struct {
	ID, Text    string
	Edit, Focus bool
}
