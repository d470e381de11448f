package validate

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Mark says what sort of authority an expected value has.
type Mark string

// The marks.
const (
	Standard Mark = "standard"            // a standard's or regulation's clause that was read
	Handbook Mark = "handbook"            // a published table or text that was read
	Worked   Mark = "worked out"          // from the formula named, apart from the program
	Program  Mark = "other program"       // the same equations solved by another program, kept as a table
	Note     Mark = "design note"         // the project's own specification: an independent solution or a band of it
	Practice Mark = "common practice"     // no source
	Memory   Mark = "from memory"         // a standard or handbook that was not read for this
	Property Mark = "must hold by itself" // conservation, convergence, monotony
)

// Source is where an expected value comes from.
type Source struct {
	Mark Mark
	Text string
}

// How a row was computed.
const (
	ByFormula = "formula"
	ByWorld   = "car"
	ByBench   = "bench"
)

// Row is one compared quantity.
type Row struct {
	ID       string  `json:"id"`
	Group    string  `json:"group"`
	How      string  `json:"how"`  // formula, car, bench
	What     string  `json:"what"` //
	Source   string  `json:"source"`
	Mark     Mark    `json:"mark"`
	Unit     string  `json:"unit"`
	Expected string  `json:"expected"`
	Low      float64 `json:"low"` // allowed range; both 0 for words
	High     float64 `json:"high"`
	Computed string  `json:"computed"`
	Value    float64 `json:"value"`
	Dev      string  `json:"deviation"`
	Used     float64 `json:"used"` // share of the tolerance taken, 1 at its edge; 0 for words
	Pass     bool    `json:"pass"`
	Known    string  `json:"known,omitempty"` // why the row is known to differ; then it must not pass
}

// Red says that a row is not as it should be: out of tolerance, or back in tolerance though listed as a known difference.
func (r Row) Red() bool { return r.Pass == (r.Known != "") }

// sheet collects the rows of one station.
type sheet struct {
	group, how    string
	prefix, label string // before each row's ID and text: which of the further cars it is about
	rows          []Row
}

func (s *sheet) add(id, what string, src Source) *Row {
	s.rows = append(s.rows, Row{ID: s.prefix + id, Group: s.group, How: s.how, What: s.label + what, Source: src.Text, Mark: src.Mark})
	return &s.rows[len(s.rows)-1]
}

// near expects got within tol of want.
func (s *sheet) near(id, what string, got, want, tol float64, unit string, src Source) {
	r := s.add(id, what, src)
	r.Unit, r.Value, r.Low, r.High = unit, got, want-tol, want+tol
	r.Expected = fmt.Sprintf("%s ± %s", digits(want, 7), digits(tol, 2))
	r.Computed = digits(got, 6)
	r.Used = math.Abs(got-want) / tol
	r.Pass = r.Used <= 1
	r.Dev = fmt.Sprintf("%+.3g", got-want)
	if want != 0 {
		r.Dev += fmt.Sprintf(" (%+.2g %%)", 100*(got-want)/math.Abs(want))
	}
}

// rel is near with a tolerance relative to what is wanted.
func (s *sheet) rel(id, what string, got, want, tol float64, unit string, src Source) {
	s.near(id, what, got, want, math.Abs(want*tol), unit, src)
}

// band expects got between low and high.
func (s *sheet) band(id, what string, got, low, high float64, unit string, src Source) {
	r := s.add(id, what, src)
	r.Unit, r.Value, r.Low, r.High = unit, got, low, high
	r.Expected = digits(low, 5) + " to " + digits(high, 5)
	r.Computed = digits(got, 6)
	half := (high - low) / 2
	r.Used = math.Abs(got-(low+half)) / half
	r.Pass = got >= low && got <= high
	switch {
	case got < low:
		r.Dev = fmt.Sprintf("%.3g below", low-got)
	case got > high:
		r.Dev = fmt.Sprintf("%.3g above", got-high)
	default:
		r.Dev = "inside"
	}
}

// atMost expects nothing or little: 0 to most.
func (s *sheet) atMost(id, what string, got, most float64, unit string, src Source) {
	s.band(id, what, got, 0, most, unit, src)
	r := &s.rows[len(s.rows)-1]
	r.Expected = "at most " + digits(most, 5)
	r.Used = got / most
	r.Pass = got <= most && got > -most
	if r.Pass {
		r.Dev = "inside"
	}
}

// atLeast expects got from least upwards.
func (s *sheet) atLeast(id, what string, got, least float64, unit string, src Source) {
	r := s.add(id, what, src)
	r.Unit, r.Value, r.Low, r.High = unit, got, least, math.MaxFloat64
	r.Expected = "at least " + digits(least, 5)
	r.Computed = digits(got, 6)
	r.Used = least / got
	r.Pass = got >= least
	r.Dev = fmt.Sprintf("%+.3g", got-least)
}

// word expects one of some words.
func (s *sheet) word(id, what, got string, src Source, want ...string) {
	r := s.add(id, what, src)
	r.Expected, r.Computed, r.Pass, r.Dev = strings.Join(want, " or "), got, slices.Contains(want, got), "same"
	if !r.Pass {
		r.Dev = "differs"
	}
}

// known marks the last row as a difference that is known.
func (s *sheet) known(why string) { s.rows[len(s.rows)-1].Known = why }

// digits prints a number with so many significant digits and no noise.
func digits(v float64, n int) string {
	if math.IsNaN(v) {
		return "no reading"
	}
	text := strconv.FormatFloat(v, 'g', n, 64)
	if strings.Contains(text, "e") {
		if f := strconv.FormatFloat(v, 'f', -1, 64); math.Abs(v) >= 1e-4 && math.Abs(v) < 1e7 && len(f) <= n+4 {
			return f
		}
	}
	return text
}
