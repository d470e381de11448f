package tongue_test

import (
	"context"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/scenarios"
	"coldbay/scenarios/drawing"
	"coldbay/scenarios/lessons"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
	"coldbay/sim/scan"
)

// sensor is what standards call an oxygen sensor in every language.
var sensor = regexp.MustCompile(`^B\dS\d$`)

// words lists the short texts that the program ships, by kind.
func words(t *testing.T, msg *messages.Catalogue) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	add := func(kind string, list ...string) {
		for _, s := range list {
			if s != "" && !slices.Contains(out[kind], s) && !(kind == "data" && (sensor.MatchString(s) || msg.Has("word."+strings.ReplaceAll(s, " ", "_")))) {
				out[kind] = append(out[kind], s)
			}
		}
	}
	for pid := range 256 {
		p, ok := scan.Lookup(byte(pid))
		if !ok {
			continue
		}
		add("data", p.Name)
		for _, f := range p.Fields {
			add("data", f.Name)
			for _, s := range f.States {
				add("data", s.Text)
			}
		}
	}
	all := scan.MonitorsOf(scan.Monitors()...)
	for _, r := range []scan.Readiness{{Lamp: true, Supported: all, Incomplete: all}, {Supported: all}, {}} {
		b := r.Bytes()
		list, err := scan.Item{ID: scan.PIDReadiness, Data: b[:]}.Readings()
		require.NoError(t, err)
		for _, x := range list {
			add("data", x.Name, x.Text)
		}
	}
	for tid := range 256 {
		if name, ok := scan.TestName(scan.MIDSecondaryAir1, byte(tid)); ok {
			add("data", name, name+", bank 2")
		}
	}
	for _, d := range scan.NamedDTCs() {
		name, _ := d.Name()
		add("code", name)
	}
	for _, call := range calls(t, "page", "line") {
		for _, arg := range call.Args {
			if s, ok := literal(arg); ok && !strings.Contains(s, "%") {
				add("screen", s)
			}
		}
	}
	add("screen", "stored codes", "pending codes", "permanent codes")
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	for _, id := range lib.CarIDs() {
		k, err := lib.Car(id)
		require.NoError(t, err)
		for _, s := range k.Car.Spec {
			add("spec", s.Item, s.Value)
		}
		d, err := drawing.Load(id)
		require.NoError(t, err)
		add("drawing", d.Labels()...)
	}
	return out
}

// calls lists the calls of methods of these names in the bench.
func calls(t *testing.T, methods ...string) []*ast.CallExpr {
	t.Helper()
	var out []*ast.CallExpr
	files, err := filepath.Glob("../../sim/bench/*.go")
	require.NoError(t, err)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(f, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok {
				if sel, ok := call.Fun.(*ast.SelectorExpr); ok && slices.Contains(methods, sel.Sel.Name) {
					out = append(out, call)
				}
			}
			return true
		})
	}
	return out
}

func literal(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	s, err := strconv.Unquote(lit.Value)
	return s, err == nil
}

