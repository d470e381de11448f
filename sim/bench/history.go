package bench

import (
	"fmt"

	"coldbay/sim"
	"coldbay/sim/units"
)

// arrive builds the world of this session and lets it live through the order's history, so that codes, freeze frame, battery and
// reservoir are what the fault would have left.
func (l *Local) arrive() error {
	o, truth := l.cfg.Order, l.cfg.truth()
	air, err := units.StandardAtmosphere(o.Conditions.AltitudeM)
	if err != nil {
		return err
	}
	cond := sim.Conditions{AmbientK: o.Conditions.AmbientC + 273.15, AmbientPa: air.Pressure, Draw: truth.Draw}
	var faults []sim.FaultChoice
	members, err := l.cfg.Car.Members(truth.Fault)
	if err != nil {
		return err
	}
	if len(members) > 0 {
		severity := truth.Severity
		if severity == 0 {
			severity = 1
		}
		faults = append(faults, sim.FaultChoice{ID: truth.Fault, Severity: severity})
	}
	if l.w, err = sim.New(l.cfg.Car, cond, faults...); err != nil {
		return err
	}
	for i, e := range o.History {
		for range max(1, e.Times) {
			if err := l.live(e); err != nil {
				return fmt.Errorf("history event %d (%s): %w", i+1, e.Do, err)
			}
		}
		if err := l.w.Err(); err != nil {
			return fmt.Errorf("history event %d (%s): %w", i+1, e.Do, err)
		}
	}
	if len(o.History) > 0 {
		l.w.Soak(l.tar.Prices.NightHours)
	}
	l.s.noticed.coolant = coolantWord(l.w.CoolantK())
	return nil
}

// Lengths of what is simulated before the trainee gets the car, ticks [practice].
const (
	idleAfterStart = 150 * 10 // covers the run of the air pump and the flow monitor
	idleWarm       = 30 * 10
	driveRpm       = 2200
)

func (l *Local) live(e HistoryEvent) error {
	switch e.Do {
	case "": // told, not lived
	case "cold_start":
		l.w.Soak(l.tar.Prices.NightHours)
		l.trip(0)
	case "drive":
		l.trip(e.Minutes)
	case "key_on":
		l.w.SetKey(true)
		l.run(50)
		l.w.SetKey(false)
		l.run(50)
	case "erase":
		l.w.SetKey(true)
		l.run(20)
		if err := l.w.EraseCodes(); err != nil {
			return err
		}
		l.w.SetKey(false)
		l.run(50)
	case "repair":
		return l.w.RepairUnit(e.Unit)
	case "wear":
		return l.w.Use(e.Hours, e.Wet)
	case "wait":
		l.w.Soak(e.Hours)
	default:
		return fmt.Errorf("unknown event %q", e.Do)
	}
	return nil
}

// trip is a start, an idle, minutes at speed, and the key off: one driving cycle to the controller.
func (l *Local) trip(minutes float64) {
	l.w.SetKey(true)
	l.run(ticksOf(l.tar.Seconds.Key))
	l.w.SetStarter(true)
	for t := 0; t < ticksOf(l.tar.Seconds.CrankMax) && !l.w.Running(); t++ {
		l.run(1)
	}
	l.w.SetStarter(false)
	if minutes == 0 {
		l.run(idleAfterStart)
	} else {
		l.run(idleWarm)
		l.w.HoldSpeed(driveRpm)
		l.run(ticksOf(minutes * 60))
		l.w.HoldSpeed(0)
		l.run(idleWarm)
	}
	l.w.SetKey(false)
	l.run(50)
}
