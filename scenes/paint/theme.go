package paint

import "image/color"

// Ink is a colour with straight (not premultiplied) alpha.
type Ink = color.NRGBA

// RGB makes an opaque Ink from 0xRRGGBB.
func RGB(v uint32) Ink { return Ink{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255} }

// Fade returns c with its alpha multiplied by k (0 to 1).
func Fade(c Ink, k float64) Ink {
	c.A = uint8(float64(c.A) * k)
	return c
}

// Blend mixes a and b; k = 0 gives a, 1 gives b.
func Blend(a, b Ink, k float64) Ink {
	f := func(x, y uint8) uint8 { return uint8(float64(x) + (float64(y)-float64(x))*k) }
	return Ink{R: f(a.R, b.R), G: f(a.G, b.G), B: f(a.B, b.B), A: f(a.A, b.A)}
}

// The palette. The accents are those of Okabe and Ito (2008, "Color Universal Design"), told apart with colour-vision
// deficiency; no state is shown by colour alone. The petrol and paper tones are ours.
var (
	Petrol  = RGB(0x0d2229) // room
	Panel   = RGB(0x143039) // panels in the room
	Raised  = RGB(0x1e434e) // buttons
	Edge    = RGB(0x376672) // lines in the room
	Chalk   = RGB(0xf0f2ea) // text in the room
	Mist    = RGB(0xa9c0c2) // quieter text in the room
	Page    = RGB(0xf3ebd8) // paper
	PageLo  = RGB(0xe6dabf) // shaded paper
	PageInk = RGB(0x22333b) // text on paper
	PageDim = RGB(0x4a585c) // quieter text on paper
	PageRul = RGB(0xc5b691) // rules on paper

	Orange  = RGB(0xe69f00)
	Sky     = RGB(0x56b4e9)
	Green   = RGB(0x009e73)
	Yellow  = RGB(0xf0e442)
	Blue    = RGB(0x0072b2)
	Navy    = RGB(0x00588a) // Blue for words on paper
	Vermil  = RGB(0xd55e00)
	Pink    = RGB(0xcc79a7)
	Black   = RGB(0x05090b)
	White   = RGB(0xffffff)
	Nothing = Ink{}
)
