package scantool

import (
	"regexp"
	"strings"

	"coldbay/scenes/paint"
)

// row is one line of the screen: what is read at the left, its value at the right.
type row struct{ name, value string }

// code is a trouble code; its words follow it and are no value.
var code = regexp.MustCompile(`^[PCBU][0-9A-F]{4}$`)

// split takes a line of the scan tool apart: two spaces stand between what is read and its value.
func split(line string) (name, value string) {
	name, value, _ = strings.Cut(line, "  ")
	if code.MatchString(name) {
		return name + "  " + value, ""
	}
	return name, strings.TrimSpace(value)
}

// rows sets a line so that values stand below each other, and wraps what is too long.
func rows(f *paint.Fonts, line string, st paint.Style, w float64) []row {
	name, value := split(line)
	var out []row
	for _, part := range f.Wrap(name, st, w) {
		out = append(out, row{name: part})
	}
	last := &out[len(out)-1]
	if value == "" || f.Width(last.name, st)+f.Width(value, st)+16 <= w {
		last.value = value
		return out
	}
	for _, part := range f.Wrap(value, st, w*0.85) {
		out = append(out, row{value: part})
	}
	return out
}
