// Package schematic draws a car that has no drawing of its own from its data alone: every place as a panel with its parts, connectors,
// nipples, terminals and hoses set in columns, and the two diagrams of the service information from the netlist and the air lines. Tidy
// and honest, not pretty: where a thing stands on such a picture says nothing about where it is on a car.
package schematic

import (
	"strings"
	"unicode/utf8"

	"coldbay/scenarios/drawing"
	"coldbay/sim/bench"
	"coldbay/sim/car"
)

// front is the place from which the others are seen.
const front = "front"

// Draw makes the drawing of a car. The catalogue says what can be touched; c, which may be nil, is where the diagrams come from.
func Draw(id string, cat *bench.Catalogue, c *car.Car) *drawing.Drawing {
	d := &drawing.Drawing{Car: id, Plain: true}
	for _, p := range cat.Places {
		if p.ID == front {
			d.Views = append(d.Views, overview(cat))
			continue
		}
		d.Views = append(d.Views, closeUp(cat, p))
	}
	if c != nil {
		d.Sheets = append(d.Sheets, airSheet(cat, c), wiringSheet(cat, c))
	}
	return d
}

// thing is what stands in a column of a close-up.
type thing struct {
	id, label string
	kind      byte // p port, t terminal, b part, c connector, k clamp
}

// Layout of a close-up, in view units.
const (
	topEdge  = 46.0
	lowEdge  = 690.0
	leftEdge = 40.0
	most     = 13 // things in a column
	longest  = 27 // letters of a label in one of three columns
)

func closeUp(cat *bench.Catalogue, place bench.Named) drawing.View {
	v := drawing.View{ID: place.ID, Props: []drawing.Prop{{Kind: backdrop(place.ID), Box: drawing.Box{0, 0, drawing.Width, drawing.Height}}}}
	var cols [][]thing
	for _, group := range groups(cat, place.ID) {
		for len(group) > most {
			half := (len(group) + 1) / 2
			if half > most {
				half = most
			}
			cols = append(cols, group[:half])
			group = group[half:]
		}
		if len(group) > 0 {
			cols = append(cols, group)
		}
	}
	if len(cols) == 0 {
		return v
	}
	wide := (drawing.Width - 2*leftEdge) / float64(len(cols))
	letters := longest
	if len(cols) > 3 {
		letters = longest * 3 / len(cols)
	}
	for i, col := range cols {
		setColumn(&v, col, leftEdge+wide*float64(i), wide, letters)
	}
	v.Hoses = closeHoses(cat, place.ID, v.Ports)
	return v
}

// groups are what there is at a place, kind by kind; nipples come first because hoses leave at the left.
func groups(cat *bench.Catalogue, place string) [][]thing {
	pick := func(list []bench.Spot, kind byte) []thing {
		var out []thing
		for _, s := range list {
			if s.Place == place {
				out = append(out, thing{s.ID, s.Name, kind})
			}
		}
		return out
	}
	boxes := append(pick(cat.Parts, 'b'), pick(cat.Connectors, 'c')...)
	return [][]thing{pick(cat.Ports, 'p'), append(pick(cat.Terminals, 't'), pick(cat.Clamps, 'k')...), boxes}
}

func setColumn(v *drawing.View, col []thing, x, wide float64, letters int) {
	step := min(92, (lowEdge-topEdge)/float64(len(col)))
	top := topEdge + (lowEdge-topEdge-step*float64(len(col)))/2
	boxes := col[0].kind == 'b' || col[0].kind == 'c'
	if boxes {
		step = min(190, (lowEdge-topEdge)/float64(len(col)))
		top = topEdge
	}
	for i, t := range col {
		y := top + step*(float64(i)+0.5)
		label := short(t.label, letters)
		switch t.kind {
		case 'p':
			v.Props = append(v.Props, drawing.Prop{Kind: "plate", Box: drawing.Box{x + 70, y - min(26, step*0.42), 64, 2 * min(26, step*0.42)}})
			v.Ports = append(v.Ports, drawing.Spot{ID: t.id, At: drawing.Point{x + 84, y}, Dir: drawing.Point{-1, 0}, Label: label, Side: "e"})
		case 't':
			v.Props = append(v.Props, drawing.Prop{Kind: "post", Box: drawing.Box{x + 24, y - 16, 32, 32}})
			v.Terminals = append(v.Terminals, drawing.Spot{ID: t.id, At: drawing.Point{x + 40, y}, Label: label, Side: "e"})
		case 'k':
			v.Props = append(v.Props, drawing.Prop{Kind: "cable", Box: drawing.Box{x + 4, y - 10, 72, 20}})
			v.Clamps = append(v.Clamps, drawing.Spot{ID: t.id, At: drawing.Point{x + 40, y}, Label: label, Side: "e"})
		case 'c':
			h := min(72, step*0.5)
			r := drawing.Box{x + 20, y - h/2, h * 2.2, h}
			v.Props = append(v.Props, drawing.Prop{Kind: "caption", Box: drawing.Box{r[0], r[1] + h, wide - 30, 36}, Label: label})
			v.Connectors = append(v.Connectors, drawing.Spot{ID: t.id, Box: r})
		case 'b':
			h := min(130, step-46)
			r := drawing.Box{x + 20, y - step/2 + 4, h * 1.25, h}
			away := drawing.Box{r[0] + r[2] + 24, r[1] + h*0.2, r[2] * 0.8, h * 0.8}
			v.Props = append(v.Props, drawing.Prop{Kind: "gap", Box: r},
				drawing.Prop{Kind: looksLike(t.id, t.label), Box: r, Part: t.id, Away: away},
				drawing.Prop{Kind: "caption", Box: drawing.Box{r[0], r[1] + h, wide - 30, 36}, Label: label})
			v.Parts = append(v.Parts, drawing.Spot{ID: t.id, Box: r, Away: drawing.Point{away[0] + away[2]/2, away[1] + away[3]/2}})
		}
	}
}

