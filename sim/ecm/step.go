package ecm

// Step runs the controller's tasks once, at the bench's tick.
func Step(p *Spec, s *State, in *Inputs) {
	s.last = *in
	if !in.Key || in.SupplyV < 6 && !in.Crank {
		if s.key {
			s.endOfCycle()
		}
		s.off()
		return
	}
	if !s.key {
		s.key, s.keyS = true, 0
		s.keyVolts = in.SupplyV
		if p.Rearm == "key_cycle" || p.Rearm == "engine_run" && s.engRan {
			s.spent = false
		}
	}
	s.keyS += in.Dt
	if s.keyS < 0.35 {
		// The battery is judged before cranking, with the loads of key-on settled.
		s.keyVolts = in.SupplyV
	}
	s.cranking(p, in)
	s.testing(p, in)
	s.secondaryAir(p, in)
	s.fuelling(p, in)
	s.circuits(p, in)
	s.flow(p, in)
	s.trips(p, in)
	s.Fuel = s.keyS < p.Prime || in.Rpm > 30 || s.test != NoTest
}

func (s *State) off() {
	s.key, s.started, s.Fuel, s.Fire, s.Pump, s.Sol, s.Heating = false, false, false, false, false, false, false
	s.RunS, s.crankS, s.FuelRate, s.maf, s.test, s.closed = 0, 0, 0, 0, NoTest, false
	s.allowed, s.AirDone, s.judgeS, s.flowSum = false, 0, 0, 0
}

func (s *State) cranking(p *Spec, in *Inputs) {
	if in.Crank {
		s.crankS += in.Dt
	} else if !s.started {
		s.crankS = 0
	}
	s.Fire = s.Fire && in.Rpm > 60 || s.crankS >= p.FireS-1e-9
	if !s.started && s.Fire && in.Rpm > p.StartRpm {
		s.started, s.RunS, s.AirDone, s.engRan = true, 0, 0, true
		s.startK = in.CoolantK
		s.test = NoTest
		if p.Rearm == "engine_run" {
			s.spent = false
		}
		s.allowed = in.CoolantK >= p.RunColdK && in.CoolantK <= p.RunHotK && in.IntakeK > p.IntakeMinK && s.keyVolts > p.BattMin
		x := (in.CoolantK - p.RunColdK) / (p.RunHotK - p.RunColdK)
		s.airS = p.RunCold + float64((p.RunHot-p.RunCold)*min(max(x, 0), 1))
		s.judgeS, s.flowSum = 0, 0
		for i := range s.mon {
			s.mon[i].failed, s.mon[i].ran, s.mon[i].bad = false, false, 0
		}
	}
	if s.started {
		s.RunS += in.Dt
		if in.Rpm < 100 {
			s.started, s.RunS, s.Fire = false, 0, false
		}
	}
}

func (s *State) testing(p *Spec, in *Inputs) {
	if s.test == NoTest {
		return
	}
	s.testS += in.Dt
	total := p.ActTotal
	if total == 0 {
		total = 60
	}
	if s.testS > total {
		s.test = NoTest
		s.spent = p.Rearm == "key_cycle" || p.Rearm == "engine_run"
		if p.Rearm == "engine_run" {
			s.engRan = false
		}
	}
}

// secondaryAir decides relay and solenoid.
func (s *State) secondaryAir(p *Spec, in *Inputs) {
	s.Pump, s.Sol = false, false
	if s.test != NoTest {
		period := p.ActOn + p.ActOff
		phase := s.testS
		for phase >= period {
			phase -= period
		}
		on := phase < p.ActOn
		s.Pump = on && s.test != TestSolenoid
		s.Sol = on && s.test != TestPump
		return
	}
	s.Heating = s.started && s.allowed && s.RunS < p.HeatEnd
	if !s.started || !s.allowed {
		return
	}
	run := s.RunS - p.AirDelay
	if run >= 0 && s.AirDone == 0 {
		if run >= s.airS || in.CoolantK > p.AirOffK || in.Throttle > 0.6 {
			s.AirDone = s.RunS
			return
		}
		s.Pump, s.Sol = true, true
	}
}

