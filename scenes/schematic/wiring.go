package schematic

import (
	"slices"
	"strconv"
	"strings"

	"coldbay/scenarios/drawing"
	"coldbay/sim/bench"
	"coldbay/sim/car"
)

// The wiring diagram is set in current paths: a row for each load, from the battery's positive post at the left to its ground at the
// right. What several loads share is drawn in the path of each, under the same name.

// edge is a way through an element from terminal to terminal.
type edge struct {
	el       *car.Element
	from, to string
}

type circuitMap map[string][]edge

func wires(c *car.Car) circuitMap {
	m := circuitMap{}
	add := func(e *car.Element, a, b string) {
		m[a] = append(m[a], edge{e, a, b})
		m[b] = append(m[b], edge{e, b, a})
	}
	for i := range c.Electrical.Elements {
		e := &c.Electrical.Elements[i]
		switch e.Kind {
		case "wire", "resistor", "fuse", "switch", "driver":
			add(e, e.A, e.B)
		case "relay":
			add(e, e.C, e.D)
		case "connector":
			for _, p := range e.Pins {
				add(e, p[0], p[1])
			}
		}
	}
	return m
}

// way is the shortest way between two terminals; nil when there is none.
func (m circuitMap) way(from, to string) []edge {
	type step struct {
		by   edge
		prev int
	}
	seen := map[string]bool{from: true}
	queue := []step{{edge{to: from}, -1}}
	for i := 0; i < len(queue); i++ {
		if queue[i].by.to == to {
			var out []edge
			for k := i; queue[k].prev >= 0; k = queue[k].prev {
				out = append([]edge{queue[k].by}, out...)
			}
			return out
		}
		for _, e := range m[queue[i].by.to] {
			if !seen[e.to] {
				seen[e.to] = true
				queue = append(queue, step{e, i})
			}
		}
	}
	return nil
}

// path is a load with the ways to it and from it.
type path struct {
	load    *car.Element
	kind    string
	to, out []edge
}

func paths(c *car.Car) []path {
	m := wires(c)
	plus, minus := "bat_pos", c.Electrical.Reference
	for i := range c.Electrical.Elements {
		if e := &c.Electrical.Elements[i]; e.Kind == "battery" {
			plus, minus = e.A, e.B
		}
	}
	var out []path
	for i := range c.Electrical.Elements {
		e := &c.Electrical.Elements[i]
		kind := map[string]string{"motor": "motor", "coil": "coil", "relay": "coil"}[e.Kind]
		if kind == "" {
			continue
		}
		best := path{}
		for _, ends := range [][2]string{{e.A, e.B}, {e.B, e.A}} {
			p := path{e, kind, m.way(plus, ends[0]), m.way(ends[1], minus)}
			if p.to != nil && p.out != nil && (best.load == nil || len(p.to)+len(p.out) < len(best.to)+len(best.out)) {
				best = p
			}
		}
		if best.load != nil {
			out = append(out, best)
		}
	}
	return out
}

// stop is a symbol on a current path.
type stop struct{ kind, label string }

