package score

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"coldbay/grading/belief"
	"coldbay/sim/bench"
)

// why is why a suspect fell at finding i, in a sentence without its full stop: what its car would have shown, and by what physics.
func (g *grader) why(ctx context.Context, i int, st belief.Strike) (string, error) {
	says := whySays(g.Words, g.Speaker, st, g.soon(i, st.Predicted))
	because, err := g.because(ctx, i, st)
	if err != nil || because == "" {
		return says, err
	}
	return g.Words.T("grade.why.because", "what", says, "why", because), nil
}

// whySays is what a suspect's car would have shown against what was seen; soon: this one showed it, too, but only afterwards.
func whySays(w Words, say Speaker, st belief.Strike, soon bool) string {
	seen, would := st.Seen, st.Predicted
	switch {
	case soon && would.Key != "" && st.Refused == "" && (seen.Key != would.Key || seen.Of != would.Of):
		return w.T("grade.why.sooner", "would", say.Percept(would))
	case st.Refused != "":
		return w.T("grade.why.refused", "why", say.Refusal(st.Refused))
	case would.Key == "":
		return w.T("grade.why.less", "seen", say.Percept(seen))
	case seen.Key == "":
		return w.T("grade.why.more", "would", say.Percept(would))
	case seen.Key != would.Key || seen.Of != would.Of:
		return w.T("grade.why.instead", "would", say.Percept(would))
	case would.Key == "whine" && would.Word == "silent":
		return w.T("grade.why.silent", "seen", say.Short(seen))
	case would.Key == "code":
		return w.T("grade.why.code", "of", codes(w, would.Of), "would", say.Short(would), "seen", say.Short(seen))
	}
	if key := "grade.would." + would.Key; w.Has(key) {
		return w.T(key, "would", say.Short(would), "seen", say.Short(seen))
	}
	return w.T("grade.why.other", "would", say.Percept(would), "seen", say.Short(seen))
}

// codes is which trouble codes are meant.
func codes(w Words, of string) string {
	if key := "mode." + of; w.Has(key) {
		return w.T(key)
	}
	return of
}

// short is a percept's value or word alone.
func short(p bench.Percept) string {
	s := p.Word
	if s == "" {
		s = number(p.Value) + " " + p.Unit
	}
	if p.Flag != "" {
		s += " (" + p.Flag + ")"
	}
	return strings.TrimSpace(s)
}

// number writes a value with at most four decimals, as instruments show it.
func number(v float64) string {
	s := fmt.Sprintf("%.4f", v)
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// lasts says a duration in words.
func lasts(w Words, seconds int64) string {
	switch {
	case seconds < 90:
		return w.N("grade.seconds", int(seconds))
	case seconds%60 == 0:
		return w.N("grade.minutes", int(seconds/60))
	}
	return w.T("grade.minutes.tenths", "n", tenths(w, float64(seconds)/60))
}

func tenths(w Words, v float64) string { return w.Decimal(strconv.FormatFloat(v, 'f', 1, 64)) }

// tenth is a number rounded to what tenths writes.
func tenth(v float64) float64 {
	n, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', 1, 64), 64)
	if err != nil {
		return v
	}
	return n
}
