package ecm

// narrowSpan is how far from 1 a narrow-band sensor's reading means anything but rich or lean.
const narrowSpan = 0.003

// fuelling commands the relative air-fuel ratio and turns metered air into fuel.
func (s *State) fuelling(p *Spec, in *Inputs) {
	m := &in.Air
	s.maf += float64((in.MafKgS - s.maf) * (in.Dt / (0.2 + in.Dt)))
	if !s.Fire {
		s.FuelRate, s.Fuel2, s.closed = 0, 0, false
		return
	}
	air := s.maf
	if s.RunS < 2 {
		air = in.CylKgS // while the manifold empties the meter tells nothing
	}
	// Start enrichment leans out evenly to its end value when the air stops, then to 1 in the tail; a start too warm for
	// the air is enriched less and for a shorter time.
	rich := min(max((330-s.startK)/(330-293.15), 0), 1.3)
	end, begin := 1-float64(rich*(1-m.AirEnd)), 1-float64(rich*(1-m.Start))
	span := s.airS
	if !s.allowed {
		span = 15
	}
	switch t := s.RunS; {
	case t < span:
		s.Lambda = begin + float64((end-begin)*t/span)
	case t < span+m.TailS:
		s.Lambda = end + float64((1-end)*(t-span)/m.TailS)
	default:
		s.Lambda = 1
	}
	s.closed = in.SensorK > m.ReadyK && s.Lambda > 0.999 && (!s.Pump || s.probing) && s.RunS > 20
	if s.closed {
		s.learn(p, in, in.Lambda-1, &s.Short, &s.Long)
		if in.Banks == 2 {
			s.learn(p, in, in.Lambda2-1, &s.Short2, &s.Long2)
		}
	} else {
		s.Short, s.Short2 = 0, 0
	}
	base := air / (in.AFR * s.Lambda)
	if in.Banks == 2 { // each breathes half of the air
		s.Fuel2 = float64(base / 2 * (1 + s.Short2 + s.Long2))
		s.FuelRate = float64(base/2*(1+s.Short+s.Long)) + s.Fuel2
		return
	}
	s.FuelRate = base * (1 + s.Short + s.Long)
}

// learn moves a bank's trims by how lean its sensor finds the exhaust.
func (s *State) learn(p *Spec, in *Inputs, lean float64, short, long *float64) {
	m := &in.Air
	push := lean / m.TrimSoft
	if p.NarrowBand {
		push = lean / narrowSpan
	}
	*short += float64(in.Dt * m.TrimRate * min(max(push, -1), 1))
	*short = min(max(*short, -m.TrimMax), m.TrimMax)
	if !s.probing { // what the active test does is nothing to learn
		d := float64(in.Dt * m.LongRate * *short)
		*long += d
		*short -= d
		*long = min(max(*long, -m.TrimMax), m.TrimMax)
	}
}
