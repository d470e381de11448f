package circuit

import (
	"sync/atomic" //samebits:ok a mark that copies share; it decides who may write in place, never what is written

	"coldbay/sim/sparse"
)

// State is everything about a circuit that changes. Copying it copies the circuit, if [State.Share] is called before either copy goes
// on: the factored matrix and the instruments are written again only by a state that has them alone.
type State struct {
	fac    *factor
	leads  *leads             // nil: no instrument
	volt   [MaxNodes]float64  // V against the reference
	emf    [maxForces]float64 // V, of loads A, by branch.emf
	piece  [maxForces]int8    // which straight piece a kinked branch is on, likewise
	pulled uint64             // relay and solenoid armatures, by branch
	open   uint64             // connectors open, elements out, by element
	shut   uint64             // drivers shut down by over-current, by branch
	heat   [maxFuses]float64  // thermal state as a multiple of rated heating
	wound  [maxMotors]float64 // K, motor windings
	coilK  [maxCoils]float64  // K, coils of relays and solenoids
	jointK [maxJoints]float64 // K, joints, contacts and pins whose heat is followed
	W      [maxMotors]float64 // rad/s, motors
	clicks [maxCoils]int32    // armature movements, by coil
	Charge float64            // battery state of charge, 0 to 1
	taper  float64            // how far its charging current has fallen off, 0 to 1
	field  float64            // charging source's field, 0 to 1
	limitA float64            // A, what the charging source gives at its limit
	Parted uint64             // fuses that opened and drivers that died and that [Net.Part] has not been told of, by branch
	dirty  bool
	agreed bool // the last solution's straight pieces agree with it: with the same sources it holds
	Moved  bool // an armature, fuse or driver changed state in the last step
}

// factor is a factored matrix with what it was made of and the Thevenin resistance that each motor sees. It is immutable once shared.
type factor struct {
	shared atomic.Bool
	plan   *sparse.Plan
	adj    [MaxNodes]uint64
	vals   []float64
	g      [MaxBranches]float64 // S; 0: no connection
	rth    [maxMotors]float64
	ra     [maxMotors]float64  // ohm, armatures
	coilK  [maxCoils]float64   // K, what the coils' resistances belong to
	taper  float64             // likewise the battery's
	room   [factorRoom]float64 // where vals are
}

// factorRoom is the length of a matrix's values for which there is room from the start; the cars' are shorter.
const factorRoom = 192

// Share must be called on a state that is about to be copied, or was copied and has not been used since.
func (s *State) Share() {
	if s.fac != nil && !s.fac.shared.Load() {
		s.fac.shared.Store(true)
	}
	if s.leads != nil && !s.leads.shared.Load() {
		s.leads.shared.Store(true)
	}
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
	for i := range s.coilK {
		s.coilK[i] = tempK
	}
	for i := range s.jointK {
		s.jointK[i] = tempK
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
	if n.branches[b].kind == bRelayCoil {
		b++
	}
	return n.amps(s, b)
}

// amps is the current through a branch at the last step, A, a to b.
func (n *Net) amps(s *State, i int) float64 {
	if s.fac == nil {
		return 0
	}
	b := &n.branches[i]
	if b.emf < 0 {
		return s.fac.g[i] * (s.volt[b.a] - s.volt[b.b])
	}
	if b.kind == bLoad {
		return float64(s.fac.g[i]*(s.volt[b.a]-s.volt[b.b])) + s.emf[b.emf]
	}
	if i == n.alt && s.piece[b.emf] == 2 {
		return -s.limitA
	}
	return s.fac.g[i] * (s.volt[b.a] - s.volt[b.b] - s.emf[b.emf])
}

// CoilAmps is the current through the coil of a relay or solenoid, A.
func (n *Net) CoilAmps(s *State, elem int) float64 { return n.amps(s, n.first[elem]) }

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
func (n *Net) MotorAmps(s *State, motor int) float64 { return n.amps(s, n.motors[motor]) }

// JointK is the temperature in K of an element's warmest joint whose heat is followed; ok is false where none is.
func (n *Net) JointK(s *State, elem int) (k float64, ok bool) {
	for i, j := range n.joints {
		if int(n.branches[j.branch].elem) == elem {
			k, ok = max(k, s.jointK[i]), true
		}
	}
	return k, ok
}

// WindingK is a motor's winding temperature in K.
func (s *State) WindingK(motor int) float64 { return s.wound[motor] }

// ArmatureOhm is a motor's armature resistance in the present solution, which follows the winding's warmth in small steps.
func (s *State) ArmatureOhm(motor int) float64 {
	if s.fac == nil {
		return 0
	}
	return s.fac.ra[motor]
}

// CoilOhm is the resistance of the coil of a relay or solenoid in the present solution, ohm; it follows the winding's warmth in small steps.
func (n *Net) CoilOhm(s *State, par []float64, elem int) float64 {
	b := &n.branches[n.first[elem]]
	if s.fac == nil {
		return warmOhm(par[b.p], s.coilK[b.aux])
	}
	return warmOhm(par[b.p], s.fac.coilK[b.aux])
}

// CoilK is the temperature of the coil of a relay or solenoid, K.
func (n *Net) CoilK(s *State, elem int) float64 { return s.coilK[n.branches[n.first[elem]].aux] }

// ChargeOhm is the battery's resistance while it is charged, in the present solution, ohm.
func (n *Net) ChargeOhm(s *State, par []float64) float64 {
	taper := 0.0
	if s.fac != nil {
		taper = s.fac.taper
	}
	return chargeOhm(par[int(n.branches[n.batt].p)+battChg], taper)
}

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
	for i := range s.emf {
		f(s.emf[i])
	}
	for i := range s.heat {
		f(s.heat[i])
	}
	for i := range s.wound {
		f(s.wound[i])
		f(s.W[i])
	}
	for i := range MaxSlots {
		var t instrument
		if s.leads != nil {
			t = s.leads.slot[i]
		}
		f(t.ohm)
		f(t.heat)
		f(t.leadK)
	}
	f(float64(s.pulled))
	for i := range s.coilK {
		f(s.coilK[i])
	}
	for i := range s.jointK {
		f(s.jointK[i])
	}
	f(s.Charge)
	f(s.taper)
	f(s.field)
}

// Part writes into par what has parted for good, so that the next step finds it open.
func (n *Net) Part(s *State, par []float64) {
	for ; s.Parted != 0; s.Parted &= s.Parted - 1 {
		b := &n.branches[trailing(s.Parted)]
		at := fuseBlown
		if b.kind == bDriver {
			at = drvDead
		}
		par[int(b.p)+at] = 1
	}
}