// looksLike chooses the painting that fits a part's name best.
func looksLike(id, name string) string {
	words := id + " " + strings.ToLower(name)
	for _, k := range [][2]string{{"fuse", "fuse_blue"}, {"relay", "relay"}, {"solenoid", "solenoid"}, {"check", "checkvalve"}, {"reservoir", "reservoir"},
		{"pump", "pump"}, {"valve", "airvalve"}, {"battery", "battery"}} {
		if strings.Contains(words, k[0]) {
			return k[1]
		}
	}
	return "crate"
}

func backdrop(place string) string {
	switch place {
	case "dash":
		return "cabin"
	case "tailpipe":
		return "tail"
	}
	return "tray"
}

// closeHoses are the hoses that end at a place: they leave at the left, or run in a bow from nipple to nipple.
func closeHoses(cat *bench.Catalogue, place string, ports []drawing.Spot) []drawing.Hose {
	at := map[string]drawing.Point{}
	for _, p := range ports {
		at[p.ID] = p.At
	}
	var out []drawing.Hose
	for i, h := range cat.Hoses {
		a, okA := at[h.PortA]
		b, okB := at[h.PortB]
		if !okA && !okB {
			continue
		}
		x := drawing.Hose{ID: h.ID, Width: hoseWidth(h.Name), Ink: hoseInk(h.Name)}
		hang := func(p drawing.Point) drawing.Point { return drawing.Point{p[0] - 58, p[1] + 30} }
		switch {
		case okA && okB:
			bow := 26 - 6*float64(i%3)
			x.Via = []drawing.Point{{bow, a[1]}, {bow, b[1]}}
			x.HangA, x.HangB = hang(a), hang(b)
		case okA:
			x.ExitB, x.HangA = drawing.Point{-40, a[1] + 8}, hang(a)
		default:
			x.ExitA, x.HangB = drawing.Point{-40, b[1] + 8}, hang(b)
		}
		out = append(out, x)
	}
	return out
}

// vacuumLine tells a thin vacuum line from an air hose by what the car's file calls it.
func vacuumLine(name string) bool { return strings.Contains(strings.ToLower(name), "vacuum") }

func hoseInk(name string) string {
	if vacuumLine(name) {
		return "vacuum"
	}
	return "air"
}

func hoseWidth(name string) float64 {
	if vacuumLine(name) {
		return 14
	}
	return 30
}

// short is a name without what stands in brackets, cut at a word when it is still too long.
func short(name string, letters int) string {
	if i := strings.IndexByte(name, '('); i > 0 {
		rest := ""
		if j := strings.IndexByte(name, ')'); j > i {
			rest = name[j+1:]
		}
		name = strings.TrimSpace(name[:i]) + rest
	}
	name = strings.TrimSuffix(name, ", harness side")
	if i := strings.Index(name, " and its "); i > 0 && utf8.RuneCountInString(name) > letters {
		name = name[:i]
	}
	if utf8.RuneCountInString(name) <= letters {
		return name
	}
	out := ""
	for _, w := range strings.Fields(name) {
		if utf8.RuneCountInString(out)+utf8.RuneCountInString(w)+2 > letters {
			break
		}
		out = strings.TrimSpace(out + " " + w)
	}
	return out + " …"
}
