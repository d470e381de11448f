package air

import (
	"fmt"
	"math"
)

// system is the linear system of one step: capacities and slopes of the flows, net inflows, 1/sqrt(R T) of every node.
type system struct {
	vals [matrixSize]float64
	rhs  [MaxNodes]float64
	kRT  [MaxNodes]float64
	room [MaxNodes]float64 // kg/(s Pa): what fills a node at a pascal a step
	// Chambers under a diaphragm, by part: the sum of p V that the lag of the stem takes up (Pa m3), and d(p V)/dp (m3).
	swept, stiff [MaxParts]float64
}

// longStride is the stride in s from which a chamber under a diaphragm may be carried past every pressure that feeds it: see Step.
const longStride = 0.04

// Step advances the network by in.Dt. It allocates only when a copy's open ways change for the first time, or when they join the volumes as
// no world of this net did before. An error is a [SolveError]: the step has no finite solution, and the state is not to be stepped on.
//
// A linear step takes a diaphragm that moves for one that goes on moving and lets in the air that this would take. Where it stops, that air is too
// much. A world takes a long stride only when little moves, and nothing comes of it; but should one have carried a chamber above or
// below all that there was and is around it, it is taken again in halves.
func (n *Net) Step(s *State, par []float64, in *Inputs) error {
	if in.Dt < longStride || !n.chambered {
		return n.stride(s, par, in)
	}
	before, lift, warmth, drawn, pulling := s.P, s.lift, s.warmth, s.drawn, s.pulling
	if err := n.stride(s, par, in); err != nil || !n.carried(s, &before) {
		return err
	}
	s.P, s.lift, s.warmth, s.drawn, s.pulling = before, lift, warmth, drawn, pulling
	half := *in
	half.Dt /= 2
	if err := n.Step(s, par, &half); err != nil {
		return err
	}
	return n.Step(s, par, &half)
}

// carried says whether a chamber has come above or below all pressures before the step and all others after it, by more than a needle's width.
func (n *Net) carried(s *State, before *[MaxNodes]float64) bool {
	const needle = 200.0 // Pa
	for _, i := range n.lifted {
		c := n.parts[i].chamber
		if c < 0 {
			continue
		}
		low, high := before[c], before[c]
		for k := range n.nodes {
			if k == n.tool && s.tool == NoTool {
				continue
			}
			low, high = min(low, before[k]), max(high, before[k])
			if k != c {
				low, high = min(low, s.P[k]), max(high, s.P[k])
			}
		}
		if s.P[c] > high+needle || s.P[c] < low-needle {
			return true
		}
	}
	return false
}

// stride advances the network by in.Dt in one linear step.
func (n *Net) stride(s *State, par []float64, in *Inputs) error {
	if s.dirty || s.ways == nil {
		if err := n.wire(s, par, in); err != nil {
			return err
		}
	}
	if !(math.Abs(in.AmbientPa)+math.Abs(in.ExhaustPa)+math.Abs(in.Exhaust2Pa) < maxPa) {
		return n.noGoodAround(in)
	}
	nn := len(n.nodes)
	s.P[Ambient], s.P[Exhaust], s.P[Exhaust2] = in.AmbientPa, in.ExhaustPa, in.Exhaust2Pa
	var y system
	n.temperatures(s, par, in, &y)
	vals, rhs, plan := y.vals[:s.ways.plan.Size()], &y.rhs, s.ways.plan
	y.room[Ambient], y.room[Exhaust], y.room[Exhaust2] = 1, 1, 1
	for i := fixed; i < nn; i++ {
		y.room[i] = n.volume[i] * y.kRT[i] * y.kRT[i] / in.Dt
		vals[i-fixed] = y.room[i]
	}
	for _, i := range n.lifted {
		if p := &n.parts[i]; p.chamber >= 0 {
			// A rising diaphragm takes volume from its chamber: m = p (V - A lift) / R T.
			lift, slope := n.liftAt(s, par, in, i, s.P[p.chamber])
			k := y.kRT[p.chamber]
			area := par[p.par+4]
			v := p.vol - float64(area*s.lift[i]) + float64(s.P[p.chamber]*area*slope)
			vals[p.chamber-fixed] = v * k * k / in.Dt
			rhs[p.chamber-fixed] += area * (lift - s.lift[i]) * s.P[p.chamber] * k * k / in.Dt
			y.swept[i], y.stiff[i] = area*(lift-s.lift[i])*s.P[p.chamber], v
		}
	}
	for i := range s.ways.edges {
		n.pass(s, par, in, i, &y)
	}
	m := n.manifold
	rhs[m-fixed] -= float64(s.CylK * (float64(s.CylSlope*s.P[m]) - s.CylOffset))
	vals[m-fixed] += float64(s.CylK * s.CylSlope)
	n.toolTerms(s, in, &y)
	if err := plan.Factor(vals); err != nil {
		return n.singular(s, par, err)
	}
	plan.Solve(vals, rhs[:nn-fixed])
	for _, i := range n.lifted {
		if p := &n.parts[i]; p.chamber >= 0 {
			old := s.P[p.chamber]
			content := float64(old*(p.vol-float64(par[p.par+4]*s.lift[i]))) + float64(y.stiff[i]*rhs[p.chamber-fixed]) - float64(y.swept[i])
			rhs[p.chamber-fixed] = n.chamberPa(s, par, in, i, content) - old
		}
	}
	s.Rate = 0
	var bad int64 // negative as soon as a pressure is no number or beyond maxPa
	for i := fixed; i < nn; i++ {
		d := rhs[i-fixed]
		s.P[i] = max(s.P[i]+d, minPa)
		bad |= maxPaBits - int64(math.Float64bits(s.P[i])&^(1<<63))
		if d = math.Abs(d); d > s.Rate && (i != n.tool || s.tool != NoTool) {
			s.Rate = d
		}
	}
	s.Rate /= in.Dt
	if bad < 0 {
		return n.unsound(s, par)
	}
	for _, i := range n.lifted {
		if p := &n.parts[i]; p.chamber >= 0 {
			s.lift[i], _ = n.liftAt(s, par, in, i, s.P[p.chamber])
		} else {
			s.lift[i], _ = pressedLift(s, par[p.par:], in, i, s.P[n.before(s, i)])
		}
		if !(math.Abs(s.lift[i]) < maxLift) {
			return &SolveError{Part: n.parts[i].id, What: fmt.Sprintf("lift = %.3g m", s.lift[i])}
		}
	}
	return nil
}

