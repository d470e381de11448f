package report_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/grading/plan"
	"coldbay/grading/report"
	"coldbay/grading/score"
)

// hostile is what a name may hold at worst: markup, quotes, template marks, ends of elements, other scripts, and a long word.
const hostile = `=1+1</title></style><script>alert(1)</script>"'&amp;{{.}}` + "`${x}` <svg onload=\"x\"> 漢字 שלום \u202e\x1b\u0301 " + `]]>-->` + "unbreakableunbreakableunbreakableunbreakableunbreakableunbreakable"

// hostileDebrief is a debrief in which every text is hostile.
func hostileDebrief(t *testing.T) *score.Debrief {
	t.Helper()
	data, err := json.Marshal(debrief(t, "wrong"))
	require.NoError(t, err)
	var tree any
	require.NoError(t, json.Unmarshal(data, &tree))
	tree.(map[string]any)["hazards"] = []any{"burn"}
	tree.(map[string]any)["caps"] = []any{"held"}
	var spoil func(v any) any
	spoil = func(v any) any {
		switch v := v.(type) {
		case map[string]any:
			for k := range v {
				v[k] = spoil(v[k])
			}
		case []any:
			for i := range v {
				v[i] = spoil(v[i])
			}
		case string:
			return hostile
		}
		return v
	}
	data, err = json.Marshal(spoil(tree))
	require.NoError(t, err)
	d := new(score.Debrief)
	require.NoError(t, json.Unmarshal(data, d))
	return d
}

// bareDebrief is what is left of an order that was closed at once.
func bareDebrief() *score.Debrief {
	return &score.Debrief{Title: "Nothing done", Verdict: "0 of 100, not passed."}
}

// hostilePlan is a plan with a wide fan, a long chain and hostile names.
func hostilePlan(t *testing.T) solved {
	t.Helper()
	const n = 44
	d := &plan.Dictionary{Name: hostile, Configs: []plan.Config{{ID: "c", Name: hostile}}}
	fan := plan.Test{ID: "fan", Name: hostile, Seconds: 60}
	for i := range n {
		d.Units = append(d.Units, plan.Unit{ID: id("u", i), Name: hostile + id(" unit", i), Repair: 600, Verify: 60})
		d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{ID: id("h", i), Name: id("suspect", i) + hostile, Unit: i, Weight: int64(1 + i%3)})
		fan.Row = append(fan.Row, max(0, i-14))
	}
	for i := range n - 14 {
		fan.Outcomes = append(fan.Outcomes, id("it shows ", i)+"; "+strings.Repeat(hostile+"; ", i%4)+"all alike")
	}
	d.Tests = append(d.Tests, fan)
	for i := range 14 { // only one at a time can be told from those that the fan leaves together: a chain
		row := make([]int, n)
		row[i] = 1
		d.Tests = append(d.Tests, plan.Test{ID: id("one", i), Name: id("test ", i), Seconds: 30, Outcomes: []string{"no", "yes"}, Row: row})
	}
	require.NoError(t, d.Validate())
	return solve(t, hostile, d)
}

func id(s string, i int) string { return s + string(rune('a'+i/26)) + string(rune('a'+i%26)) }

func readTimeline(t *testing.T, b *bytes.Buffer, d *score.Debrief) [][]string {
	t.Helper()
	require.NoError(t, report.Timeline(b, nil, d))
	rows, err := csv.NewReader(b).ReadAll()
	require.NoError(t, err)
	return rows
}

func TestHostileNamesStayText(t *testing.T) {
	for _, text := range []string{page(t, hostileDebrief(t)), string(sheetOf(t, hostilePlan(t)))} {
		root := parse(t, text)
		harmless := strings.NewReplacer("\u202e", "", "\x1b", "").Replace(hostile)
		require.Contains(t, root.all("h1")[0].text, harmless)
		require.Contains(t, root.all("title")[0].text, harmless)
		for _, e := range root.all("") {
			require.NotContains(t, e.attr, "onload")
		}
	}
	require.NotContains(t, textOf(t, hostilePlan(t)), "\x1b")
}

func TestPlanThatDoesNotFit(t *testing.T) {
	s := frozen(t)
	write := func(d *plan.Dictionary, root *plan.Node) error {
		var b bytes.Buffer
		err := report.KeySheet(&b, nil, "x", d, root, s.par)
		require.ErrorIs(t, report.KeyText(&b, nil, "x", d, root, s.par), report.ErrPlan)
		require.Zero(t, b.Len(), "nothing is written when there is an error")
		return err
	}
	require.ErrorIs(t, write(nil, s.root), report.ErrPlan)
	require.ErrorIs(t, write(s.dict, nil), report.ErrPlan)
	for name, spoil := range map[string]func(*plan.Node){
		"no doing":    func(n *plan.Node) { n.Do = nil },
		"no suspect":  func(n *plan.Node) { n.Left = plan.Set{} },
		"strangers":   func(n *plan.Node) { n.Left = n.Left.With(len(s.dict.Hypotheses)) },
		"test":        func(n *plan.Node) { n.Do[len(n.Do)-1].Index = len(s.dict.Tests) },
		"act":         func(n *plan.Node) { n.Do[0].Act = "dance" },
		"outcome":     func(n *plan.Node) { n.Branches[0].Outcome = -1 },
		"in a circle": func(n *plan.Node) { n.Branches[0].Next = n },
	} {
		t.Run(name, func(t *testing.T) {
			p, err := plan.New(s.dict, plan.Options{Nodes: 60_000})
			require.NoError(t, err)
			root, _, err := p.Policy(context.Background(), s.dict.All(), s.dict.Start)
			require.NoError(t, err)
			spoil(root)
			require.ErrorIs(t, write(s.dict, root), report.ErrPlan)
		})
	}
}
