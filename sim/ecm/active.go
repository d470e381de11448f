package ecm

// probe is the active flow monitor. When the passive one could not run in this driving cycle, pump and valve are switched on for some
// seconds at warm idle in closed loop; the sensor must see the air and the short trim answer, in each bank its own. The trim soon stands at its limit, so
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
			s.probing, s.probeS, s.probeAt = true, 0, [2]float32{float32(s.Short), float32(s.Short2)}
		}
		return
	}
	if s.probeS < float32(a.OnS) {
		return
	}
	s.probing, s.tried = false, true
	rises := [2]float64{s.Short - float64(s.probeAt[0]), s.Short2 - float64(s.probeAt[1])}
	least := rises[0]
	for bank := range max(in.Banks, 1) {
		m := &s.mon[flowLow+bank]
		least = min(least, rises[bank])
		if rises[bank] < a.Rise {
			m.flags |= ran | failed | grossLoss
		} else if m.flags&grossLoss != 0 {
			m.flags |= ran
		}
	}
	s.completed(didAir)
	s.ownFile().results[resultAnswer] = result{float32(least * 100), float32(a.Rise * 100), 100}
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
