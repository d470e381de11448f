package phrase

import (
	"math"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"coldbay/assets/messages"
	"coldbay/sim/bench"
	"coldbay/sim/units"
)

// Book knows the words for one order's things.
type Book struct {
	// Units are those in which values are shown.
	Units units.Preference

	msg        *messages.Catalogue
	places     map[string]string
	parts      map[string]string // parts, connectors, clamp points
	terminals  map[string]string
	ports      map[string]string
	hoses      map[string]bench.HoseInfo
	service    map[string]string
	seen       map[string]string // the unit of what the eyes get at
	suspects   map[string]string
	pids       map[string]bench.PIDInfo
	allSuspect int
	retell     func() (*Reteller, error) // nil in the language of the data
}

// Open makes a book for an order's catalogue as the bench gives it, in English, with the names of the car's things in the language of the
// messages.
func Open(msg *messages.Catalogue, car string, c bench.Catalogue) *Book {
	b := New(msg, Named(msg, car, c))
	if msg.Lang() != messages.Languages()[0] {
		b.retell = sync.OnceValues(func() (*Reteller, error) { return NewReteller(msg, car, c) })
	}
	return b
}

// Refusal is why an action can't be done, given in the bench's words.
func (b *Book) Refusal(text string) string {
	if b.retell == nil {
		return text
	}
	r, err := b.retell()
	if err != nil {
		return text // the English words say it, too
	}
	text, _ = r.Refusal(text)
	return text
}

// New makes a book for an order's catalogue, whose names are taken as they are.
func New(msg *messages.Catalogue, c bench.Catalogue) *Book {
	b := &Book{Units: units.SI.Preference(), msg: msg, places: map[string]string{}, parts: map[string]string{}, terminals: map[string]string{},
		ports: map[string]string{}, hoses: map[string]bench.HoseInfo{}, service: map[string]string{},
		seen: map[string]string{}, suspects: map[string]string{}, pids: map[string]bench.PIDInfo{}, allSuspect: len(c.Suspects)}
	for _, p := range c.Places {
		b.places[p.ID] = p.Name
	}
	for _, list := range [][]bench.Spot{c.Clamps, c.Connectors, c.Parts} {
		for _, s := range list {
			b.parts[s.ID] = s.Name
		}
	}
	for _, s := range c.Terminals {
		b.terminals[s.ID] = s.Name
	}
	for _, p := range c.Pins {
		b.terminals[p.ID] = first(p.Terminal, b.terminals)
	}
	for _, s := range c.Ports {
		b.ports[s.ID] = s.Name
	}
	for _, h := range c.Hoses {
		b.hoses[h.ID] = h
	}
	for _, u := range c.Units {
		b.service[u.ID] = u.Name
	}
	for _, p := range c.Seen {
		b.seen[p.ID] = p.Unit
	}
	for _, s := range c.Suspects {
		b.suspects[s.ID] = s.Name
	}
	for _, p := range c.PIDs {
		b.pids[p.PID] = p
	}
	return b
}

// T looks a message up.
func (b *Book) T(key string, kv ...string) string { return b.msg.T(key, kv...) }

// Place is the name of a place.
func (b *Book) Place(id string) string { return first(id, b.places) }

// Terminal is the name of a terminal.
func (b *Book) Terminal(id string) string { return first(id, b.terminals) }

// Unit is the name of a service unit.
func (b *Book) Unit(id string) string { return first(id, b.service) }

// Suspect is the name of a suspect.
func (b *Book) Suspect(id string) string { return first(id, b.suspects) }

// Opening is the name of a port or of a hose end: "line_supply.b".
func (b *Book) Opening(id string) string {
	if n, ok := b.ports[id]; ok {
		return n
	}
	if h, end, ok := strings.Cut(id, "."); ok {
		if info, ok := b.hoses[h]; ok {
			port := info.PortA
			if end == "b" {
				port = info.PortB
			}
			return b.T("phrase.end", "hose", info.Name, "port", first(port, b.ports))
		}
	}
	return b.Thing(id)
}

// Thing is the name of anything, when it is not known what kind of thing the id names: parts and connectors first.
func (b *Book) Thing(id string) string {
	for _, m := range []map[string]string{b.parts, b.ports, b.terminals, b.places, b.service, b.suspects} {
		if n, ok := m[id]; ok {
			return n
		}
	}
	if h, ok := b.hoses[id]; ok {
		return h.Name
	}
	if u, ok := b.seen[id]; ok {
		return b.Unit(u)
	}
	if a, c, ok := strings.Cut(id, "/"); ok {
		return b.T("phrase.pair", "a", b.Terminal(a), "b", b.Terminal(c))
	}
	if strings.Contains(id, ".") {
		if h, _, _ := strings.Cut(id, "."); b.hoses[h].Name != "" {
			return b.Opening(id)
		}
	}
	if key := "thing." + id; b.msg.Has(key) {
		return b.T(key)
	}
	return strings.ReplaceAll(id, "_", " ")
}

func first(id string, m map[string]string) string {
	if n, ok := m[id]; ok {
		return n
	}
	return strings.ReplaceAll(id, "_", " ")
}

// Number writes a value without needless digits.
func Number(v float64) string {
	if v == math.Trunc(v) && math.Abs(v) < 1e9 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// Clock writes seconds as minutes and seconds, with hours when there are any.
func Clock(seconds float64) string {
	s := int(math.Floor(seconds + 1e-9))
	two := func(n int) string {
		if n < 10 {
			return "0" + strconv.Itoa(n)
		}
		return strconv.Itoa(n)
	}
	if s >= 3600 {
		return strconv.Itoa(s/3600) + ":" + two(s/60%60) + ":" + two(s%60)
	}
	return strconv.Itoa(s/60) + ":" + two(s%60)
}

// Money writes cents in the bay's own currency, which has no name: "65.00".
func Money(cents int) string {
	sign := ""
	if cents < 0 {
		sign, cents = "-", -cents
	}
	c := strconv.Itoa(cents % 100)
	if len(c) < 2 {
		c = "0" + c
	}
	return sign + strconv.Itoa(cents/100) + "." + c
}

// Sentence begins with a capital and ends with a full stop.
func Sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	if c, n := utf8.DecodeRuneInString(s); c != utf8.RuneError {
		s = string(unicode.ToUpper(c)) + s[n:]
	}
	if !strings.ContainsAny(s[len(s)-1:], ".!?…") {
		s += "."
	}
	return s
}
