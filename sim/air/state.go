package air

import (
	"errors"
	"fmt"
	"sync/atomic" //samebits:ok a mark that copies share; it decides who may write in place, never what is written

	"coldbay/sim/sparse"
)

// ToolKind is what is pushed on an opening.
type ToolKind uint8

// The pneumatic tools.
const (
	NoTool   ToolKind = iota
	HandPump          // hand vacuum pump with gauge, 15 cm3 a stroke
	Breath            // lungs through a clean hose, about 5 kPa
	Smoke             // smoke at about 3 kPa, ten litres a minute into the open
)

const (
	toolM3     = 2.0e-5  // gauge, hose and body of the hand pump [invented]
	strokeM3   = 15e-6   // swept volume of one stroke
	strokeS    = 0.4     // s, one pull of the lever [common practice]
	toolLeak   = 1.0e-11 // m2, the hand pump's own leak [invented]
	toolVentM2 = 3.0e-6
	breathPa   = 5000.0            // what a person can blow [common practice, no source]
	breathG    = 1.2e-3 / breathPa // kg/(s Pa): about a litre a second into the open
	smokePa    = 3000.0            // low enough for hoses and seals: half a psi [common practice, no source]
	smokeG     = 2.0e-4 / smokePa  // kg/(s Pa): ten litres a minute into the open [common practice, no source]
	minPa      = 300.0
)

type edgeKind uint8

const (
	ePlain  edgeKind = iota // fixed area
	eScaled                 // area par[p], closed by the share par[clog]
	eCheck
	eMain // three-way, supply to out
	eVent // three-way, out to air
	ePump
	eValve
	ePressed // pressure-opened valve
	eDivert  // diverter, towards the exhaust
	eDump    // diverter, towards the open air
	eThrottle
	eToolVent
)

type edge struct {
	kind    edgeKind
	a, b    int8
	part    int8
	open    int16 // opening this edge leads out of: 1+hose end, -(1+port), or 0
	ab, ba  int16 // places of its two slopes in the matrix
	p, clog int32
	cda     float64
	laminar float64
}

// ways are the edges that are open between hands' and armatures' movements, and the elimination order that belongs to them. They
// are written again only by a state that has them alone; copies of a state share them.
type ways struct {
	shared   atomic.Bool
	edges    []edge
	adj      [MaxNodes]uint64
	plan     *sparse.Plan
	throttle int            // edge
	partEdge [MaxParts]int8 // main edge of each part, -1
	leakEdge [MaxParts]int8 // way past its seat, -1
	room     [MaxEdges]edge // where edges are
}

// Share must be called on a state that is about to be copied, or was copied and has not been used since.
func (s *State) Share() {
	if s.ways != nil && !s.ways.shared.Load() {
		s.ways.shared.Store(true)
	}
}

// State is everything about the network that changes. It may be copied: see [State.Share].
type State struct {
	ways     *ways
	P        [MaxNodes]float64  // Pa, absolute
	lift     [MaxParts]float64  // m, diaphragm valves
	flow     [MaxEdges]float64  // kg/s through each edge, a to b
	at       [2 * MaxHoses]int8 // port of each hose end, -1 hanging
	has      [MaxPorts]int8     // 1 + hose end on each port, 0 free
	plugEnd  uint32
	plugPort uint32
	off      uint32 // parts taken off the car
	tool     ToolKind
	toolAt   int16 // as edge.open
	venting  bool
	pulling  bool
	drawn    float64 // m3, how far the stroke has gone
	warmth   float64 // 0 to 1, how warm the pump has made its pipe
	density  float64 // kg/m3, surroundings
	dirty    bool
	Throttle float64 // m2, effective
	// Cylinders take CylK (CylSlope p - CylOffset) kg/s out of the manifold.
	CylK, CylSlope, CylOffset float64
	Rate                      float64 // Pa/s, fastest change in the last step
}

// Inputs of a step.
type Inputs struct {
	Dt         float64
	AmbientPa  float64
	AmbientK   float64
	ChargeK    float64 // temperature of the air in the manifold, K
	ExhaustPa  float64 // mean pressure at the exhaust ports, Pa absolute
	ExhaustK   float64 // temperature of what would flow back, K
	Exhaust2Pa float64 // the same of the second bank
	Exhaust2K  float64
	PulsePa    float64           // by which the pressure at the ports swings to either side of its mean
	Coil       [MaxParts]bool    // three-way valves: armature pulled
	W          [MaxParts]float64 // pumps: rad/s
}

// NewState is the network at rest with every hose where it belongs.
func (n *Net) NewState(ambientPa float64) State {
	s := State{dirty: true}
	for i := range n.nodes {
		s.P[i] = ambientPa
	}
	for e := range s.at {
		s.at[e] = -1
	}
	for e := range n.Ends() {
		p := n.Home(e)
		s.at[e] = int8(p)
		s.has[p] = int8(e + 1)
	}
	return s
}

// edges is the number of open ways.
func (s *State) edges() int {
	if s.ways == nil {
		return 0
	}
	return len(s.ways.edges)
}

