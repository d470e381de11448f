package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
)

// table holds rows by their time as written.
type table map[string]map[string]float64

// reading is a deviation and what it is in digits of the instrument that would show it.
type reading struct {
	name   string
	dev    float64
	digits float64
}

// readings are what a trainee, a scan tool or a lesson's view shows, and the last digit of each [common practice, no source].
var readings = []struct {
	column, what, unit string
	digit              float64
}{
	{"pump_A", "pump current", "A", 0.1}, {"pump_V", "voltage at the pump", "V", 0.01}, {"bus_V", "battery voltage", "V", 0.01},
	{"air_kg_h", "secondary air", "kg/h", 0.1}, {"pipe_kPa", "pressure in the pipe", "kPa", 0.1}, {"manifold_kPa", "manifold vacuum", "kPa", 0.5},
	{"reservoir_kPa", "reservoir vacuum", "kPa", 0.5}, {"chamber_kPa", "vacuum at the valve", "kPa", 0.5}, {"speed_rpm", "engine speed", "1/min", 1},
	{"coolant_C", "coolant", "°C", 1}, {"ex_manifold_C", "exhaust manifold", "°C", 1}, {"front_C", "catalyst, front", "°C", 1}, {"rear_C", "catalyst, rear", "°C", 1},
	{"lambda_seen", "relative air-fuel ratio, sensor", "", 0.01}, {"lit_s", "light-off after the start", "s", 0.1},
}

func readTable(file string) (table, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	return parseTable(data)
}

func parseTable(data []byte) (table, error) {
	r := csv.NewReader(bytes.NewReader(data))
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		return nil, err
	}
	t := table{}
	for _, line := range all[1:] {
		row := map[string]float64{}
		for k, cell := range line {
			if row[all[0][k]], err = strconv.ParseFloat(cell, 64); err != nil {
				return nil, err
			}
		}
		t[line[0]] = row
	}
	return t, nil
}

// deviations are the largest of each reading at whole seconds while nothing switches: from 10 s to 81 s with the air, from 88 s after it.
func deviations(got, tight table) (worst reading, devs map[string]float64, err error) {
	devs = map[string]float64{}
	for s := 10; s <= 122; s++ {
		if s > 81 && s < 88 {
			continue
		}
		at := fmt.Sprintf("%d.0", s)
		for _, q := range readings {
			a, okA := got[at][q.column]
			b, okB := tight[at][q.column]
			if !okA || !okB {
				return worst, nil, fmt.Errorf("no %s at %s s", q.column, at)
			}
			d := math.Abs(a - b)
			if q.column == "lit_s" && s < 122 {
				continue
			}
			devs[q.column] = max(devs[q.column], d)
			if d/q.digit > worst.digits || math.IsNaN(d) {
				worst = reading{q.what, d, d / q.digit}
			}
		}
	}
	return worst, devs, nil
}

func median(x []float64) float64 {
	s := slices.Sorted(slices.Values(x))
	return s[len(s)/2]
}

func page(ways []*way, rounds int) string {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("# A cold start, computed three ways")
	p("")
	p("The healthy cold start of car A at 20 °C and sea level, 122 s from the turn of the key to crank until 40 s after the air has stopped:")
	p("the program's own world; SUNDIALS CVODE (BDF, dense Newton, C, `cc -O2`); SciPy's LSODA (Python). Equations: `coldstart.c`, `coldstart.py`.")
	p("")
	p("The controller measures air and computes fuel ten times a second. CVODE solves the car once with that controller (the same system as the")
	p("world's) and once with a continuous one, which spares it 1,200 small jumps and is a slightly different car: light-off comes 0.13 s later.")
	p("Each is held against a run of the same system with a tolerance of 1e-10 (`tight.csv` sampled, `continuous.csv`); the solvers get the")
	p("tolerance at which they need the fewest evaluations while no steady reading is further off, in digits of its instrument, than the world's worst.")
	p("")
	p("Made by `go run ./testdata/outside/coldstart/compare -write`: %d interleaved rounds, medians. Ratios are what to read; speeds depend on the machine.", rounds)
	p("")
	p("| way | tolerance | cost | s per start | times real time | time over the world's |")
	p("| --- | --- | --- | --- | --- | --- |")
	own := median(ways[0].seconds)
	for _, w := range ways {
		m := median(w.seconds)
		p("| %s | %s | %s | %.4f | %.0f | %.2f |", w.name, w.tol, w.cost, m, span/10/m, m/own)
	}
	p("")
	p("Quartiles of the seconds:")
	for _, w := range ways {
		s := slices.Sorted(slices.Values(w.seconds))
		p("- %s: %.4f to %.4f, fastest %.4f, of %d", w.name, s[len(s)/4], s[len(s)*3/4], s[0], len(s))
	}
	p("")
	p("The world does more than the others in that time: all 30-odd nodes of the circuit instead of one unknown, fuses, drivers' protection, the")
	p("controller's monitors. CVODE is not asked for anything between the switchings; its Jacobian comes from differences.")
	p("")
	p("## Deviations from the tight runs")
	p("")
	p("The largest at whole seconds while nothing switches (10 to 81 s, 88 to 122 s).")
	p("")
	head, line := "| reading | digit |", "| --- | --- |"
	for _, w := range ways {
		head += " " + w.name + ", " + w.tol + " |"
		line += " --- |"
	}
	p("%s", head)
	p("%s", line)
	for _, q := range readings {
		cells := fmt.Sprintf("| %s | %s |", q.what, strings.TrimSpace(fmt.Sprintf("%g %s", q.digit, q.unit)))
		for _, w := range ways {
			cells += fmt.Sprintf(" %.2g |", w.devs[q.column])
		}
		p("%s", cells)
	}
	cells := "| worst, in digits | |"
	for _, w := range ways {
		cells += fmt.Sprintf(" %.2f (%s) |", w.worst.digits, w.worst.name)
	}
	p("%s", cells)
	p("")
	p("The world tells light-off by tenths of a second, upwards.")
	p("")
	p("## Tolerances tried")
	p("")
	p("Seconds (the fastest of seven) and worst deviation in digits.")
	p("")
	p("| tolerance | %s | %s | %s |", ways[1].name, ways[2].name, ways[3].name)
	p("| --- | --- | --- | --- |")
	for i, t := range ways[1].tried {
		cells := "| " + t.tol + " |"
		for _, w := range ways[1:] {
			if x := w.tried[i]; math.IsNaN(x.seconds) {
				cells += " gives up |"
			} else {
				cells += fmt.Sprintf(" %.4f, %.2f |", x.seconds, x.digits)
			}
		}
		p("%s", cells)
	}
	return b.String()
}
