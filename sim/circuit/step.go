package circuit

import (
	"math"
)

// Offsets of parameters within an element's run, in the order of kinds.
const (
	fuseRating, fuseBlown                              = 1, 2
	relayCoil, relayContact, relayPull, relayDrop      = 0, 1, 2, 3
	relayWelded, relayHeat, relayCool                  = 4, 5, 6
	coilPull, coilDrop, coilStuck, coilHeat, coilCool  = 1, 2, 3, 4, 5
	motorRa, motorBrush, MotorKe, MotorJ, MotorBearing = 0, 1, 2, 3, 4
	MotorCv, motorHeat, motorCool                      = 5, 6, 7
	drvOn, drvLimit, drvDead, drvBias, drvBiasOhm      = 0, 1, 2, 3, 4
	battEmf, battDis, battChg, battAh, battTaper       = 0, 1, 2, 3, 4
	altEmf, altOhm, altLimit, altLag                   = 0, 1, 2, 3
)

// brushKnee is the current in A below which brushes behave like a resistor: the contact drop is built up over it.
const brushKnee = 1.0

// loadKnee is the voltage in V below which a load no longer takes its constant current but behaves like a resistor; without it a
// failing supply would leave the network without a solution.
const loadKnee = 6.0

// strayOhm is the resistance from which a slip between two wires counts as none, ohm.
const strayOhm = 1e8

// coilStepK is how far a coil's temperature runs away from that of its resistance in the matrix, K: a fifth of a per cent.
const coilStepK = 0.5

// fuseTau and fuseOpen shape the thermal fuse: heating settles with fuseTau seconds and the element parts at fuseOpen
// times the heating of its rating. Chosen so that the ISO 8820-3 time-current points (from memory) are met: never at
// 110 %, about 2.5 s at 135 %, 0.8 s at 200 %, 0.22 s at 350 %, 0.07 s at 600 %.
const (
	fuseTau  = 2.0
	fuseOpen = 1.3
)

// Step solves the network at the present motor speeds and commands, then moves armatures, fuses, charge and temperatures
// by in.Dt. It reads par only: what parts for good is in s.Parted until [Net.Part] writes it. It allocates only when a copy's
// conductances or instruments change for the first time, or when they tie the nodes together as no world of this net did before. An
// error is a [SolveError]: no finite solution exists, or none that agrees with itself. The state is not to be stepped on then.
func (n *Net) Step(s *State, par []float64, in Inputs) error {
	s.Moved = false
	var src [MaxNodes]float64
	if same := n.sources(s, par, &in, &src); same && s.agreed && !s.dirty && s.fac != nil {
		return n.move(s, par, &in)
	}
	for range solveAgain - oneByOne {
		if err := n.try(s, par, &in, &src, false); err != nil {
			return err
		}
		if s.agreed {
			return n.move(s, par, &in)
		}
		s.dirty = true
		n.sources(s, par, &in, &src)
	}
	if err := n.chatter(s, par, &in, &src); err != nil {
		return err
	}
	return n.move(s, par, &in)
}

// sources sets the electromotive forces that change from step to step and the amperes of the current sources into each node.
// It says whether they are the same as before, to the bit.
func (n *Net) sources(s *State, par []float64, in *Inputs, src *[MaxNodes]float64) (same bool) {
	same = true
	clear(src[:])
	put := func(at *float64, v float64) {
		same = same && math.Float64bits(*at) == math.Float64bits(v)
		*at = v
	}
	inject := func(b *branch, amps float64) { // out of the branch's first terminal into the network
		src[b.a] += amps
		src[b.b] -= amps
	}
	if i := n.batt; i >= 0 {
		b := &n.branches[i]
		put(&s.emf[b.emf], restVolts(par[int(b.p)+battEmf], s.Charge))
	}
	if i := n.alt; i >= 0 {
		b := &n.branches[i]
		put(&s.emf[b.emf], par[int(b.p)+altEmf]*s.field)
		put(&s.limitA, par[int(b.p)+altLimit])
		if s.piece[b.emf] == 2 {
			inject(b, s.limitA)
		}
	}
	for m, i := range n.motors {
		b := &n.branches[i]
		p := par[b.p:]
		put(&s.emf[b.emf], float64(p[MotorKe]*s.W[m])+float64(float64(s.piece[b.emf]-1)*p[motorBrush]))
	}
	for _, i := range n.loads {
		b := &n.branches[i]
		amps := 0.0
		if in.On[b.aux] && s.piece[b.emf] == 1 && s.open&(1<<uint(b.elem)) == 0 {
			amps = par[b.p]
			inject(b, -amps)
		}
		put(&s.emf[b.emf], amps)
	}
	return same
}

