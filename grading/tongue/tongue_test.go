package tongue_test

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/grading/plan"
	"coldbay/grading/score"
	"coldbay/grading/tongue"
	"coldbay/scenarios"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// shipped calls f with the dictionary of every order that comes with the program and the catalogue of its bench.
func shipped(t *testing.T, f func(car string, c bench.Catalogue, d *plan.Dictionary)) {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	require.NotEmpty(t, lib.OrderIDs())
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		c, err := score.Open(lib, o, "test")
		require.NoError(t, err)
		l, err := bench.NewLocal(c.Config)
		require.NoError(t, err)
		f(o.Order.Car, l.Catalogue(), c.Dictionary)
	}
}

// Every outcome of every test that comes with the program can be taken apart and said in another language; what is left of the English is
// numbers, units and the names of standards.
func TestEveryOutcomeIsRetold(t *testing.T) {
	for _, lang := range messages.Languages()[1:] {
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		shipped(t, func(car string, c bench.Catalogue, d *plan.Dictionary) {
			r, err := phrase.NewReteller(msg, car, c)
			require.NoError(t, err)
			for _, x := range d.Tests {
				for _, label := range x.Outcomes {
					text, ok := r.Label(label)
					require.True(t, ok, "%s: %q", lang, label)
					require.NotContains(t, text, "[", label)
				}
			}
		})
	}
}

// The English patterns are those of the bench: in English a retold text is the same, word for word. A pattern that lost or
// mixed up what stands in its places would not give it back.
func TestPatternsAreTheBenchs(t *testing.T) {
	msg, err := messages.Load("en")
	require.NoError(t, err)
	unnamed := regexp.MustCompile(`ohm|coolant,|rpm,`)
	n := 0
	shipped(t, func(car string, c bench.Catalogue, d *plan.Dictionary) {
		r, err := phrase.NewReteller(msg, car, c)
		require.NoError(t, err)
		for _, x := range d.Tests {
			for _, label := range x.Outcomes {
				if unnamed.MatchString(label) { // what prompt and window word differently, and the sign for ohm
					continue
				}
				n++
				text, ok := r.Label(label)
				require.True(t, ok, label)
				require.Equal(t, label, text)
			}
		}
	})
	require.Greater(t, n, 500)
}

// Only words change: what the planner looks at stays, and so does the dictionary that was given.
func TestPlannerSeesTheSame(t *testing.T) {
	msg, err := messages.Load("de")
	require.NoError(t, err)
	shipped(t, func(car string, c bench.Catalogue, d *plan.Dictionary) {
		before, err := plan.Encode(d)
		require.NoError(t, err)
		got, err := tongue.Dictionary(msg, car, c, d)
		require.NoError(t, err)
		after, err := plan.Encode(d)
		require.NoError(t, err)
		require.Equal(t, before, after)
		require.NoError(t, got.Validate())
		blank := func(d plan.Dictionary) plan.Dictionary {
			d.Units = append([]plan.Unit(nil), d.Units...)
			for i := range d.Units {
				d.Units[i].Name = ""
			}
			d.Hypotheses = append([]plan.Hypothesis(nil), d.Hypotheses...)
			for i := range d.Hypotheses {
				d.Hypotheses[i].Name = ""
			}
			d.Configs = append([]plan.Config(nil), d.Configs...)
			for i := range d.Configs {
				d.Configs[i].Name = ""
			}
			d.SetUps = append([]plan.SetUp(nil), d.SetUps...)
			for i := range d.SetUps {
				d.SetUps[i].Name = ""
			}
			d.Tests = append([]plan.Test(nil), d.Tests...)
			for i := range d.Tests {
				d.Tests[i].Name = ""
				d.Tests[i].Outcomes = make([]string, len(d.Tests[i].Outcomes))
			}
			return d
		}
		require.Equal(t, blank(*d), blank(*got))
		for i, x := range got.Tests {
			require.NotEqual(t, d.Tests[i].Name, x.Name, x.ID)
		}
		for i, h := range got.Hypotheses {
			require.NotEqual(t, d.Hypotheses[i].Name, h.Name, h.ID)
		}
		for i, u := range got.Units {
			require.NotEqual(t, d.Units[i].Name, u.Name, u.ID)
			require.False(t, strings.Contains(u.Name, " and "), u.Name)
		}
	})
}
