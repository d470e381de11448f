// Package messages holds every sentence that the trainee's window and the prompt show, as data: two YAML files a
// language, the grader's sentences in one of their own, keys that say where a message is used, named places in braces for what changes. Code holds keys, not text.
package messages

import (
	"embed"
	"fmt"
	"sort"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

//go:embed *.yaml
var files embed.FS

// Catalogue is one language's messages.
type Catalogue struct {
	lang string
	m    map[string]string
}

// Languages lists the built-in languages by their codes, English first.
func Languages() []string { return []string{"en", "de", "es"} }

// Load reads a language that is built in.
func Load(lang string) (*Catalogue, error) {
	c := &Catalogue{lang: lang, m: map[string]string{}}
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
	return c, nil
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
