package air

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"coldbay/sim/sparse"
)

// Limits that let a State be a value.
const (
	MaxNodes = 29
	MaxHoses = 12
	MaxPorts = 24
	MaxParts = 16
	MaxEdges = 64

	matrixSize = 6 * MaxNodes
)

// Fixed nodes.
const (
	Ambient  = 0
	Exhaust  = 1 // exhaust ports of the first bank
	Exhaust2 = 2 // and of the second
	fixed    = 3
)

// Register adds a named parameter to the caller's slice and returns its index.
type Register func(owner, name string, value float64) int

type port struct {
	id      string
	on      int // volume's node, or -1
	par     int
	laminar float64
}

type hose struct {
	id   string
	node int
	par  int // split_m2, clog
	bore float64
	home [2]int // ports
}

type part struct {
	id          string
	kind        string
	a, b        int // node, or portBase + port
	par         int
	chamber     int
	coil, motor string
	vent        bool
	supply, out int
	dump        int // diverter: place
	vol         float64
}

const portBase = 1000

// Net is a pneumatic network's immutable description.
type Net struct {
	nodes     []string
	volume    []float64 // m3, by node
	warm      []float64 // K, by node
	manifold  int
	tool      int
	ports     []port
	hoses     []hose
	parts     []part
	pumps     []int // parts that blow
	lifted    []int // parts with a stem that pressure moves
	chambered bool  // one of them by a chamber's vacuum
	plans     sparse.Shelf
}

// ItemError is what is wrong with one item of a network: List is volumes, ports, hoses or parts.
type ItemError struct {
	List  string
	Index int
	Err   error
}

func (e *ItemError) Error() string { return e.Err.Error() }

// Unwrap gives the cause.
func (e *ItemError) Unwrap() error { return e.Err }