// conductance of a branch, S, and the force in series with it where that is fixed by its state. f notes what it was taken at.
func (n *Net) conductance(s *State, f *factor, par []float64, in *Inputs, i int) float64 {
	b := &n.branches[i]
	p := par[b.p:]
	if s.open&(1<<uint(b.elem)) != 0 {
		return 0
	}
	switch b.kind {
	case bResistor, bPin:
		return 1 / p[0]
	case bStray:
		if p[0] >= strayOhm {
			return 0
		}
		return 1 / p[0]
	case bCoil, bRelayCoil:
		f.coilK[b.aux] = s.coilK[b.aux]
		return 1 / warmOhm(p[relayCoil], s.coilK[b.aux])
	case bWire:
		r := b.ohmM * (1 + float64(copperAlpha*(in.TempK-refK)))
		return 1 / (float64(r*p[0]) + p[1])
	case bBattery:
		if s.piece[b.emf] == 2 {
			f.taper = s.taper
			return 1 / chargeOhm(p[battChg], s.taper)
		}
		// Twice the resistance at -18 degC that it has at 25 degC.
		return 1 / (p[battDis] * (1 + max(0, (298.15-in.TempK)/43)))
	case bAlternator:
		if s.piece[b.emf] == 1 {
			return 1 / p[altOhm]
		}
		return 0
	case bSwitch:
		if in.On[b.aux] && p[1] < 0.5 {
			return 1 / p[0]
		}
		return 0
	case bFuse:
		if p[fuseBlown] > 0.5 {
			return 0
		}
		return 1 / p[0]
	case bRelayContact:
		if s.pulled&(1<<uint(b.aux)) != 0 || p[relayWelded] > 0.5 {
			return 1 / p[relayContact]
		}
		return 0
	case bMotor:
		m := b.aux
		ra := float64(p[motorRa] * (1 + float64(copperAlpha*(s.wound[m]-refK))))
		f.ra[m] = ra
		if s.piece[b.emf] == 1 {
			ra += p[motorBrush] / brushKnee
		}
		return 1 / ra
	case bLoad:
		if in.On[b.aux] && s.piece[b.emf] != 1 {
			return p[0] / loadKnee
		}
	case bDriver:
		s.emf[b.emf] = 0
		if p[drvDead] > 0.5 {
			return 0
		}
		if in.On[b.aux] && s.shut&(1<<uint(i)) == 0 {
			return 1 / p[drvOn]
		}
		s.emf[b.emf] = p[drvBias]
		return 1 / p[drvBiasOhm]
	}
	return 0
}

