package strict

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"strings"

	"gopkg.in/yaml.v3"
)

var (
	nodeType   = reflect.TypeFor[yaml.Node]()
	ownYAML    = reflect.TypeFor[yaml.Unmarshaler]()
	ownText    = reflect.TypeFor[encoding.TextUnmarshaler]()
	anyType    = reflect.TypeFor[any]()
	stringType = reflect.TypeFor[string]()
)

// checker compares the tree of nodes with the shape of a Go type before anything is decoded, because only here are key,
// line and expectation known together.
type checker struct{ file string }

func (d *Doc) check(into any) error {
	t := reflect.TypeOf(into)
	if t == nil || t.Kind() != reflect.Pointer {
		return &Error{File: d.File, Msg: "nowhere to decode into"}
	}
	c := checker{file: d.File}
	if err := c.plain(d.root, "", 0); err != nil {
		return err
	}
	return c.value(d.root, t.Elem(), "")
}

func (c checker) fail(n *yaml.Node, key, format string, a ...any) error {
	return &Error{File: c.file, Line: n.Line, Key: key, Msg: fmt.Sprintf(format, a...)}
}

// plain refuses what no car or order needs and what can blow up: anchors, aliases, merges, custom tags, deep nesting, repeated keys.
func (c checker) plain(n *yaml.Node, key string, depth int) error {
	if depth > maxDepth {
		return c.fail(n, "", "nested more than %d levels deep", maxDepth)
	}
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		return c.fail(n, key, "anchors (&) and aliases (*) are not allowed; write the value out")
	}
	if n.Style&yaml.TaggedStyle != 0 {
		return c.fail(n, key, "found the tag %s; tags (!) are not allowed", n.Tag)
	}
	switch n.Kind {
	case yaml.MappingNode:
		seen := map[string]int{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			k, v := n.Content[i], n.Content[i+1]
			if k.Kind != yaml.ScalarNode {
				return c.fail(k, key, "a key must be a plain word")
			}
			if k.Anchor != "" {
				return c.fail(k, key, "anchors (&) and aliases (*) are not allowed; write the value out")
			}
			at := join(key, k.Value)
			if k.Value == "<<" {
				return c.fail(k, key, "merge keys (<<) are not allowed; write the values out")
			}
			if first, ok := seen[k.Value]; ok {
				return c.fail(k, at, "given twice (first on line %d); a key is allowed once", first)
			}
			seen[k.Value] = k.Line
			if err := c.plain(v, at, depth+1); err != nil {
				return err
			}
		}
	case yaml.SequenceNode:
		for i, v := range n.Content {
			if err := c.plain(v, fmt.Sprintf("%s[%d]", key, i), depth+1); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c checker) value(n *yaml.Node, t reflect.Type, key string) error {
	if t == nodeType || t == anyType {
		return nil
	}
	null := n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null"
	if t.Kind() == reflect.Pointer {
		if null {
			return nil
		}
		return c.value(n, t.Elem(), key)
	}
	if p := reflect.PointerTo(t); p.Implements(ownYAML) {
		return nil // its own reader speaks for it
	} else if p.Implements(ownText) {
		return c.scalar(n, stringType, key, null)
	}
	switch t.Kind() {
	case reflect.Struct:
		return c.mapping(n, t, key)
	case reflect.Map:
		if n.Kind != yaml.MappingNode {
			return c.fail(n, key, "found %s; a mapping of names to values is allowed", found(n))
		}
		for i := 0; i+1 < len(n.Content); i += 2 {
			if err := c.value(n.Content[i+1], t.Elem(), join(key, n.Content[i].Value)); err != nil {
				return err
			}
		}
		return nil
	case reflect.Slice, reflect.Array:
		if n.Kind != yaml.SequenceNode {
			return c.fail(n, key, "found %s; a list is allowed", found(n))
		}
		if t.Kind() == reflect.Array && len(n.Content) != t.Len() {
			return c.fail(n, key, "found a list of %d; exactly %d entries are allowed", len(n.Content), t.Len())
		}
		for i, v := range n.Content {
			if err := c.value(v, t.Elem(), fmt.Sprintf("%s[%d]", key, i)); err != nil {
				return err
			}
		}
		return nil
	}
	return c.scalar(n, t, key, null)
}

func (c checker) mapping(n *yaml.Node, t reflect.Type, key string) error {
	if n.Kind != yaml.MappingNode {
		return c.fail(n, key, "found %s; a mapping with these keys is allowed: %s", found(n), strings.Join(names(fields(t)), ", "))
	}
	known := fields(t)
	have := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		f := pick(known, k.Value)
		if f == nil {
			if rest := openKeys(t); rest != nil {
				// Named numbers whose names depend on another key: their owner checks the names.
				if err := c.value(v, rest, join(key, k.Value)); err != nil {
					return err
				}
				continue
			}
			return c.fail(k, join(key, k.Value), "unknown key; %s", OneOf(k.Value, names(known)))
		}
		have[f.name] = true
		if err := c.value(v, f.typ, join(key, k.Value)); err != nil {
			return err
		}
	}
	for _, f := range known {
		if f.required && !have[f.name] {
			return c.fail(n, join(key, f.name), "missing; it must be given")
		}
	}
	return nil
}

