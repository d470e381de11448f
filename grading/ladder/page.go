package ladder

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Digests names the dictionaries that reports were made from, order by order, so that a page can be held against those of today.
func Digests(reports []*Report) string {
	var out []string
	for _, r := range reports {
		out = append(out, "- `"+r.Dictionary+"`")
	}
	return strings.Join(out, "\n") + "\n"
}

// Page writes everything as Markdown. The same reports give the same bytes.
func Page(s *Summary, reports []*Report) []byte {
	var b bytes.Buffer
	w := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	w("# The ladder of simulated students\n")
	w("Written by `coldbay ladder --write`; not edited. Students whose rule of choice is known play every order with every suspect at every")
	w("severity as the truth, weighted by the priors, and are scored as trainees are. A score is to be trusted if it puts them in order.")
	w("What a procedure shows comes from the orders' dictionaries. Students that draw lots were played %d times (seed %d) in each truth; in", s.Plays, s.Seed)
	w("brackets the 95 %% interval (Student's t over the replicates). All other figures are exact expectations.\n")
	w("Made from:\n\n%s", Digests(reports))
	w("## In the mean over the orders\n")
	w("`score` is the economy as marked: regrets beyond one minute or 3 %% of what is left, a step, the smaller of the order's and equal")
	w("priors. `no tolerance` charges every second of regret under the order's priors. `narrow` also takes the repair and verification that")
	w("nobody can avoid out of par. `>= 90` is the share of jobs with a score of 90 or more.\n")
	w("| student | minutes / par | score | no tolerance | narrow | >= 90 |\n| --- | --- | --- | --- | --- | --- |")
	for _, m := range s.Means {
		w("| %s | %s | %s | %s | %s | %s |", m.Name, m.Ratio.text(3), m.Score, m.Bare, m.Narrow, m.Good)
	}
	w("\n## What has to hold\n")
	w("Theorems hold on every order and for every single play; the ladder holds in the mean over the orders; what is watched is told, not asked for.\n")
	w("| kind | claim | holds | figures |\n| --- | --- | --- | --- |")
	for _, c := range s.Claims {
		holds := "yes"
		if !c.Holds {
			holds = "**no**"
		}
		w("| %s | %s | %s | %s |", c.Kind, c.Text, holds, c.Says)
	}
	w("\n## Par, proven\n")
	w("Each certificate was checked by an independent program part that shares no code with the search.\n")
	w("| order | cells | procedures | tests | configurations | nodes | states kept | claims | plan steps | par, min | gap, %% |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	for _, r := range reports {
		c := r.Certified
		w("| %s | %d | %d | %d | %d | %d | %d | %d | %d | %.2f | %.2g |", r.Order, r.Cells, r.Procedures, r.Tests, r.Configs, c.Nodes, c.Memo, c.Claims, c.Plan, c.Upper, c.Gap)
	}
	for _, r := range reports {
		r.page(w)
	}
	return b.Bytes()
}

func (r *Report) page(w func(string, ...any)) {
	w("\n## %s\n", r.Order)
	w("Par %.1f min, of which repair and verification for whoever knows the fault take %.1f; proof line in the mean %.1f.", r.Par, r.Unavoidable, r.Proof)
	if r.Meter > 0 {
		w("Without the scan tool par would be %.1f min.", r.Meter)
	}
	if !r.Exact {
		w("Some values could only be bounded; the lower possible regret counts.")
	}
	w("\n| student | minutes | / par | score | spread | least | no tolerance | >= 90 | parts in vain |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	w("| clairvoyant's proof line | %.2f | %.3f | | | | | | |", r.Proof, r.Proof/r.Par)
	for _, x := range r.Rungs {
		w("| %s | %s | %.3f | %s | %.1f | %.0f | %s | %s | %s |", x.Name, x.Minutes, x.Ratio.Mean, x.Score, x.Spread, x.Least, x.Bare, x.Good, x.Vain)
	}
	w("\nChances on a single job:\n\n| better | worse | as marked | without tolerance |\n| --- | --- | --- | --- |")
	for _, c := range r.Chances {
		w("| %s | %s | %.2f | %.2f |", c.Better, c.Worse, c.Score, c.Bare)
	}
	for _, c := range r.Courses {
		c.page(w)
	}
}

// dearest is how many divergences a page explains beside the first.
const dearest = 6

func (c Course) page(w func(string, ...any)) {
	w("\n### %s\n", c.Name)
	w("%s\n", c.Says())
	if len(c.Divergences) == 0 {
		return
	}
	w("%s\n", c.Divergences[0].Says())
	rest := slices.Clone(c.Divergences[1:])
	slices.SortStableFunc(rest, func(a, b Divergence) int { return cmp.Compare(b.Cost, a.Cost) })
	shown := rest[:min(dearest, len(rest))]
	if len(shown) > 0 {
		w("The dearest others:\n")
	}
	for _, d := range shown {
		w("- %s", d.Says())
	}
	var left float64
	for _, d := range rest[len(shown):] {
		left += d.Cost
	}
	if n := len(rest) - len(shown); n > 0 {
		w("\n%d more cost %.2f min a job together.", n, left)
	}
}

// Says is the ratio in a sentence.
func (c Course) Says() string {
	s := fmt.Sprintf("It takes %.3f times par", c.Ratio)
	if c.RatioMeter > 0 {
		s += fmt.Sprintf(", %.3f times par without the scan tool", c.RatioMeter)
	}
	n := len(c.Divergences)
	if n == 0 {
		return s + ", and never leaves the plan."
	}
	var cost float64
	for _, d := range c.Divergences {
		cost += d.Cost
	}
	return fmt.Sprintf("%s. It leaves the plan at %d standings, which cost %.2f min a job.", s, n, cost)
}

// Says is the divergence in sentences.
func (d Divergence) Says() string {
	stage := "beyond the sheet"
	if d.Stage != "" {
		stage = "stage \"" + d.Stage + "\""
	}
	return fmt.Sprintf("Step %d, %s, %d suspects left in %d cells, %s (%.0f %% of the jobs): the sheet goes on with \"%s\" (%s, %.2f bit); "+
		"the plan prefers \"%s\" (%s, %.2f bit): %s. Saves %.2f min on average, %.2f min a job.", d.Step+1, stage, d.Suspects, d.Cells, d.Bench, 100*d.Share,
		d.Chosen.Name, d.Chosen.takes(), d.Chosen.Bits, d.Plan.Name, d.Plan.takes(), d.Plan.Bits, d.Why, d.Saved, d.Cost)
}

func (d Doing) takes() string {
	if d.SetUp == 0 {
		return fmt.Sprintf("%d s", d.Seconds)
	}
	return fmt.Sprintf("%d s, %d of them setting up", d.Seconds, d.SetUp)
}