// temperatures sets 1/sqrt(R T) of every node.
func (n *Net) temperatures(s *State, par []float64, in *Inputs, y *system) {
	goal := 0.0
	for _, i := range n.pumps {
		goal = min(1, in.W[i]/par[n.parts[i].par])
	}
	s.warmth += float64((goal - s.warmth) * (in.Dt / (3 + in.Dt))) // the pipe's air follows the pump within seconds [invented]
	k := 1 / math.Sqrt(R*in.AmbientK)
	s.density = in.AmbientPa * k * k
	for i := range n.nodes {
		y.kRT[i] = k
		if n.warm[i] > 0 && s.warmth > 1e-6 {
			y.kRT[i] = 1 / math.Sqrt(R*(in.AmbientK+float64(n.warm[i]*s.warmth)))
		}
	}
	y.kRT[n.manifold] = 1 / math.Sqrt(R*in.ChargeK)
	y.kRT[Exhaust] = 1 / math.Sqrt(R*max(in.ExhaustK, in.AmbientK))
	y.kRT[Exhaust2] = 1 / math.Sqrt(R*max(in.Exhaust2K, in.AmbientK))
}

// liftAt is the lift at the end of the step if the chamber is at p then, and its slope against p: the stem follows the
// balance of spring and vacuum with a lag.
func (n *Net) liftAt(s *State, par []float64, in *Inputs, i int, p float64) (lift, slope float64) {
	q := par[n.parts[i].par:]
	switch {
	case q[9] > 0.5:
		return 0, 0
	case q[9] < -0.5:
		return float64(q[7] * sticksAt(q[9])), 0
	}
	span := q[6] - q[5]
	x := (in.AmbientPa - p - q[5]) / span
	a := in.Dt / q[8]
	f := a / (1 + a)
	if x > 0 && x < 1 {
		slope = f * q[7] / span
	}
	goal := float64(q[7] * min(max(x, 0), 1))
	return s.lift[i] + float64((goal-s.lift[i])*f), slope
}

// sticksAt is the share of full lift at which a stem sticks that does not shut: none at -0.5, all of it at -1.
func sticksAt(stuck float64) float64 { return min(max(-1-float64(2*stuck), 0), 1) }

// chamberPa is the pressure under a diaphragm that goes with content = p V (Pa m3) at the end of the step: the linear step does not
// see the kinks of the lift, and without this the volume that the diaphragm sweeps past one would be air made or lost.
func (n *Net) chamberPa(s *State, par []float64, in *Inputs, i int, content float64) float64 {
	p := &n.parts[i]
	q := par[p.par:]
	area := q[4]
	switch {
	case q[9] > 0.5:
		return content / p.vol
	case q[9] < -0.5:
		return content / (p.vol - float64(area*q[7]*sticksAt(q[9])))
	}
	a := in.Dt / q[8]
	f := a / (1 + a)
	shut := float64(s.lift[i] * (1 - f))
	if pa := content / (p.vol - float64(area*shut)); pa >= in.AmbientPa-q[5] {
		return pa
	}
	if pa := content / (p.vol - float64(area*(shut+float64(f*q[7])))); pa <= in.AmbientPa-q[6] {
		return pa
	}
	// In between lift = c - k p, and p (V - A c + A k p) = content.
	k := f * q[7] / (q[6] - q[5])
	b := p.vol - float64(area*(shut+float64(k*(in.AmbientPa-q[5]))))
	return 2 * content / (b + math.Sqrt(float64(b*b)+float64(4*area*k*content)))
}