func (c checker) scalar(n *yaml.Node, t reflect.Type, key string, null bool) error {
	want := wanted(t)
	if n.Kind != yaml.ScalarNode {
		return c.fail(n, key, "found %s; %s is allowed", found(n), want)
	}
	if null {
		return c.fail(n, key, "found nothing after the key; %s is allowed", want)
	}
	tag := n.ShortTag()
	ok := true
	switch t.Kind() {
	case reflect.String:
		return nil
	case reflect.Bool:
		ok = tag == "!!bool"
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64,
		reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		ok = tag == "!!int"
	case reflect.Float32, reflect.Float64:
		ok = tag == "!!int" || tag == "!!float"
	default:
		return c.fail(n, key, "no value is allowed here")
	}
	if ok {
		v := reflect.New(t)
		if err := n.Decode(v.Interface()); err != nil {
			ok = false
		} else if v.Elem().CanFloat() {
			f := v.Elem().Float()
			ok = !math.IsNaN(f) && !math.IsInf(f, 0)
		}
	}
	if !ok {
		return c.fail(n, key, "found %s; %s is allowed", found(n), want)
	}
	return nil
}

type field struct {
	name     string
	typ      reflect.Type
	required bool
}

// fields lists the keys of a struct in the order they are declared, inline structs included.
func fields(t reflect.Type) []field {
	var out []field
	for i := range t.NumField() {
		f := t.Field(i)
		if !f.IsExported() {
			continue
		}
		tag := f.Tag.Get("yaml")
		name, opts, _ := strings.Cut(tag, ",")
		if name == "-" {
			continue
		}
		if strings.Contains(opts, "inline") {
			if f.Type.Kind() == reflect.Struct {
				out = append(out, fields(f.Type)...)
			}
			continue
		}
		if name == "" {
			name = strings.ToLower(f.Name)
		}
		out = append(out, field{name, f.Type, f.Tag.Get("strict") == "required"})
	}
	return out
}

// openKeys is the element type of an inline map, which takes the keys that no field names; nil when there is none.
func openKeys(t reflect.Type) reflect.Type {
	for i := range t.NumField() {
		f := t.Field(i)
		if strings.HasSuffix(f.Tag.Get("yaml"), ",inline") && f.Type.Kind() == reflect.Map {
			return f.Type.Elem()
		}
	}
	return nil
}

func pick(list []field, name string) *field {
	for i := range list {
		if list[i].name == name {
			return &list[i]
		}
	}
	return nil
}

func names(list []field) []string {
	out := make([]string, len(list))
	for i, f := range list {
		out[i] = f.name
	}
	return out
}

func join(key, name string) string {
	if key == "" {
		return name
	}
	return key + "." + name
}

func wanted(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return "text"
	case reflect.Bool:
		return "true or false"
	case reflect.Float32, reflect.Float64:
		return "a finite number"
	case reflect.Uint, reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64:
		return "a whole number from 0"
	default:
		return "a whole number"
	}
}

func found(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a mapping"
	case yaml.SequenceNode:
		return "a list"
	}
	if n.ShortTag() == "!!null" {
		return "nothing"
	}
	v := n.Value
	if len(v) > 60 {
		v = strings.ToValidUTF8(v[:60], "") + "…"
	}
	return fmt.Sprintf("%q", v)
}
