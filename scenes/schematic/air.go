package schematic

import (
	"strings"

	"coldbay/scenarios/drawing"
	"coldbay/sim/bench"
	"coldbay/sim/car"
)

// body is a component of the air diagram: all that belongs to one service unit.
type body struct {
	unit, name, kind string
	links            []link
	depth, row       int
	seen             bool
}

type link struct {
	to     int
	vacuum bool
}

// pneumatics collects the bodies and how hoses and passages join them.
type pneumatics struct {
	bodies []body
	index  map[string]int    // by unit
	port   map[string]string // unit that a port or volume belongs to
}

func (p *pneumatics) body(unit, name, kind string) int {
	if i, ok := p.index[unit]; ok {
		if p.bodies[i].kind == "" {
			p.bodies[i].kind = kind
		}
		return i
	}
	p.index[unit] = len(p.bodies)
	p.bodies = append(p.bodies, body{unit: unit, name: name, kind: kind})
	return len(p.bodies) - 1
}

func (p *pneumatics) join(a, b int, vacuum bool) {
	if a == b {
		return
	}
	for _, l := range p.bodies[a].links {
		if l.to == b {
			return
		}
	}
	p.bodies[a].links = append(p.bodies[a].links, link{b, vacuum})
	p.bodies[b].links = append(p.bodies[b].links, link{a, vacuum})
}

// signs are the diagram's symbols for the kinds of air parts.
var signs = map[string]string{"check": "check", "three_way": "threeway", "diverter": "threeway", "pump": "blower", "belt_pump": "blower",
	"diaphragm_valve": "diaphragm", "pressure_valve": "diaphragm"}

func collect(cat *bench.Catalogue, c *car.Car) *pneumatics {
	p := &pneumatics{index: map[string]int{}, port: map[string]string{}}
	names := map[string]string{}
	for _, u := range c.Units {
		names[u.ID] = u.Name
	}
	name := func(unit string) string {
		if n := names[unit]; n != "" {
			return n
		}
		return strings.ReplaceAll(unit, "_", " ")
	}
	spec := &c.Pneumatic
	for _, v := range spec.Volumes {
		p.port[v.ID] = v.Unit
	}
	for _, x := range spec.Ports {
		if x.On != "" {
			p.port[x.ID] = p.port[x.On]
		}
	}
	for _, x := range spec.Parts {
		for _, id := range []string{x.A, x.B, x.Supply, x.Out, x.Dump} {
			if _, ok := p.port[id]; !ok && id != "" && id != "ambient" && !strings.HasPrefix(id, "exhaust") {
				p.port[id] = x.Unit
			}
		}
		kind := signs[x.Kind]
		switch {
		case x.Kind == "orifice" && x.A == "ambient":
			kind = "filter"
		case strings.HasPrefix(x.B, "exhaust"):
			kind = "ports"
		}
		if kind != "" {
			p.body(x.Unit, name(x.Unit), kind)
		}
	}
	hoses := map[string]string{}
	for _, h := range cat.Hoses {
		hoses[h.ID] = h.Name
	}
	for _, h := range spec.Hoses {
		p.join(p.body(p.port[h.A], name(p.port[h.A]), ""), p.body(p.port[h.B], name(p.port[h.B]), ""), vacuumLine(hoses[h.ID]))
	}
	for _, x := range spec.Parts {
		a, okA := p.index[p.port[x.A]]
		b, okB := p.index[p.port[x.B]]
		if okA && okB {
			p.join(a, b, false)
		}
	}
	for i := range p.bodies {
		switch b := &p.bodies[i]; {
		case b.kind != "":
		case b.unit == "engine":
			b.kind = "manifold"
		default:
			b.kind = "tank"
		}
	}
	return p
}

// airSheet sets the bodies in columns by how far they are from the first one, a branch a row.
func airSheet(cat *bench.Catalogue, c *car.Car) drawing.Sheet {
	p := collect(cat, c)
	rows, deep := 0, 1
	var walk func(i, depth, row int)
	walk = func(i, depth, row int) {
		b := &p.bodies[i]
		b.seen, b.depth, b.row = true, depth, row
		deep, rows = max(deep, depth), max(rows, row)
		first := true
		for _, l := range b.links {
			if p.bodies[l.to].seen {
				continue
			}
			if !first {
				row = rows + 1
			}
			first = false
			walk(l.to, depth+1, row)
		}
	}
	// Ends of lines come first, then what is left in rings.
	for _, ends := range []bool{true, false} {
		for i := range p.bodies {
			b := &p.bodies[i]
			if b.seen || ends && len(b.links) != 1 || len(b.links) == 0 {
				continue
			}
			row := 0
			if i > 0 && rows+deep > 1 && anySeen(p.bodies) {
				row = rows + 1
			}
			walk(i, 0, row)
		}
	}
	s := drawing.Sheet{ID: "air"}
	step := min(200, 860/float64(deep))
	down := min(150, 420/float64(rows+1))
	at := func(b *body) drawing.Point {
		return drawing.Point{70 + step*float64(b.depth), 70 + down*float64(b.row)}
	}
	for i := range p.bodies {
		b := &p.bodies[i]
		if !b.seen {
			continue
		}
		side := "s"
		if b.depth%2 == 1 || b.kind == "diaphragm" {
			side = "n"
		}
		s.Items = append(s.Items, drawing.Item{Kind: b.kind, At: at(b), Label: short(b.name, int(step/4.6)), Side: side})
		for _, l := range b.links {
			if l.to < i && p.bodies[l.to].seen {
				s.Lines = append(s.Lines, drawing.Track{Ink: inkOf(l.vacuum), Path: elbow(at(&p.bodies[l.to]), at(b))})
			}
		}
	}
	return s
}

func anySeen(list []body) bool {
	for i := range list {
		if list[i].seen {
			return true
		}
	}
	return false
}

func inkOf(vacuum bool) string {
	if vacuum {
		return "vacuum"
	}
	return "air"
}

// elbow leads from one symbol to another: straight along a row, or down first and then across.
func elbow(a, b drawing.Point) []drawing.Point {
	if a[0] > b[0] {
		a, b = b, a
	}
	if a[1] == b[1] || a[0] == b[0] {
		return []drawing.Point{a, b}
	}
	if a[1] > b[1] {
		return []drawing.Point{a, {b[0], a[1]}, b}
	}
	return []drawing.Point{a, {a[0], b[1]}, b}
}