// Touch must be called after a parameter was changed from outside.
func (s *State) Touch() { s.dirty = true }

// At is the port of a hose end, -1 when it hangs free.
func (s *State) At(end int) int { return int(s.at[end]) }

// Has is the hose end on a port, -1 when it is free.
func (s *State) Has(port int) int { return int(s.has[port]) - 1 }

// Errors of the hands.
var (
	ErrTaken   = errors.New("a hose is on that port already")
	ErrFitted  = errors.New("that hose end is not free: pull it first")
	ErrNotFree = errors.New("that opening is not free")
)

// Pull takes a hose end off its port; it then hangs open.
func (n *Net) Pull(s *State, end int) {
	if p := s.at[end]; p >= 0 {
		s.has[p] = 0
		s.at[end] = -1
		s.dirty = true
	}
}

// Fit pushes a free hose end on a free port.
func (n *Net) Fit(s *State, end, port int) error {
	switch {
	case s.at[end] >= 0:
		return ErrFitted
	case s.has[port] != 0:
		return ErrTaken
	case s.toolAt == int16(end+1) || s.toolAt == -int16(port+1):
		return fmt.Errorf("a tool is on it: %w", ErrNotFree)
	}
	s.at[end] = int8(port)
	s.has[port] = int8(end + 1)
	s.plugEnd &^= 1 << uint(end)
	s.plugPort &^= 1 << uint(port)
	s.dirty = true
	return nil
}

// FreeEnd and FreePort say whether a hand can reach an opening.
func (s *State) FreeEnd(end int) bool   { return s.at[end] < 0 && s.toolAt != int16(end+1) }
func (s *State) FreePort(port int) bool { return s.has[port] == 0 && s.toolAt != -int16(port+1) }

// PlugEnd closes a free hose end with a plug, or opens it again; PlugPort likewise a port.
func (s *State) PlugEnd(end int, on bool) error {
	if on && !s.FreeEnd(end) {
		return ErrNotFree
	}
	s.plugEnd = setBit(s.plugEnd, end, on)
	s.dirty = true
	return nil
}

// PlugPort closes a free port with a plug, or opens it again.
func (s *State) PlugPort(port int, on bool) error {
	if on && !s.FreePort(port) {
		return ErrNotFree
	}
	s.plugPort = setBit(s.plugPort, port, on)
	s.dirty = true
	return nil
}

// EndPlugged and PortPlugged say whether a plug is in.
func (s *State) EndPlugged(end int) bool   { return s.plugEnd&(1<<uint(end)) != 0 }
func (s *State) PortPlugged(port int) bool { return s.plugPort&(1<<uint(port)) != 0 }

func setBit(w uint32, i int, on bool) uint32 {
	if on {
		return w | 1<<uint(i)
	}
	return w &^ (1 << uint(i))
}

// SetOff takes a part off the car or puts it back.
func (s *State) SetOff(part int, off bool) { s.off = setBit(s.off, part, off); s.dirty = true }

// Off says whether a part is off the car.
func (s *State) Off(part int) bool { return s.off&(1<<uint(part)) != 0 }

// SetTool puts a tool on a free hose end (end >= 0) or on a free port (port >= 0).
func (n *Net) SetTool(s *State, kind ToolKind, end, port int, ambientPa float64) error {
	switch {
	case end >= 0 && (!s.FreeEnd(end) || s.EndPlugged(end)), port >= 0 && (!s.FreePort(port) || s.PortPlugged(port)):
		return ErrNotFree
	case end >= 0:
		s.toolAt = int16(end + 1)
	default:
		s.toolAt = -int16(port + 1)
	}
	s.tool, s.venting, s.pulling, s.drawn = kind, false, false, 0
	s.P[n.tool] = ambientPa
	s.dirty = true
	return nil
}

// DropTool takes the tool off.
func (s *State) DropTool() {
	s.tool, s.toolAt, s.venting, s.pulling = NoTool, 0, false, false
	s.dirty = true
}

// Tool is what is attached.
func (s *State) Tool() ToolKind { return s.tool }

// Stroke begins one pull of the hand pump's lever.
func (s *State) Stroke() {
	if s.tool == HandPump {
		s.pulling, s.drawn, s.venting = true, 0, false
		s.dirty = true
	}
}

// Vent opens or closes the hand pump's release.
func (s *State) Vent(on bool) { s.venting = on && s.tool == HandPump; s.dirty = true }

// Sum hands the changing numbers of the state to f in a fixed order, for a digest.
func (s *State) Sum(f func(float64)) {
	for i := range s.P {
		f(s.P[i])
	}
	for i := range s.lift {
		f(s.lift[i])
	}
	for i := range s.edges() {
		f(s.flow[i])
	}
	f(s.warmth)
	f(s.drawn)
	for i := range s.at {
		f(float64(s.at[i]))
	}
}

// ToolPa is the absolute pressure at the tool, Pa.
func (n *Net) ToolPa(s *State) float64 { return s.P[n.tool] }

// Lift is how far a diaphragm valve is open, m.
func (s *State) Lift(part int) float64 { return s.lift[part] }
