package air

import (
	"fmt"

	"coldbay/sim/sparse"
)

// wire rebuilds the list of open ways after hands, armatures or parameters have changed something, and the elimination
// order when the list joins other nodes than before.
func (n *Net) wire(s *State, par []float64, in *Inputs) error {
	s.dirty = false
	w := s.ways
	if w == nil || w.shared.Load() {
		w = &ways{}
	}
	w.edges = w.room[:0]
	for i := range w.partEdge {
		w.partEdge[i], w.leakEdge[i] = -1, -1
	}
	add := func(e edge, a, b int) {
		if a < 0 || b < 0 || a == b {
			return
		}
		if e.laminar == 0 {
			e.laminar = laminarOrifice
		}
		e.a, e.b = int8(a), int8(b)
		w.edges = append(w.edges, e)
	}
	for i := range n.ports {
		if v := n.ports[i].on; v >= 0 {
			e := edge{kind: eScaled, p: int32(n.ports[i].par), clog: -1, laminar: n.ports[i].laminar}
			if h := s.Has(i); h >= 0 {
				e.clog = int32(n.hoses[h/2].par + 1)
			} else {
				e.open = -int16(i + 1)
			}
			add(e, v, n.beyond(s, i))
		}
	}
	for i := range n.hoses {
		h := &n.hoses[i]
		for k := range 2 {
			end := 2*i + k
			if s.at[end] >= 0 || s.EndPlugged(end) {
				continue
			}
			e := edge{kind: ePlain, cda: h.bore * (1 - par[h.par+1]), laminar: laminarOrifice, open: int16(end + 1)}
			to := Ambient
			if s.toolAt == int16(end+1) {
				to = n.tool
			}
			add(e, h.node, to)
		}
		if a := par[h.par]; a > 0 {
			add(edge{kind: ePlain, cda: a}, h.node, Ambient)
		}
	}
	for i := range n.parts {
		n.wirePart(s, par, in, i, w, add)
	}
	w.throttle = len(w.edges)
	add(edge{kind: eThrottle}, Ambient, n.manifold)
	if s.tool == HandPump {
		add(edge{kind: eToolVent, cda: toolLeak}, Ambient, n.tool)
		if s.venting {
			add(edge{kind: eToolVent, cda: toolVentM2}, Ambient, n.tool)
		}
	}
	return n.plan(s, w)
}

func (n *Net) wirePart(s *State, par []float64, in *Inputs, i int, w *ways, add func(edge, int, int)) {
	p := &n.parts[i]
	q := int32(p.par)
	a, b := n.reach(s, p.a), n.reach(s, p.b)
	e := edge{part: int8(i), p: q}
	main := func(e edge, a, b int) {
		if a >= 0 && b >= 0 && a != b {
			w.partEdge[i] = int8(len(w.edges))
			add(e, a, b)
		}
	}
	// An element port that is left open is an opening that a hand can feel.
	opening := func(place int) int16 {
		if place >= portBase && s.has[place-portBase] == 0 {
			return -int16(place - portBase + 1)
		}
		return 0
	}
	if e.open = opening(p.a); e.open == 0 {
		e.open = opening(p.b)
	}
	switch p.kind {
	case "orifice":
		e.kind, e.clog = eScaled, q+1
		main(e, a, b)
	case "gap":
		if leak := par[q]; leak > 0 {
			e.kind, e.cda = ePlain, leak
			main(e, a, b)
		}
	case "check":
		if s.Off(i) {
			add(edge{kind: ePlain, cda: par[q]}, b, Ambient)
			return
		}
		e.kind = eCheck
		if par[q+2] < 0.5 {
			main(e, a, b)
		}
		w.bypass(i, par[q+3], a, b, add)
	case "pump", "belt_pump":
		e.kind = ePump
		if !s.Off(i) {
			main(e, a, b)
		}
	case "diaphragm_valve":
		if s.Off(i) {
			add(edge{kind: ePlain, cda: par[q]}, b, Ambient)
		} else {
			e.kind = eValve
			main(e, a, b)
		}
		if tear := par[q+10]; tear > 0 { // in the hand as well
			add(edge{kind: ePlain, cda: tear}, p.chamber, Ambient)
		}
	case "pressure_valve":
		if s.Off(i) {
			add(edge{kind: ePlain, cda: par[q]}, b, Ambient)
			return
		}
		e.kind = ePressed
		main(e, a, b)
	case "diverter":
		if !s.Off(i) {
			e.kind = eDivert
			main(e, a, b)
			e.kind, e.open = eDump, opening(p.dump)
			add(e, a, n.reach(s, p.dump))
		}
		if tear := par[q+10]; tear > 0 {
			add(edge{kind: ePlain, cda: tear}, p.chamber, Ambient)
		}
	case "three_way":
		sup, out := n.reach(s, p.supply), n.reach(s, p.out)
		e.open = opening(p.supply)
		if o := opening(p.out); o != 0 {
			e.open = o
		}
		if in.Coil[i] {
			e.kind = eMain
			main(e, sup, out)
		} else if p.vent {
			e.kind = eVent
			main(e, out, Ambient)
		}
		w.bypass(i, par[q+4], sup, out, add)
	}
}

// bypass is the way past a part's own opening, from its first end to its second; none where it is tight.
func (w *ways) bypass(part int, leak float64, a, b int, add func(edge, int, int)) {
	if leak > 0 && a >= 0 && b >= 0 && a != b {
		w.leakEdge[part] = int8(len(w.edges))
		add(edge{kind: ePlain, cda: leak}, a, b)
	}
}

// reach is the node that a part's end leads to: a volume, or what is on its port.
func (n *Net) reach(s *State, place int) int {
	if place < portBase {
		return place
	}
	return n.beyond(s, place-portBase)
}

// beyond is the node on the far side of a port: its hose, the tool, the open air, or -1 behind a plug.
func (n *Net) beyond(s *State, port int) int {
	switch {
	case s.toolAt == -int16(port+1):
		return n.tool
	case s.PortPlugged(port):
		return -1
	case s.has[port] != 0:
		return n.hoses[(s.has[port]-1)/2].node
	}
	return Ambient
}

// plan gives the ways their elimination order, that of the ways before when they join the same nodes, and hands them to the state.
func (n *Net) plan(s *State, w *ways) error {
	if len(w.edges) > MaxEdges {
		return fmt.Errorf("%d open ways, at most %d are allowed", len(w.edges), MaxEdges)
	}
	var adj [MaxNodes]uint64
	for i := range w.edges {
		a, b := w.edges[i].a, w.edges[i].b
		if a >= fixed && b >= fixed {
			adj[a-fixed] |= 1 << uint(b-fixed)
			adj[b-fixed] |= 1 << uint(a-fixed)
		}
	}
	if s.ways != nil && s.ways.adj == adj {
		w.plan = s.ways.plan
	} else {
		plan, err := n.plans.Plan(len(n.nodes)-fixed, adj[:len(n.nodes)-fixed])
		if err != nil {
			return err
		}
		if plan.Size() > matrixSize {
			return sparse.ErrSingular
		}
		w.plan = plan
	}
	w.adj = adj
	for i := range w.edges {
		e := &w.edges[i]
		if e.a >= fixed && e.b >= fixed {
			e.ab, e.ba = int16(w.plan.At(int(e.a)-fixed, int(e.b)-fixed)), int16(w.plan.At(int(e.b)-fixed, int(e.a)-fixed))
		}
	}
	s.ways = w
	return nil
}
