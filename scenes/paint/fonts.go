package paint

import (
	"bytes"
	"fmt"

	"github.com/hajimehoshi/ebiten/v2/text/v2"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
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

// Fonts holds the typefaces, one engine face for each style and scale, and remembered widths.
type Fonts struct {
	src    [3]*text.GoTextFaceSource
	faces  map[faceKey]*text.GoTextFace
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
	f := &Fonts{faces: map[faceKey]*text.GoTextFace{}, widths: map[widthKey]float64{}}
	for i, ttf := range [3][]byte{goregular.TTF, gobold.TTF, gomono.TTF} {
		s, err := text.NewGoTextFaceSource(bytes.NewReader(ttf))
		if err != nil {
			return nil, fmt.Errorf("read typeface %d: %w", i, err)
		}
		f.src[i] = s
	}
	return f, nil
}

func (f *Fonts) face(st Style, scale float64) *text.GoTextFace {
	k := faceKey{st.Face, st.Size * scale}
	g := f.faces[k]
	if g == nil {
		g = &text.GoTextFace{Source: f.src[st.Face], Size: k.size}
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
