package phrase

import (
	"regexp"
	"strings"

	"coldbay/assets/messages"
	"coldbay/sim/bench"
)

// Reteller says what was said in English by a [bench.Sayer] in another language. Built files, such as the planner's dictionaries, hold
// what readings show as English text; it is taken apart by the same patterns that the Sayer puts it together with, which a test holds
// against every text that comes with the program.
type Reteller struct {
	msg      *messages.Catalogue
	names    map[string]string // by their English
	ids      map[string]string // by their ids
	patterns []pattern
	refused  []pattern // refusals of the bench
}

// pattern is a form of English sentence: its message, and what stands in its places.
type pattern struct {
	key    string
	re     *regexp.Regexp
	places []string
}

// forms are the Sayer's sentences, the particular before the general.
var forms = []string{"volts", "ohms", "amps", "clamp", "glow", "vacuum", "drop", "tailpipe", "flow", "heat", "vibration", "runs", "stopped", "lead", "smokein",
	"smoke", "gas", "breath", "breathout", "code", "monitor", "scan", "stem", "pump", "whine", "bearing", "hiss", "idle", "start", "lamp", "dash", "smell", "nothing", "sits", "sign"}

var placeName = regexp.MustCompile(`\\\{([a-z]+)\\\}`)

// NewReteller makes one for a car, of whose things the catalogue holds the English names.
func NewReteller(msg *messages.Catalogue, car string, c bench.Catalogue) (*Reteller, error) {
	en, err := messages.Load("en")
	if err != nil {
		return nil, err
	}
	r := &Reteller{msg: msg, names: map[string]string{}, ids: map[string]string{}, refused: refusals(en)}
	for _, f := range forms {
		r.patterns = append(r.patterns, compile(en, "label."+f))
	}
	r.learn(c, Named(msg, car, c))
	return r, nil
}

// compile makes a pattern of an English message.
func compile(en *messages.Catalogue, key string) pattern {
	p := pattern{key: key}
	text := placeName.ReplaceAllStringFunc(regexp.QuoteMeta(en.T(key)), func(s string) string {
		name := placeName.FindStringSubmatch(s)[1]
		p.places = append(p.places, name)
		if name == "id" || name == "from" || name == "to" {
			return `(\S+)` // ids have no spaces
		}
		return "(.+)"
	})
	p.re = regexp.MustCompile("^" + text + "$")
	return p
}

// learn takes the names of two catalogues of one car, in English and in the other language.
func (r *Reteller) learn(en, c bench.Catalogue) {
	know := func(english, other string) {
		if _, ok := r.names[english]; !ok && english != "" {
			r.names[english] = other
		}
	}
	id := func(id, other string) {
		if _, ok := r.ids[id]; !ok && id != "" {
			r.ids[id] = other
		}
	}
	for i, p := range en.Places {
		id(p.ID, c.Places[i].Name)
		know(p.Name, c.Places[i].Name)
		know("vent of the "+p.Name, r.msg.T("label.vent", "of", c.Places[i].Name))
	}
	for _, lists := range [][2][]bench.Spot{{en.Terminals, c.Terminals}, {en.Ports, c.Ports}, {en.Connectors, c.Connectors}, {en.Parts, c.Parts}, {en.Clamps, c.Clamps}, {en.Devices, c.Devices}} {
		for i, s := range lists[0] {
			know(s.Name, lists[1][i].Name)
			id(s.ID, lists[1][i].Name)
		}
	}
	for i, u := range en.Units {
		id(u.ID, c.Units[i].Name)
		know(u.Name, c.Units[i].Name)
		know("vent of the "+u.Name, r.msg.T("label.vent", "of", c.Units[i].Name))
	}
	ports := map[string]int{}
	for i, p := range en.Ports {
		ports[p.ID] = i
	}
	for i, h := range en.Hoses {
		know(h.Name, c.Hoses[i].Name)
		for _, end := range [][2]string{{".a", h.PortA}, {".b", h.PortB}} {
			if k, ok := ports[end[1]]; ok {
				name := r.msg.T("phrase.end", "hose", c.Hoses[i].Name, "port", c.Ports[k].Name)
				know(h.Name+", end at the "+en.Ports[k].Name, name)
				id(h.ID+end[0], name)
			}
		}
	}
	for i, s := range en.Suspects {
		id(s.ID, c.Suspects[i].Name)
		know(s.Name, c.Suspects[i].Name)
	}
}