// Everything that the data say in words is there in every language, numbers and all, and nothing is left over.
func TestEveryTextIsTold(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	shelf, err := lessons.Builtin()
	require.NoError(t, err)
	for _, lang := range messages.Languages()[1:] {
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		told, err := msg.Told()
		require.NoError(t, err)
		have, used := map[string]bool{}, map[string]bool{}
		for _, k := range told {
			have[k] = true
		}
		said := func(key, english, other string) {
			require.NotEmpty(t, strings.TrimSpace(other), "%s: %s", lang, key)
			require.Equal(t, strings.TrimSpace(other), other, "%s: %s", lang, key)
			require.Equal(t, numbers("en", english), numbers(lang, other), "%s: %s: other numbers than %q", lang, key, english)
		}
		for kind, list := range words(t, msg) {
			for _, s := range list {
				key := kind + " " + s
				require.True(t, have[key], "%s.words.yaml: no %s %q", lang, kind, s)
				used[key] = true
				said(key, s, msg.Said(kind, s))
			}
		}
		for _, id := range lib.OrderIDs() {
			o, err := lib.Load(id)
			require.NoError(t, err)
			x := o.Order
			text := messages.OrderText{Title: x.Title, Customer: x.Customer, Vehicle: x.Vehicle, Complaint: x.Complaint, History: x.Told(), Cautions: x.Cautions}
			got := phrase.Order(msg, x)
			require.NotEqual(t, text, got, "%s.orders.yaml: order %s has no words, or its English has changed: look at them, then write of: %q", lang, id, messages.Fingerprint(text.All()...))
			used["order "+id] = true
			for i, s := range text.All() {
				said("order "+id, s, got.All()[i])
			}
		}
		for _, l := range shelf.Lessons {
			got := l.In(msg)
			key := "lesson " + l.ID
			require.NotEqual(t, l.Title, got.Title, "%s.lessons.yaml: lesson %s has no title and aim, or their English has changed: look at them, then write of: %q", lang, l.ID, messages.Fingerprint(l.Title, l.Aim))
			used[key] = true
			said(key, l.Title, got.Title)
			said(key, l.Aim, got.Aim)
			for i, s := range l.Steps {
				text, other := s.Words(), got.Steps[i].Words()
				require.NotEqual(t, text, other, "%s.lessons.yaml: lesson %s, step %s has no words, or its English has changed: look at them, then write of: %q", lang, l.ID, s.ID, messages.Fingerprint(text.All()...))
				key := "lesson " + l.ID + " " + s.ID
				used[key] = true
				for k, words := range text.All() {
					if words != "" {
						said(key, words, other.All()[k])
					} else {
						require.Empty(t, other.All()[k], "%s: %s has words where English has none", lang, key)
					}
				}
			}
		}
		for k := range have {
			require.True(t, used[k], "%s: nothing in the data is %q any more", lang, k)
		}
	}
}

var (
	thousands = map[string]*regexp.Regexp{"en": regexp.MustCompile(`(\d),(\d{3})\b`), "de": regexp.MustCompile(`(\d)\.(\d{3})\b`), "es": regexp.MustCompile(`(\d)[ \x{a0}](\d{3})\b`)}
	comma     = regexp.MustCompile(`(\d),(\d)`)
	number    = regexp.MustCompile(`\b\d+(\.\d+)?`)
)

// numbers lists the numbers of a text, sorted, as English writes them without its thousands' commas.
func numbers(lang, s string) []string {
	s = thousands[lang].ReplaceAllString(s, "$1$2")
	if lang != "en" {
		s = comma.ReplaceAllString(s, "$1.$2")
	}
	out := number.FindAllString(s, -1)
	slices.Sort(out)
	return out
}

func TestNumbersAreCompared(t *testing.T) {
	require.Equal(t, []string{"0.5", "203000", "4"}, numbers("en", "203,000 km, 0.5 V, 4"))
	require.Equal(t, []string{"0.5", "203000", "4"}, numbers("de", "203.000 km, 0,5 V, 4"))
	require.Equal(t, []string{"0.5", "203000", "4"}, numbers("es", "203 000 km, 0,5 V, 4"))
	require.NotEqual(t, numbers("en", "0.5 V"), numbers("de", "0.6 V"))
}

// verb is a place of a refusal as the bench writes it.
var verb = regexp.MustCompile(`%[sd]`)

// place is one as the messages have it.
var place = regexp.MustCompile(`\{[a-z]+\}`)

// Every refusal of the bench is a message, word for word in English, and no message is left without a refusal.
func TestEveryRefusalIsThere(t *testing.T) {
	en, err := messages.Load("en")
	require.NoError(t, err)
	forms := map[string]string{}
	for _, key := range en.Keys() {
		if strings.HasPrefix(key, "refusal.") {
			forms[place.ReplaceAllString(en.T(key), "{}")] = key
		}
	}
	used := map[string]bool{}
	n := 0
	for _, call := range calls(t, "no", "switched") {
		for _, arg := range call.Args {
			s, ok := literal(arg)
			if !ok || s == "%s" {
				continue
			}
			if sel := call.Fun.(*ast.SelectorExpr); sel.Sel.Name == "no" && arg != call.Args[0] {
				continue // what stands in a place
			}
			n++
			form := verb.ReplaceAllString(strings.ReplaceAll(s, "%q", `"{}"`), "{}")
			require.Contains(t, forms, form, "no message refusal.… says %q", s)
			used[forms[form]] = true
		}
	}
	require.Greater(t, n, 90)
	for _, key := range forms {
		require.True(t, used[key], "the bench refuses nothing with the words of %s any more", key)
	}
}

