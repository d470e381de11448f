package plan

import (
	"errors"
	"fmt"
	"math/bits"
)

// ErrDictionary is wrapped by every complaint about a dictionary's content.
var ErrDictionary = errors.New("dictionary")

// Validate checks sizes, indices, ranges, that every configuration can be
// reached from every other (otherwise a bench could be driven into a corner
// where the rest of the plan has no price), and that no value can overflow.
func (d *Dictionary) Validate() error {
	for _, check := range []func() error{d.checkSizes, d.checkHypotheses, d.checkBench, d.checkTests, d.checkRange} {
		if err := check(); err != nil {
			return fmt.Errorf("%w %q: %w", ErrDictionary, d.Name, err)
		}
	}
	return nil
}

func (d *Dictionary) checkSizes() error {
	for _, c := range []struct {
		what           string
		got, low, high int
	}{
		{"hypotheses", len(d.Hypotheses), 1, MaxHypotheses},
		{"units", len(d.Units), 1, MaxHypotheses},
		{"configurations", len(d.Configs), 1, MaxConfigs},
		{"set-ups", len(d.SetUps), 0, MaxSetUps},
		{"tests", len(d.Tests), 0, MaxTests},
	} {
		if c.got < c.low || c.got > c.high {
			return fmt.Errorf("%d %s, want %d to %d", c.got, c.what, c.low, c.high)
		}
	}
	if d.Start < 0 || d.Start >= len(d.Configs) {
		return fmt.Errorf("start configuration %d is not among 0 to %d", d.Start, len(d.Configs)-1)
	}
	return nil
}

func (d *Dictionary) checkHypotheses() error {
	for i, h := range d.Hypotheses {
		if h.Unit < 0 || h.Unit >= len(d.Units) {
			return fmt.Errorf("hypothesis %d %q: unit %d is not among 0 to %d", i, h.ID, h.Unit, len(d.Units)-1)
		}
		if h.Weight < 1 {
			return fmt.Errorf("hypothesis %d %q: weight %d, want at least 1", i, h.ID, h.Weight)
		}
	}
	return nil
}

func (d *Dictionary) checkPlaces(what string, at []Placement) error {
	seen := make(map[int]bool, len(at))
	for _, p := range at {
		if p.Pre < 0 || p.Pre >= len(d.Configs) || p.Post < 0 || p.Post >= len(d.Configs) {
			return fmt.Errorf("%s: placement %d to %d is not among configurations 0 to %d", what, p.Pre, p.Post, len(d.Configs)-1)
		}
		if seen[p.Pre] {
			return fmt.Errorf("%s: configuration %d is listed twice", what, p.Pre)
		}
		seen[p.Pre] = true
	}
	return nil
}

func checkSeconds(what string, s int64) error {
	if s < 0 || s > MaxSeconds {
		return fmt.Errorf("%s: %d seconds, want 0 to %d", what, s, MaxSeconds)
	}
	return nil
}

func (d *Dictionary) checkBench() error {
	for u, n := range d.Units {
		what := fmt.Sprintf("unit %d %q", u, n.ID)
		if err := errors.Join(checkSeconds(what+" repair", n.Repair), checkSeconds(what+" verify", n.Verify),
			d.checkPlaces(what+" repair", n.RepairAt), d.checkPlaces(what+" verify", n.VerifyAt)); err != nil {
			return err
		}
	}
	for k, e := range d.SetUps {
		what := fmt.Sprintf("set-up %d %q", k, e.ID)
		if err := errors.Join(checkSeconds(what, e.Seconds), d.checkPlaces(what, []Placement{{e.From, e.To}})); err != nil {
			return err
		}
	}
	return nil
}

func (d *Dictionary) checkTests() error {
	for k, t := range d.Tests {
		what := fmt.Sprintf("test %d %q", k, t.ID)
		if err := errors.Join(checkSeconds(what, t.Seconds), d.checkPlaces(what, t.At)); err != nil {
			return err
		}
		if len(t.Outcomes) < 1 || len(t.Outcomes) > MaxOutcomes {
			return fmt.Errorf("%s: %d outcomes, want 1 to %d", what, len(t.Outcomes), MaxOutcomes)
		}
		if len(t.Row) != len(d.Hypotheses) {
			return fmt.Errorf("%s: row of %d, want one outcome for each of %d hypotheses", what, len(t.Row), len(d.Hypotheses))
		}
		for i, o := range t.Row {
			if o < 0 || o >= len(t.Outcomes) {
				return fmt.Errorf("%s: outcome %d of hypothesis %d is not among 0 to %d", what, o, i, len(t.Outcomes)-1)
			}
		}
	}
	return nil
}

// checkRange bounds every value the planner can form: no path uses a test or a
// repair twice, and each is preceded by at most one closed set-up.
func (d *Dictionary) checkRange() error {
	c := newClosure(d)
	var far int64
	for a, row := range c.dist {
		for b, s := range row {
			if s >= unreachable {
				return fmt.Errorf("configuration %d %q cannot be reached from %d %q", b, d.Configs[b].ID, a, d.Configs[a].ID)
			}
			far = max(far, s)
		}
	}
	if far > 1<<28 {
		return fmt.Errorf("a set-up of %d seconds is too long", far)
	}
	var path, weight int64
	for _, t := range d.Tests {
		path += t.Seconds + far
	}
	for _, u := range d.Units {
		path += u.Repair + u.Verify + 2*far
	}
	for _, h := range d.Hypotheses {
		if h.Weight > 1<<40 {
			return fmt.Errorf("weight %d of %q is too large", h.Weight, h.ID)
		}
		weight += h.Weight
	}
	// One bit of headroom below the search's infinity.
	if hi, lo := bits.Mul64(uint64(path+1), uint64(weight)); hi != 0 || lo >= uint64(infinity)/4 {
		return fmt.Errorf("weights summing to %d and paths of up to %d seconds would overflow", weight, path)
	}
	return nil
}
