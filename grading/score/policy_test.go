package score

import (
	"context"
	"fmt"
	"math/big"
	"os"
	"slices"
	"strings"
	"testing"

	"coldbay/grading/belief"
	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/grading/regret"
	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// stage is an order with its plan, its procedures and a belief to start from, for playing many truths.
type stage struct {
	c     *Case
	procs *dictionary.Procedures
	p     *plan.Planner
	base  *belief.Belief
}

func newStage(t *testing.T, order string) *stage {
	t.Helper()
	s := &stage{c: open(t, order)}
	name, data, err := scenarios.ProceduresFile(s.c.Config.Order.Car)
	require.NoError(t, err)
	s.procs, err = dictionary.Parse(name, data)
	require.NoError(t, err)
	s.p, err = plan.New(s.c.Dictionary, plan.Options{})
	require.NoError(t, err)
	s.base = s.c.Belief
	return s
}

// with is the case with another fault in the car.
func (s *stage) with(cell int) *Case {
	c := *s.c
	o := *c.Config.Order
	x := s.base.Cells()[cell]
	o.Truth.Fault, o.Truth.Severity = s.base.Suspects()[x.Suspect].ID, x.Severity()
	c.Config.Order = &o
	c.Config.Truth = &bench.Truth{Fault: o.Truth.Fault, Severity: x.Severity(), Draw: belief.Seed(&c.Config, x.Worlds[0].Draw)}
	c.Belief = s.base.Clone()
	c.Workers = 1
	return &c
}

// steps are the lines of a dictionary's test.
func (s *stage) steps(t *testing.T, test int) []string {
	t.Helper()
	id, _, _ := strings.Cut(s.c.Dictionary.Tests[test].ID, "@")
	p, err := s.procs.Find(id)
	require.NoError(t, err)
	return p.Steps
}

// follow spells the plan for a truth out in lines, up to the closing of the order.
func (s *stage) follow(t *testing.T, cell int) []string {
	t.Helper()
	path, err := s.p.PathFor(context.Background(), cell)
	require.NoError(t, err)
	var out []string
	for _, st := range path.Steps {
		switch st.Act {
		case plan.ActTest, plan.ActMove:
			out = append(out, s.steps(t, st.Index)...)
		case plan.ActSetUp:
			id := s.c.Dictionary.SetUps[st.Index].ID
			switch {
			case strings.HasPrefix(id, "plug"):
				out = append(out, "scan on")
			case strings.HasPrefix(id, "unplug"):
				out = append(out, "scan off")
			case strings.HasPrefix(id, "night"):
				out = append(out, "soak")
			default:
				out = append(out, s.procs.WarmUp...)
			}
		case plan.ActRepair:
			// What has gone on already in vain, as a part of what is wrong, does not go on twice.
			for _, u := range strings.Split(s.c.Dictionary.Units[st.Index].ID, "+") {
				if line := "repair " + u; u != "none" && !slices.Contains(out, line) {
					out = append(out, line)
				}
			}
		case plan.ActVerify:
			out = append(out, "drive")
		}
	}
	return out
}

// attempt follows the plan with a truth as someone would who knows the readings only: strikes what they ruled out, and of what the plan's
// repair cures names the suspect that is least like the truth.
func (s *stage) attempt(t *testing.T, cell int) *Debrief {
	t.Helper()
	ctx := context.Background()
	c := s.with(cell)
	l, err := bench.NewLocal(c.Config)
	require.NoError(t, err)
	do := func(line string) {
		a, err := bench.ParseLine(line)
		require.NoError(t, err, line)
		_, err = l.Do(ctx, a)
		require.NoError(t, err, line)
	}
	for _, line := range s.follow(t, cell) {
		do(line)
	}
	b, err := Believe(ctx, *c, l.Ledger())
	require.NoError(t, err)
	name := c.Config.Order.Truth.Fault
	unit := c.Dictionary.InUnit(c.Dictionary.Hypotheses[cell].Unit) // what the plan repairs last
	for i, x := range b.Suspects() {
		if !b.Fits(i) {
			do("strike " + x.ID)
		}
	}
	for i := range b.Steps()[len(b.Steps())-1].After.And(unit).All() {
		if id := b.Suspects()[b.Cells()[i].Suspect].ID; id != name {
			name = id
			break
		}
	}
	line := "finish " + name
	for _, st := range b.Steps() {
		if st.Finding.Action.Verb == bench.Repair {
			break
		}
		if st.After.Count() < st.Before.Count() {
			line = fmt.Sprintf("finish %s proof %d", name, st.Finding.Seq)
		}
	}
	do(line)
	c.Belief = b
	d, err := Grade(ctx, *c, l.Ledger())
	require.NoError(t, err)
	return d
}

// A player who does what the plan says scores 100, in economy and over all, on every order whatever is wrong with the car. Every day a
// few truths of each order; in the long campaign every suspect.
func TestFollowingThePlanScoresFull(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	long := os.Getenv("COLDBAY_PROVE") != ""
	for k, id := range lib.OrderIDs() {
		if id == "whole_board" {
			continue // its par is bounded only, and each truth takes half a minute
		}
		s := newStage(t, id)
		seen := map[int]bool{}
		for cell, x := range s.base.Cells() {
			if seen[x.Suspect] {
				continue
			}
			seen[x.Suspect] = true
			if !long && x.Suspect%5 != k%5 {
				continue
			}
			t.Run(fmt.Sprintf("%s %s %g", id, s.base.Suspects()[x.Suspect].ID, x.Severity()), func(t *testing.T) {
				t.Parallel()
				d := s.attempt(t, cell)
				for _, m := range d.Marks {
					require.Equal(t, 100, m.Score, "%s: %s %+v", m.ID, m.Reason, d.Steps)
				}
				require.Equal(t, 100, d.Total)
				require.InDelta(t, d.Counted+d.ToDo, d.Par.Minutes+d.Choices+d.Luck, 1e-9)
			})
		}
		require.Len(t, seen, len(s.base.Suspects()))
	}
}

// For a policy that is fixed beforehand, luck sums to nothing over the priors, to the last digit.
func TestLuckSumsToNothing(t *testing.T) {
	ctx := context.Background()
	s := newStage(t, "quiet_pump")
	policies := [][]string{
		{"look_pump", "look_valve", "fuse_lamp"},
		{"look_solenoid", "bridge_ground_drop"},
	}
	for _, policy := range policies {
		var lines []string
		for _, id := range policy {
			p, err := s.procs.Find(id)
			require.NoError(t, err)
			lines = append(lines, p.Steps...)
		}
		lines = append(lines, "finish no_fault_found")
		left, luck, plays := s.c.Dictionary.All(), new(big.Rat), 0
		for !left.Empty() {
			truth := left.First()
			c := s.with(truth)
			findings := perform(t, c.Config, lines...)
			for _, f := range findings {
				_, err := c.Belief.See(ctx, f)
				require.NoError(t, err)
			}
			at, _, err := watchTruth(ctx, c.Config, findings)
			require.NoError(t, err)
			var steps []regret.Step
			same := left
			for _, x := range stretches(c.Belief, c.Dictionary, c.Procedures, 0, findings, at) {
				require.True(t, x.graded)
				steps = append(steps, x.step)
				same = x.step.Parts[x.step.Seen].Left
			}
			require.True(t, same.Has(truth))
			require.True(t, same.Within(left), "two truths that show the same are of one end")
			a, err := regret.Decompose(ctx, s.p, c.Dictionary.All(), c.Dictionary.Start, steps)
			require.NoError(t, err)
			require.True(t, a.Exact)
			luck.Add(luck, new(big.Rat).Mul(a.Luck, big.NewRat(c.Dictionary.Weight(same), 1)))
			left = left.Minus(same)
			plays++
		}
		require.Greater(t, plays, 2)
		require.Zero(t, luck.Sign(), "%v: %s s", policy, luck.FloatString(3))
	}
}