// A refusal is taken apart by its own pattern, whatever stands in its places, and not by a more general one.
func TestRefusalsAreToldApart(t *testing.T) {
	en, err := messages.Load("en")
	require.NoError(t, err)
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load("quiet_pump")
	require.NoError(t, err)
	l, err := bench.NewLocal(lib.Config(o, "test"))
	require.NoError(t, err)
	c := l.Catalogue()
	for _, lang := range messages.Languages()[1:] {
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		b := phrase.Open(msg, o.Order.Car, c)
		for _, key := range en.Keys() {
			if !strings.HasPrefix(key, "refusal.") {
				continue
			}
			kv := []string{"a", c.Ports[0].Name, "b", c.Terminals[1].Name, "c", c.Hoses[0].ID, "id", c.Connectors[0].ID}
			name := phrase.Named(msg, o.Order.Car, c)
			want := []string{"a", name.Ports[0].Name, "b", name.Terminals[1].Name, "c", name.Hoses[0].Name, "id", c.Connectors[0].ID}
			kv = append(kv, "from", c.Terminals[0].ID, "to", c.Terminals[2].ID)
			want = append(want, "from", name.Terminals[0].Name, "to", name.Terminals[2].Name)
			if strings.Contains(en.T(key), "before {a}") {
				kv[1], want[1] = "a repair", msg.T("refused.a_repair")
			}
			if strings.Contains(en.T(key), "there are: {c}") || key == "refusal.feel.what" {
				kv[5], want[5] = c.Hoses[0].ID+", "+c.Hoses[1].ID, name.Hoses[0].Name+", "+name.Hoses[1].Name
			}
			require.Equal(t, msg.T(key, want...), b.Refusal(en.T(key, kv...)), "%s: %s", lang, key)
		}
	}
}

// What the bench really refuses is said in the language of the window.
func TestBenchRefusesInEveryLanguage(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load("quiet_pump")
	require.NoError(t, err)
	for _, c := range []struct {
		lang string
		a    bench.Action
		says string
	}{
		{"de", bench.Action{Verb: bench.MeterOn, Mode: "volts", On: "pump_1", To: "bat_neg"}, "Pumpenstift 1 (Plus): nur zu erreichen, wenn dies offen ist: Pumpenstecker"},
		{"es", bench.Action{Verb: bench.HandPump, On: "valve_nipple"}, "boquilla de vacío de la válvula de aire; suéltela primero"},
		{"de", bench.Action{Verb: bench.Codes, Mode: "stored"}, "das Diagnosegerät ist nicht angesteckt"},
		{"es", bench.Action{Verb: bench.Hold, N: 2000}, "el motor no está en marcha; arránquelo primero"},
		{"de", bench.Action{Verb: bench.Helper, Mode: "off"}, "die Hilfskraft ist schon fort"},
		{"de", bench.Action{Verb: bench.Repair, On: "pump_ground", Mode: "replace"}, "hier kann man nur instand setzen"},
	} {
		msg, err := messages.Load(c.lang)
		require.NoError(t, err)
		l, err := bench.NewLocal(lib.Config(o, "test"))
		require.NoError(t, err)
		_, err = l.Do(context.Background(), c.a)
		var no *bench.Refusal
		require.True(t, errors.As(err, &no), "%v: %v", c.a, err)
		require.Contains(t, phrase.Open(msg, o.Order.Car, l.Catalogue()).Refusal(no.Missing), c.says)
	}
}

// Somebody's own order under a shipped id keeps its own words.
func TestOwnOrderKeepsItsWords(t *testing.T) {
	de, err := messages.Load("de")
	require.NoError(t, err)
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load("quiet_pump")
	require.NoError(t, err)
	x := *o.Order
	require.Equal(t, "Das Heulen ist leise geworden, Lampe an", phrase.Order(de, &x).Title)
	x.Complaint += " And it rattles."
	require.Equal(t, x.Title, phrase.Order(de, &x).Title)
	x.ID = "mine"
	require.Equal(t, x.Complaint, phrase.Order(de, &x).Complaint)
}
