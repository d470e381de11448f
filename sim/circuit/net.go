package circuit

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"coldbay/sim/sparse"
)

// Limits that let a State be a value without pointers to grow.
const (
	MaxNodes    = 40
	MaxBranches = 64
	MaxSlots    = 6  // instruments: meter, lamp, four jumper leads
	maxForces   = 16 // batteries, charging sources, motors, drivers, loads
	maxCoils    = 8
	maxFuses    = 8
	maxMotors   = 4
	maxJoints   = 8
	maxElems    = 64 // bits of a word
	maxCommands = len(Inputs{}.On)
)

type branchKind uint8

const (
	bResistor branchKind = iota // g = 1/par[p]
	bWire
	bBattery
	bAlternator
	bSwitch
	bFuse
	bRelayCoil
	bRelayContact
	bCoil
	bMotor
	bDriver
	bPin
	bStray // no connection at all unless a fault has made one
	bLoad
	bInstrument
)

type branch struct {
	kind branchKind
	a, b int16 // nodes; 0 is the reference
	p    int32 // first parameter in the caller's slice
	elem int16 // element
	aux  int16 // relay contact: its coil's branch; load, switch, driver: command; motor: its number
	emf  int16 // place of its electromotive force, or a load's current, in a state; -1: it has none
	ohmM float64
}

// joint is a branch whose heat is followed, with its heat capacity in J/K and what it gives away in W/K.
type joint struct {
	branch int
	jK, wK float64
}

// Register adds a named parameter to the caller's slice and returns its index.
type Register func(owner, name string, value float64) int

// Net is a circuit's immutable description.
type Net struct {
	nodes    []string
	index    map[string]int
	elems    []Element
	elemAt   map[string]int
	first    []int // first branch of each element
	branches []branch
	motors   []int // branches
	coils    []int // branches of relay coils and solenoid coils
	fuses    []int
	drivers  []int
	joints   []joint
	loads    []int
	forced   []int // branches with an electromotive force
	commands []string
	run      int // command "run", -1
	batt     int
	alt      int
	plans    sparse.Shelf
}

// ElementError is what is wrong with one element of a netlist, by its place in the list.
type ElementError struct {
	Index int
	ID    string
	Err   error
}

func (e *ElementError) Error() string { return fmt.Sprintf("element %q: %v", e.ID, e.Err) }

// Unwrap gives the cause.
func (e *ElementError) Unwrap() error { return e.Err }

// Build makes a net. reference is the node at 0 V. A problem names the element.
func Build(reference string, elems []Element, reg Register) (*Net, error) {
	n := &Net{index: map[string]int{reference: 0}, nodes: []string{reference}, elemAt: map[string]int{}, batt: -1, alt: -1}
	for i := range elems {
		e := elems[i]
		if _, dup := n.elemAt[e.ID]; dup {
			return nil, &ElementError{Index: i, ID: e.ID, Err: errors.New("the name stands twice")}
		}
		n.elemAt[e.ID] = i
		n.elems = append(n.elems, e)
		n.first = append(n.first, len(n.branches))
		if err := n.add(i, e, reg); err != nil {
			return nil, &ElementError{Index: i, ID: e.ID, Err: err}
		}
	}
	if len(n.nodes) > MaxNodes {
		return nil, fmt.Errorf("%d terminals, at most %d are allowed", len(n.nodes), MaxNodes)
	}
	for _, c := range []struct {
		what      string
		have, max int
	}{
		{"elements", len(n.elems), maxElems}, {"branches", len(n.branches), MaxBranches}, {"coils", len(n.coils), maxCoils},
		{"fuses", len(n.fuses), maxFuses}, {"motors", len(n.motors), maxMotors}, {"joints with heat", len(n.joints), maxJoints}, {"commands", len(n.commands), maxCommands},
		{"batteries, charging sources, motors, drivers and loads", len(n.forced) + len(n.loads), maxForces},
	} {
		if c.have > c.max {
			return nil, fmt.Errorf("%d %s, at most %d are allowed", c.have, c.what, c.max)
		}
	}
	n.run = n.Command("run")
	return n, nil
}

// jointKinds are the kinds of elements that can have a joint whose heat is followed.
var jointKinds = []string{"resistor", "wire", "connector", "relay", "fuse"}

func (n *Net) node(name string) (int16, error) {
	if name == "" {
		return 0, fmt.Errorf("a terminal is missing")
	}
	if i, ok := n.index[name]; ok {
		return int16(i), nil
	}
	n.index[name] = len(n.nodes)
	n.nodes = append(n.nodes, name)
	return int16(len(n.nodes) - 1), nil
}

func (n *Net) command(name string) int16 {
	if i := slices.Index(n.commands, name); i >= 0 {
		return int16(i)
	}
	n.commands = append(n.commands, name)
	return int16(len(n.commands) - 1)
}

