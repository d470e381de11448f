package paint

import (
	"fmt"

	"github.com/hajimehoshi/ebiten/v2/text/v2"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

// Style is a typeface and a size in logical units.
type Style struct {
	Face Face
	Size float64
}

// Face is one of the three typefaces.
type Face uint8

// The typefaces: the Go fonts.
const (
	Regular Face = iota
	Bold
	Mono
)

// The sizes in use.
var (
	Title   = Style{Bold, 24}
	Heading = Style{Bold, 17}
	Body    = Style{Regular, 15}
	Strong  = Style{Bold, 15}
	Small   = Style{Regular, 13}
	SmallB  = Style{Bold, 13}
	Label   = Style{Regular, 12}
	LabelB  = Style{Bold, 12}
	Digits  = Style{Mono, 15}
	Display = Style{Mono, 22}
)

// Fonts holds the typefaces, one engine face for each style and scale, and remembered widths. It takes the engine's plain
// faces, not those with a shaper for all scripts: the languages here need kerning and no more, and the shaper would be a
// sixth of the download.
type Fonts struct {
	src    [3]*opentype.Font
	faces  map[faceKey]text.Face
	widths map[widthKey]float64
}

type faceKey struct {
	face Face
	size float64
}

type widthKey struct {
	style Style
	s     string
}

// maxWidths bounds the remembered widths; past it they are forgotten and measured again.
const maxWidths = 8000

// LoadFonts reads the typefaces built into the program.
func LoadFonts() (*Fonts, error) {
	f := &Fonts{faces: map[faceKey]text.Face{}, widths: map[widthKey]float64{}}
	for i, ttf := range [3][]byte{goregular.TTF, gobold.TTF, gomono.TTF} {
		s, err := opentype.Parse(ttf)
		if err != nil {
			return nil, fmt.Errorf("read typeface %d: %w", i, err)
		}
		f.src[i] = s
	}
	return f, nil
}

func (f *Fonts) face(st Style, scale float64) text.Face {
	k := faceKey{st.Face, st.Size * scale}
	g := f.faces[k]
	if g == nil {
		// At 72 dots an inch a point is a pixel. Making a face of a parsed typeface can't fail for a finite size.
		x, err := opentype.NewFace(f.src[st.Face], &opentype.FaceOptions{Size: max(k.size, 1), DPI: 72})
		if err != nil {
			x, _ = opentype.NewFace(f.src[st.Face], nil)
		}
		g = text.NewGoXFace(x)
		f.faces[k] = g
	}
	return g
}

// Width is the advance of s in logical units.
func (f *Fonts) Width(s string, st Style) float64 {
	k := widthKey{st, s}
	if w, ok := f.widths[k]; ok {
		return w
	}
	if len(f.widths) > maxWidths {
		clear(f.widths)
	}
	w := text.Advance(s, f.face(st, 1))
	f.widths[k] = w
	return w
}

// LineHeight is the distance from line to line.
func (st Style) LineHeight() float64 { return st.Size * 1.32 }

// BoxHeight is the height from the top of the tallest to the bottom of the lowest letter.
func (st Style) BoxHeight() float64 { return st.Size * 1.2 }
