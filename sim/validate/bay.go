package validate

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"coldbay/sim/bench"
)

// visitor is a trainee at the bench who writes down what instruments show. After the first error nothing more is done.
type visitor struct {
	s    *bench.Local
	last bench.Finding
	err  error
}

// brought is a car in the bay.
type brought struct {
	fault     string
	severity  float64
	ambientC  float64
	altitudeM float64
	history   []bench.HistoryEvent
}

// bay brings the nominal car of the ground.
func (g *Ground) bay(b brought) *visitor {
	t := bench.Truth{Fault: b.fault, Severity: b.severity}
	if t.Fault == "" {
		t.Fault = g.Car.NoFault.ID
	}
	o := &bench.Order{Format: bench.OrderFormat, ID: "validation", Title: "Validation", Customer: "nobody (invented)", Car: g.Car.ID, Vehicle: g.Car.Name,
		Complaint: "none", Minutes: 60, Conditions: bench.Conditions{AmbientC: b.ambientC, AltitudeM: b.altitudeM}, History: b.history, Truth: t,
		Cautions: []string{"Training only."}}
	layout := g.layout
	if layout == nil { // one of the other cars
		var err error
		if layout, err = bench.NewLayout(g.Car); err != nil {
			return &visitor{err: err}
		}
	}
	s, err := bench.NewLocal(bench.Config{Order: o, Car: g.Car, Layout: layout, Tariff: g.Tariff, Program: "validation"})
	return &visitor{s: s, err: err}
}

// fork is a second visitor at the same moment.
func (v *visitor) fork() *visitor {
	c := &visitor{err: v.err}
	if v.err == nil {
		c.s = v.s.Clone()
	}
	return c
}

// do carries out lines of the prompt's language, separated by ";".
func (v *visitor) do(lines string) *visitor {
	for _, line := range strings.Split(lines, ";") {
		line = strings.TrimSpace(line)
		if v.err != nil || line == "" {
			continue
		}
		a, err := bench.ParseLine(line)
		if err == nil {
			v.last, err = v.s.Do(context.Background(), a)
		}
		if err != nil {
			v.err = fmt.Errorf("%s: %w", line, err)
		}
	}
	return v
}

// find is the last percept of a key in the last finding, of any of the given things.
func (v *visitor) find(key string, of ...string) (bench.Percept, bool) {
	for i := len(v.last.Percepts) - 1; i >= 0; i-- {
		p := v.last.Percepts[i]
		if p.Key == key && (len(of) == 0 || slices.Contains(of, p.Of)) {
			return p, true
		}
	}
	return bench.Percept{}, false
}

// num is what an instrument showed after lines; NaN when it showed no number.
func (v *visitor) num(lines, key string, of ...string) float64 {
	v.do(lines)
	if v.err != nil {
		return math.NaN()
	}
	p, ok := v.find(key, of...)
	switch {
	case !ok:
		return math.NaN()
	case p.Word == "OL":
		return math.Inf(1)
	case p.Word != "":
		return math.NaN()
	}
	return p.Value
}

// word is what a sense told after lines, "nothing" when it told nothing.
func (v *visitor) word(lines, key string, of ...string) string {
	v.do(lines)
	if v.err != nil {
		return "error"
	}
	p, ok := v.find(key, of...)
	if !ok {
		return "nothing"
	}
	if p.Word == "" {
		return digits(p.Value, 6)
	}
	return p.Word
}

// codes are the codes of a kind after lines, in order, joined by spaces.
func (v *visitor) codes(kind string) string {
	v.do("codes " + kind)
	if v.err != nil {
		return "error"
	}
	var out []string
	for _, p := range v.last.Percepts {
		if p.Key == "code" {
			out = append(out, p.Word)
		}
	}
	slices.Sort(out)
	return strings.Join(out, " ")
}
