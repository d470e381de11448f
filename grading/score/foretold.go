package score

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// vocabulary is what a thing read may be called, for things that have words instead of numbers: a prediction that names one of them is
// held against the one that was read.
var vocabulary = map[string][]string{
	"whine": {"silent", "slow", "normal", "fast"}, "bearing": {"smooth", "rough", "grinding"}, "hiss": {"none", "faint", "clear", "strong"},
	"flow": {"none", "faint", "clear", "strong"}, "click": {"no click", "clicks"}, "glow": {"off", "glimmer", "dim", "bright"},
	"breath": {"blocked", "hard", "free"}, "breath_out": {"none", "faint", "clear"}, "heat": {"cold", "warm", "hot"},
	"noise": {"whines", "falls silent"}, "pump": {"whines", "falls silent"}, "smoke_in": {"none", "little", "much"}, "smoke": {"none", "thin", "thick"},
	"idle": {"even", "hunts"},
}

// troubleCode is a diagnostic trouble code as people write it.
var troubleCode = regexp.MustCompile(`(?i)\b[PBCU][0-3][0-9A-F]{3}\b`)

// negation before a word turns it round.
var negation = regexp.MustCompile(`(?i)(^|[^\pL])(not|no|nicht|kein|keine|keinen|no es|sin)\s+(\pL+\s+)?$`)

// says holds the word or the code of a prediction against a finding: whether it names one that such readings have, whether it was the one
// read, and what was read, in words.
func (g *grader) wordIn(text string, f bench.Finding) (names, right bool, want, seen string) {
	if want = strings.ToUpper(troubleCode.FindString(text)); want != "" {
		var read []string
		for _, p := range f.Percepts {
			if p.Key == "code" {
				names = true
				read = append(read, g.Speaker.Short(p))
				right = right || strings.Contains(p.Word, want)
			}
		}
		right = right != negation.MatchString(text[:troubleCode.FindStringIndex(text)[0]])
		return names, right, want, strings.Join(read, ", ")
	}
	// The longest word is meant: "no click" has a click in it.
	for _, p := range f.Percepts {
		for _, w := range vocabulary[p.Key] {
			q := p
			q.Word = w
			for _, form := range []string{w, g.Speaker.Short(q)} {
				at := wordAt(text, form)
				if at < 0 || len(form) < len(want) {
					continue
				}
				names, want, seen = true, form, g.Speaker.Short(p)
				right = (q.Class() == p.Class()) != (negation.MatchString(text[:at]) && !strings.HasPrefix(form, "no "))
			}
		}
	}
	return names, right, want, seen
}

// wordAt is where a word stands by itself in a text, or -1.
func wordAt(text, word string) int {
	low := strings.ToLower(text)
	for from := 0; word != ""; {
		at := strings.Index(low[from:], strings.ToLower(word))
		if at < 0 {
			return -1
		}
		at += from
		before, after := strings.TrimRightFunc(low[:at], unicode.IsLetter), strings.TrimLeftFunc(low[at+len(word):], unicode.IsLetter)
		if len(before) == at && len(after) == len(low)-at-len(word) && at <= len(text) {
			return at
		}
		from = at + len(word)
	}
	return -1
}

// parted says whether the readings of findings first..last part the suspects named from all others that stood before, or some of the named
// from each other: by which outcome each one's car gave, not by who fell.
func (g *grader) parted(named []string, first, last int) bool {
	steps := g.b.Steps()
	cells := map[bool][]int{}
	for i := range steps[first].Before.All() {
		is := slices.Contains(named, g.b.Suspects()[g.b.Cells()[i].Suspect].ID)
		cells[is] = append(cells[is], i)
	}
	apart := func(a, b int) bool {
		for _, st := range steps[first : last+1] {
			if pa, pb := partOf(st.Parts, a), partOf(st.Parts, b); pa != pb {
				return true
			}
		}
		return false
	}
	fromOthers := len(cells[false]) > 0
	for _, a := range cells[true] {
		for _, b := range cells[false] {
			fromOthers = fromOthers && apart(a, b)
		}
	}
	if fromOthers {
		return true
	}
	for _, a := range cells[true] {
		for _, b := range cells[true] {
			if g.b.Cells()[a].Suspect != g.b.Cells()[b].Suspect && apart(a, b) {
				return true
			}
		}
	}
	return false
}

func partOf(parts []plan.Set, cell int) int {
	return slices.IndexFunc(parts, func(p plan.Set) bool { return p.Has(cell) })
}
