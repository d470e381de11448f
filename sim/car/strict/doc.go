// Package strict reads YAML written by people and refuses everything that is not exactly what the reader asked for: unknown and
// repeated keys, values of another kind, numbers that are not finite, aliases, oversized input. Every error names
// file, line and key, says what was found and what is allowed, and never mentions Go. It knows nothing of cars or orders.
package strict

import (
	"errors"
	"fmt"
	"strings"

	"gopkg.in/yaml.v3"
)

// MaxBytes is the largest input that [Decode] parses (1 MiB); the size is checked before anything else.
const MaxBytes = 1 << 20

// maxDepth bounds nesting: far above what any car or order needs, far below what could exhaust the stack.
const maxDepth = 40

// Doc is a decoded file that remembers its lines, so that a check made after decoding can still say where.
type Doc struct {
	File string // name used in messages
	root *yaml.Node
}

// Error is a fault in the input. Its text starts with file:line.
type Error struct {
	File string
	Line int    // 1-based; 0: the file as a whole
	Key  string // path such as faults[2].unit, "" at the top
	Msg  string // what was found and what is allowed
}

// Error formats the fault as one line.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(e.File)
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d", e.Line)
	}
	b.WriteString(": ")
	if e.Key != "" {
		fmt.Fprintf(&b, "key %q: ", e.Key)
	}
	b.WriteString(e.Msg)
	return b.String()
}

// Decode reads data into the struct that into points at. Field names come from `yaml` tags; a field tagged
// `strict:"required"` must be there. On an error nothing can be relied on in into.
func Decode(file string, data []byte, into any) (doc *Doc, err error) {
	if len(data) > MaxBytes {
		return nil, &Error{File: file, Msg: fmt.Sprintf("%d bytes long; at most %d are allowed", len(data), MaxBytes)}
	}
	defer func() {
		if r := recover(); r != nil { // the YAML reader must not take the program down, whatever it is fed
			doc, err = nil, &Error{File: file, Msg: fmt.Sprintf("not readable as YAML: %v", r)}
		}
	}()
	root, err := parse(file, data)
	if err != nil {
		return nil, err
	}
	doc = &Doc{File: file, root: root}
	if err := doc.check(into); err != nil {
		return nil, err
	}
	if err := root.Decode(into); err != nil {
		return nil, rewrite(file, err)
	}
	return doc, nil
}

func parse(file string, data []byte) (*yaml.Node, error) {
	dec := yaml.NewDecoder(strings.NewReader(string(data)))
	var n yaml.Node
	if err := dec.Decode(&n); err != nil {
		if err.Error() == "EOF" {
			return nil, &Error{File: file, Msg: "the file is empty"}
		}
		return nil, rewrite(file, err)
	}
	var more yaml.Node
	if err := dec.Decode(&more); err == nil {
		return nil, &Error{File: file, Line: more.Line, Msg: "a second document begins here; one file holds one document"}
	} else if err.Error() != "EOF" {
		return nil, rewrite(file, err)
	}
	if n.Kind != yaml.DocumentNode || len(n.Content) != 1 {
		return nil, &Error{File: file, Msg: "the file is empty"}
	}
	return n.Content[0], nil
}

// rewrite turns the YAML reader's own messages into ours; only syntax errors normally come this far.
func rewrite(file string, err error) error {
	var own *Error
	if errors.As(err, &own) {
		return own
	}
	msg := err.Error()
	var te *yaml.TypeError
	if errors.As(err, &te) && len(te.Errors) > 0 {
		msg = te.Errors[0]
	}
	msg = strings.TrimPrefix(msg, "yaml: ")
	line := 0
	if rest, ok := strings.CutPrefix(msg, "line "); ok {
		if num, after, ok := strings.Cut(rest, ": "); ok {
			if _, e := fmt.Sscanf(num, "%d", &line); e == nil {
				msg = after
			}
		}
	}
	return &Error{File: file, Line: line, Msg: "not valid YAML: " + msg}
}
