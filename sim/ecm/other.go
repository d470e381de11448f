package ecm

// The monitors that readiness speaks of, as bits of what has completed.
const (
	didAir uint8 = 1 << iota
	didCatalyst
	didSensor
	didHeater
)

func (s *State) completed(what uint8) {
	s.done |= what
	s.ready |= what
}

// others watches what belongs to the engine and not to the air: supply voltage, fuel trims at their limits, the oxygen sensor and its
// heater; the catalyst's monitor is only said to have run, since no car here has a worn one.
func (s *State) others(p *Spec, in *Inputs) {
	o := &p.Other
	if o.SupplyLowV > 0 {
		s.lasting(p, supplyLow, in.SupplyV < o.SupplyLowV, in.Dt, o.SupplyLowS)
	}
	if o.SensorS > 0 && s.done&didHeater == 0 {
		switch {
		case in.SensorK > in.Air.ReadyK:
			s.completed(didHeater)
			s.mon[sensorCold].flags |= ran
		case s.RunS > o.SensorS && p.Codes.Heater != "":
			s.completed(didHeater)
			s.verdict(sensorCold, true)
		}
	}
	if !s.closed || s.probing {
		for _, test := range [...]int{tooLean, tooRich, tooLean2, tooRich2} {
			s.mon[test].bad = 0
		}
		return
	}
	if o.TrimLimit > 0 {
		trim := s.Short + s.Long
		s.lasting(p, tooLean, trim > o.TrimLimit, in.Dt, o.TrimS)
		s.lasting(p, tooRich, trim < -o.TrimLimit, in.Dt, o.TrimS)
		if in.Banks == 2 {
			trim = s.Short2 + s.Long2
			s.lasting(p, tooLean2, trim > o.TrimLimit, in.Dt, o.TrimS)
			s.lasting(p, tooRich2, trim < -o.TrimLimit, in.Dt, o.TrimS)
		}
	}
	s.closedS += float32(in.Dt)
	if o.SensorRunS > 0 && s.closedS > float32(o.SensorRunS) {
		s.completed(didSensor)
	}
	if in.CatK > o.CatalystK {
		s.hotS += float32(in.Dt)
	}
	if o.CatalystS > 0 && s.hotS > float32(o.CatalystS) {
		s.completed(didCatalyst)
	}
}
