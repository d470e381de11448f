package ecm

// The stages of the pipe monitor in a driving cycle.
const (
	pipeWaits uint8 = iota
	pipeShutJudged
	pipeOpenJudged
	pipeRestJudged
)

// pipe is the monitor of a pressure sensor between pump and valve. A run begins with the pump alone: against the shut valve it must build pressure, less if
// the valve stands open, none if it does not turn. When the valve opens, the pressure must fall; when all is over, it must be gone.
func (s *State) pipe(p *Spec, in *Inputs) {
	c := &p.Pipe
	if c.TestS == 0 || !in.HasPipe {
		return
	}
	// A blower's head goes with the density of its air.
	gauge := (in.PipePa - in.BaroPa) * (101325 / in.BaroPa)
	if c.RangePa > 0 {
		s.lasting(p, pipeRange, gauge > c.RangePa || gauge < -c.RangePa, in.Dt, p.Circuit.DebounceS)
		if s.mon[pipeRange].flags&failed != 0 {
			return
		}
	}
	if !s.allowed || !p.Flow.fit(in) {
		return
	}
	run := s.RunS - p.Enable.DelayS
	switch {
	case s.piped == pipeWaits && s.Pump && run >= c.TestS:
		s.piped = pipeShutJudged
		s.shutPa = float32(gauge)
		s.verdict(pumpOff, gauge < c.OffPa)
		if gauge >= c.OffPa {
			s.verdict(valveOpen, gauge < c.ShutPa)
		}
		s.ownFile().results[resultShut] = result{float32(gauge / 1000), float32(c.ShutPa / 1000), 100}
	case s.piped == pipeShutJudged && s.Pump && s.Sol && run >= c.TestS+c.SettleS:
		s.piped = pipeOpenJudged
		if float64(s.shutPa) < c.ShutPa {
			return // a fall from there says nothing
		}
		limit := c.OpenPart * float64(s.shutPa)
		s.verdict(valveShut, gauge > limit)
		s.ownFile().results[resultOpen] = result{float32(gauge / 1000), 0, float32(limit / 1000)}
	case s.piped != pipeRestJudged && s.AirDone != 0 && s.RunS >= s.AirDone+c.SettleS:
		s.piped = pipeRestJudged
		s.verdict(pumpOn, gauge > c.RestPa)
	}
}