// Build makes a net. A problem names the item. The volume called "manifold" is the engine's intake manifold.
func Build(spec Spec, reg Register) (*Net, error) {
	n := &Net{nodes: []string{"ambient", "exhaust", "exhaust_2"}, volume: make([]float64, fixed), warm: make([]float64, fixed), manifold: -1}
	seen := map[string]bool{"ambient": true, "exhaust": true, "exhaust_2": true}
	fresh := func(id string) error {
		if id == "" {
			return fmt.Errorf("an id is missing")
		}
		if seen[id] {
			return fmt.Errorf("%q stands twice", id)
		}
		seen[id] = true
		return nil
	}
	node := func(id string, m3, warm float64) (int, error) {
		if err := fresh(id); err != nil {
			return 0, err
		}
		if m3 < 1e-8 || m3 > 1 {
			return 0, fmt.Errorf("%q: m3 = %g, allowed is 1e-8 to 1", id, m3)
		}
		n.nodes = append(n.nodes, id)
		n.volume = append(n.volume, m3)
		n.warm = append(n.warm, warm)
		return len(n.nodes) - 1, nil
	}
	for k, v := range spec.Volumes {
		i, err := node(v.ID, v.M3, v.WarmK)
		if err != nil {
			return nil, &ItemError{"volumes", k, err}
		}
		if v.ID == "manifold" {
			n.manifold = i
		}
	}
	for k, p := range spec.Ports {
		err := fresh(p.ID)
		q := port{id: p.ID, on: -1, laminar: max(p.LaminarPa, laminarOrifice)}
		if !(p.LaminarPa >= 0 && p.LaminarPa <= 1e5) {
			err = cmp.Or(err, fmt.Errorf("port %q: laminar_pa = %g, allowed is 0 to 1e5", p.ID, p.LaminarPa))
		}
		if err == nil && p.On != "" {
			if q.on = n.findNode(p.On); q.on < fixed {
				err = fmt.Errorf("port %q: on %q, which is no volume", p.ID, p.On)
			} else if p.CdA <= 0 {
				err = fmt.Errorf("port %q: cda_m2 = %g, must be above 0", p.ID, p.CdA)
			}
			q.par = reg(p.ID, "cda_m2", p.CdA)
		}
		if err != nil {
			return nil, &ItemError{"ports", k, err}
		}
		n.ports = append(n.ports, q)
	}
	for k, h := range spec.Hoses {
		i, err := node(h.ID, h.M3, h.WarmK)
		a, b := n.findPort(h.A), n.findPort(h.B)
		switch {
		case err != nil:
		case a < 0 || b < 0:
			err = fmt.Errorf("hose %q: ends at %q and %q, both must be ports", h.ID, h.A, h.B)
		case n.ports[a].on < 0 && n.ports[b].on < 0:
			err = fmt.Errorf("hose %q: one of its ends must be at a port on a volume", h.ID)
		}
		if err != nil {
			return nil, &ItemError{"hoses", k, err}
		}
		par := reg(h.ID, "split_m2", 0)
		reg(h.ID, "clog", 0)
		n.hoses = append(n.hoses, hose{id: h.ID, node: i, par: par, bore: h.Bore, home: [2]int{a, b}})
	}
	for k, p := range spec.Parts {
		if err := n.addPart(p, seen, reg); err != nil {
			return nil, &ItemError{"parts", k, fmt.Errorf("part %q: %w", p.ID, err)}
		}
	}
	n.nodes = append(n.nodes, "tool")
	n.volume = append(n.volume, toolM3)
	n.warm = append(n.warm, 0)
	n.tool = len(n.nodes) - 1
	switch {
	case n.manifold < 0:
		return nil, fmt.Errorf(`no volume is called "manifold"`)
	case len(n.nodes) > MaxNodes:
		return nil, fmt.Errorf("%d volumes and hoses, at most %d are allowed", len(n.nodes)-fixed-1, MaxNodes-fixed-1)
	case len(n.hoses) > MaxHoses || len(n.ports) > MaxPorts || len(n.parts) > MaxParts:
		return nil, fmt.Errorf("%d hoses, %d ports, %d parts; at most %d, %d, %d are allowed", len(n.hoses), len(n.ports), len(n.parts), MaxHoses, MaxPorts, MaxParts)
	}
	if most := n.mostEdges(); most > MaxEdges {
		return nil, fmt.Errorf("up to %d open ways, at most %d are allowed", most, MaxEdges)
	}
	return n, nil
}

// mostEdges counts the ways when every hose hangs free and is split and every part leaks.
func (n *Net) mostEdges() int {
	most := 3 + 3*len(n.hoses) // throttle, hand pump's leak and vent
	for i := range n.ports {
		if n.ports[i].on >= 0 {
			most++
		}
	}
	for i := range n.parts {
		switch n.parts[i].kind {
		case "orifice", "gap", "pump", "belt_pump":
			most++
		case "pressure_sensor":
		case "check", "three_way", "pressure_valve":
			most += 2
		default:
			most += 3
		}
	}
	return most
}

