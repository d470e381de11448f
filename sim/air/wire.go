package air

import "coldbay/sim/sparse"

// wire rebuilds the list of open ways after hands, armatures or parameters have changed something, and the elimination
// order when the list joins other nodes than before.
func (n *Net) wire(s *State, par []float64, in *Inputs) error {
	s.dirty = false
	s.nEdges = 0
	add := func(e edge, a, b int) {
		if a < 0 || b < 0 || a == b || s.nEdges == MaxEdges {
			return
		}
		if e.laminar == 0 {
			e.laminar = laminarOrifice
		}
		e.a, e.b = int8(a), int8(b)
		s.edges[s.nEdges] = e
		s.nEdges++
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
		n.wirePart(s, par, in, i, add)
	}
	add(edge{kind: eThrottle}, Ambient, n.manifold)
	if s.tool == HandPump {
		add(edge{kind: ePlain, cda: toolLeak}, Ambient, n.tool)
		if s.venting {
			add(edge{kind: ePlain, cda: toolVentM2}, Ambient, n.tool)
		}
	}
	return n.replan(s)
}

func (n *Net) wirePart(s *State, par []float64, in *Inputs, i int, add func(edge, int, int)) {
	p := &n.parts[i]
	q := int32(p.par)
	a, b := n.reach(s, p.a), n.reach(s, p.b)
	e := edge{part: int8(i), p: q}
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
		add(e, a, b)
	case "check":
		e.kind = eCheck
		if par[q+2] < 0.5 {
			add(e, a, b)
		}
		if leak := par[q+3]; leak > 0 {
			add(edge{kind: ePlain, cda: leak}, a, b)
		}
	case "pump":
		e.kind = ePump
		if !s.Off(i) {
			add(e, a, b)
		}
	case "diaphragm_valve":
		if s.Off(i) {
			add(edge{kind: ePlain, cda: par[q]}, b, Ambient)
			return
		}
		e.kind = eValve
		add(e, a, b)
		if leak := par[q+11]; leak > 0 {
			add(edge{kind: ePlain, cda: leak}, a, b)
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
			add(e, sup, out)
		} else if p.vent {
			e.kind = eVent
			add(e, out, Ambient)
		}
		if leak := par[q+4]; leak > 0 {
			add(edge{kind: ePlain, cda: leak}, sup, out)
		}
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

func (n *Net) replan(s *State) error {
	var adj [MaxNodes]uint64
	for i := range s.nEdges {
		a, b := s.edges[i].a, s.edges[i].b
		if a >= 2 && b >= 2 {
			adj[a-2] |= 1 << uint(b-2)
			adj[b-2] |= 1 << uint(a-2)
		}
	}
	plan, err := sparse.NewPlan(len(n.nodes)-2, adj[:len(n.nodes)-2])
	if err != nil {
		return err
	}
	if plan.Size() > len(s.vals) {
		return sparse.ErrSingular
	}
	s.plan = plan
	return nil
}
