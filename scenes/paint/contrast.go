package paint

import "math"

// Theme replaces inks of the palette by others. A nil theme leaves all as they are.
type Theme struct {
	inks, words map[[3]uint8]Ink
}

func rgb(c Ink) [3]uint8 { return [3]uint8{c.R, c.G, c.B} }

// Ink is what a shape is painted with instead of c.
func (t *Theme) Ink(c Ink) Ink {
	if t == nil {
		return c
	}
	if x, ok := t.inks[rgb(c)]; ok {
		x.A = c.A
		return x
	}
	return c
}

// Word is what letters are painted with instead of c.
func (t *Theme) Word(c Ink) Ink {
	if t == nil {
		return c
	}
	if x, ok := t.words[rgb(c)]; ok {
		x.A = c.A
		return x
	}
	return t.Ink(c)
}

// HighContrast is the theme of black rooms and white paper: letters stand out from their ground by at least 7 to 1, the enhanced ratio
// of WCAG 2.1, 1.4.6.
func HighContrast() *Theme {
	t := &Theme{inks: map[[3]uint8]Ink{}, words: map[[3]uint8]Ink{}}
	black, white := RGB(0), RGB(0xffffff)
	set := func(to Ink, from ...Ink) {
		for _, c := range from {
			t.inks[rgb(c)] = to
		}
	}
	set(black, Petrol, Panel, Raised, PageInk, PageDim, PageRul, RGB(0x0a171c))
	set(white, Edge, Chalk, Mist, Page, PageLo, Blend(Panel, Edge, 0.5), Blend(Page, PageLo, 0.55))
	// What can't be used now is grey, and still 7 to 1.
	set(RGB(0xa8a8a8), Blend(Mist, Panel, 0.35))
	set(RGB(0x4d4d4d), Blend(PageDim, Page, 0.25))
	for from, to := range map[Ink]Ink{Blue: RGB(0x00406e), Navy: RGB(0x00406e), Vermil: RGB(0x7a3300), Green: RGB(0x00472f), RGB(0x9c4400): RGB(0x7a3300)} {
		t.words[rgb(from)] = to
	}
	return t
}

// Contrast is the ratio of two opaque inks, 1 to 21, as WCAG 2.1 defines it.
func Contrast(a, b Ink) float64 {
	x, y := luminance(a), luminance(b)
	if x < y {
		x, y = y, x
	}
	return (x + 0.05) / (y + 0.05)
}

// luminance is the relative luminance of WCAG 2.1.
func luminance(c Ink) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
}
