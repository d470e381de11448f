package schematic

import (
	"slices"

	"coldbay/scenarios/drawing"
	"coldbay/sim/bench"
)

// The overview sets the places as panels in a grid; hoses run in the gutters between them, as on a subway map.
const (
	across = 4    // panels in a row at most
	gutter = 64.0 // between panels
	strip  = 96.0 // along the lower edge, for what is at the front itself
)

type panel struct {
	box      drawing.Box
	row, col int
	used     int // hoses that left it so far
}

func overview(cat *bench.Catalogue) drawing.View {
	v := drawing.View{ID: front, Props: []drawing.Prop{{Kind: "tray", Box: drawing.Box{0, 0, drawing.Width, drawing.Height}}}}
	var places []bench.Named
	for _, p := range cat.Places {
		if p.ID != front {
			places = append(places, p)
		}
	}
	here := frontThings(cat)
	cols := across
	if len(places) <= 6 {
		cols = 3
	}
	rows := max(1, (len(places)+cols-1)/cols)
	high := float64(drawing.Height) - 20
	if len(here) > 0 {
		high -= strip
	}
	w := (drawing.Width - gutter*float64(cols+1)) / float64(cols)
	h := (high - gutter*float64(rows)) / float64(rows)
	panels := map[string]*panel{}
	for i, p := range places {
		r, c := i/cols, i%cols
		box := drawing.Box{gutter + float64(c)*(w+gutter), 26 + float64(r)*(h+gutter), w, h}
		panels[p.ID] = &panel{box: box, row: r, col: c}
		v.Props = append(v.Props, drawing.Prop{Kind: "panel", Box: box})
		v.Props = append(v.Props, portrait(cat, p.ID, box))
		v.Regions = append(v.Regions, drawing.Spot{ID: p.ID, Box: box, Label: short(p.Name, int((w+gutter-16)/15)), Side: "n"})
	}
	step := (drawing.Width - 80) / float64(max(len(here), 1))
	for i, t := range here {
		at := drawing.Point{60 + step*float64(i), drawing.Height - 52}
		letters := min(26, int(step/15))
		kind := "post"
		spot := drawing.Spot{ID: t.id, At: at, Label: short(t.label, letters), Side: "e"}
		switch t.kind {
		case 'k':
			kind = "cable"
			v.Clamps = append(v.Clamps, spot)
		case 'p':
			kind = "plate"
			spot.Dir = drawing.Point{0, -1}
			v.Ports = append(v.Ports, spot)
		default:
			v.Terminals = append(v.Terminals, spot)
		}
		v.Props = append(v.Props, drawing.Prop{Kind: kind, Box: drawing.Box{at[0] - 16, at[1] - 16, 32, 32}})
	}
	v.Hoses = gutterHoses(cat, panels, v.Ports)
	return v
}

// frontThings are the points at the front itself.
func frontThings(cat *bench.Catalogue) []thing {
	var out []thing
	for _, g := range groups(cat, front) {
		for _, t := range g {
			if t.kind != 'b' && t.kind != 'c' {
				out = append(out, t)
			}
		}
	}
	return out
}

// portrait is the part that stands for a place in its panel.
func portrait(cat *bench.Catalogue, place string, box drawing.Box) drawing.Prop {
	kind := looksLike(place, "")
	switch place {
	case "dash":
		kind = "inset_dash"
	case "tailpipe":
		kind = "inset_tail"
	}
	if kind == "crate" {
		for _, p := range cat.Parts {
			if p.Place == place {
				kind = looksLike(p.ID, p.Name)
				break
			}
		}
	}
	h := box[3] * 0.56
	w := min(h*1.3, box[2]*0.7)
	return drawing.Prop{Kind: kind, Box: drawing.Box{box[0] + (box[2]-w)/2, box[1] + box[3]*0.34, w, h}}
}

// gutterHoses lead from the foot of one panel to the foot of another.
func gutterHoses(cat *bench.Catalogue, panels map[string]*panel, ports []drawing.Spot) []drawing.Hose {
	here := map[string]drawing.Point{}
	for _, p := range ports {
		here[p.ID] = p.At
	}
	var out []drawing.Hose
	lane := 0
	for _, h := range cat.Hoses {
		a, b := panels[h.PlaceA], panels[h.PlaceB]
		if pa, ok := here[h.PortA]; ok {
			out = append(out, frontHose(h, pa, here, b, true))
			continue
		}
		if pb, ok := here[h.PortB]; ok {
			out = append(out, frontHose(h, pb, here, a, false))
			continue
		}
		if a == nil || b == nil || a == b {
			continue
		}
		off := 16 + 11*float64(lane%4)
		lane++
		pa, pb := foot(a), foot(b)
		x := drawing.Hose{ID: h.ID, Width: hoseWidth(h.Name) * 0.6, Ink: hoseInk(h.Name), ExitA: pa, ExitB: pb}
		x.Via = []drawing.Point{{pa[0], pa[1] + off}}
		if a.row != b.row {
			// Down or up in the gutter beside the second panel.
			gx := b.box[0] - gutter/2 + off - 30
			x.Via = append(x.Via, drawing.Point{gx, pa[1] + off}, drawing.Point{gx, pb[1] + off})
		}
		x.Via = append(x.Via, drawing.Point{pb[0], pb[1] + off})
		out = append(out, x)
	}
	return out
}

// frontHose leads from a nipple at the front itself to a panel, or to another nipple there.
func frontHose(h bench.HoseInfo, at drawing.Point, here map[string]drawing.Point, far *panel, isA bool) drawing.Hose {
	x := drawing.Hose{ID: h.ID, Width: hoseWidth(h.Name) * 0.6, Ink: hoseInk(h.Name)}
	hang := drawing.Point{at[0] - 34, at[1] - 40}
	x.HangA, x.HangB = hang, hang
	up := at[1] - 44
	switch {
	case far != nil:
		p := foot(far)
		gx := far.box[0] - gutter/2
		x.Via = []drawing.Point{{at[0], up}, {gx, up}, {gx, p[1] + 30}, {p[0], p[1] + 30}}
		if isA {
			x.ExitB, x.HangB = p, drawing.Point{}
		} else {
			x.ExitA, x.HangA = p, drawing.Point{}
			slices.Reverse(x.Via)
		}
	default:
		if p, ok := here[h.PortB]; ok {
			x.Via = []drawing.Point{{at[0], up}, {p[0], up}}
			x.HangB = drawing.Point{p[0] - 34, p[1] - 40}
		}
	}
	return x
}

// foot is the next free point on a panel's lower edge.
func foot(p *panel) drawing.Point {
	x := p.box[0] + p.box[2]*(0.2+0.14*float64(p.used%5))
	p.used++
	return drawing.Point{x, p.box[1] + p.box[3]}
}
