package ecm

import "coldbay/sim/scan"

// The in-use counters, in the state's order.
const (
	useConditions = iota
	useIgnitions
	useAirDone
	useAirMet
	useCatalystDone
	useCatalystMet
	useSensorDone
	useSensorMet
	inUseCount
)

// What a driving cycle has been counted for.
const (
	countedStart uint8 = 1 << iota
	countedConditions
	countedAir
	countedAirMet
	countedCatalyst
	countedSensor
)

// count keeps the in-use counters of 13 CCR 1968.2 (d)(4) and (d)(5) [conditions from memory]: a driving cycle counts when the engine has
// run for 600 s, 300 s of it driven and 30 s of it idling without a break, in weather and at a height that are not extreme; for the secondary air
// also only when the air was on for 10 s. Each counter rises once in a driving cycle, and not through erasing codes.
func (s *State) count(p *Spec, in *Inputs) {
	o := &p.Other
	dt := float32(in.Dt)
	switch {
	case in.Rpm < o.IdleRpm:
		s.idleS += dt
		s.longIdle = s.longIdle || s.idleS >= 30
	case in.Rpm > o.DriveRpm:
		s.driveS += dt
		s.idleS = 0
	default:
		s.idleS = 0
	}
	if s.Pump && !s.probing {
		s.blownS += dt
	}
	s.tally(countedStart, s.RunS >= 2, useIgnitions)
	s.tally(countedAir, s.done&didAir != 0, useAirDone)
	s.tally(countedCatalyst, s.done&didCatalyst != 0, useCatalystDone)
	s.tally(countedSensor, s.done&didSensor != 0, useSensorDone)
	met := s.RunS >= 600 && s.longIdle && s.driveS >= 300 && in.IntakeK >= o.CountMinK && in.BaroPa >= o.CountMinPa
	s.tally(countedAirMet, met && s.blownS >= 10, useAirMet)
	if met && s.counted&countedConditions == 0 {
		s.counted |= countedConditions
		for _, i := range [...]int{useConditions, useCatalystMet, useSensorMet} {
			s.raise(i)
		}
	}
}

func (s *State) tally(bit uint8, when bool, counter int) {
	if when && s.counted&bit == 0 {
		s.counted |= bit
		s.raise(counter)
	}
}

func (s *State) raise(counter int) {
	if s.inUse[counter] < 65535 {
		s.inUse[counter]++
	}
}

// InUse gives the in-use counters.
func (s *State) InUse() scan.InUse {
	at := func(done, met int) scan.InUseCount {
		return scan.InUseCount{Completed: s.inUse[done], Encountered: s.inUse[met]}
	}
	u := scan.InUse{Conditions: s.inUse[useConditions], Ignitions: s.inUse[useIgnitions], Air: at(useAirDone, useAirMet)}
	u.Catalyst[0], u.OxygenSensor[0] = at(useCatalystDone, useCatalystMet), at(useSensorDone, useSensorMet)
	return u
}