func (n *Net) addPart(p Part, seen map[string]bool, reg Register) error {
	if seen[p.ID] {
		return fmt.Errorf("the name stands twice")
	}
	seen[p.ID] = true
	params, ok := KindParams(p.Kind)
	if !ok {
		return fmt.Errorf("kind %q is unknown; allowed is %s", p.Kind, strings.Join(PartKinds(), ", "))
	}
	q := part{id: p.ID, kind: p.Kind, chamber: -1, coil: p.Coil, motor: p.Motor, vent: p.Vent, par: -1}
	for _, d := range params {
		v, given := p.Params[d.Name]
		if !given {
			if d.Need {
				return fmt.Errorf("%s needs %s", p.Kind, d.Name)
			}
			v = d.Default
		}
		if v < d.Min || v > d.Max {
			return fmt.Errorf("%s = %g, allowed is %g to %g", d.Name, v, d.Min, d.Max)
		}
		if i := reg(p.ID, d.Name, v); q.par < 0 {
			q.par = i
		}
	}
	for _, name := range slices.Sorted(maps.Keys(p.Params)) {
		if !slices.ContainsFunc(params, func(d Param) bool { return d.Name == name }) {
			return fmt.Errorf("unknown key %q for a %s", name, p.Kind)
		}
	}
	var err error
	ends := []struct {
		to   *int
		id   string
		used bool
	}{
		{&q.a, p.A, p.Kind != "three_way"}, {&q.b, p.B, p.Kind != "three_way" && p.Kind != "pressure_sensor"},
		{&q.supply, p.Supply, p.Kind == "three_way"}, {&q.out, p.Out, p.Kind == "three_way"}, {&q.dump, p.Dump, p.Kind == "diverter"},
	}
	for _, e := range ends {
		if !e.used {
			if e.id != "" {
				return fmt.Errorf("%q: a %s has no such end", e.id, p.Kind)
			}
			continue
		}
		if *e.to, err = n.place(e.id); err != nil {
			return err
		}
	}
	if p.Kind == "pressure_sensor" && (q.a < fixed || q.a >= portBase) {
		return fmt.Errorf("%q is no volume; a pressure_sensor sits on one", p.A)
	}
	if lifted(p.Kind) {
		if q.chamber = n.findNode(p.Chamber); q.chamber < fixed {
			return fmt.Errorf("chamber %q is no volume", p.Chamber)
		}
		q.vol = n.volume[q.chamber]
	}
	switch {
	case q.kind == "pump" || q.kind == "belt_pump":
		n.pumps = append(n.pumps, len(n.parts))
	case q.chamber >= 0 || q.kind == "pressure_valve":
		n.lifted = append(n.lifted, len(n.parts))
		n.chambered = n.chambered || q.chamber >= 0
	}
	n.parts = append(n.parts, q)
	return nil
}

// place resolves the name of a volume, a port, ambient or an exhaust.
func (n *Net) place(id string) (int, error) {
	if i := n.findNode(id); i >= 0 {
		return i, nil
	}
	if i := n.findPort(id); i >= 0 {
		return portBase + i, nil
	}
	return 0, fmt.Errorf("%q is neither a volume nor a port, nor ambient, exhaust or exhaust_2", id)
}

func (n *Net) findNode(id string) int {
	for i, s := range n.nodes {
		if s == id {
			return i
		}
	}
	return -1
}

func (n *Net) findPort(id string) int {
	for i := range n.ports {
		if n.ports[i].id == id {
			return i
		}
	}
	return -1
}

// Port finds a port by id, -1 when there is none.
func (n *Net) Port(id string) int { return n.findPort(id) }

// PortID is the id of a port.
func (n *Net) PortID(i int) string { return n.ports[i].id }

// End finds a hose end by its name "hose.a" or "hose.b", -1 when there is none.
func (n *Net) End(id string) int {
	for i := range n.hoses {
		h := n.hoses[i].id
		if len(id) == len(h)+2 && id[:len(h)] == h && id[len(h)] == '.' {
			switch id[len(h)+1] {
			case 'a':
				return 2 * i
			case 'b':
				return 2*i + 1
			}
		}
	}
	return -1
}

// EndID is the name of a hose end.
func (n *Net) EndID(e int) string { return n.hoses[e/2].id + "." + string("ab"[e%2]) }

// Home is the port where a hose end belongs.
func (n *Net) Home(e int) int { return n.hoses[e/2].home[e%2] }

// Ends is the number of hose ends.
func (n *Net) Ends() int { return 2 * len(n.hoses) }

// Part finds a part by id, -1 when there is none.
func (n *Net) Part(id string) int {
	for i := range n.parts {
		if n.parts[i].id == id {
			return i
		}
	}
	return -1
}

// Node finds a volume or hose by id, -1 when there is none.
func (n *Net) Node(id string) int { return n.findNode(id) }

// Parts calls f for each part with its kind, its coil or motor, and the index of its first parameter.
func (n *Net) Parts(f func(i int, kind, coil, motor string, par int)) {
	for i := range n.parts {
		p := &n.parts[i]
		f(i, p.kind, p.coil, p.motor, p.par)
	}
}
