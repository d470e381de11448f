package ecm

// probe is the active flow monitor. When the passive one could not run in this driving cycle, pump and valve are switched on for some
// seconds at warm idle in closed loop; the sensor must see the air and the short trim answer. The trim soon stands at its limit, so
// that only a gross loss shows. Its failure counts like the passive one's; its pass says nothing about a failure that only the passive one can see.
func (s *State) probe(p *Spec, in *Inputs) {
	a := &p.Active
	if a.OnS == 0 || s.tried || s.judged {
		return
	}
	if s.Pump && !s.probing || !s.closed || in.CoolantK < a.CoolantK || in.Rpm > a.RpmMax || !p.Flow.fit(in) || s.circuitFailed() {
		s.probing, s.probeS = false, 0
		return
	}
	s.probeS += float32(in.Dt)
	if !s.probing {
		if s.probeS > float32(a.WaitS) {
			s.probing, s.probeS, s.probeAt = true, 0, float32(s.Short)
		}
		return
	}
	if s.probeS < float32(a.OnS) {
		return
	}
	s.probing, s.tried = false, true
	rise := s.Short - float64(s.probeAt)
	for bank := range max(in.Banks, 1) {
		m := &s.mon[flowLow+bank]
		if rise < a.Rise {
			m.flags |= ran | failed | grossLoss
		} else if m.flags&grossLoss != 0 {
			m.flags |= ran
		}
	}
	s.completed(didAir)
	s.results[resultAnswer] = result{float32(rise * 100), float32(a.Rise * 100), 100}
}

// fit says whether supply and outside pressure allow a flow to be judged.
func (f *Flow) fit(in *Inputs) bool { return in.BaroPa >= f.BaroMinPa && in.SupplyV >= f.SupplyMin }

func (s *State) circuitFailed() bool {
	for i := pumpOpen; i <= solDead; i++ {
		if s.mon[i].flags&failed != 0 {
			return true
		}
	}
	return false
}
