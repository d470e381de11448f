package score

import (
	"context"
	"fmt"
	"math/big"
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

// follow spells the plan for a truth out in lines.
func (s *stage) follow(t *testing.T, cell int) []string {
	t.Helper()
	path, err := s.p.PathFor(context.Background(), cell)
	require.NoError(t, err)
	require.True(t, path.Exact)
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
			for _, u := range strings.Split(s.c.Dictionary.Units[st.Index].ID, "+") {
				if u != "none" {
					out = append(out, "repair "+u)
				}
			}
		case plan.ActVerify:
			out = append(out, "drive")
		}
	}
	return append(out, "finish "+s.base.Suspects()[s.base.Cells()[cell].Suspect].ID)
}

// A player who does what the plan says scores 100 in economy whatever is wrong with the car.
func TestFollowingThePlanScoresFull(t *testing.T) {
	s := newStage(t, "quiet_pump")
	seen := map[int]bool{}
	for cell, x := range s.base.Cells() {
		if seen[x.Suspect] {
			continue
		}
		seen[x.Suspect] = true
		t.Run(fmt.Sprintf("%s %g", s.base.Suspects()[x.Suspect].ID, x.Severity()), func(t *testing.T) {
			t.Parallel()
			c := s.with(cell)
			d := grade(t, c, perform(t, c.Config, s.follow(t, cell)...))
			require.True(t, d.Exact)
			require.Equal(t, 100, mark(t, d, "economy").Score, "%s %+v", mark(t, d, "economy").Reason, d.Steps)
			require.Equal(t, 100, mark(t, d, "evidence").Score, mark(t, d, "evidence").Reason)
			require.Equal(t, 100, mark(t, d, "safety").Score, mark(t, d, "safety").Reason)
			require.InDelta(t, d.Counted+d.ToDo, d.Par.Minutes+d.Choices+d.Luck, 1e-9)
		})
	}
	require.Len(t, seen, len(s.base.Suspects()))
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
			at, err := watchTruth(ctx, c.Config, findings)
			require.NoError(t, err)
			var steps []regret.Step
			same := left
			for _, x := range stretches(c.Belief, c.Dictionary, 0, findings, at) {
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
