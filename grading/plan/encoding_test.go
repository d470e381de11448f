package plan_test

import (
	"bytes"
	"strings"
	"testing"

	"coldbay/grading/plan"

	"github.com/stretchr/testify/require"
)

func TestFileRoundTrip(t *testing.T) {
	d := structured(3, 4, 6, 30)
	d.Units[0].Name, d.Tests[0].Outcomes[1] = "air valve", "under 9 V"
	raw, err := plan.Encode(d)
	require.NoError(t, err)
	back, err := plan.Decode(bytes.NewReader(raw))
	require.NoError(t, err)
	require.Equal(t, d, back)
	a, err := d.Digest()
	require.NoError(t, err)
	b, err := back.Digest()
	require.NoError(t, err)
	require.Equal(t, a, b)
	require.True(t, strings.HasPrefix(a, "sha256:"))

	for name, bad := range map[string]string{
		"altered":     strings.Replace(string(raw), "air valve", "air value", 1),
		"unknown key": strings.Replace(string(raw), `"name":"structured 3"`, `"name":"structured 3","extra":1`, 1),
		"version":     strings.Replace(string(raw), `"version":1`, `"version":2`, 1),
		"torn":        string(raw[:len(raw)/2]),
		"two values":  string(raw) + "{}",
		"empty":       "",
	} {
		_, err := plan.Decode(strings.NewReader(bad))
		require.Error(t, err, name)
	}
	_, err = plan.Decode(strings.NewReader(strings.Replace(string(raw), "air valve", "air value", 1)))
	require.ErrorIs(t, err, plan.ErrDigest)
	// Spacing is not content.
	_, err = plan.Decode(strings.NewReader(strings.Replace(string(raw), `,"`, ",\n  \"", 9)))
	require.NoError(t, err)
}

func TestDictionariesThatAreRefused(t *testing.T) {
	for name, f := range map[string]func(*plan.Dictionary){
		"no hypotheses":    func(d *plan.Dictionary) { d.Hypotheses = nil },
		"too many":         func(d *plan.Dictionary) { d.Hypotheses = make([]plan.Hypothesis, 257) },
		"unit":             func(d *plan.Dictionary) { d.Hypotheses[0].Unit = 9 },
		"weight":           func(d *plan.Dictionary) { d.Hypotheses[0].Weight = 0 },
		"start":            func(d *plan.Dictionary) { d.Start = 2 },
		"negative time":    func(d *plan.Dictionary) { d.Tests[0].Seconds = -1 },
		"long time":        func(d *plan.Dictionary) { d.Units[0].Verify = plan.MaxSeconds + 1 },
		"placement":        func(d *plan.Dictionary) { d.Tests[0].At = []plan.Placement{{Pre: 0, Post: 5}} },
		"placement twice":  func(d *plan.Dictionary) { d.Tests[0].At = []plan.Placement{{Pre: 0}, {Pre: 0, Post: 1}} },
		"repair placement": func(d *plan.Dictionary) { d.Units[0].RepairAt = []plan.Placement{{Pre: -1}} },
		"row length":       func(d *plan.Dictionary) { d.Tests[0].Row = []int{0} },
		"outcome":          func(d *plan.Dictionary) { d.Tests[0].Row = []int{0, 0, 0, 0, 4} },
		"no outcomes":      func(d *plan.Dictionary) { d.Tests[0].Outcomes = nil },
		"set-up":           func(d *plan.Dictionary) { d.SetUps[0].To = 2 },
		"corner":           func(d *plan.Dictionary) { d.SetUps = d.SetUps[:1] },
		"overflow":         func(d *plan.Dictionary) { d.Hypotheses[0].Weight = 1 << 62 },
		"overflow of sums": func(d *plan.Dictionary) {
			for i := range d.Hypotheses {
				d.Hypotheses[i].Weight = 1 << 40
			}
			d.Tests[0].Seconds = plan.MaxSeconds
			d.Tests[1].Seconds = plan.MaxSeconds
		},
	} {
		d := changed(twoModes(), f)
		_, err := plan.New(d, plan.Options{})
		require.ErrorIs(t, err, plan.ErrDictionary, name)
		_, err = plan.Encode(d)
		require.Error(t, err, name)
	}
}

func TestSetText(t *testing.T) {
	for _, s := range []plan.Set{{}, plan.SetOf(0), plan.SetOf(3, 64, 255), plan.FirstN(128)} {
		text, err := s.MarshalText()
		require.NoError(t, err)
		var back plan.Set
		require.NoError(t, back.UnmarshalText(text))
		require.Equal(t, s, back)
	}
	require.Equal(t, "10000000000000008", plan.SetOf(3, 64).String())
	var s plan.Set
	for _, bad := range []string{"", "g", strings.Repeat("1", 65), "-1"} {
		require.Error(t, s.UnmarshalText([]byte(bad)), bad)
	}
	require.False(t, s.With(256).Has(256))
	require.Equal(t, -1, s.First())
	require.Equal(t, 200, plan.FirstN(200).Count())
}

// FuzzDecode: whatever is read either is refused or validates.
func FuzzDecode(f *testing.F) {
	raw, err := plan.Encode(twoModes())
	require.NoError(f, err)
	f.Add(raw)
	f.Add([]byte(`{"version":1,"digest":"","dictionary":null}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		if d, err := plan.Decode(bytes.NewReader(raw)); err == nil {
			require.NoError(t, d.Validate())
		}
	})
}
