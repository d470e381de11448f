package ui

import "coldbay/scenes/paint"

// Role is what kind of control it is, in the words of assistive technology.
type Role string

// The roles in use. A Spot is a thing on a drawing: a terminal, a nipple, a part. A Prose node is text to be read.
const (
	Push   Role = "button"
	Toggle Role = "toggle"
	Tab    Role = "tab"
	Spot   Role = "spot"
	Field  Role = "textbox"
	Slider Role = "slider"
	Prose  Role = "text"
	Head   Role = "heading" // of a region
)

// Control is one thing that can be focused and used.
type Control struct {
	ID    string
	Name  string
	Role  Role
	Group string // region of the screen, for jumping with F6
	Rect  paint.Rect
	Round bool   // shown with a round outline
	Value string // a field's text; of a slider, where it stands in words
	On    bool   // pressed, chosen, current
	Off   bool   // can't be used now
	Under bool   // a broad area: others in front of it win a click
	Do    func()
	Edit  func(string) // fields: the new text
	// Sliders: whole steps from 0 to Max, where it stands, and what puts it elsewhere. Track is the run of its handle.
	Now, Max int
	Set      func(int)
	Track    paint.Rect
}

// Node is one entry of the accessibility tree.
type Node struct {
	ID    string
	Role  Role
	Name  string
	Value string
	On    bool
	Off   bool
	Focus bool
	Rect  paint.Rect

	Now, Max int // of a slider
}

// Key is a key that a page knows.
type Key string

// The keys in use.
const (
	KeyTab      Key = "Tab"
	KeyBackTab  Key = "BackTab"
	KeyEnter    Key = "Enter"
	KeySpace    Key = "Space"
	KeyEscape   Key = "Escape"
	KeyLeft     Key = "Left"
	KeyRight    Key = "Right"
	KeyUp       Key = "Up"
	KeyDown     Key = "Down"
	KeyGroup    Key = "F6"
	KeyBackF6   Key = "BackF6"
	KeyPageUp   Key = "PageUp"
	KeyPageDown Key = "PageDown"
	KeyErase    Key = "Erase"
	KeyHome     Key = "Home"
	KeyEnd      Key = "End"
)

// Input is what hands did since the last frame, in logical units.
type Input struct {
	At      paint.Pt
	Moved   bool
	Clicked bool
	Held    bool     // the button or finger is down
	Pan     paint.Pt // steps by which keys move the view
	Wheel   float64
	Keys    []Key
	Typed   []rune
}