// fuelling commands the relative air-fuel ratio and turns metered air into fuel.
func (s *State) fuelling(p *Spec, in *Inputs) {
	m := &in.Air
	s.maf += float64((in.MafKgS - s.maf) * (in.Dt / (0.2 + in.Dt)))
	if !s.Fire {
		s.FuelRate = 0
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
	s.closed = in.SensorK > m.ReadyK && s.Lambda > 0.999 && !s.Pump && s.RunS > 20
	if s.closed {
		e := in.Lambda - 1
		push := e / m.TrimSoft
		s.Short += float64(in.Dt * m.TrimRate * min(max(push, -1), 1))
		s.Short = min(max(s.Short, -m.TrimMax), m.TrimMax)
		d := float64(in.Dt * m.LongRate * s.Short)
		s.Long += d
		s.Short -= d
		s.Long = min(max(s.Long, -m.TrimMax), m.TrimMax)
	} else {
		s.Short = 0
	}
	s.FuelRate = air / (in.AFR * s.Lambda) * (1 + s.Short + s.Long)
}

// circuits compares each low-side driver's pin with what it should be: battery when off, ground when on.
func (s *State) circuits(p *Spec, in *Inputs) {
	bad := func(i int, is bool) {
		m := &s.mon[i]
		if is {
			m.bad += in.Dt
		} else {
			m.bad = 0
		}
	}
	if !s.started && s.test == NoTest {
		return
	}
	open := func(on bool, v, feed float64, shut bool) (open, short bool) {
		if on {
			return false, shut
		}
		mid := v > 1.5 && v < 3.5
		return mid, v < 0.8 && feed > 8
	}
	po, ps := open(s.Pump, in.PumpPinV, in.SupplyV, in.PumpShut)
	bad(pumpCircuit, po || ps)
	if in.FuelV > 8 {
		so, ss := open(s.Sol, in.SolPinV, in.FuelV, in.SolShut)
		bad(solOpen, so)
		bad(solShort, ss)
	}
	if s.started {
		for _, i := range []int{pumpCircuit, solOpen, solShort} {
			s.mon[i].ran = true
			s.mon[i].failed = s.mon[i].failed || s.mon[i].bad > p.Debounce
		}
	}
}

// flow infers the secondary air from the oxygen signal during the cold run and judges its mean.
func (s *State) flow(p *Spec, in *Inputs) {
	if !s.Pump || !s.Sol || s.test != NoTest || in.SensorK < in.Air.ReadyK {
		return
	}
	s.judgeS += in.Dt
	if s.judgeS <= p.Settle || s.judgeS > p.Settle+p.Judge {
		return
	}
	s.flowSum += float64(in.Dt * (float64(in.Lambda*in.AFR*s.FuelRate) - s.maf))
	if s.judgeS+in.Dt > p.Settle+p.Judge {
		share := s.flowSum / p.Judge * 3600 / p.Expected
		lo, hi := &s.mon[flowLow], &s.mon[flowHigh]
		lo.ran, hi.ran, lo.everRan, hi.everRan = true, true, true, true
		lo.failed = lo.failed || share < p.LowFlow
		hi.failed = hi.failed || share > p.HighFlow
	}
}

// trips turns failures of this driving cycle into pending and stored codes.
func (s *State) trips(p *Spec, in *Inputs) {
	for i := range s.mon {
		m := &s.mon[i]
		if !m.failed || m.clean == 255 {
			continue
		}
		m.clean = 255 // counted for this cycle
		if m.pending && !m.stored {
			m.stored = true
			s.lampOn = true
		}
		if !m.pending && !m.stored {
			s.freeze(i, in)
		}
		m.pending = true
	}
}

// endOfCycle closes a driving cycle: a monitor that ran and passed withdraws its pending code, and three good cycles in a row put
// the lamp out.
func (s *State) endOfCycle() {
	lamp := false
	for i := range s.mon {
		m := &s.mon[i]
		switch {
		case m.failed:
			m.clean = 0
		case m.ran:
			m.pending = false
			if m.stored && m.clean < 3 {
				m.clean++
			}
		}
		if m.clean == 255 {
			m.clean = 0
		}
		lamp = lamp || m.stored && m.clean < 3
		m.failed, m.ran, m.bad = false, false, 0
	}
	s.lampOn = lamp
}