func wiringSheet(cat *bench.Catalogue, c *car.Car) drawing.Sheet {
	s := drawing.Sheet{ID: "wiring"}
	names := map[string]string{}
	for _, u := range c.Units {
		names[u.ID] = u.Name
	}
	terminals := map[string]string{}
	for _, t := range cat.Terminals {
		terminals[t.ID] = t.Name
	}
	name := func(e *car.Element) string {
		if n := names[e.Unit]; n != "" {
			return n
		}
		return strings.ReplaceAll(e.ID, "_", " ")
	}
	all := paths(c)
	down := min(120, 440/float64(max(len(all), 1)))
	for i, p := range all {
		y := 50 + down*float64(i)
		stops, words := []stop{{"plus", terminals["bat_pos"]}}, []string{""}
		nodes := [][]string{nil} // terminals on each stretch between two stops
		node := func(id string) {
			if last := &nodes[len(nodes)-1]; terminals[id] != "" && !slices.Contains(*last, id) {
				*last = append(*last, id)
			}
		}
		through := func(list []edge) {
			for _, e := range list {
				node(e.from)
				switch e.el.Kind {
				case "fuse":
					stops = append(stops, stop{"fuse", name(e.el)})
				case "switch":
					stops = append(stops, stop{"mainrelay", name(e.el)})
				case "relay":
					stops = append(stops, stop{"fuelrelay", name(e.el)})
				case "driver":
					stops = append(stops, stop{"output", terminals[e.from]})
				default:
					if e.el.Kind == "wire" && e.el.AWG > 0 {
						words[len(words)-1] = strconv.Itoa(e.el.AWG) + " AWG"
					}
					node(e.to)
					continue
				}
				words, nodes = append(words, ""), append(nodes, nil)
				node(e.to)
			}
		}
		through(p.to)
		stops, words = append(stops, stop{p.kind, name(p.load)}), append(words, "")
		nodes = append(nodes, nil)
		through(p.out)
		if stops[len(stops)-1].kind != "output" {
			stops = append(stops, stop{"ground", lastNamed(p.out, terminals)})
		}
		place(&s, stops, words, y)
		placeNodes(&s, stops, nodes, y)
	}
	return s
}

// lastNamed is the last terminal of a way that has a name, other than the battery's own post.
func lastNamed(list []edge, terminals map[string]string) string {
	for i := len(list) - 1; i >= 0; i-- {
		if n := terminals[list[i].from]; n != "" {
			return n
		}
	}
	return ""
}

// reach is how far symbols extend to the left and right of their middle.
func reach(kind string) float64 {
	return map[string]float64{"fuse": 30, "mainrelay": 30, "fuelrelay": 30, "motor": 32, "coil": 32, "plus": 12, "output": 30}[kind]
}

// placeNodes sets the terminals of each stretch evenly along it; one that another path has already is not set again.
func placeNodes(s *drawing.Sheet, stops []stop, nodes [][]string, y float64) {
	step := 880 / float64(max(len(stops)-1, 1))
	for i := range len(stops) - 1 {
		var fresh []string
		for _, id := range nodes[min(i, len(nodes)-1)] {
			if !slices.ContainsFunc(s.Terminals, func(t drawing.Spot) bool { return t.ID == id }) {
				fresh = append(fresh, id)
			}
		}
		from, to := 60+step*float64(i)+reach(stops[i].kind), 60+step*float64(i+1)-reach(stops[i+1].kind)
		most := int((to - from) / 26) // so that each can be pointed at
		for k, id := range fresh[:min(len(fresh), max(most, 0))] {
			x := from + (to-from)*(float64(k)+0.5)/float64(min(len(fresh), most))
			s.Terminals = append(s.Terminals, drawing.Spot{ID: id, At: drawing.Point{x, y}})
		}
	}
}

func place(s *drawing.Sheet, stops []stop, words []string, y float64) {
	step := 880 / float64(max(len(stops)-1, 1))
	for i, t := range stops {
		at := drawing.Point{60 + step*float64(i), y}
		kind := t.kind
		if kind == "ground" {
			s.Lines = append(s.Lines, drawing.Track{Ink: "minus", Path: []drawing.Point{at, {at[0], y + 8}}})
			s.Items = append(s.Items, drawing.Item{Kind: kind, At: drawing.Point{at[0], y + 18}, Label: short(t.label, int(step/8)), Side: "s"})
		} else {
			s.Items = append(s.Items, drawing.Item{Kind: kind, At: at, Label: short(t.label, int(step/8)), Side: "s"})
		}
		if i == 0 {
			continue
		}
		ink := "plus"
		for _, before := range stops[:i] {
			if before.kind == "motor" || before.kind == "coil" {
				ink = "minus"
			}
		}
		if t.kind == "output" {
			ink = "signal"
		}
		line := drawing.Track{Ink: ink, Path: []drawing.Point{{at[0] - step + reach(stops[i-1].kind), y}, {at[0] - reach(kind), y}}}
		if words[min(i-1, len(words)-1)] != "" {
			line.Word, line.At = words[i-1], drawing.Point{at[0] - step/2 - 20, y - 22}
		}
		s.Lines = append(s.Lines, line)
	}
}
