package ecm

// Step runs the controller's tasks once, at the bench's tick.
func Step(p *Spec, s *State, in *Inputs) {
	s.see(in)
	if !in.Key || in.SupplyV < 6 && !in.Crank {
		if s.started {
			s.endOfCycle()
		}
		s.off()
		return
	}
	if !s.key {
		s.key, s.keyS = true, 0
		s.keyVolts = in.SupplyV
		if p.Actuator.Rearm == keyCycle {
			s.spent = false
		}
	}
	s.keyS += in.Dt
	if s.keyS < 0.35 {
		// The battery is judged before cranking, with the loads of key-on settled.
		s.keyVolts = in.SupplyV
	}
	s.bulb = p.BulbS == 0 || s.keyS < p.BulbS
	s.cranking(p, in)
	s.testing(p, in)
	s.secondaryAir(p, in)
	s.fuelling(p, in)
	if s.started {
		s.circuits(p, in)
		s.flow(p, in)
		s.after(p, in)
		s.pipe(p, in)
		s.probe(p, in)
		s.others(p, in)
		s.trips(p)
		s.count(p, in)
	}
	s.Fuel = s.keyS < p.Prime || in.Rpm > 30 || s.test != NoTest
}

// see keeps what a scan tool may ask for.
func (s *State) see(in *Inputs) {
	s.hasPump, s.hasSol = in.HasPump, in.HasSol
	s.seen = seen{rpm: in.Rpm, coolantK: in.CoolantK, intakeK: in.IntakeK, mapPa: in.MapPa, baroPa: in.BaroPa, throttle: in.Throttle,
		load: in.Load, supplyV: in.SupplyV, lambda: [2]float64{1, 1}, catK: [2]float64{in.CatK, in.Cat2K}, oxygenV: [2]float32{float32(in.OxygenV[0]), float32(in.OxygenV[1])}}
	s.banks = uint8(max(in.Banks, 1))
	if in.SensorK > in.Air.ReadyK {
		s.seen.lambda[0] = in.Lambda
	}
	if in.Sensor2K > in.Air.ReadyK {
		s.seen.lambda[1] = in.Lambda2
	}
}

func (s *State) off() {
	s.key, s.started, s.Fuel, s.Fire, s.Pump, s.Sol, s.Heating = false, false, false, false, false, false, false
	s.RunS, s.crankS, s.FuelRate, s.Fuel2, s.maf, s.test, s.closed = 0, 0, 0, 0, 0, NoTest, false
	s.allowed, s.AirDone, s.probing = false, 0, false
}

// cranking follows the engine's start and stop. A driving cycle begins with the one and ends with the other.
func (s *State) cranking(p *Spec, in *Inputs) {
	if in.Crank {
		s.crankS += in.Dt
	} else if !s.started {
		s.crankS = 0
	}
	s.Fire = s.Fire && in.Rpm > 60 || s.crankS >= p.FireS-1e-9
	if !s.started && s.Fire && in.Rpm > p.StartRpm {
		s.started = true
		s.test = NoTest
		if p.Actuator.Rearm == engineRun {
			s.spent = false
		}
		s.newCycle(in)
		s.decide(p, in)
	}
	if s.started {
		s.RunS += in.Dt
		if in.Rpm < 100 {
			s.endOfCycle()
			s.started, s.RunS, s.Fire, s.probing = false, 0, false, false
		}
	}
}

// newCycle forgets what belonged to the driving cycle before.
func (s *State) newCycle(in *Inputs) {
	s.RunS, s.AirDone, s.startK = 0, 0, in.CoolantK
	s.warmed, s.judged, s.tried, s.probing, s.done, s.counted = false, false, false, false, 0, 0
	s.judgeS, s.flowSum, s.hopeSum = 0, [2]float64{}, 0
	s.piped, s.shutPa = 0, 0
	s.loadS, s.leanS, s.probeS, s.closedS, s.hotS, s.idleS, s.driveS, s.blownS = 0, 0, 0, 0, 0, 0, 0, 0
	s.longIdle = false
	for i := range s.mon {
		s.mon[i].flags &^= thisCycle
		s.mon[i].bad = 0
	}
}
