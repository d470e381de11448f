package ladder

import (
	"context"
	"slices"

	"coldbay/grading/dictionary"
	"coldbay/sim/car/strict"
)

// TradeFormat is the first line of a file of sheets.
const TradeFormat = "coldbay-trade/1"

// Trade is the trade's own order of work on a car.
type Trade struct {
	Format string  `yaml:"format" strict:"required"`
	Car    string  `yaml:"car" strict:"required"`
	Sheets []Sheet `yaml:"sheets" strict:"required"`
}

// Sheet is a fixed order of work: procedures by id, in stages.
type Sheet struct {
	ID     string  `yaml:"id" strict:"required"`
	Name   string  `yaml:"name" strict:"required"`
	Scan   bool    `yaml:"scan"` // has the scan tool
	Stages []Stage `yaml:"stages" strict:"required"`

	needs map[string]bool // procedures that need the scan tool
}

// Stage is a part of a sheet.
type Stage struct {
	Name       string   `yaml:"name" strict:"required"`
	Procedures []string `yaml:"procedures" strict:"required"`
}

// ParseTrade reads a file of sheets for a car's procedures. Errors name file, line and key.
func ParseTrade(file string, data []byte, procs *dictionary.Procedures) (*Trade, error) {
	t := &Trade{}
	doc, err := strict.Decode(file, data, t)
	if err != nil {
		return nil, err
	}
	if t.Format != TradeFormat {
		return nil, doc.Errorf([]any{"format"}, "found %q, allowed is %q", t.Format, TradeFormat)
	}
	if t.Car != procs.Car {
		return nil, doc.Errorf([]any{"car"}, "found %q, its procedures are of %q", t.Car, procs.Car)
	}
	needs := map[string]bool{}
	for _, p := range procs.List {
		needs[p.ID] = p.Scan
	}
	for i := range t.Sheets {
		s := &t.Sheets[i]
		s.needs = needs
		if slices.ContainsFunc(t.Sheets[:i], func(o Sheet) bool { return o.ID == s.ID }) {
			return nil, doc.Errorf([]any{"sheets", i, "id"}, "%q stands twice", s.ID)
		}
		seen := map[string]bool{}
		for j, stage := range s.Stages {
			for k, id := range stage.Procedures {
				at := []any{"sheets", i, "stages", j, "procedures", k}
				switch scan, known := needs[id]; {
				case !known:
					return nil, doc.Errorf(at, "there is no procedure %q", id)
				case seen[id]:
					return nil, doc.Errorf(at, "%q stands twice", id)
				case scan && !s.Scan:
					return nil, doc.Errorf(at, "%q needs the scan tool, which this sheet goes without", id)
				}
				seen[id] = true
			}
		}
	}
	return t, nil
}

// For are the sheets that can be played on a dictionary whose order allows the scan tool or not.
func (t *Trade) For(scan bool) []Sheet {
	var out []Sheet
	for _, s := range t.Sheets {
		if scan || !s.Scan {
			out = append(out, s)
		}
	}
	return out
}

// Stage says in which stage of the sheet a procedure stands; "" when it is not on it.
func (s *Sheet) Stage(procedure string) string {
	for _, st := range s.Stages {
		if slices.Contains(st.Procedures, procedure) {
			return st.Name
		}
	}
	return ""
}

func (s *Sheet) lines() []string {
	var out []string
	for _, st := range s.Stages {
		out = append(out, st.Procedures...)
	}
	return out
}

// patience is the longest set-up, s, that a sheet's next line may ask for while others can go first: nobody leaves a car overnight to
// look at its fuse, or runs a cold engine warm to do so. Plugging the scan tool in is less. Design choice, no source.
const patience = 120

type next = func(ctx context.Context, g *Ground, at Standing, roll Dice) (Move, error)

// skipping goes down the sheet and leaves out what can no longer tell anything; lines that must wait for the car to warm up or to
// cool come when the others are done. When the sheet is exhausted, the quickest test that tells something follows, without the scan tool if possible.
func (s *Sheet) skipping() next {
	sheet := *s
	return func(_ context.Context, g *Ground, at Standing, _ Dice) (Move, error) {
		for _, wait := range []int64{patience, far} {
			for _, id := range sheet.lines() {
				m := g.quickest(at, func(t int) bool { return g.proc[t] == id })
				if m.Seconds < far && m.SetUp <= wait {
					return m, nil
				}
			}
		}
		return sheet.beyond(g, at), nil
	}
}

// line does every line of the sheet once, in its order, whether it can tell anything or not.
func (s Sheet) line(_ context.Context, g *Ground, at Standing, _ Dice) (Move, error) {
	for _, wait := range []int64{patience, far} {
		for _, id := range s.lines() {
			if slices.ContainsFunc(at.Done, func(t int) bool { return g.proc[t] == id }) {
				continue
			}
			best := Move{Seconds: far}
			for t, p := range g.proc {
				if m := g.way(at.Config, t); p == id && m.Seconds < best.Seconds {
					best = m
				}
			}
			if best.Seconds < far && best.SetUp <= wait {
				return best, nil
			}
		}
	}
	return s.beyond(g, at), nil
}

func (s *Sheet) beyond(g *Ground, at Standing) Move {
	if m := g.quickest(at, func(t int) bool { return s.Scan || !s.needs[g.proc[t]] }); m.Seconds < far {
		return m
	}
	return g.quickest(at, func(int) bool { return true })
}
