package messages

import (
	"bytes"
	"fmt"
	"hash/fnv"
	"slices"
	"sort"
	"strconv"

	"gopkg.in/yaml.v3"
)

// The data's own texts in another language: short ones by kind and English words in xx.words.yaml, work orders and lessons by their ids
// in xx.orders.yaml and xx.lessons.yaml. English is what stands in the data, and what is shown where nothing else is there. They are
// no part of the data, so no digest of an order, a car or a lesson depends on them.
//
// An order and a step of a lesson carry in "of" the [Fingerprint] of the English that they were made from. Where the English is another,
// because it was changed or because somebody's own order has that id, it is shown in English.
type texts struct {
	words   map[string]map[string]string
	orders  map[string]orderEntry
	lessons map[string]lessonEntry
	err     error
}

type orderEntry struct {
	Of        string `yaml:"of"`
	OrderText `yaml:",inline"`
}

type lessonEntry struct {
	Of    string `yaml:"of"`
	Title string `yaml:"title"`
	Aim   string `yaml:"aim"`
	Steps map[string]stepEntry
}

type stepEntry struct {
	Of       string `yaml:"of"`
	StepText `yaml:",inline"`
}

// OrderText is what a work order says in words.
type OrderText struct {
	Title     string   `yaml:"title"`
	Customer  string   `yaml:"customer"`
	Vehicle   string   `yaml:"vehicle"`
	Complaint string   `yaml:"complaint"`
	History   string   `yaml:"history"` // all that is told of it, one after another
	Cautions  []string `yaml:"cautions"`
}

// All lists the texts in their order.
func (t OrderText) All() []string {
	return append([]string{t.Title, t.Customer, t.Vehicle, t.Complaint, t.History}, t.Cautions...)
}

// StepText is what a step of a lesson says in words; Ask, Options and Why are those of its question.
type StepText struct {
	Title   string   `yaml:"title"`
	Text    string   `yaml:"text"`
	Ask     string   `yaml:"ask"`
	Options []string `yaml:"options"`
	Why     string   `yaml:"why"`
}

// All lists the texts in their order.
func (t StepText) All() []string {
	return append([]string{t.Title, t.Text, t.Ask, t.Why}, t.Options...)
}

// Fingerprint is a short mark of texts, eight hexadecimal digits (FNV-1a, 32 bits): a change of any of them changes it but for one in
// four milliards of cases.
func Fingerprint(list ...string) string {
	h := fnv.New32a()
	for _, s := range list {
		h.Write([]byte(s)) // a hash takes everything
		h.Write([]byte{0})
	}
	s := strconv.FormatUint(uint64(h.Sum32()), 16)
	return "00000000"[len(s):] + s
}

// readTexts reads the three files of a language.
func readTexts(lang string) *texts {
	t := &texts{}
	if lang == original {
		return t
	}
	for _, f := range []struct {
		name string
		into any
	}{{"words", &t.words}, {"orders", &t.orders}, {"lessons", &t.lessons}} {
		name := lang + "." + f.name + ".yaml"
		raw, err := files.ReadFile(name)
		if err == nil {
			d := yaml.NewDecoder(bytes.NewReader(raw))
			d.KnownFields(true)
			err = d.Decode(f.into)
		}
		if err != nil {
			t.err = fmt.Errorf("load texts %s: %w", name, err)
			return t
		}
	}
	return t
}

// Said is a short text of the data, by its kind and its English words. Kinds: data (names and states of live data, tests of monitors), code
// (what trouble codes stand for), screen (lines of the scan tool), drawing (labels of drawings and diagrams), spec (the sheet of the
// service information).
func (c *Catalogue) Said(kind, english string) string {
	if s, ok := c.texts().words[kind][english]; ok {
		return s
	}
	return english
}

// Order is an order's words; those that are given are the data's own.
func (c *Catalogue) Order(id string, t OrderText) OrderText {
	e, ok := c.texts().orders[id]
	if !ok || len(e.Cautions) != len(t.Cautions) || e.Of != Fingerprint(t.All()...) {
		return t
	}
	out := e.OrderText
	out.Cautions = slices.Clone(out.Cautions)
	return out
}

// Lesson is the title and the aim of a lesson; those that are given are the data's own.
func (c *Catalogue) Lesson(id, title, aim string) (string, string) {
	e, ok := c.texts().lessons[id]
	if !ok || e.Of != Fingerprint(title, aim) {
		return title, aim
	}
	return e.Title, e.Aim
}

// Step is a step's words; those that are given are the data's own.
func (c *Catalogue) Step(lesson, step string, t StepText) StepText {
	e, ok := c.texts().lessons[lesson].Steps[step]
	if !ok || len(e.Options) != len(t.Options) || e.Of != Fingerprint(t.All()...) {
		return t
	}
	out := e.StepText
	out.Options = slices.Clone(out.Options)
	return out
}

// Told lists the keys of all texts of the data in this language, sorted: "kind English", "order ID", "lesson ID", "lesson ID STEP". In
// English there are none. Errors: files that can't be read.
func (c *Catalogue) Told() ([]string, error) {
	t := c.texts()
	var out []string
	for kind, m := range t.words {
		for s := range m {
			out = append(out, kind+" "+s)
		}
	}
	for id := range t.orders {
		out = append(out, "order "+id)
	}
	for id, l := range t.lessons {
		out = append(out, "lesson "+id)
		for step := range l.Steps {
			out = append(out, "lesson "+id+" "+step)
		}
	}
	sort.Strings(out)
	return out, t.err
}
