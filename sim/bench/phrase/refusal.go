package phrase

import (
	"regexp"
	"sort"
	"strings"

	"coldbay/assets/messages"
)

// refusals are the bench's refusals as patterns, the one with the most words of its own first: the rest of a text could fill the places of
// a more general one, too.
func refusals(en *messages.Catalogue) []pattern {
	var out []pattern
	own := map[string]int{}
	for _, key := range en.Keys() {
		if !strings.HasPrefix(key, "refusal.") {
			continue
		}
		p := compile(en, key)
		out = append(out, p)
		own[key] = len(placeName.ReplaceAllString(regexp.QuoteMeta(en.T(key)), ""))
	}
	sort.SliceStable(out, func(i, j int) bool { return own[out[i].key] > own[out[j].key] })
	return out
}

// Refusal retells what the bench says when an action can't be done. A text that is none of the bench's comes back as it is, and ok is false.
func (r *Reteller) Refusal(text string) (string, bool) {
	for _, p := range r.refused {
		m := p.re.FindStringSubmatch(text)
		if m == nil {
			continue
		}
		var kv []string
		for i, name := range p.places {
			if name == "id" { // as it is typed at the prompt
				kv = append(kv, name, m[1+i])
				continue
			}
			kv = append(kv, name, r.missing(m[1+i]))
		}
		return r.msg.T(p.key, kv...), true
	}
	return text, false
}

// missing retells what stands in a place of a refusal: the name or the id of a thing, a word, several of them. What is none of these stays:
// numbers, and what was typed at the prompt.
func (r *Reteller) missing(s string) string {
	if n, ok := r.names[s]; ok {
		return n
	}
	if n, ok := r.ids[s]; ok {
		return n
	}
	if key := "refused." + strings.ReplaceAll(s, " ", "_"); r.msg.Has(key) {
		return r.msg.T(key)
	}
	for _, sep := range []string{"; ", ", "} {
		if list := strings.Split(s, sep); len(list) > 1 {
			for i, x := range list {
				list[i] = r.missing(x)
			}
			return strings.Join(list, sep)
		}
	}
	return r.msg.Decimal(s)
}
