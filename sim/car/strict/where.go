package strict

import (
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// Line is the line of the value at path: a string steps into a mapping, an int into a list (from 0). Where the path leaves the file,
// the line of the last part that is there is given, so that a missing key is reported at its parent.
func (d *Doc) Line(path ...any) int {
	line, _ := d.find(path)
	return line
}

// Has says whether the file itself gives a value at path: it tells an absent key from a zero.
func (d *Doc) Has(path ...any) bool {
	_, ok := d.find(path)
	return ok
}

func (d *Doc) find(path []any) (line int, ok bool) {
	n := d.root
	line = n.Line
	for _, p := range path {
		switch p := p.(type) {
		case string:
			var next *yaml.Node
			if n.Kind == yaml.MappingNode {
				for i := 0; i+1 < len(n.Content); i += 2 {
					if n.Content[i].Value == p {
						next, line = n.Content[i+1], n.Content[i].Line
					}
				}
			}
			if next == nil {
				return line, false
			}
			n = next
		case int:
			if n.Kind != yaml.SequenceNode || p < 0 || p >= len(n.Content) {
				return line, false
			}
			n = n.Content[p]
			line = n.Line
		default:
			return line, false
		}
	}
	return line, true
}

// Path builds the argument of [Doc.Errorf].
func Path(parts ...any) []any { return parts }

// Errorf is an error about the value at path, for checks that need more than the shape of the file.
func (d *Doc) Errorf(path []any, format string, a ...any) error {
	var b strings.Builder
	for _, p := range path {
		switch p := p.(type) {
		case int:
			fmt.Fprintf(&b, "[%d]", p)
		default:
			if b.Len() > 0 {
				b.WriteByte('.')
			}
			fmt.Fprint(&b, p)
		}
	}
	return &Error{File: d.File, Line: d.Line(path...), Key: b.String(), Msg: fmt.Sprintf(format, a...)}
}

// OneOf words what is allowed for a name that was not found, with the nearest spelling when one is near.
func OneOf(found string, allowed []string) string {
	if len(allowed) == 0 {
		return "none is allowed here"
	}
	text := "allowed: " + strings.Join(allowed, ", ")
	if near := Nearest(found, allowed); near != "" {
		text = fmt.Sprintf("did you mean %q? %s", near, text)
	}
	return text
}

// Nearest is the allowed word that is at most a third of its letters (and at most three) away from found, or "".
func Nearest(found string, allowed []string) string {
	best, bestD := "", 4
	for _, a := range allowed {
		limit := min(3, max(1, len(a)/3))
		if d := distance(found, a, limit); d <= limit && d < bestD {
			best, bestD = a, d
		}
	}
	return best
}

// distance is the edit distance with neighbouring letters swapped counted as one, given up above limit.
func distance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if d := len(x) - len(y); d > limit || -d > limit {
		return limit + 1
	}
	var before, last []int
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(x); i++ {
		before, last, row = last, row, make([]int, len(y)+1)
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(y)]
}
