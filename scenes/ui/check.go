package ui

import (
	"fmt"
	"strconv"
	"strings"

	"coldbay/scenes/paint"
)

func num(n int) string { return strconv.Itoa(n) }

// Faults lists what is wrong with a built screen: words that overlap, leave their box or the screen or were
// shortened, controls without a name, with an id used twice, off the screen or on top of each other. An empty
// list is a good screen. It is for tests.
func (b *Build) Faults() []string {
	var out []string
	say := func(f string, a ...any) { out = append(out, fmt.Sprintf(f, a...)) }
	screen := paint.Rect{W: b.W, H: b.H}
	words := b.Front.Words[b.Page.covered:]
	if b.Page.modal < 0 {
		words = append(words[:len(words):len(words)], b.Back.Words...)
	}
	for i, w := range words {
		if strings.HasPrefix(w.S, "[") || strings.ContainsAny(w.S, "{}") {
			say("message missing or not filled in: %q", w.S)
		}
		if w.Cut {
			say("words shortened: %q", w.S)
		}
		if !screen.Holds(w.Box, 0.5) {
			say("words off the screen: %q at %v", w.S, w.Box)
		}
		if w.Room.W > 0 && !w.Room.Holds(w.Box, 1.5) {
			say("words leave their box: %q %v in %v", w.S, w.Box, w.Room)
		}
		for _, q := range words[i+1:] {
			if o := inner(w.Box).Overlap(inner(q.Box)); o.W > 1 && o.H > 1 {
				say("words overlap: %q and %q", w.S, q.S)
			}
		}
	}
	seen := map[string]bool{}
	live := b.Page.Live()
	for i, c := range live {
		if strings.HasPrefix(c.Name, "[") || strings.ContainsAny(c.Name, "{}") {
			say("message missing or not filled in for the name of %s: %q", c.ID, c.Name)
		}
		if c.Name == "" {
			say("control %s has no name", c.ID)
		}
		if c.ID == "" || seen[c.ID] {
			say("control id %q empty or used twice", c.ID)
		}
		seen[c.ID] = true
		if !screen.Holds(c.Rect, 0.5) {
			say("control %s off the screen: %v", c.ID, c.Rect)
		}
		if other := crowded(live, i); other != "" {
			say("control %s is too small for a finger beside %s: %v", c.ID, other, c.Rect)
		}
		for _, q := range live[i+1:] {
			if c.Under || q.Under {
				continue
			}
			if o := c.Rect.Overlap(q.Rect); o.W*o.H > 0.35*min(c.Rect.W*c.Rect.H, q.Rect.W*q.Rect.H) {
				say("controls overlap: %s and %s", c.ID, q.ID)
			}
		}
	}
	return out
}

// minTarget is how wide and high a target has to be, or how far from others: WCAG 2.2, success criterion 2.5.8 (level AA), 24 CSS pixels.
// A logical unit is a CSS pixel at the usual size of text in the smallest window for which the screens are laid out, and more in larger ones.
// Where a thing of a drawing stands is what the drawing says, which the criterion lets be smaller ("essential"); minSpot is our own limit for it.
const minTarget, minSpot = 24.0, 12.0

func small(c Control) bool {
	least := minTarget
	if c.Role == Spot {
		least = minSpot
	}
	return c.Rect.W < least-0.01 || c.Rect.H < least-0.01
}

// crowded names the control that is too near to live[i] if that one is smaller than a target has to be: a circle of that size around its
// middle touches another control, or the circle of another that is small.
func crowded(live []Control, i int) string {
	c := live[i]
	if !small(c) || c.Under {
		return ""
	}
	for k, q := range live {
		if k == i || q.Under {
			continue
		}
		at := c.Rect.Mid()
		near := paint.Pt{X: min(max(at.X, q.Rect.X), q.Rect.Right()), Y: min(max(at.Y, q.Rect.Y), q.Rect.Bottom())}
		if near.Sub(at).Len() < minTarget/2 || small(q) && q.Rect.Mid().Sub(at).Len() < minTarget {
			return q.ID
		}
	}
	return ""
}

// inner is the part of a word's box that letters usually cover: line height less ascent and descent reserve.
func inner(r paint.Rect) paint.Rect { return r.Pad(0, r.H*0.14) }