// pass adds one edge's flow and its slopes to the system.
func (n *Net) pass(s *State, par []float64, in *Inputs, i int, y *system) {
	e := &s.ways.edges[i]
	p0, p1 := s.P[e.a], s.P[e.b]
	var m, d0, d1 float64
	switch e.kind {
	case ePlain, eToolVent:
		m, d0, d1 = s.orifice(y, e, e.cda)
	case eScaled:
		cda := par[e.p]
		if e.clog >= 0 {
			cda *= 1 - par[e.clog]
		}
		m, d0, d1 = s.orifice(y, e, cda)
	case eMain:
		m, d0, d1 = s.orifice(y, e, par[e.p]*(1-par[e.p+2]))
	case eVent:
		m, d0, d1 = s.orifice(y, e, par[e.p+1]*(1-par[e.p+3]))
	case eThrottle:
		m, d0, d1 = s.orifice(y, e, s.Throttle)
	case eCheck:
		m, d0, d1 = s.oneWay(y, e, par[e.p], par[e.p+1])
	case eValve:
		m, d0, d1 = s.valve(y, e, par[e.p:], in.PulsePa)
	case ePressed:
		m, d0, d1 = n.pressed(s, par, in, e, y)
	case eDivert:
		q := par[e.p:]
		m, d0, d1 = s.orifice(y, e, q[0]*(1-q[1])*s.lift[e.part]/q[7])
	case eDump:
		m, d0, d1 = s.dump(par, in, e, y)
	case ePump:
		q := par[e.p:]
		w := in.W[e.part]
		free, head := q[2]*(1-float64(0.5*q[6])), q[1]*(1-q[6])
		g := free / head * q[0] / math.Sqrt(float64(w*w)+float64(q[5]*q[5]))
		flow := float64(free*w/q[0]) - float64(g*(p1-p0))
		k2 := y.kRT[e.a] * y.kRT[e.a]
		rho := p0 * k2
		m = float64(rho * flow)
		d1 = float64(-rho * g)
		d0 = float64(rho*g) + float64(max(flow, 0)*k2)
	}
	s.flow[i] = m
	a, b := int(e.a)-fixed, int(e.b)-fixed
	if a >= 0 {
		y.rhs[a] -= m
		y.vals[a] += d0
	}
	if b >= 0 {
		y.rhs[b] += m
		y.vals[b] -= d1
	}
	if a >= 0 && b >= 0 {
		y.vals[e.ab] += d1
		y.vals[e.ba] -= d0
	}
}

// orifice is the flow through an effective area and slopes against both pressures. The true tangent, half the secant's of a square
// root and nothing at all when choked, makes a linear step overshoot where a stride is long for a small volume. So the slopes are held
// above a share x/(1+x) of the secant's, x being how far the flow would carry the smaller volume of the difference: then no stride
// passes the point of balance, and where x is small nothing is lost.
func (s *State) orifice(y *system, e *edge, cda float64) (m, d0, d1 float64) {
	return s.between(y, e, cda, s.P[e.a], s.P[e.b])
}

// between is an orifice's flow with p0 before and p1 behind it.
func (s *State) between(y *system, e *edge, cda, p0, p1 float64) (m, d0, d1 float64) {
	k := y.kRT[e.a]
	turned := p0 < p1
	if turned {
		p0, p1, k = p1, p0, y.kRT[e.b]
	}
	u := (p0 - p1) / p0
	psi, dpsi := Psi(u, e.laminar/p0)
	c := cda * k
	m = float64(c * p0 * psi)
	d1 = float64(-c * dpsi)
	d0 = float64(c * (psi + float64(dpsi*(1-u))))
	if m > 0 {
		drive, room := p0-p1, y.room[e.a]
		if r := y.room[e.b]; r < room {
			room = r
		}
		least := m / drive * m / (float64(room*drive) + m)
		d0, d1 = max(d0, least), min(d1, -least)
	}
	if turned {
		return -m, -d1, -d0
	}
	return m, d0, d1
}