func (n *Net) add(at int, e Element, reg Register) error {
	params, ok := KindParams(e.Kind)
	if !ok {
		return fmt.Errorf("kind %q is unknown; allowed is %s", e.Kind, strings.Join(KindNames(), ", "))
	}
	if err := onlyKnown(e.Params, params); err != nil {
		return err
	}
	p := -1
	for _, q := range params {
		v, given := e.Params[q.Name]
		if !given {
			if q.Need {
				return fmt.Errorf("%s needs %s", e.Kind, q.Name)
			}
			v = q.Default
		}
		if v < q.Min || v > q.Max {
			return fmt.Errorf("%s = %g, allowed is %g to %g", q.Name, v, q.Min, q.Max)
		}
		if i := reg(e.ID, q.Name, v); p < 0 {
			p = i
		}
	}
	if e.JointJK != 0 || e.JointWK != 0 {
		if !slices.Contains(jointKinds, e.Kind) {
			return fmt.Errorf("joint_j_k and joint_w_k are for %s, not for a %s", strings.Join(jointKinds, ", "), e.Kind)
		}
		if !(e.JointJK >= 0.1 && e.JointJK <= 1e4) || !(e.JointWK >= 0.001 && e.JointWK <= 100) {
			return fmt.Errorf("joint_j_k = %g and joint_w_k = %g, allowed are 0.1 to 10000 and 0.001 to 100, both or none", e.JointJK, e.JointWK)
		}
		first := len(n.branches)
		defer func() {
			for i := first; i < len(n.branches); i++ {
				if n.branches[i].kind != bRelayCoil {
					n.joints = append(n.joints, joint{branch: i, jK: e.JointJK, wK: e.JointWK})
				}
			}
		}()
	}
	if e.Kind == "connector" {
		for _, pin := range e.Pins {
			if err := n.branch(branch{kind: bPin, p: int32(p), elem: int16(at), emf: -1}, pin[0], pin[1]); err != nil {
				return err
			}
		}
		return nil
	}
	b := branch{p: int32(p), elem: int16(at), emf: -1}
	force := func() {
		b.emf = int16(len(n.forced) + len(n.loads))
		n.forced = append(n.forced, len(n.branches))
	}
	switch e.Kind {
	case "resistor":
		b.kind = bResistor
	case "wire":
		b.kind = bWire
		r, err := wireOhmPerMetre(e.AWG)
		if err != nil {
			return err
		}
		b.ohmM = r
	case "stray":
		b.kind = bStray
	case "battery":
		b.kind, n.batt = bBattery, len(n.branches)
		force()
	case "alternator":
		b.kind, n.alt = bAlternator, len(n.branches)
		force()
	case "load":
		b.kind, b.aux = bLoad, n.command(e.When)
		b.emf = int16(len(n.forced) + len(n.loads))
		n.loads = append(n.loads, len(n.branches))
	case "switch":
		b.kind, b.aux = bSwitch, n.command(e.When)
	case "fuse":
		b.kind = bFuse
		n.fuses = append(n.fuses, len(n.branches))
	case "coil":
		b.kind, b.aux = bCoil, int16(len(n.coils))
		n.coils = append(n.coils, len(n.branches))
	case "motor":
		b.kind, b.aux = bMotor, int16(len(n.motors))
		n.motors = append(n.motors, len(n.branches))
		force()
	case "driver":
		b.kind, b.aux = bDriver, n.command("drive:"+e.Drive)
		n.drivers = append(n.drivers, len(n.branches))
		force()
	case "relay":
		coil := len(n.branches)
		b.aux = int16(len(n.coils))
		n.coils = append(n.coils, coil)
		b.kind = bRelayCoil
		if err := n.branch(b, e.A, e.B); err != nil {
			return err
		}
		return n.branch(branch{kind: bRelayContact, p: int32(p), elem: int16(at), aux: int16(coil), emf: -1}, e.C, e.D)
	}
	return n.branch(b, e.A, e.B)
}

func (n *Net) branch(b branch, from, to string) error {
	var err error
	if b.a, err = n.node(from); err != nil {
		return err
	}
	if b.b, err = n.node(to); err != nil {
		return err
	}
	if b.a == b.b {
		return fmt.Errorf("both ends are at %q", from)
	}
	n.branches = append(n.branches, b)
	return nil
}

// Node finds a terminal by name.
func (n *Net) Node(name string) (int, bool) { i, ok := n.index[name]; return i, ok }

// Elem finds an element by id.
func (n *Net) Elem(id string) (int, bool) { i, ok := n.elemAt[id]; return i, ok }

// Kind gives the kind of an element.
func (n *Net) Kind(elem int) string { return n.elems[elem].Kind }

// ID gives the id of an element.
func (n *Net) ID(elem int) string { return n.elems[elem].ID }

// Motors lists the ids of the motors in order.
func (n *Net) Motors() []string {
	ids := make([]string, len(n.motors))
	for i, b := range n.motors {
		ids[i] = n.elems[n.branches[b].elem].ID
	}
	return ids
}

// Wound says whether an element has a winding whose warmth is followed: a motor, a relay, a solenoid's coil.
func (n *Net) Wound(id string) bool {
	e, ok := n.elemAt[id]
	return ok && slices.Contains([]string{"motor", "relay", "coil"}, n.elems[e].Kind)
}

// Command is the index of a command ("key", "run", "crank", "fuel", "drive:pump"), or -1 when nothing listens to it.
func (n *Net) Command(name string) int { return slices.Index(n.commands, name) }

// onlyKnown refuses numbers that the kind does not have.
func onlyKnown(given map[string]float64, params []Param) error {
	allowed := make([]string, len(params))
	for i, p := range params {
		allowed[i] = p.Name
	}
	for _, name := range slices.Sorted(maps.Keys(given)) {
		if !slices.Contains(allowed, name) {
			return fmt.Errorf("unknown key %q; allowed is %s", name, strings.Join(allowed, ", "))
		}
	}
	return nil
}

// MotorCount is the number of motors.
func (n *Net) MotorCount() int { return len(n.motors) }
