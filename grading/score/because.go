package score

import (
	"context"
	"errors"

	"coldbay/grading/belief"
	"coldbay/sim/bench"
)

// group is which sort of reading a percept is, for the words about what a fault does to it.
func group(p bench.Percept) string {
	switch p.Key {
	case "noise", "pump", "whine", "vibration", "bearing":
		return "run"
	case "volts", "glow":
		return "volts"
	case "flow", "stem", "heat":
		return "air"
	case "breath", "breath_out", "smoke", "smoke_in":
		return "breath"
	case "vacuum", "drop":
		return "vacuum"
	case "sign":
		return "see"
	case "code", "lamp", "monitor":
		return "code"
	case "amps", "ohms", "hiss", "click":
		return p.Key
	}
	if p.Sense == bench.Scan {
		return "code"
	}
	return "other"
}

// because is the physical reason for what a suspect's car would have shown, one clause; nothing where the action could not be done in it.
// What it would have shown is held against a healthy car's showing: what the two share, the fault does not reach.
func (g *grader) because(ctx context.Context, at int, st belief.Strike) (string, error) {
	if st.Refused != "" {
		return "", nil
	}
	s := g.b.Suspects()[st.Suspect]
	members, err := g.Config.Car.Members(s.ID)
	if err != nil {
		return "", err
	}
	var all [][]cause
	for _, f := range members {
		all = append(all, g.wires().causes(f))
	}
	if len(members) == 0 || s.ID == g.Config.Car.NoFault.ID {
		return g.Words.T("grade.because.none"), nil
	}
	read := st.Predicted
	if read.Key == "" {
		read = st.Seen
	}
	same, err := g.healthyToo(ctx, at, st)
	if err != nil {
		return "", err
	}
	kind := group(read)
	if same {
		for _, list := range all {
			for _, c := range list {
				if !s.Fixed && g.Words.Has("grade.because."+string(c)+"."+kind) {
					return g.Words.T("grade.because.slight"), nil
				}
			}
		}
		for _, list := range all {
			for _, c := range list {
				if side := c.side(); side != "" {
					return g.Words.T("grade.because.same." + side), nil
				}
			}
		}
		return "", nil
	}
	if kind == "see" {
		return g.Words.T("grade.because.see"), nil
	}
	// Of several changes the one that is known to do something to such a reading; else what the first does at all.
	for _, list := range all {
		for _, c := range list {
			for _, x := range append([]cause{c}, leadsTo[c]...) {
				if key := "grade.because." + string(x) + "." + kind; g.Words.Has(key) {
					return g.Words.T(key), nil
				}
			}
		}
	}
	for _, list := range all {
		for _, c := range list {
			if key := "grade.because." + string(c) + ".at_all"; g.Words.Has(key) {
				return g.Words.T(key), nil
			}
		}
	}
	return "", nil
}

func (g *grader) wires() *wiring {
	if g.wiring == nil {
		g.wiring = wire(g.Config.Car)
	}
	return g.wiring
}

// healthyToo says whether a healthy car of the same draw, treated the same, would have shown what the suspect's would have.
func (g *grader) healthyToo(ctx context.Context, at int, st belief.Strike) (bool, error) {
	healthy, err := g.healthyAt(ctx, st.Draw, at)
	if err != nil || healthy == nil {
		return false, err
	}
	like := st.Predicted
	if like.Key == "" {
		like = st.Seen
	}
	// The n-th reading of a thing is held against the n-th of the same thing; what was not seen comes after all that was.
	n := 0
	for _, p := range g.findings[at].Percepts {
		if p == st.Seen && p.Key == like.Key && p.Of == like.Of {
			break
		}
		if p.Key == like.Key && p.Of == like.Of {
			n++
		}
	}
	for _, p := range healthy.Percepts {
		if p.Key != like.Key || p.Of != like.Of {
			continue
		}
		if n == 0 {
			return st.Predicted.Key != "" && p.Class() == st.Predicted.Class(), nil
		}
		n--
	}
	return st.Predicted.Key == "", nil
}

// healthyAt is what a healthy car of a draw would have shown at a finding, the attempt done in it up to there; nil where that could not
// have been done.
func (g *grader) healthyAt(ctx context.Context, draw, at int) (*bench.Finding, error) {
	if list, ok := g.healthy[draw]; ok {
		return list[at], nil
	}
	cfg := g.Config
	cfg.Log = nil
	cfg.Truth = &bench.Truth{Fault: cfg.Car.NoFault.ID, Draw: belief.Seed(&cfg, draw)}
	l, err := bench.NewLocal(cfg)
	if err != nil {
		return nil, err
	}
	list := make([]*bench.Finding, len(g.findings))
	for i, f := range g.findings {
		if belief.Silent(f.Action.Verb) {
			continue
		}
		shown, err := l.Do(ctx, f.Action)
		var no *bench.Refusal
		switch {
		case errors.As(err, &no):
			continue // its hands would not have had this to do
		case err != nil:
			return nil, err
		}
		list[i] = &shown
	}
	if g.healthy == nil {
		g.healthy = map[int][]*bench.Finding{}
	}
	g.healthy[draw] = list
	return list[at], nil
}

// soon says whether a percept was seen after all within the next few actions: then a suspect's car would only have shown it sooner.
func (g *grader) soon(at int, p bench.Percept) bool {
	for i := at + 1; i < len(g.findings) && i <= at+3; i++ {
		for _, q := range g.findings[i].Percepts {
			if q.Class() == p.Class() {
				return true
			}
		}
	}
	return false
}
