package ui

import (
	"coldbay/assets/messages"
	"coldbay/scenes/paint"
)

// Build is handed to a scene to describe its screen: what is painted and what can be used. Back is painted first and
// changes rarely; Front carries everything else.
type Build struct {
	Back, Front *paint.List
	Page        *Page
	W, H        float64
	Msg         *messages.Catalogue
	SheetRect   paint.Rect // of the modal sheet, when one is open
	group       string
}

// NewBuild starts a screen of w x h logical units on the given lists, which are cleared.
func NewBuild(back, front *paint.List, page *Page, msg *messages.Catalogue, w, h, scale float64) *Build {
	back.Clear(scale)
	front.Clear(scale)
	page.begin()
	return &Build{Back: back, Front: front, Page: page, Msg: msg, W: w, H: h}
}

// T looks a message up.
func (b *Build) T(key string, kv ...string) string { return b.Msg.T(key, kv...) }

// N looks a message about a number of things up.
func (b *Build) N(key string, n int, kv ...string) string { return b.Msg.N(key, n, kv...) }

// Group names the region to which the controls that follow belong. Its heading in the accessibility tree is the message
// group.NAME, or the name itself where there is none.
func (b *Build) Group(name string) {
	b.group = name
	b.read(line{words: b.heading(), heading: true})
}

func (b *Build) heading() string { return b.Msg.Or("group."+b.group, "phrase.id", "id", b.group) }

// Read adds text to the accessibility tree at this point of the reading order.
func (b *Build) Read(s string) { b.read(line{words: s}) }

// Tell is Read for text that is also read out when it has changed while the screen stayed: what a glance would notice.
func (b *Build) Tell(s string) { b.read(line{words: s, tell: true}) }

func (b *Build) read(s line) {
	if s.words != "" {
		i := len(b.Page.Controls)
		b.Page.prose[i] = append(b.Page.prose[i], s)
	}
}

// Add adds a control that the caller has painted.
func (b *Build) Add(c Control) {
	if c.Group == "" {
		c.Group = b.group
	}
	b.Page.Controls = append(b.Page.Controls, c)
}

// Wheel lets the wheel and the page keys turn something over an area: -1 back, 1 on.
func (b *Build) Wheel(area paint.Rect, turn func(int)) {
	b.Page.wheels = append(b.Page.wheels, wheel{area, turn})
}

// Escape says what the Escape key does.
func (b *Build) Escape(f func()) { b.Page.escape = f }

// Sheet dims the screen and opens a modal sheet of w x h in its middle: from here on only what follows can be used.
func (b *Build) Sheet(w, h float64) paint.Rect {
	b.Page.modal, b.Page.covered = len(b.Page.Controls), len(b.Front.Words)
	b.Page.behind = len(b.Page.prose[b.Page.modal])
	b.Page.wheels = b.Page.wheels[:0]
	b.Front.Box(paint.Rect{W: b.W, H: b.H}, 0, paint.Fade(paint.Black, 0.72))
	w, h = min(w, b.W-24), min(h, b.H-24)
	r := paint.Rect{X: (b.W - w) / 2, Y: (b.H - h) / 2, W: w, H: h}
	b.SheetRect = r
	Paper(b.Front, r)
	return r
}