// refactor rebuilds the matrix. Parts that nothing ties to the reference are pinned to 0 V by one siemens, which
// changes nothing in them since no current can enter or leave.
func (n *Net) refactor(s *State, par []float64, in *Inputs) error {
	s.dirty = false
	nn := len(n.nodes)
	f := s.fac
	switch {
	case f == nil:
		f = &factor{coilK: s.coilK}
	case f.shared.Load(): // what is out of the network keeps what it was last taken at
		f = &factor{ra: f.ra, coilK: f.coilK, taper: f.taper}
	}
	for i := range n.branches {
		g := n.conductance(s, f, par, in, i)
		if !(g >= 0 && g <= maxSiemens) {
			return n.noGood(i, "conductance", g, "S")
		}
		f.g[i] = g
	}
	var adj [MaxNodes]uint64
	n.each(s, f, func(a, b int16, g float64) {
		if g > 0 {
			adj[a] |= 1 << uint(b)
			adj[b] |= 1 << uint(a)
		}
	})
	if s.fac != nil && s.fac.adj == adj {
		f.plan = s.fac.plan
	} else {
		var inner [MaxNodes]uint64
		for i := 1; i < nn; i++ {
			inner[i-1] = adj[i] >> 1
		}
		plan, err := n.plans.Plan(nn-1, inner[:nn-1])
		if err != nil {
			return err
		}
		f.plan = plan
	}
	f.adj = adj
	if size := f.plan.Size(); size <= factorRoom {
		f.vals = f.room[:size]
		clear(f.vals)
	} else {
		f.vals = make([]float64, size)
	}
	n.each(s, f, func(a, b int16, g float64) {
		if g <= 0 {
			return
		}
		f.stamp(a, a, g)
		f.stamp(b, b, g)
		f.stamp(a, b, -g)
		f.stamp(b, a, -g)
	})
	reached := flood(&f.adj, 0)
	for i := 1; i < nn; i++ {
		if reached&(1<<uint(i)) == 0 {
			f.stamp(int16(i), int16(i), 1)
			reached |= flood(&f.adj, i)
		}
	}
	if err := f.plan.Factor(f.vals); err != nil {
		return n.singular(f, err)
	}
	for m, bi := range n.motors {
		b := &n.branches[bi]
		if f.g[bi] == 0 {
			f.rth[m] = 1e9
			continue
		}
		// Thevenin resistance: with one ampere through the armature's terminals the network answers v = z; taking the
		// armature's own conductance out of the loop leaves R_loop = 1/g + (external part).
		var rhs [MaxNodes]float64
		f.inject(&rhs, b.a, 1)
		f.inject(&rhs, b.b, -1)
		f.plan.Solve(f.vals, rhs[:nn-1])
		z := at(&rhs, b.a) - at(&rhs, b.b) // parallel of armature and the rest
		g := f.g[bi]
		rest := 1e9
		if d := 1/z - g; d > 1e-9 {
			rest = 1 / d
		}
		f.rth[m] = 1/g + rest
	}
	s.fac = f
	return nil
}

func (f *factor) stamp(a, b int16, g float64) {
	if a > 0 && b > 0 {
		f.vals[f.plan.At(int(a)-1, int(b)-1)] += g
	}
}

func (f *factor) inject(rhs *[MaxNodes]float64, node int16, amps float64) {
	if node > 0 {
		rhs[node-1] += amps
	}
}

func at(v *[MaxNodes]float64, node int16) float64 {
	if node == 0 {
		return 0
	}
	return v[node-1]
}

func flood(adj *[MaxNodes]uint64, from int) uint64 {
	seen := uint64(1) << uint(from)
	for todo := seen; todo != 0; {
		i := trailing(todo)
		todo &= todo - 1
		fresh := adj[i] &^ seen
		seen |= fresh
		todo |= fresh
	}
	return seen
}

// each visits every branch and instrument with its conductance.
func (n *Net) each(s *State, f *factor, visit func(a, b int16, g float64)) {
	for i := range n.branches {
		visit(n.branches[i].a, n.branches[i].b, f.g[i])
	}
	for k := range s.slots() {
		if t := &s.leads.slot[k]; t.a >= 0 {
			visit(t.a, t.b, t.conductance())
		}
	}
}

// solve finds the node voltages; src is amperes into each node.
func (n *Net) solve(s *State, src *[MaxNodes]float64) {
	nn := len(n.nodes)
	push := func(a, b int16, amps float64) {
		src[a] += amps
		src[b] -= amps
	}
	for _, i := range n.forced {
		b := &n.branches[i]
		push(b.a, b.b, float64(s.fac.g[i]*s.emf[b.emf]))
	}
	for k := range s.slots() {
		if t := &s.leads.slot[k]; t.a >= 0 && t.kind == Ohmmeter {
			push(t.a, t.b, float64(t.conductance()*t.emf()))
		}
	}
	s.fac.plan.Solve(s.fac.vals, src[1:nn])
	copy(s.volt[1:nn], src[1:nn])
}

