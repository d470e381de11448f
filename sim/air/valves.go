package air

import (
	"fmt"
	"slices"
)

// lifted says whether a kind of part has a diaphragm that the vacuum of its chamber lifts against a spring. Such kinds keep the
// numbers of diaphragm and stem at the same places of their parameters.
func lifted(kind string) bool { return kind == "diaphragm_valve" || kind == "diverter" }

// Places of a pressure-opened valve's parameters.
const (
	pvArea, pvCd, pvReed, pvCrack, pvOpen0, pvOpen1 = 0, 1, 2, 3, 4, 5
	pvLift, pvTau, pvStuck, pvLeakM2, pvReedLeak    = 6, 7, 8, 9, 10
)

// Fits says whether the numbers of each part fit each other; par are the caller's parameters, as they are or as a fault would have them. An error is an
// [ItemError] that names the part.
func (n *Net) Fits(par []float64) error {
	for i := range n.parts {
		if err := n.fits(&n.parts[i], par[n.parts[i].par:]); err != nil {
			return &ItemError{"parts", i, fmt.Errorf("part %q: %w", n.parts[i].id, err)}
		}
	}
	return nil
}

func (n *Net) fits(p *part, q []float64) error {
	switch {
	case p.kind == "pressure_valve" && !(q[pvOpen1] >= q[pvOpen0]+leastSpan):
		return fmt.Errorf("open1_pa = %g, must be at least %g above open0_pa = %g", q[pvOpen1], leastSpan, q[pvOpen0])
	case p.chamber < 0:
	case !(q[6] >= q[5]+leastSpan):
		return fmt.Errorf("lift1_pa = %g, must be at least %g above lift0_pa = %g", q[6], leastSpan, q[5])
	case !(q[4]*q[7] <= mostSwept*p.vol):
		return fmt.Errorf("dia_m2 = %g times lift_m = %g sweeps %.3g m3, at most %g of the %g m3 of its chamber %q are allowed",
			q[4], q[7], q[4]*q[7], mostSwept, p.vol, n.nodes[p.chamber])
	}
	return nil
}

// before is the node at a part's first end.
func (n *Net) before(s *State, part int) int {
	if b := n.reach(s, n.parts[part].a); b >= 0 {
		return b
	}
	return Ambient
}

// pressedLift is a pressure-opened valve's lift at the end of the step if the pressure before it is p then, and its slope against p: the
// stem follows the balance of spring and pressure with a lag.
func pressedLift(s *State, q []float64, in *Inputs, i int, p float64) (lift, slope float64) {
	switch {
	case q[pvStuck] > 0.5:
		return 0, 0
	case q[pvStuck] < -0.5:
		return float64(q[pvLift] * sticksAt(q[pvStuck])), 0
	}
	span := max(q[pvOpen1]-q[pvOpen0], 1)
	x := (p - in.AmbientPa - q[pvOpen0]) / span
	a := in.Dt / q[pvTau]
	f := a / (1 + a)
	if x > 0 && x < 1 {
		slope = f * q[pvLift] / span
	}
	goal := float64(q[pvLift] * min(max(x, 0), 1))
	return s.lift[i] + float64((goal-s.lift[i])*f), slope
}

// pressed is the flow through a pressure-opened valve and the one-way reed behind it. It opens by the pressure that its own flow
// lowers, so the lift is taken as it will be at the end of the step, and its slope joins that of the orifice: taken from the start,
// the stem would hunt at strides longer than its lag.
func (n *Net) pressed(s *State, par []float64, in *Inputs, e *edge, y *system) (m, d0, d1 float64) {
	q := par[e.p:]
	lift, slope := pressedLift(s, q, in, int(e.part), s.P[e.a])
	full := q[pvArea] * q[pvCd]
	seat := float64(full*lift/q[pvLift]) + q[pvLeakM2]
	if seat <= 0 {
		return 0, 0, 0
	}
	reed := q[pvReed]
	m, d0, d1 = s.oneWay(y, e, behind(seat, reed), q[pvCrack])
	// d ln(behind)/d seat = reed^2 / (seat (seat^2 + reed^2)).
	d0 += float64(m*full*slope) / q[pvLift] * reed / seat * reed / (float64(seat*seat) + float64(reed*reed))
	if q[pvReedLeak] > 0 {
		return s.leakBack(y, e, behind(seat, q[pvReedLeak]), in.PulsePa, m, d0, d1)
	}
	return m, d0, d1
}

// leakBack adds what passes a leak of cda m2 either way between a valve and the exhaust's pulses: see valve.
func (s *State) leakBack(y *system, e *edge, cda, pulse, m, d0, d1 float64) (float64, float64, float64) {
	for _, at := range [...]float64{s.P[e.b] + pulse, s.P[e.b] - pulse} {
		g, g0, g1 := s.between(y, e, cda/2, s.P[e.a], at)
		m, d0, d1 = m+g, d0+g0, d1+g1
	}
	return m, d0, d1
}

