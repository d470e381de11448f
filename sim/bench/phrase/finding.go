package phrase

import (
	"strings"

	"coldbay/sim/bench"
)

// Line is a finding in one line: what was done and what it showed.
func (b *Book) Line(f bench.Finding) string {
	out := []string{Sentence(b.Doing(f.Action))}
	out = append(out, b.Showed(f)...)
	return strings.Join(out, " ")
}

// Showed is what a finding gave, one sentence a percept, then one for each hazard.
func (b *Book) Showed(f bench.Finding) []string {
	var out []string
	for _, p := range f.Percepts {
		out = append(out, b.Percept(p))
	}
	for _, h := range f.Hazards {
		out = append(out, b.Hazard(h))
	}
	return out
}

// Percept is one thing perceived, as a sentence. Messages are looked up from the particular to the general:
// percept.SENSE.KEY.WORD, percept.SENSE.KEY, percept.KEY, percept.number or percept.word.
func (b *Book) Percept(p bench.Percept) string {
	sense, key := string(p.Sense), p.Key
	if at, ok := strings.CutPrefix(p.Word, "sits on "); ok {
		return Sentence(b.T("percept.elsewhere", "of", b.of(p), "port", b.Opening(at)))
	}
	value, unit := b.Shown(p.Sense, p.Key, p.Value, p.Unit)
	kv := []string{"of", b.of(p), "value", value, "unit", b.msg.Or("unit."+unit, "phrase.id", "id", unit),
		"word", b.word(p.Word), "key", strings.ReplaceAll(key, "_", " ")}
	if pid, ok := strings.CutPrefix(key, "pid."); ok {
		info, known := b.pids[pid]
		name := pid
		if known {
			name = info.Name
		}
		kv = append(kv, "pid", name)
		key = "pid"
	}
	for _, many := range []string{"freeze", "result"} { // one of several values, each of its own number
		if strings.HasPrefix(key, many+".") {
			key = many + ".value"
		}
	}
	general := "percept.number"
	if p.Word != "" {
		general = "percept.word"
	}
	try := []string{"percept." + sense + "." + key + "." + strings.ReplaceAll(p.Word, " ", "_")}
	if p.Word != "" {
		try = append(try, "percept."+sense+"."+key+".word")
	}
	try = append(try, "percept."+sense+"."+key, "percept."+key, general)
	s := ""
	for _, k := range try {
		if b.msg.Has(k) {
			s = b.T(k, kv...)
			break
		}
	}
	if p.Flag != "" {
		s += " (" + b.msg.Or("flag."+strings.ReplaceAll(p.Flag, " ", "_"), "phrase.id", "id", p.Flag) + ")"
	}
	return Sentence(strings.Join(strings.Fields(s), " "))
}

// Short is a percept's value with its unit, or its word, alone.
func (b *Book) Short(p bench.Percept) string {
	s := ""
	if p.Word != "" {
		s = b.word(p.Word)
	} else {
		value, unit := b.Shown(p.Sense, p.Key, p.Value, p.Unit)
		s = strings.TrimSpace(value + " " + b.msg.Or("unit."+unit, "phrase.id", "id", unit))
	}
	if p.Flag != "" {
		s += " (" + b.msg.Or("flag."+strings.ReplaceAll(p.Flag, " ", "_"), "phrase.id", "id", p.Flag) + ")"
	}
	return s
}

// word is a word of the bench or of the car's signs.
func (b *Book) word(s string) string {
	if key := "word." + strings.ReplaceAll(s, " ", "_"); b.msg.Has(key) {
		return b.T(key)
	}
	if w := b.msg.Said("data", s); w != s {
		return w
	}
	return b.msg.Sign(s)
}

func (b *Book) of(p bench.Percept) string {
	switch p.Sense {
	case bench.Eye, bench.Ear, bench.Nose:
		if n, ok := b.places[p.Of]; ok && p.Key != "state" {
			return n
		}
	case bench.Scan:
		if key := "mode." + p.Of; p.Key == "code" && b.msg.Has(key) {
			return b.T(key)
		}
		if key := "monitor." + strings.ReplaceAll(p.Of, " ", "_"); p.Key == "monitor" && b.msg.Has(key) {
			return b.T(key)
		}
		if name := b.msg.Said("data", p.Of); name != p.Of {
			return name
		}
	case bench.Hand:
		if p.Of == "tailpipe" {
			return b.Place(p.Of)
		}
	}
	return b.Thing(p.Of)
}

// Hazard is an unsafe event as a sentence.
func (b *Book) Hazard(h bench.Hazard) string {
	return Sentence(b.msg.Or("hazard."+h.Kind, "hazard.any", "of", b.Thing(h.Of), "kind", strings.ReplaceAll(h.Kind, "_", " ")))
}