// valve is a diaphragm valve's seat with its reed behind it. What leaks past the reed goes either way and follows the pulses of the
// exhaust: half of the time the pressure stands as much above its mean as it stands below for the other half (a square wave; the
// passages fill within a tenth of a pulse).
func (s *State) valve(y *system, e *edge, q []float64, pulse float64) (m, d0, d1 float64) {
	seat := float64(q[0]*q[1]*s.lift[e.part]/q[7]) + q[12]
	if seat <= 0 {
		return 0, 0, 0
	}
	m, d0, d1 = s.oneWay(y, e, behind(seat, q[2]), q[3])
	if q[11] > 0 {
		cda := behind(seat, q[11]) / 2
		for _, at := range [...]float64{s.P[e.b] + pulse, s.P[e.b] - pulse} {
			g, g0, g1 := s.between(y, e, cda, s.P[e.a], at)
			m, d0, d1 = m+g, d0+g0, d1+g1
		}
	}
	return m, d0, d1
}

// behind is the effective area of two openings one behind the other.
func behind(a, b float64) float64 { return a * b / math.Sqrt(float64(a*a)+float64(b*b)) }

// oneWay passes flow from a to b only, once the difference exceeds crack; it is wide open at twice that.
func (s *State) oneWay(y *system, e *edge, cda, crack float64) (m, d0, d1 float64) {
	x := (s.P[e.a] - s.P[e.b] - crack) / crack
	if x <= 0 {
		return 0, 0, 0
	}
	m, d0, d1 = s.orifice(y, e, cda)
	if x < 1 {
		open := x * x * (3 - float64(2*x))
		slope := m * 6 * x * (1 - x) / crack
		m, d0, d1 = float64(m*open), float64(d0*open)+slope, float64(d1*open)-slope
	}
	// As for an orifice no stride may pass the point of balance, which is here where the reed shuts.
	drive, room := x*crack, min(y.room[e.a], y.room[e.b])
	least := m / drive * m / (float64(room*drive) + m)
	return m, max(d0, least), min(d1, -least)
}

// toolTerms are the hand pump's stroke and a person's breath.
func (n *Net) toolTerms(s *State, in *Inputs, y *system) {
	t := n.tool - fixed
	vals, rhs := &y.vals, &y.rhs
	k2 := y.kRT[n.tool] * y.kRT[n.tool]
	switch s.tool {
	case HandPump:
		vals[t] += float64(s.drawn*k2) / in.Dt
		if s.pulling {
			dv := min(strokeM3*in.Dt/strokeS, strokeM3-s.drawn)
			rate := dv / in.Dt
			rhs[t] -= float64(s.P[n.tool] * k2 * rate)
			vals[t] += float64(k2 * rate)
			s.drawn += dv
			if s.drawn >= strokeM3*(1-1e-9) {
				// The plunger's valve shuts: what it holds leaves the tool, and the next stroke begins empty.
				s.pulling, s.drawn = false, 0
			}
		}
	case Breath:
		rhs[t] += float64(breathG * (in.AmbientPa + breathPa - s.P[n.tool]))
		vals[t] += breathG
	case Smoke:
		rhs[t] += float64(smokeG * (in.AmbientPa + smokePa - s.P[n.tool]))
		vals[t] += smokeG
	}
}

// FlowOut is the flow in kg/s out of an opening: a free hose end (end >= 0) or a free port (port >= 0).
func (n *Net) FlowOut(s *State, end, port int) float64 {
	key := int16(end + 1)
	if port >= 0 {
		key = -int16(port + 1)
	}
	sum := 0.0
	for i := range s.edges() {
		e := &s.ways.edges[i]
		if e.open != key {
			continue
		}
		// The opening is on the side of the open air or of the tool.
		if e.b == Ambient || int(e.b) == n.tool {
			sum += s.flow[i]
		} else {
			sum -= s.flow[i]
		}
	}
	return sum
}

// PartFlow is the flow in kg/s through a part from its a end to its b end, with what leaks past its seat.
func (n *Net) PartFlow(s *State, part int) float64 {
	if s.ways == nil {
		return 0
	}
	sum := 0.0
	if e := s.ways.partEdge[part]; e >= 0 {
		sum = s.flow[e]
	}
	if e := s.ways.leakEdge[part]; e >= 0 {
		sum += s.flow[e]
	}
	return sum
}

// VentFlow is the flow in kg/s out of a three-way valve's vent.
func (n *Net) VentFlow(s *State, part int) float64 {
	for i := range s.edges() {
		if e := &s.ways.edges[i]; e.kind == eVent && int(e.part) == part {
			return s.flow[i]
		}
	}
	return 0
}

// LeakFlow is the flow in kg/s out of a split hose, a torn or cracked volume or its gaping joint, by node.
func (n *Net) LeakFlow(s *State, node int) float64 {
	sum := 0.0
	for i := range s.edges() {
		if e := &s.ways.edges[i]; (e.kind == ePlain || e.kind == eScaled) && e.open == 0 && int(e.a) == node && e.b == Ambient {
			sum += s.flow[i]
		}
	}
	return sum
}
