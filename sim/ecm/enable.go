package ecm

// decide says at the start whether the secondary air may run, and for how long.
func (s *State) decide(p *Spec, in *Inputs) {
	e := &p.Enable
	s.allowed = len(e.Run) > 0 && in.CoolantK >= e.CoolantMinK && in.CoolantK <= e.CoolantMaxK &&
		in.IntakeK > e.IntakeMinK && (e.IntakeMaxK == 0 || in.IntakeK < e.IntakeMaxK) &&
		s.keyVolts > e.BatteryMin && (e.BatteryMax == 0 || s.keyVolts < e.BatteryMax)
	s.airS = e.runTime(in.CoolantK)
}

// runTime reads the curve at a coolant temperature in K.
func (e *Enable) runTime(coolantK float64) float64 {
	n := len(e.Run)
	if n == 0 {
		return 0
	}
	for i := 1; i < n; i++ {
		if a, b := e.Run[i-1], e.Run[i]; coolantK < b.CoolantK {
			x := (coolantK - a.CoolantK) / (b.CoolantK - a.CoolantK)
			return a.S + float64((b.S-a.S)*min(max(x, 0), 1))
		}
	}
	return e.Run[n-1].S
}

// secondaryAir decides relay and solenoid.
func (s *State) secondaryAir(p *Spec, in *Inputs) {
	s.Pump, s.Sol = false, false
	if s.test != NoTest {
		period := p.Actuator.OnS + p.Actuator.OffS
		phase := s.testS
		for phase >= period {
			phase -= period
		}
		on := phase < p.Actuator.OnS
		s.Pump = on && s.test != TestSolenoid
		s.Sol = on && s.test != TestPump
		return
	}
	s.Heating = s.started && s.allowed && s.RunS < p.HeatEnd
	if s.probing {
		s.Pump, s.Sol = true, true
		return
	}
	if !s.started || !s.allowed {
		return
	}
	run := s.RunS - p.Enable.DelayS
	if run < 0 || s.AirDone != 0 {
		return
	}
	if run >= s.airS || s.enough(&p.Enable, in) {
		s.AirDone = s.RunS
		return
	}
	s.Pump, s.Sol = true, run >= p.Pipe.TestS
}

// enough says whether the air stops before its time: the engine is warm, or works too hard for the air to matter.
func (s *State) enough(e *Enable, in *Inputs) bool {
	s.loadS += float32(in.Dt)
	if e.OffLoad == 0 || in.Load <= e.OffLoad {
		s.loadS = 0
	}
	return in.CoolantK > e.OffCoolantK || e.OffThrottle != 0 && in.Throttle > e.OffThrottle ||
		e.OffLoad != 0 && s.loadS > float32(e.OffLoadS)
}
