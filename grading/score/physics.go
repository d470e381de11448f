package score

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"coldbay/sim/bench"
	"coldbay/sim/circuit"
)

// loop is the path of a motor's current: the terminals from the battery's positive post to the motor, and from there back.
type loop struct{ feed, ground []string }

// pumpLoop follows wires, joints, fuses, plugs and relay contacts from the first motor of a car to the battery's posts.
func pumpLoop(elements []circuit.Element) loop {
	var battery, motor *circuit.Element
	for i := range elements {
		switch e := &elements[i]; {
		case e.Kind == "battery" && battery == nil:
			battery = e
		case e.Kind == "motor" && motor == nil:
			motor = e
		}
	}
	if battery == nil || motor == nil {
		return loop{}
	}
	ends := []string{battery.A, battery.B}
	return loop{feed: series(elements, motor.A, ends), ground: series(elements, motor.B, ends)}
}

// series lists the terminals that hang together with one by nothing but conductors, not going on past the battery's posts.
func series(elements []circuit.Element, from string, ends []string) []string {
	out := []string{from}
	for k := 0; k < len(out); k++ {
		if slices.Contains(ends, out[k]) {
			continue
		}
		for i := range elements {
			e := &elements[i]
			var pairs [][2]string
			switch e.Kind {
			case "resistor", "wire", "fuse":
				pairs = [][2]string{{e.A, e.B}}
			case "relay":
				pairs = [][2]string{{e.C, e.D}}
			case "connector":
				pairs = e.Pins
			}
			for _, p := range pairs {
				for _, way := range [][2]string{p, {p[1], p[0]}} {
					if way[0] == out[k] && !slices.Contains(out, way[1]) {
						out = append(out, way[1])
					}
				}
			}
		}
	}
	return out
}

// Limits of what a healthy pump draws, A: the classes of readings in package bench leave 20 to 33 A whole for the same reason.
const (
	pumpLeast = 20
	pumpMost  = 33
)

// physics puts one line of physics to a reading of finding i, with numbers that come from the true car at that moment.
func (g *grader) physics(p bench.Percept, i int) string {
	amps := math.Abs(g.at[i+1].amps)
	v := math.Abs(p.Value)
	verb := g.findings[i].Action.Verb
	switch {
	case p.Key == "volts" && p.Flag == "":
		return g.volts(p, v, amps)
	case p.Key == "amps" && p.Sense == bench.Clamp && p.Flag == "" && v >= pumpMost:
		return g.Words.T("grade.physics.amps.more")
	case p.Key == "amps" && p.Sense == bench.Clamp && p.Flag == "" && v >= pumpLeast:
		return g.Words.T("grade.physics.amps.right")
	case p.Key == "amps" && p.Sense == bench.Clamp && p.Flag == "" && v > 3:
		return g.Words.T("grade.physics.amps.less")
	case p.Key == "drop" && v < 2:
		return g.Words.T("grade.physics.holds")
	case p.Key == "drop":
		return g.Words.T("grade.physics.drop", "n", g.Words.Decimal(number(p.Value)), "s", g.Words.Decimal(number(g.findings[i].Action.N)))
	case p.Key == "vacuum" && v < 5 && (verb == bench.Stroke || verb == bench.HoldVac):
		return g.Words.T("grade.physics.novacuum")
	case p.Key == "flow" && p.Of == "tailpipe" && p.Word == "none":
		return g.Words.T("grade.physics.noair")
	case p.Key == "flow" && p.Of == "tailpipe":
		return g.Words.T("grade.physics.air")
	case verb == bench.Drive:
		return g.driven(p, i)
	case p.Key == "code" && p.Word == fmt.Sprint(g.Config.Car.Controller.Codes.FlowLow):
		return g.Words.T("grade.physics.lowflow", "code", p.Word)
	}
	return ""
}

// driven tells what the codes after a verifying drive mean.
func (g *grader) driven(p bench.Percept, i int) string {
	if p.Key != "code" || p.Of != "stored" || p.Word == "none" {
		return ""
	}
	for _, q := range g.findings[i].Percepts {
		if q.Key == "code" && q.Of == "pending" && q.Word != "none" {
			return g.Words.T("grade.physics.pending")
		}
	}
	return g.Words.T("grade.physics.stored")
}

// volts tells what a voltage means along the pump's own path: a drop under load, a drop that can't show, what the pump gets.
func (g *grader) volts(p bench.Percept, v, amps float64) string {
	a, b, ok := strings.Cut(p.Of, "/")
	if !ok {
		return ""
	}
	path := g.loop
	same := slices.Contains(path.feed, a) && slices.Contains(path.feed, b) || slices.Contains(path.ground, a) && slices.Contains(path.ground, b)
	across := slices.Contains(path.feed, a) && slices.Contains(path.ground, b) || slices.Contains(path.ground, a) && slices.Contains(path.feed, b)
	switch {
	case same && amps > 3 && v < 9:
		return g.Words.T("grade.physics.lost", "amps", tenths(g.Words, amps), "v", g.Words.Decimal(number(v)), "a", g.Speaker.Name(a), "b", g.Speaker.Name(b),
			"ohm", g.Words.Decimal(number(math.Round(v/amps*1000)/1000)))
	case same && amps < 0.5 && v < 0.05:
		return g.Words.T("grade.physics.noload")
	case across && amps > 3:
		return g.Words.T("grade.physics.reaches", "amps", tenths(g.Words, amps))
	case across && amps < 0.5 && v > 9:
		return g.Words.T("grade.physics.meterload")
	}
	return ""
}
