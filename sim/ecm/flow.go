package ecm

import "coldbay/sim/dmath"

// inferred is the secondary air of a bank in kg/s that its oxygen signal speaks of: all oxygen in the exhaust less what the engine drew. A narrow-band
// sensor tells only that there is more of it than the rich mixture uses up, which counts as all that is expected, or not.
func (s *State) inferred(p *Spec, in *Inputs, bank int) float64 {
	lambda := in.Lambda
	if bank == 1 {
		lambda = in.Lambda2
	}
	switch {
	case p.NarrowBand && lambda <= 1:
		return 0
	case p.NarrowBand:
		return p.Flow.Expected.at(in) / float64(max(in.Banks, 1))
	case in.Banks == 2:
		fuel := s.Fuel2
		if bank == 0 {
			fuel = s.FuelRate - s.Fuel2
		}
		return float64(lambda*in.AFR*fuel) - float64(s.maf/2)
	}
	return float64(lambda*in.AFR*s.FuelRate) - s.maf
}

// total is the secondary air of all banks.
func (s *State) total(p *Spec, in *Inputs) float64 {
	flow := s.inferred(p, in, 0)
	if in.Banks == 2 {
		flow += s.inferred(p, in, 1)
	}
	return flow
}

// at is what a sound system would give now, kg/s.
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
	return in.SensorK >= in.Air.ReadyK && (in.Banks != 2 || in.Sensor2K >= in.Air.ReadyK) && in.BaroPa >= f.BaroMinPa && in.SupplyV >= f.SupplyMin &&
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
	for bank := range max(in.Banks, 1) {
		s.flowSum[bank] += float64(in.Dt * s.inferred(p, in, bank))
	}
	s.hopeSum += float64(in.Dt * f.Expected.at(in))
	if s.judgeS+in.Dt <= f.SettleS+f.JudgeS {
		return
	}
	s.judged = true
	for bank := range max(in.Banks, 1) {
		s.judge(p, in, bank)
	}
	s.completed(didAir)
}

// judge compares a bank's mean flow with its part of what was expected.
func (s *State) judge(p *Spec, in *Inputs, bank int) {
	f := &p.Flow
	hopeSum := s.hopeSum / float64(max(in.Banks, 1))
	share := s.flowSum[bank] / hopeSum
	low, at := flowLow, resultFlow
	if bank == 1 {
		low, at = flowLow2, resultFlow2
	}
	s.verdict(low, share < f.Low)
	if p.Codes.FlowHigh != "" {
		s.verdict(flowHigh, share > f.High)
	}
	if p.NarrowBand {
		s.ownFile().results[at] = result{float32(100 * share), float32(100 * f.Low), 100}
		return
	}
	hope := hopeSum / f.JudgeS * 3600
	high := f.High
	if high == 0 {
		high = 4 // no upper limit: the most that the message can carry
	}
	s.ownFile().results[at] = result{float32(s.flowSum[bank] / f.JudgeS * 3600), float32(f.Low * hope), float32(high * hope)}
}

// after looks for air that goes on after the controller has stopped it: contacts welded and a valve that does not shut.
func (s *State) after(p *Spec, in *Inputs) {
	a := &p.Flow.After
	if a.DelayS == 0 || p.Codes.AirAfter == "" || s.AirDone == 0 || s.probing || s.RunS < s.AirDone+a.DelayS ||
		s.mon[airAfter].flags&ran != 0 || !p.Flow.judgeable(in) {
		return
	}
	limit := a.Share * p.Flow.Expected.at(in)
	flow := s.total(p, in)
	if flow > limit {
		s.leanS += float32(in.Dt)
	}
	if flow > limit && s.leanS < float32(a.LeanS) {
		return
	}
	s.verdict(airAfter, flow > limit)
	s.ownFile().results[resultAfter] = result{float32(flow * 3600), 0, float32(limit * 3600)}
}

// verdict is the outcome of a test that ends with one judgement in a driving cycle.
func (s *State) verdict(test int, bad bool) {
	m := &s.mon[test]
	m.flags |= ran
	if bad {
		m.flags |= failed
	}
}
