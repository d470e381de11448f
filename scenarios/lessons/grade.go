package lessons

import (
	"math"
	"strconv"
	"strings"
)

// Answer is what was answered: the chosen options or struck suspects by their places from 0, or a number as it was typed.
type Answer struct {
	Chosen []int  `json:"chosen,omitempty"`
	Typed  string `json:"typed,omitempty"`
}

// Verdict is what an answer is worth.
type Verdict struct {
	Right bool
	// Share is the share of the lines that are right: of a choice or number all or none, of a strike each suspect counts.
	Share float64
	// Truth is the right number, NaN for questions without one.
	Truth float64
}

// ParseNumber reads a typed number with a point or a comma.
func ParseNumber(typed string) (float64, bool) {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(typed), ",", ".", 1), 64)
	return v, err == nil && !math.IsNaN(v) && !math.IsInf(v, 0)
}

// Grade judges an answer. Truth is the reading of the car that the question is about; only questions for a number look at it.
func (a *Ask) Grade(x Answer, truth float64) Verdict {
	v := Verdict{Truth: math.NaN()}
	switch a.Kind {
	case Choice:
		v.Right = len(x.Chosen) == 1 && x.Chosen[0] >= 0 && x.Chosen[0] < len(a.Options) && a.Options[x.Chosen[0]].Right
	case Number:
		v.Truth = truth
		n, ok := ParseNumber(x.Typed)
		v.Right = ok && math.Abs(n-truth) <= a.Within+1e-9
	case Strike:
		hit := 0
		for i, s := range a.Suspects {
			chosen := false
			for _, c := range x.Chosen {
				chosen = chosen || c == i
			}
			if chosen == s.Struck {
				hit++
			}
		}
		v.Share = float64(hit) / float64(max(1, len(a.Suspects)))
		v.Right = hit == len(a.Suspects)
		return v
	}
	if v.Right {
		v.Share = 1
	}
	return v
}
