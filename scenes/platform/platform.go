// Package platform is what differs between a desktop window and a browser page, under the same names: where attempts are
// kept, the page's mirror of the accessibility tree, the address' query, opening a page, and whether less motion is
// wished for.
package platform

import "errors"

// ErrNotKept says that nothing was kept under that key.
var ErrNotKept = errors.New("nothing kept under that key")

// ErrNoAttempt says that there is no attempt of that name.
var ErrNoAttempt = errors.New("no such attempt")

// ErrElsewhere says that an attempt is open in another window or tab, which writes it.
var ErrElsewhere = errors.New("open in another window")

// Node is one entry of the mirrored accessibility tree.
type Node struct {
	ID, Role, Name, Value string
	On, Off               bool
	Now, Max              int     // of a slider, in whole steps from 0
	X, Y, W, H            float64 // where it stands on the screen, in logical units
}

// Page is the mirrored accessibility tree with what belongs to the page as a whole.
type Page struct {
	Title  string // of the screen: the tree's first heading, and the browser tab's
	App    string // the program's name, after the title
	Canvas string // what the picture is called
	Lang   string // code of the language
	Modal  bool   // a modal sheet is open and is all that Nodes hold
	Busy   bool   // work is under way
	Focus  string // id of the control that has the picture's own focus
	Nodes  []Node
}

// Roles that are no controls. A node of another role is a button, except "textbox" and "slider".
const (
	RoleText    = "text"
	RoleHeading = "heading"
)

// Event is something done in the mirror: a press, a focus, an edit with the new text (of a slider, its step), or the Escape key.
type Event struct {
	ID, Text            string
	Edit, Focus, Escape bool
}
