package report_test

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/grading/plan"
	"coldbay/grading/report"
)

func textOf(t *testing.T, s solved) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, report.KeyText(&b, nil, s.title, s.dict, s.root, s.par))
	return b.String()
}

var cardLine = regexp.MustCompile(`(?m)^ *(\d+)\. \d+ suspect`)

// cardCount is the number of cards of the text form, which are numbered from 1 without a gap.
func cardCount(t *testing.T, s solved) int {
	t.Helper()
	list := cardLine.FindAllStringSubmatch(textOf(t, s), -1)
	for i, m := range list {
		require.Equal(t, strconv.Itoa(i+1), m[1])
	}
	return len(list)
}

// Every suspect is left on some card that ends the job, or its repair stands on one that is tried first; the first card's minutes are par.
func TestKeyTextIsComplete(t *testing.T) {
	for _, s := range append(current(t), frozen(t)) {
		text := textOf(t, s)
		flat := strings.Join(strings.Fields(text), " ")
		named := map[string]bool{}
		for _, m := range regexp.MustCompile(`left: (.*?) - `).FindAllStringSubmatch(flat, -1) {
			for _, n := range strings.Split(m[1], "; ") {
				named[n] = true
			}
		}
		suspects := map[string]bool{}
		for _, h := range s.dict.Hypotheses {
			suspects[h.Name] = true
			require.True(t, named[h.Name] || strings.Contains(flat, "- repair: "+s.dict.Units[h.Unit].Name), "%s: no repair for %q", s.dict.Name, h.Name)
		}
		par := strconv.FormatFloat(float64(s.par.Hi)/float64(s.dict.Weight(s.dict.All()))/60, 'f', 1, 64)
		togo := par
		if v := s.root.Value; !v.Exact() {
			togo = strconv.FormatFloat(float64(v.Lo)/float64(s.dict.Weight(s.dict.All()))/60, 'f', 1, 64) + " to " + par
		}
		require.Contains(t, flat, "Par: "+par+" minutes")
		require.Contains(t, flat, " 1. "+strconv.Itoa(len(suspects))+" suspects, "+togo+" minutes to go")
		for _, l := range strings.Split(text, "\n") {
			require.LessOrEqual(t, len([]rune(l)), 100, l)
		}
	}
}

// A hand-made plan: two readings that lead to the same repair are one card, and what both branches say alike is left out.
func TestSameRepairIsOneCard(t *testing.T) {
	d := &plan.Dictionary{Name: "hand-made", Configs: []plan.Config{{ID: "c", Name: "cold"}},
		Units:      []plan.Unit{{ID: "a", Name: "unit A", Repair: 60, Verify: 60}, {ID: "b", Name: "unit B", Repair: 120, Verify: 60}},
		Hypotheses: []plan.Hypothesis{{ID: "1", Name: "one", Unit: 0, Weight: 1}, {ID: "2", Name: "two", Unit: 0, Weight: 1}, {ID: "3", Name: "three", Unit: 1, Weight: 2}},
		Tests:      []plan.Test{{ID: "t", Name: "look", Seconds: 30, Outcomes: []string{"lamp: on; gauge: 1 V; gauge: 1 V", "lamp: on; gauge: 2 V; gauge: 3 V", "lamp: on"}, Row: []int{0, 1, 2}}}}
	s := solve(t, "hand-made", d)
	// Expected by hand: 30 s look, 60 s verify, and 60 s or 120 s repair, evenly: 180 s.
	require.Equal(t, `Key sheet: hand-made
Par: 3.0 minutes, on average over 3 suspects.
It begins with: cold.
Of each reading only what tells the branches apart is written.

1. 3 suspects, 3.0 minutes to go
   - look (0:30)
  if gauge: 1 V, again 1 V
  or gauge: 2 V, then 3 V
    2. 2 suspects, 2.0 minutes to go
       left: one; two
       - repair: unit A (1:00)
       - verify: cold start, monitor run, drive (1:00)
  if lamp: on
    3. 1 suspect, 3.0 minutes to go
       left: three
       - repair: unit B (2:00)
       - verify: cold start, monitor run, drive (1:00)

Training only: the vehicle's own service information, local rules and licensed practice come first.
`, textOf(t, s))
}

// Bounds are shown as such.
func TestUnprovenParIsABound(t *testing.T) {
	s := frozen(t)
	s.par.Lo -= s.dict.Weight(s.dict.All()) * 60
	require.Contains(t, textOf(t, s), "minutes by the best plan known, at least ")
	require.Contains(t, string(sheetOf(t, s)), "minutes by the best plan known, at least ")
}