// move advances what has memory.
func (n *Net) move(s *State, par []float64, in *Inputs) error {
	sum := 0.0 // of all that is advanced: no number as soon as one of them is none
	for k, i := range n.coils {
		b := &n.branches[i]
		p := par[b.p:]
		pull, drop, stuck, heat, cool := relayPull, relayDrop, 0.0, relayHeat, relayCool
		if b.kind == bCoil {
			pull, drop, stuck, heat, cool = coilPull, coilDrop, p[coilStuck], coilHeat, coilCool
		}
		c := math.Abs(n.amps(s, i))
		loss := float64(c * c * warmOhm(p[relayCoil], s.fac.coilK[k]))
		s.coilK[k] += in.Dt * (loss - float64(p[cool]*(s.coilK[k]-in.TempK))) / (p[heat] + float64(in.Dt*p[cool]))
		sum += s.coilK[k]
		if math.Abs(s.coilK[k]-s.fac.coilK[k]) > coilStepK {
			s.dirty = true
		}
		bit := uint64(1) << uint(i)
		on := s.pulled&bit != 0
		want := on
		if c >= p[pull] {
			want = true
		} else if c <= p[drop] {
			want = false
		}
		if stuck > 0.5 {
			want = true
		} else if stuck < -0.5 {
			want = false
		}
		if want != on {
			s.pulled ^= bit
			s.clicks[k]++
			s.Moved, s.dirty = true, true
		}
	}
	for k, i := range n.fuses {
		b := &n.branches[i]
		p := par[b.p:]
		ratio := n.amps(s, i) / p[fuseRating]
		s.heat[k] += float64((float64(ratio*ratio) - s.heat[k]) * (in.Dt / (fuseTau + in.Dt)))
		sum += s.heat[k]
		if s.heat[k] > fuseOpen && p[fuseBlown] < 0.5 {
			s.Parted |= 1 << uint(i)
			s.Moved, s.dirty = true, true
		}
	}
	for k := range n.joints {
		j := &n.joints[k]
		b := &n.branches[j.branch]
		loss := math.Abs(float64((s.volt[b.a] - s.volt[b.b]) * n.amps(s, j.branch)))
		s.jointK[k] += in.Dt * (loss - float64(j.wK*(s.jointK[k]-in.TempK))) / (j.jK + float64(in.Dt*j.wK))
	}
	for _, i := range n.drivers {
		n.guard(s, par, in, i, &n.branches[i])
	}
	for m, i := range n.motors {
		p := par[n.branches[i].p:]
		c := n.amps(s, i)
		loss := float64(c * c * s.fac.ra[m])
		s.wound[m] += in.Dt * (loss - float64(p[motorCool]*(s.wound[m]-in.TempK))) / (p[motorHeat] + float64(in.Dt*p[motorCool]))
		sum += s.wound[m]
		ra := float64(p[motorRa] * (1 + float64(copperAlpha*(s.wound[m]-refK))))
		if math.Abs(c) > brushKnee && math.Abs(ra-s.fac.ra[m]) > 0.002*s.fac.ra[m] { // without current it can wait
			s.dirty = true
		}
	}
	if n.batt >= 0 {
		p := par[n.branches[n.batt].p:]
		s.Charge += n.amps(s, n.batt) * in.Dt / (p[battAh] * 3600)
		s.Charge = min(max(s.Charge, 0), 1)
		if s.polarise(n.amps(s, n.batt), p[battTaper], in.Dt) {
			s.dirty = true
		}
	}
	if n.alt >= 0 {
		p := par[n.branches[n.alt].p:]
		goal := 0.0
		if n.run >= 0 && in.On[n.run] {
			goal = 1
		}
		s.field += float64((goal - s.field) * (in.Dt / (p[altLag] + in.Dt)))
	}
	n.moveInstruments(s, in)
	if sum += s.Charge + s.taper + s.field; !(math.Abs(sum) < maxSum) {
		return n.unsoundMemory(s)
	}
	return nil
}

// guard is a driver's own protection: above its limit it shuts down until it is commanded off; far above, as with a
// battery lead on its pin, it dies before the protection can act.
func (n *Net) guard(s *State, par []float64, in *Inputs, i int, b *branch) {
	p := par[b.p:]
	bit := uint64(1) << uint(i)
	switch c := n.amps(s, i); {
	case !in.On[b.aux]:
		if s.shut&bit != 0 {
			s.shut &^= bit
			s.dirty = true
		}
	case p[drvDead] > 0.5:
	case c > 6*p[drvLimit]:
		s.Parted |= bit
		s.Moved, s.dirty = true, true
	case c > p[drvLimit]:
		s.shut |= bit
		s.Moved, s.dirty = true, true
	}
}
