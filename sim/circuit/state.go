package circuit

import "coldbay/sim/sparse"

// State is everything about a circuit that changes. Copying it copies the circuit; the factored matrix behind fac is
// never written after it was made, so copies share it.
type State struct {
	volt   [MaxNodes]float64    // V against the reference
	g      [MaxBranches]float64 // S; 0: no connection
	e      [MaxBranches]float64 // V
	cur    [MaxBranches]float64 // A, a to b
	src    [MaxNodes]float64    // A of current sources into each node, scratch
	piece  [MaxBranches]int8    // which straight piece a kinked branch is on
	pulled uint64               // relay and solenoid armatures, by branch
	open   uint64               // connectors open, elements out, by element
	shut   uint64               // drivers shut down by over-current, by branch
	heat   [MaxBranches]float64 // fuses: thermal state as a multiple of rated heating
	wound  [4]float64           // K, motor windings
	raUsed [4]float64           // ohm, armature resistance in the matrix
	W      [4]float64           // rad/s, motors
	clicks [8]int32             // armature movements, by coil
	slot   [MaxSlots]instrument
	Charge float64 // battery state of charge, 0 to 1
	field  float64 // charging source's field, 0 to 1
	fac    *factor
	dirty  bool
	Moved  bool // an armature, fuse or driver changed state in the last step
}

// factor is a factored matrix with the Thevenin resistance that each motor sees. It is immutable.
type factor struct {
	plan *sparse.Plan
	adj  [MaxNodes]uint64
	vals []float64
	rth  [4]float64
}

// Inputs of a step.
type Inputs struct {
	Dt    float64  // s
	TempK float64  // K, surroundings
	On    [16]bool // commands by Net.Command index
}

// NewState is a circuit at rest: nothing commanded, battery full, motors and windings at tempK.
func (n *Net) NewState(tempK float64) State {
	s := State{Charge: 1, dirty: true}
	for i := range s.wound {
		s.wound[i] = tempK
	}
	for i := range s.slot {
		s.slot[i].a = -1
	}
	for i := range s.piece {
		s.piece[i] = 1
	}
	return s
}

// Touch must be called after a parameter was changed from outside.
func (s *State) Touch() { s.dirty = true }

// SetOpen opens or closes a connector, or takes a fuse or another element out of its holder.
func (n *Net) SetOpen(s *State, elem int, open bool) {
	bit := uint64(1) << uint(elem)
	if open {
		s.open |= bit
	} else {
		s.open &^= bit
	}
	s.dirty = true
}

// Open says whether an element was opened or taken out.
func (s *State) Open(elem int) bool { return s.open&(1<<uint(elem)) != 0 }

// Volts is the potential difference between two nodes in V at the last step.
func (s *State) Volts(a, b int) float64 { return s.volt[a] - s.volt[b] }

// Amps is the current through an element in A, from its first terminal to its second; of a relay, through the contact;
// of a connector, through its first pin.
func (n *Net) Amps(s *State, elem int) float64 {
	b := n.first[elem]
	if n.elems[elem].Kind == "relay" {
		b++
	}
	return s.cur[b]
}

// CoilAmps is the current through the coil of a relay or solenoid, A.
func (n *Net) CoilAmps(s *State, elem int) float64 { return s.cur[n.first[elem]] }

// Pulled says whether the armature of a relay or solenoid is pulled in.
func (n *Net) Pulled(s *State, elem int) bool { return s.pulled&(1<<uint(n.first[elem])) != 0 }

// Clicks counts the movements of an armature since the beginning.
func (n *Net) Clicks(s *State, elem int) int {
	for i, b := range n.coils {
		if b == n.first[elem] {
			return int(s.clicks[i])
		}
	}
	return 0
}

// Shut says whether a driver has shut itself down on over-current.
func (n *Net) Shut(s *State, elem int) bool { return s.shut&(1<<uint(n.first[elem])) != 0 }

// MotorAmps is the armature current in A; WindingK the winding temperature in K.
func (n *Net) MotorAmps(s *State, motor int) float64 { return s.cur[n.motors[motor]] }

// WindingK is a motor's winding temperature in K.
func (s *State) WindingK(motor int) float64 { return s.wound[motor] }

// MotorFrame is what the mechanical side of a motor needs: torque constant (V s/rad = N m/A), loop resistance seen
// by the armature including its own (ohm), and the index of its first parameter.
func (n *Net) MotorFrame(s *State, motor int) (loopOhm float64, par int) {
	b := n.motors[motor]
	r := 1e9
	if s.fac != nil {
		r = s.fac.rth[motor]
	}
	return r, int(n.branches[b].p)
}

// Sum hands the changing numbers of the state to f in a fixed order, for a digest.
func (s *State) Sum(f func(float64)) {
	for i := range s.volt {
		f(s.volt[i])
	}
	for i := range s.cur {
		f(s.cur[i])
		f(s.heat[i])
	}
	for i := range s.wound {
		f(s.wound[i])
	}
	f(s.field)
}
