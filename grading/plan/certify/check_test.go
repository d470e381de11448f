package certify_test

import (
	"context"
	"encoding/json"
	"testing"

	"coldbay/grading/plan"
	"coldbay/grading/plan/certify"

	"github.com/stretchr/testify/require"
)

// chain is an invented dictionary: eight suspects in a row, one or two a unit,
// two benches, tests that split the row, the last two suspects alike.
func chain() *plan.Dictionary {
	d := &plan.Dictionary{Name: "chain", Configs: make([]plan.Config, 2),
		SetUps: []plan.SetUp{{From: 0, To: 1, Seconds: 50}, {From: 1, To: 0, Seconds: 400}}}
	for u := range 6 {
		d.Units = append(d.Units, plan.Unit{Repair: 100 + 90*int64(u), Verify: 60})
	}
	for i, u := range []int{0, 0, 1, 2, 3, 3, 4, 5} {
		d.Hypotheses = append(d.Hypotheses, plan.Hypothesis{Unit: u, Weight: int64(3 + 5*i%7)})
	}
	for k := 1; k < 7; k++ {
		row := make([]int, 8)
		for i := k; i < 8; i++ {
			row[i] = 1 + (i*k)%2*(k%2)
		}
		row[7] = row[6]
		d.Tests = append(d.Tests, plan.Test{Seconds: int64(30 + 40*k%110), Row: row, Outcomes: make([]string, 3),
			At: []plan.Placement{{Pre: k % 2, Post: k % 2}}})
	}
	return d
}

func proven(t *testing.T, opts plan.Options) (*plan.Dictionary, *plan.Certificate) {
	t.Helper()
	d := chain()
	p, err := plan.New(d, opts)
	require.NoError(t, err)
	c, err := p.Certificate(context.Background(), d.All(), 0)
	require.NoError(t, err)
	return d, c
}

func TestGoodProofIsAccepted(t *testing.T) {
	d, c := proven(t, plan.Options{})
	require.Equal(t, c.Lower, c.Upper)
	require.NotEmpty(t, c.Claims)
	require.NoError(t, certify.Check(d, c))
	// It survives being written down.
	raw, err := json.Marshal(c)
	require.NoError(t, err)
	var back plan.Certificate
	require.NoError(t, json.Unmarshal(raw, &back))
	require.NoError(t, certify.Check(d, &back))
}

func TestProofOfBoundsIsAccepted(t *testing.T) {
	d, c := proven(t, plan.Options{Nodes: 1})
	require.NoError(t, certify.Check(d, c))
}

// Every number in a proof matters: raise any claim, lower the upper bound,
// drop or bend a move, change the dictionary, and it is rejected.
func TestTamperedProofsAreRejected(t *testing.T) {
	d, good := proven(t, plan.Options{})
	reject := func(name string, f func(*plan.Certificate)) {
		t.Helper()
		c := *good
		c.Claims = append([]plan.Claim(nil), good.Claims...)
		c.Plan = append([]plan.Move(nil), good.Plan...)
		f(&c)
		require.ErrorIs(t, certify.Check(d, &c), certify.ErrRejected, name)
	}
	reject("lower", func(c *plan.Certificate) { c.Lower++ })
	reject("upper", func(c *plan.Certificate) { c.Upper-- })
	reject("digest", func(c *plan.Certificate) { c.Digest = "sha256:00" })
	reject("root", func(c *plan.Certificate) { c.Config = 7 })
	reject("foreign", func(c *plan.Certificate) { c.Root = c.Root.With(9) })
	reject("root claim", func(c *plan.Certificate) { c.Claims[0].Value++; c.Lower++ })
	reject("no claims", func(c *plan.Certificate) { c.Claims = nil })
	reject("no plan", func(c *plan.Certificate) { c.Plan = nil })
	for k := range good.Claims {
		reject("claim far too high", func(c *plan.Certificate) { c.Claims[k].Value += 100_000 })
		reject("claim out of range", func(c *plan.Certificate) { c.Claims[k].Config = -1 })
	}
	for k := range good.Plan {
		reject("move dropped", func(c *plan.Certificate) { c.Plan = append(c.Plan[:k], c.Plan[k+1:]...) })
		reject("move elsewhere", func(c *plan.Certificate) { c.Plan[k].At = 1 - c.Plan[k].At })
		reject("no such test", func(c *plan.Certificate) { c.Plan[k].Test = 99 })
	}
	// A cheaper world is another dictionary.
	d.Tests[0].Seconds--
	require.ErrorIs(t, certify.Check(d, good), certify.ErrRejected)
}

// Raising one claim on an inner state by a little must fail there, as the
// value of each exact claim is attained by some option.
func TestExactClaimsAreTight(t *testing.T) {
	d, good := proven(t, plan.Options{})
	o, err := plan.New(d, plan.Options{})
	require.NoError(t, err)
	tight := 0
	for k, x := range good.Claims {
		v, err := o.Value(context.Background(), x.Left, x.Config)
		require.NoError(t, err)
		require.LessOrEqual(t, x.Value, v.Lo)
		if x.Value == v.Lo {
			tight++
			c := *good
			c.Claims = append([]plan.Claim(nil), good.Claims...)
			c.Claims[k].Value++
			require.ErrorIs(t, certify.Check(d, &c), certify.ErrRejected)
		}
	}
	require.Positive(t, tight)
}
