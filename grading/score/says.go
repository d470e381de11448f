package score

import (
	"fmt"
	"strings"

	"coldbay/grading/belief"
	"coldbay/sim/bench"
)

// wouldHave begins the sentence of a suspect that fell, by what was read; the two readings follow.
var wouldHave = map[string]string{
	"volts":     "the meter would have shown",
	"ohms":      "the ohmmeter would have shown",
	"amps":      "the current would have been",
	"glow":      "the test lamp would have been",
	"vacuum":    "the gauge would have shown",
	"drop":      "the gauge would have fallen by",
	"whine":     "the pump would have sounded",
	"bearing":   "its bearings would have sounded",
	"hiss":      "the hissing would have been",
	"flow":      "the hand would have felt air:",
	"heat":      "the hand would have felt:",
	"vibration": "the pump under the hand would have been",
	"click":     "the ear would have had:",
	"lamp":      "the malfunction lamp would have been",
	"breath":    "the breath would have gone",
	"idle":      "the idle would have been",
	"rpm":       "the rev counter would have shown",
}

// whySays is why a suspect fell, in a sentence without its full stop.
func whySays(say Speaker, st belief.Strike) string {
	seen, would := st.Seen, st.Predicted
	switch {
	case st.Refused != "":
		return "it could not have been done: " + st.Refused
	case would.Key == "":
		return fmt.Sprintf("this would not have shown: %s", say.Percept(seen))
	case seen.Key == "":
		return fmt.Sprintf("this would have shown, too: %s", say.Percept(would))
	case seen.Key != would.Key || seen.Of != would.Of:
		return fmt.Sprintf("instead there would have been: %s", say.Percept(would))
	case would.Key == "whine" && would.Word == "silent":
		return fmt.Sprintf("the pump would have been silent, not %s", seen.Word)
	case would.Key == "code":
		return fmt.Sprintf("%s codes: %s, not %s", would.Of, would.Word, seen.Word)
	}
	if start, ok := wouldHave[would.Key]; ok {
		return fmt.Sprintf("%s %s, not %s", start, short(would), short(seen))
	}
	return fmt.Sprintf("it would have been: %s, not %s", say.Percept(would), short(seen))
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
func lasts(seconds int64) string {
	switch {
	case seconds < 90:
		return fmt.Sprintf("%d seconds", seconds)
	case seconds%60 == 0:
		return fmt.Sprintf("%d minutes", seconds/60)
	}
	return fmt.Sprintf("%.1f minutes", float64(seconds)/60)
}
