package report

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A reader's own sans-serif may be wider than Go Regular. Arial, Helvetica and Liberation Sans are narrower; DejaVu Sans, measured
// over the text of a key sheet, is 13 % wider, and its bold 27 %.
const (
	slack     = 1.15
	boldSlack = 1.29
)

// ruler measures text as Go Regular sets it. It is for one goroutine.
type ruler struct {
	face *sfnt.Font
	buf  sfnt.Buffer
	em   map[rune]float64 // advance for a size of 1
}

func newRuler() (*ruler, error) {
	face, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("measuring text: %w", err)
	}
	return &ruler{face: face, em: map[rune]float64{}}, nil
}

// advance is a rune's width for a size of 1; one that the font lacks counts as a full square, which no script exceeds by much.
func (r *ruler) advance(c rune) float64 {
	if w, ok := r.em[c]; ok {
		return w
	}
	w := 1.0
	units := fixed.I(int(r.face.UnitsPerEm()))
	if g, err := r.face.GlyphIndex(&r.buf, c); err == nil && g != 0 {
		if a, err := r.face.GlyphAdvance(&r.buf, g, units, font.HintingNone); err == nil {
			w = float64(a) / float64(units)
		}
	}
	if strings.ContainsRune("+<=>~^", c) {
		w = max(w, 0.74) // in DejaVu Sans these are 0.84 wide, where Go Regular has 0.6
	}
	r.em[c] = w
	return w
}

// width is how wide s is at a size, with slack for other fonts; bold text is wider again.
func (r *ruler) width(s string, size float64, bold bool) float64 {
	w := 0.0
	for _, c := range s {
		w += r.advance(c)
	}
	if bold {
		return w * size * boldSlack
	}
	return w * size * slack
}

// wrap breaks s into lines no wider than room; a word that is wider than a line is broken inside.
func (r *ruler) wrap(s string, size, room float64, bold bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && r.width(line+" "+word, size, bold) <= room {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for r.width(word, size, bold) > room && utf8.RuneCountInString(word) > 1 {
			head := r.head(word, size, room, bold)
			lines = append(lines, head)
			word = word[len(head):]
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// head is the longest beginning of s that fits, at least one rune.
func (r *ruler) head(s string, size, room float64, bold bool) string {
	end := 0
	for i, c := range s {
		next := i + utf8.RuneLen(c)
		if c == utf8.RuneError {
			_, n := utf8.DecodeRuneInString(s[i:])
			next = i + n
		}
		if end > 0 && r.width(s[:next], size, bold) > room {
			break
		}
		end = next
	}
	return s[:end]
}

// most cuts a wrapped text to n lines; what was cut is hinted at by an ellipsis within the room.
func (r *ruler) most(lines []string, n int, size, room float64, bold bool) []string {
	if len(lines) <= n {
		return lines
	}
	out := append([]string{}, lines[:n]...)
	last := out[n-1]
	for last != "" && r.width(last+" …", size, bold) > room {
		_, k := utf8.DecodeLastRuneInString(last)
		last = last[:len(last)-k]
	}
	out[n-1] = strings.TrimSpace(last + " …")
	return out
}
