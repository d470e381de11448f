package bench

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Class is what a technician makes of a percept: two percepts of the same class can't be told apart and are the same evidence. It is
// comparable with ==.
type Class struct {
	Sense Sense
	Key   string
	Of    string
	Bin   int // number of the bin that the value falls into, for quantities
	Word  string
	Flag  string
}

// Class sorts a percept. It is the one function that says which readings can be told apart; belief and planner use it and nothing
// else. Words count as they are. Numbers fall into the bins of the table below, by their size and sign.
func (p Percept) Class() Class {
	c := Class{Sense: p.Sense, Key: p.Key, Of: p.Of, Word: p.Word, Flag: p.Flag}
	if p.Word == "" {
		c.Bin = bin(edgesFor(p.Key), p.Value)
	}
	return c
}

// Classes are the classes of all percepts of a finding, in order. Two worlds that give the same classes for an action are the same
// world to the trainee.
func (f Finding) Classes() []Class {
	out := make([]Class, len(f.Percepts))
	for i, p := range f.Percepts {
		out[i] = p.Class()
	}
	return out
}

// String prints a class with the limits of its bin: "meter volts pump_2h/bat_neg 0.1..0.2".
func (c Class) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s %s %s ", c.Sense, c.Key, c.Of)
	if c.Word != "" {
		b.WriteString(c.Word)
	} else {
		b.WriteString(binText(edgesFor(c.Key), c.Bin))
	}
	if c.Flag != "" {
		fmt.Fprintf(&b, " (%s)", c.Flag)
	}
	return b.String()
}

// edges are the limits between bins for one quantity, rising, for the size of the value; a value below the first counts as nothing.
type edges struct {
	keys  []string
	at    []float64
	sides bool // beyond the first edge the sign tells values apart
}

// The bins. Every limit is common practice without a source unless a reason stands beside it. They are as wide as a careful person
// takes two readings for the same, given the instrument, the state of the battery and two healthy cars' differences.
var classEdges = []edges{
	// Voltage drops are judged finely: 0.1 V is the limit for a ground, 0.2 V for one joint, 0.5 V for a feed. Near battery voltage the
	// state of charge moves readings: 9.5 V is a weak battery while cranking, 11.5 and 12.3 V a flat and a half-charged one at rest, 13 V
	// and up is charging.
	{keys: []string{"volts"}, at: []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 3.5, 5, 7, 9.5, 11.5, 12.3, 13, 14, 15.5}, sides: true},
	// Ohms by ratio, since a bad joint is bad by its order of magnitude; 28 to 32 and 70 to 90 are limits of spec sheets.
	{keys: []string{"ohms"}, at: []float64{0.5, 1, 2, 5, 10, 20, 28, 32, 50, 70, 90, 150, 300, 1e3, 3e3, 1e4, 1e5, 1e6}},
	// A healthy pump draws 20 to 30 A depending on voltage and load, so the limits avoid splitting that.
	{keys: []string{"amps"}, at: []float64{0.3, 1, 2, 3.5, 5, 8, 12, 16, 20, 33, 45, 60, 90, 130, 200}, sides: true},
	// A gauge of 1 kPa with play: 5 kPa can be told apart, below 5 a little better.
	{keys: []string{"vacuum", "drop"}, at: []float64{2, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95}},
	// A rev counter: idle speeds differ visibly by 100 to 200.
	{keys: []string{"rpm", "pid.0C", "freeze.0C"}, at: []float64{50, 400, 650, 850, 1050, 1150, 1350, 1600, 2000, 2500, 3000, 3500, 4000}},
	// Temperatures: engine cold, warming, warm.
	{keys: []string{"pid.05", "pid.0F", "pid.46", "freeze.05", "freeze.0F"}, at: []float64{5, 15, 25, 35, 45, 55, 65, 75, 85, 95, 105}, sides: true},
	// Manifold pressure: an idle differs by 5 kPa when something is wrong.
	{keys: []string{"pid.0B", "pid.33", "freeze.0B"}, at: []float64{20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 97}},
	// Fuel trims: within 5 % nobody looks twice, beyond 10 % everybody.
	{keys: []string{"pid.06", "pid.07", "pid.08", "pid.09", "freeze.06", "freeze.07"}, at: []float64{5, 10, 15, 20, 25}, sides: true},
	// Ratios near 1: a wide-range sensor is read to a few per cent.
	{keys: []string{"pid.24", "pid.34", "pid.38", "pid.44", "freeze.34", "gas.lambda"}, at: []float64{0.75, 0.85, 0.95, 1.02, 1.08, 1.15, 1.25, 1.4, 1.6, 1.9}},
	// Exhaust gas: lean or rich by O2 and CO, by how much; HC by what a second look would call other.
	{keys: []string{"gas.o2"}, at: []float64{0.5, 1, 2, 3.5, 5, 7, 9, 12, 15, 19}},
	{keys: []string{"gas.co"}, at: []float64{0.1, 0.3, 0.5, 1, 2, 3.5, 5, 7, 9}},
	{keys: []string{"gas.co2"}, at: []float64{2, 5, 8, 10, 12, 13.5, 15}},
	{keys: []string{"gas.hc"}, at: []float64{50, 100, 200, 400, 800, 1500, 3000}},
	// Control module voltage as for volts near the battery.
	{keys: []string{"pid.42", "freeze.42"}, at: []float64{9.5, 11.5, 12.3, 13, 14, 15.5}},
	// Air flow in g/s.
	{keys: []string{"pid.10", "freeze.10"}, at: []float64{0.5, 2, 3.5, 5, 7, 10, 15, 25}},
	// Load, throttle and the like in per cent.
	{keys: []string{"pid.04", "pid.11", "freeze.04", "freeze.11"}, at: []float64{5, 15, 25, 35, 50, 70, 90}},
	// Catalyst temperature: lit or not, give or take.
	{keys: []string{"pid.3C", "pid.3D", "freeze.3C"}, at: []float64{50, 100, 200, 300, 400, 500, 600, 700}},
	// Narrow-band sensor voltage: lean below, rich above, the middle uncertain.
	{keys: []string{"pid.14", "pid.15", "pid.18", "pid.19"}, at: []float64{0.2, 0.45, 0.7}},
	// Run time in seconds: only roughly.
	{keys: []string{"pid.1F", "freeze.1F"}, at: []float64{10, 30, 60, 90, 120, 300, 600, 1200}},
}

// otherEdges serve quantities without a row of their own: steps of about a third.
var otherEdges = edges{at: []float64{0.01, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100, 300, 1e3, 3e3, 1e4}, sides: true}

func edgesFor(key string) *edges {
	for i := range classEdges {
		for _, k := range classEdges[i].keys {
			if k == key {
				return &classEdges[i]
			}
		}
	}
	return &otherEdges
}

// bin numbers the bin: 0 below the first edge, then 1, 2 ...; negative values of a quantity with sides count downwards.
func bin(e *edges, v float64) int {
	n := 0
	for _, limit := range e.at {
		if math.Abs(v) < limit {
			break
		}
		n++
	}
	if v < 0 && e.sides {
		return -n
	}
	return n
}

func binText(e *edges, n int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	show := func(v float64) string { return sign + strconv.FormatFloat(v, 'g', -1, 64) }
	switch {
	case n == 0:
		return "under " + show(e.at[0])
	case n >= len(e.at):
		return show(e.at[len(e.at)-1]) + " and beyond"
	}
	return show(e.at[n-1]) + ".." + show(e.at[n])
}
