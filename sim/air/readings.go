package air

// ThrottleFlow is the metered air in kg/s.
func (n *Net) ThrottleFlow(s *State) float64 {
	if s.ways == nil {
		return 0
	}
	return s.flow[s.ways.throttle]
}

// ManifoldPa is the absolute pressure in the intake manifold.
func (n *Net) ManifoldPa(s *State) float64 { return s.P[n.manifold] }

// ExhaustFlow is the flow in kg/s into the exhaust ports of all banks.
func (n *Net) ExhaustFlow(s *State) float64 {
	sum := 0.0
	for i := range s.edges() {
		if e := &s.ways.edges[i]; e.b == Exhaust || e.b == Exhaust2 {
			sum += s.flow[i]
		}
	}
	return sum
}

// BankFlow is the flow in kg/s into the exhaust ports of the first (0) or second (1) bank.
func (n *Net) BankFlow(s *State, bank int) float64 {
	sum := 0.0
	for i := range s.edges() {
		if e := &s.ways.edges[i]; int(e.b) == Exhaust+bank {
			sum += s.flow[i]
		}
	}
	return sum
}

// PumpLoad is the air side's torque in N m on a pump's shaft: (w/w0)^2 (t0 + t1 (1 - q/qmax)); a regenerative blower works
// hardest against a closed end.
func (n *Net) PumpLoad(s *State, par []float64, in *Inputs, part int) float64 {
	p := &n.parts[part]
	if s.Off(part) {
		return 0
	}
	q := par[p.par:]
	x := in.W[part] / q[0]
	if x <= 0 {
		return 0
	}
	m := n.PartFlow(s, part)
	share := m / s.density / (q[2] * x)
	share = min(max(share, 0), 1)
	rub := 0.0
	if p.kind == "pump" || p.kind == "belt_pump" {
		rub = q[7] + float64(x*q[8])
	}
	return float64(x*x*(q[3]+float64(q[4]*(1-share)))) + rub
}

// ToolFlow is the flow in kg/s from the tool into its opening.
func (n *Net) ToolFlow(s *State) float64 {
	sum := 0.0
	for i := range s.edges() {
		e := &s.ways.edges[i]
		switch {
		case int(e.a) == n.tool:
			sum += s.flow[i]
		case int(e.b) == n.tool && e.kind != eToolVent:
			sum -= s.flow[i]
		}
	}
	return sum
}
