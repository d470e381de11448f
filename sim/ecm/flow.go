package ecm

import "coldbay/sim/dmath"

// inferred is the secondary air in kg/s that the oxygen signal speaks of: all oxygen in the exhaust less what the engine drew.
func (s *State) inferred(in *Inputs) float64 { return float64(in.Lambda*in.AFR*s.FuelRate) - s.maf }

// expected is what a sound system would give now, kg/s.
func (x *Expected) at(in *Inputs) float64 {
	e := x.KgH / 3600
	if x.BaroExp != 0 {
		e *= dmath.Pow(in.BaroPa/x.BaroPa, x.BaroExp)
	}
	if x.IntakeEx != 0 {
		e *= dmath.Pow(in.IntakeK/x.IntakeK, x.IntakeEx)
	}
	if x.SupplyEx != 0 {
		e *= dmath.Pow(max(in.SupplyV, 1)/x.SupplyV, x.SupplyEx)
	}
	return e
}

// judgeable says whether the conditions are such that the inferred flow means anything.
func (f *Flow) judgeable(in *Inputs) bool {
	return in.SensorK >= in.Air.ReadyK && in.BaroPa >= f.BaroMinPa && in.SupplyV >= f.SupplyMin &&
		(f.RpmMax == 0 || in.Rpm < f.RpmMax) && (f.LoadMax == 0 || in.Load < f.LoadMax)
}

// flow infers the secondary air from the oxygen signal during the cold run, in normal operation as 13 CCR 1968.2 (e)(5.2.3) wants it
// (clause seen, its content from memory), and judges its mean against what the conditions let expect.
func (s *State) flow(p *Spec, in *Inputs) {
	f := &p.Flow
	if s.judged || p.Codes.FlowLow == "" || !s.Pump || in.HasSol && !s.Sol || s.probing || !f.judgeable(in) {
		return
	}
	s.judgeS += in.Dt
	if s.judgeS <= f.SettleS {
		return
	}
	s.flowSum += float64(in.Dt * s.inferred(in))
	s.hopeSum += float64(in.Dt * f.Expected.at(in))
	if s.judgeS+in.Dt <= f.SettleS+f.JudgeS {
		return
	}
	s.judged = true
	share := s.flowSum / s.hopeSum
	s.verdict(flowLow, share < f.Low)
	if p.Codes.FlowHigh != "" {
		s.verdict(flowHigh, share > f.High)
	}
	s.completed(didAir)
	hope := s.hopeSum / f.JudgeS * 3600
	high := f.High
	if high == 0 {
		high = 4 // no upper limit: the most that the message can carry
	}
	s.results[resultFlow] = result{true, float32(s.flowSum / f.JudgeS * 3600), float32(f.Low * hope), float32(high * hope)}
}

// after looks for air that goes on after the controller has stopped it: contacts welded and a valve that does not shut.
func (s *State) after(p *Spec, in *Inputs) {
	a := &p.Flow.After
	if a.DelayS == 0 || p.Codes.AirAfter == "" || s.AirDone == 0 || s.probing || s.RunS < s.AirDone+a.DelayS ||
		s.mon[airAfter].flags&ran != 0 || !p.Flow.judgeable(in) {
		return
	}
	limit := a.Share * p.Flow.Expected.at(in)
	flow := s.inferred(in)
	if flow > limit {
		s.leanS += float32(in.Dt)
	}
	if flow > limit && s.leanS < float32(a.LeanS) {
		return
	}
	s.verdict(airAfter, flow > limit)
	s.results[resultAfter] = result{true, float32(flow * 3600), 0, float32(limit * 3600)}
}

// verdict is the outcome of a test that ends with one judgement in a driving cycle.
func (s *State) verdict(test int, bad bool) {
	m := &s.mon[test]
	m.flags |= ran
	if bad {
		m.flags |= failed
	}
}
