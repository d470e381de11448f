package ecm

// circuits compares each low-side driver's pin with what it should be: battery when off, ground when on.
func (s *State) circuits(p *Spec, in *Inputs) {
	if in.HasPump {
		s.driver(p, pumpOpen, s.Pump, in.PumpShut, in.PumpPinV, in.SupplyV, in.Dt)
	}
	if in.HasSol {
		// The solenoid hangs on the fuel pump relay, which may be off; its pin means nothing then.
		s.driver(p, solOpen, s.Sol, in.SolShut, in.SolPinV, in.FuelV, in.Dt)
	}
}

// driver judges one pin; first is the driver's test for an open circuit, the others follow it. Off, an open circuit lets the pin float to
// the driver's own bias and a short to ground pulls it down. On, the current of a short to battery trips the driver, which reports it;
// a driver that does not pull and reports nothing is dead. An open circuit or a short to ground can't be told while it is on.
func (s *State) driver(p *Spec, first int, on, shut bool, pin, feed, dt float64) {
	c := &p.Circuit
	if feed <= c.FeedMinV {
		return
	}
	if on {
		s.watch(p, first+2, shut, dt)
		s.watch(p, first+3, !shut && pin > c.OnMaxV && c.OnMaxV > 0, dt)
		return
	}
	s.watch(p, first, pin > c.OpenMinV && pin < c.OpenMaxV, dt)
	s.watch(p, first+1, pin < c.LowV, dt)
}

// watch counts how long a circuit is bad without a break; debounced, that is a failure.
func (s *State) watch(p *Spec, test int, bad bool, dt float64) {
	s.lasting(p, test, bad, dt, p.Circuit.DebounceS)
}

// lasting fails a test when bad has been true for longer than limit seconds without a break.
func (s *State) lasting(p *Spec, test int, bad bool, dt, limit float64) {
	m := &s.mon[test]
	if p.Codes.of(test) == "" {
		return
	}
	m.flags |= ran
	if !bad {
		m.bad = 0
		return
	}
	m.bad += float32(dt)
	if m.bad > float32(limit)+1e-4 {
		m.flags |= failed
	}
}