// Label retells the outcome of a test: clauses with what was read one after another. What it can't take apart stays English; ok says
// that there was nothing such.
func (r *Reteller) Label(label string) (text string, ok bool) {
	if why, refused := strings.CutPrefix(label, "can't be done: "); refused {
		why, ok = r.Refusal(why)
		return r.msg.T("label.cant", "why", why), ok
	}
	clauses := strings.Split(label, "; ")
	ok = true
	for i, c := range clauses {
		text, known := r.clause(c)
		clauses[i], ok = text, ok && known
	}
	return strings.Join(clauses, "; "), ok
}

func (r *Reteller) clause(s string) (string, bool) {
	body, stays := strings.CutSuffix(s, " and stays")
	list := strings.Split(body, ", then ")
	text, ok := r.sentence(list[0])
	for _, v := range list[1:] {
		value, known := r.value(v)
		text, ok = r.msg.T("label.then", "before", text, "value", value), ok && known
	}
	if stays {
		text = r.msg.T("label.stays", "what", text)
	}
	if !ok {
		return s, false
	}
	return text, true
}

func (r *Reteller) sentence(s string) (string, bool) {
	for _, p := range r.patterns {
		m := p.re.FindStringSubmatch(s)
		if m == nil {
			continue
		}
		var kv []string
		known := true
		for i, name := range p.places {
			text, ok := r.place(name, m[1+i])
			kv, known = append(kv, name, text), known && ok
		}
		if known {
			return r.msg.T(p.key, kv...), true
		}
	}
	return s, false
}

// place retells what stands in a place of a sentence, by the name of the place.
func (r *Reteller) place(name, s string) (string, bool) {
	switch name {
	case "value":
		return r.value(s)
	case "air":
		return r.air(s)
	case "what": // of the scan tool and the analyser
		return r.msg.Said("data", s), true
	case "pair":
		for at := 0; ; {
			i := strings.Index(s[at:], " and ")
			if i < 0 {
				return s, false
			}
			a, oka := r.names[s[:at+i]]
			b, okb := r.names[s[at+i+len(" and "):]]
			if oka && okb {
				return r.msg.T("phrase.pair", "a", a, "b", b), true
			}
			at += i + 1
		}
	case "dash":
		key := "dash." + s
		return r.msg.T(key), r.msg.Has(key)
	case "codes":
		key := "mode." + s
		return r.msg.T(key), r.msg.Has(key)
	}
	n, ok := r.names[s]
	if !ok { // a thing without a name, which the Sayer calls by its id
		id := strings.ReplaceAll(s, " ", "_")
		if key := "thing." + id; r.msg.Has(key) {
			return r.msg.T(key), true
		}
	}
	return n, ok
}

func (r *Reteller) air(s string) (string, bool) {
	if s == "no air" {
		return r.msg.T("label.noair"), true
	}
	if strength, ok := strings.CutSuffix(s, " air"); ok {
		w, known := r.word(strength)
		return r.msg.T("label.air", "value", w), known
	}
	return r.word(s)
}

var reading = regexp.MustCompile(`^-?[0-9.]+( \S+)?$`)

// value retells a number with its unit, a trouble code, or a word, each perhaps with a flag.
func (r *Reteller) value(s string) (string, bool) {
	flag := ""
	if body, f, ok := strings.Cut(s, " ("); ok {
		f = strings.TrimSuffix(f, ")")
		s, flag = body, " ("+r.msg.Or("flag."+strings.ReplaceAll(f, " ", "_"), "phrase.id", "id", f)+")"
	}
	if reading.MatchString(s) {
		if number, unit, ok := strings.Cut(s, " "); ok {
			s = r.msg.Decimal(number) + " " + r.msg.Or("unit."+unit, "phrase.id", "id", unit)
		}
		return r.msg.Decimal(s) + flag, true
	}
	if troubleCode.MatchString(s) {
		return s + flag, true
	}
	w, ok := r.word(s)
	return w + flag, ok
}

var troubleCode = regexp.MustCompile(`^[PCBU][0-9A-F]{4}(, ?[PCBU][0-9A-F]{4})*$`)

func (r *Reteller) word(s string) (string, bool) {
	if key := "word." + strings.ReplaceAll(s, " ", "_"); r.msg.Has(key) {
		return r.msg.T(key), true
	}
	if w := r.msg.Said("data", s); w != s {
		return w, true
	}
	w := r.msg.Sign(s)
	return w, w != s || r.msg.Lang() == "en"
}