// reliefSpan is the share of its relief pressure over which a diverter's relief opens fully.
const reliefSpan = 0.2

// dump is the flow of a diverter into the open air: what its valve leaves open, and its relief above a pressure. A seat that leaks lets
// some go all the time.
func (s *State) dump(par []float64, in *Inputs, e *edge, y *system) (m, d0, d1 float64) {
	q := par[e.p:]
	open, slope := max(0, 1-s.lift[e.part]/q[7]), 0.0
	span := reliefSpan * q[3]
	if r := (s.P[e.a] - in.AmbientPa - q[3]) / span; r > open {
		open = min(r, 1)
		if r < 1 {
			slope = 1 / span
		}
	}
	cda := float64(q[2]*open) + q[11]
	if cda <= 0 {
		return 0, 0, 0
	}
	m, d0, d1 = s.orifice(y, e, cda)
	if m > 0 {
		d0 += float64(m / cda * q[2] * slope)
	}
	return m, d0, d1
}

// Belt is the ratio between a belt-driven pump's speed and the engine's, slip included, what its bearings drag, and what the belt can
// pull before it slips over the pulley, N m; ok is false for other parts.
func (n *Net) Belt(par []float64, part int) (ratio, bearing, grip float64, ok bool) {
	p := &n.parts[part]
	if p.kind != "belt_pump" {
		return 0, 0, 0, false
	}
	q := par[p.par:]
	return q[9] * (1 - q[10]), q[11], q[12], true
}

// SensorPa is what a pressure sensor reports, Pa absolute.
func (n *Net) SensorPa(s *State, par []float64, part int) float64 {
	p := &n.parts[part]
	q := par[p.par:]
	return q[0] + float64(q[1]*s.P[p.a])
}

// OpenInlet says whether a pump draws from the road: its inlet port is open, or the other end of the hose on it is off its port.
func (n *Net) OpenInlet(s *State, part int) bool {
	at := n.parts[part].a
	if at < portBase {
		return false
	}
	port := at - portBase
	if s.PortPlugged(port) {
		return false
	}
	end := s.Has(port)
	if end < 0 {
		return true
	}
	far := end ^ 1
	return s.at[far] < 0 && !s.EndPlugged(far)
}

// KeepsExhaust says into which banks' exhaust what passes a part goes on through fixed parts and hoses, so that the part keeps exhaust back.
func (n *Net) KeepsExhaust(part int) (first, second bool) {
	var seen [MaxParts]bool
	var on func(part int)
	on = func(part int) {
		seen[part] = true
		at := n.spaces(n.parts[part].b)
		for _, v := range at {
			first, second = first || v == Exhaust, second || v == Exhaust2
		}
		for i := range n.parts {
			if !seen[i] && n.joined(at, n.spaces(n.parts[i].a)) {
				on(i)
			}
		}
	}
	on(part)
	return first, second
}

// joined says whether two places share a volume.
func (n *Net) joined(a, b []int) bool {
	for _, v := range a {
		if v != Ambient && slices.Contains(b, v) {
			return true
		}
	}
	return false
}

// spaces are the volumes that a place is or opens into on the car as it was built, with the one beyond a hose on it.
func (n *Net) spaces(place int) []int {
	if place < portBase {
		return []int{place}
	}
	port := place - portBase
	var list []int
	if v := n.ports[port].on; v >= 0 {
		list = append(list, v)
	}
	for i := range n.hoses {
		h := &n.hoses[i]
		for k := range 2 {
			if h.home[k] != port {
				continue
			}
			list = append(list, h.node)
			if v := n.ports[h.home[1-k]].on; v >= 0 {
				list = append(list, v)
			}
		}
	}
	return list
}

// Approach is the hose that leads to a part's first end on the car as it was built, -1 if none does.
func (n *Net) Approach(part int) int {
	a := n.parts[part].a
	for i := range n.hoses {
		for _, port := range n.hoses[i].home {
			if a == portBase+port || a < portBase && a >= fixed && n.ports[port].on == a {
				return i
			}
		}
	}
	return -1
}

// Seat is what leaks past a check valve's seat, m2, and the volume in m3 of what lies before it; no leak for other kinds, whose own flow
// has the pulses in it.
func (n *Net) Seat(par []float64, part int) (leak, volume float64) {
	p := &n.parts[part]
	if p.kind != "check" {
		return 0, 0
	}
	for _, v := range n.spaces(p.a) {
		volume += n.volume[v]
	}
	if h := n.Approach(part); h >= 0 && p.a < portBase {
		volume += n.volume[n.hoses[h].node]
	}
	return par[p.par+3], volume
}
