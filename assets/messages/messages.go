// Package messages holds every sentence that the trainee's window, the reports and the prompt show, as data: three YAML files a
// language, for the window, the grader and the reports; keys that say where a message is used, named places in braces for what
// changes. Code holds keys, not text. The names of cars' things are data of the cars, in English; a fourth file gives those of
// another language, by kind and id.
package messages

import (
	"bytes"
	"embed"
	"fmt"
	"sort"
	"strconv"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"
)

//go:embed *.yaml
var files embed.FS

// Catalogue is one language's messages.
type Catalogue struct {
	lang  string
	m     map[string]string
	names map[string]string // "fault.pump_worn", and "car_c fault.pump_worn" where a car calls it otherwise
	texts func() *texts     // of the data, read when first asked for
}

// original is the language of the names in the data.
const original = "en"

// Languages lists the built-in languages by their codes, English first.
func Languages() []string { return []string{"en", "de", "es"} }

// Load reads a language that is built in.
func Load(lang string) (*Catalogue, error) {
	c := &Catalogue{lang: lang, m: map[string]string{}, names: map[string]string{}, texts: sync.OnceValue(func() *texts { return readTexts(lang) })}
	for _, name := range []string{lang + ".yaml", lang + ".grade.yaml", lang + ".report.yaml"} {
		raw, err := files.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("load messages %q: %w", lang, err)
		}
		var tree map[string]any
		if err := yaml.Unmarshal(raw, &tree); err != nil {
			return nil, fmt.Errorf("load messages %s: %w", name, err)
		}
		if err := c.flatten("", tree); err != nil {
			return nil, fmt.Errorf("load messages %s: %w", name, err)
		}
	}
	if lang != original {
		return c, c.loadNames()
	}
	return c, nil
}

// kinds are the names of one car, or those that cars share: kind, id, name.
type kinds map[string]map[string]string

func (c *Catalogue) loadNames() error {
	name := c.lang + ".names.yaml"
	raw, err := files.ReadFile(name)
	if err != nil {
		return fmt.Errorf("load names: %w", err)
	}
	var tree struct {
		Names kinds            `yaml:"names"`
		Cars  map[string]kinds `yaml:"cars"`
	}
	d := yaml.NewDecoder(bytes.NewReader(raw))
	d.KnownFields(true)
	if err := d.Decode(&tree); err != nil {
		return fmt.Errorf("load names %s: %w", name, err)
	}
	keep := func(prefix string, k kinds) {
		for kind, m := range k {
			for id, s := range m {
				c.names[prefix+kind+"."+id] = s
			}
		}
	}
	keep("", tree.Names)
	for car, k := range tree.Cars {
		keep(car+" ", k)
	}
	return nil
}

// Name is what a thing of a car is called: what is said of this car's, what is said of all cars', or the given text, which is the
// data's own. A car that the names don't list is somebody's own, and is called what its file calls it. Kinds are those of the files of
// names: car, place, terminal, port, hose, connector, part, clamp, unit, fault, test.
func (c *Catalogue) Name(car, kind, id, text string) string {
	if _, ok := c.names["car."+car]; !ok {
		return text
	}
	if s, ok := c.names[car+" "+kind+"."+id]; ok {
		return s
	}
	if s, ok := c.names[kind+"."+id]; ok {
		return s
	}
	return text
}

// Sign is what eyes get of a thing, given in the data's own words.
func (c *Catalogue) Sign(text string) string {
	if s, ok := c.names["sign."+strings.ReplaceAll(text, " ", "_")]; ok {
		return s
	}
	return text
}

// Names lists the keys of all names, sorted: "kind.id", and "car kind.id" for one that is a car's own.
func (c *Catalogue) Names() []string {
	out := make([]string, 0, len(c.names))
	for k := range c.names {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func (c *Catalogue) flatten(prefix string, tree map[string]any) error {
	for k, v := range tree {
		switch v := v.(type) {
		case string:
			c.m[prefix+k] = v
		case map[string]any:
			if err := c.flatten(prefix+k+".", v); err != nil {
				return err
			}
		default:
			return fmt.Errorf("message %s%s: want text or a group, have %T", prefix, k, v)
		}
	}
	return nil
}

// Lang is the language's code.
func (c *Catalogue) Lang() string { return c.lang }

// T returns the message for key with its {name} places filled from kv, which alternates names and values. A key that
// is not there comes back in brackets, so that a missing message can be seen and does no harm.
func (c *Catalogue) T(key string, kv ...string) string {
	s, ok := c.m[key]
	if !ok {
		return "[" + key + "]"
	}
	for i := 0; i+1 < len(kv); i += 2 {
		s = strings.ReplaceAll(s, "{"+kv[i]+"}", kv[i+1])
	}
	return s
}

// N is T for a count, which fills {n}: key.one for exactly one, key.other for every other number. That is the rule of Unicode CLDR's
// cardinal plurals for whole numbers in English and German, and in Spanish up to a million.
func (c *Catalogue) N(key string, n int, kv ...string) string {
	form := ".other"
	if n == 1 {
		form = ".one"
	}
	return c.T(key+form, append(kv, "n", strconv.Itoa(n))...)
}

// Has tells whether there is a message for key.
func (c *Catalogue) Has(key string) bool { _, ok := c.m[key]; return ok }

// Or is T(key) when there is such a message, and T(other) otherwise.
func (c *Catalogue) Or(key, other string, kv ...string) string {
	if c.Has(key) {
		return c.T(key, kv...)
	}
	return c.T(other, kv...)
}

// Keys lists all keys, sorted.
func (c *Catalogue) Keys() []string {
	out := make([]string, 0, len(c.m))
	for k := range c.m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}
