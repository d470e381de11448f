package bench

// doRepair replaces a unit with a part, or mends it, as the unit says. What belongs to it is put back in place, so a hose that the
// trainee had pulled off is on again, and a part that was off is on the car.
func (l *Local) doRepair(j *job) error {
	i, err := j.oneOf(l.lay.unit, j.a.On, "unit to repair", l.lay.UnitIDs())
	if err != nil {
		return err
	}
	u := l.lay.units[i]
	want := "replace"
	if u.mend {
		want = "mend"
	}
	if j.a.Mode == "" {
		j.a.Mode = want
	}
	if j.a.Mode != want {
		return j.no("%s: one can only %s it", u.name, want)
	}
	if l.w.KeyOn() {
		return j.no("turn the key off before a repair")
	}
	if err := l.bare(j, "a repair"); err != nil {
		return err
	}
	place := l.unitPlace(u)
	l.walk(j, place)
	if l.hotPart(place) != nil && u.minutes >= 30 {
		l.burn(j, u.id)
	}
	was, err := l.whereEnds()
	if err != nil {
		return err
	}
	l.step(j, u.minutes*600)
	j.f.Cost += u.price
	if err := l.w.RepairUnit(u.id); err != nil {
		return err
	}
	for k, p := range l.lay.parts {
		if p.unit == u.id && l.s.parts[k] {
			l.s.parts[k] = false
			if err := l.setPart(p, false); err != nil {
				return err
			}
		}
	}
	return l.sawRefit(u.id, was)
}

type endAt struct {
	at      string
	plugged bool
}

func (l *Local) whereEnds() ([]endAt, error) {
	list := make([]endAt, len(l.lay.ends))
	for i, e := range l.lay.ends {
		at, plugged, err := l.w.HoseEndAt(e.id)
		if err != nil {
			return nil, err
		}
		list[i] = endAt{at, plugged}
	}
	return list, nil
}

// sawRefit brings what the trainee believes of the hoses up to date after a repair: those of the unit, and any end that the repair
// moved, were in the hands.
func (l *Local) sawRefit(unit string, was []endAt) error {
	now, err := l.whereEnds()
	if err != nil {
		return err
	}
	for i, e := range l.lay.ends {
		if l.lay.hoses[e.hose].unit == unit || now[i] != was[i] {
			l.s.ends[i] = endState{at: now[i].at, plugged: now[i].plugged}
		}
	}
	for i, p := range l.lay.ports {
		if end, _, err := l.w.PortHas(p.id); err == nil && end != "" {
			l.s.plugged[i] = false
		}
	}
	return nil
}

// unitPlace is where one works on a unit: the place that the car names, or where its part or hose is.
func (l *Local) unitPlace(u unit) string {
	if u.place != "" {
		return u.place
	}
	for _, p := range l.lay.parts {
		if p.unit == u.id {
			return p.place
		}
	}
	for _, h := range l.lay.hoses {
		if h.unit == u.id {
			return l.lay.ends[h.ends[1]].place
		}
	}
	return placeFront
}

// doDrive verifies: the car stands overnight, is started cold with the monitor watching, is driven, and comes back. Reported are
// the lamp, and where there is a scan tool, the codes and whether the monitor has run.
func (l *Local) doDrive(j *job) error {
	if l.w.KeyOn() {
		return j.no("turn the key off before the car is left for the night")
	}
	if err := l.bare(j, "the drive"); err != nil {
		return err
	}
	for i, e := range l.lay.ends {
		if l.s.ends[i].at == "" {
			return j.no("%s is not on; fit it first", e.name)
		}
	}
	for i, c := range l.lay.connectors {
		if l.s.connectors[i] {
			return j.no("%s is open; close it first", c.name)
		}
	}
	for i, p := range l.lay.parts {
		if l.s.parts[i] {
			return j.no("%s is off; refit it first", p.name)
		}
	}
	hadScan := l.s.scan.plugged
	l.spend(j, l.tar.Seconds.SoakBench)
	l.night()
	j.f.Cost += l.tar.Prices.Night
	l.s.place, l.s.extract = placeDash, true // on the forecourt and on the road there is air enough
	defer func() { l.s.extract = false }()
	return l.driveOff(j, hadScan)
}

func (l *Local) driveOff(j *job, hadScan bool) error {
	l.w.SetKey(true)
	l.spend(j, l.tar.Seconds.Key)
	l.w.SetStarter(true)
	for t := 0; t < ticksOf(l.tar.Seconds.CrankMax) && !l.w.Running(); t++ {
		l.tick(j)
	}
	l.w.SetStarter(false)
	if !l.w.Running() {
		l.w.SetKey(false)
		l.step(j, 20)
		j.see(Percept{Sense: Ear, Key: "start", Of: "engine", Word: "does not start"})
		return nil
	}
	j.see(Percept{Sense: Ear, Key: "start", Of: "engine", Word: "starts"})
	l.run(idleAfterStart)
	l.s.ticks += idleAfterStart
	if rest := ticksOf(l.tar.Seconds.Drive) - idleAfterStart; rest > 0 {
		l.w.HoldSpeed(driveRpm)
		l.run(rest)
		l.s.ticks += rest
		l.w.HoldSpeed(0)
	}
	l.step(j, idleWarm)
	l.tellLamp(j)
	// Codes are read after the key has been off: a pending code is withdrawn at the end of the driving cycle that passed.
	l.shutOff()
	l.step(j, 30)
	l.w.SetKey(true)
	l.spend(j, l.tar.Seconds.Key)
	if hadScan || l.cfg.Order.Allows(ToolScan) && l.lay.scanPort {
		for _, pending := range []bool{false, true} {
			codes, err := l.readCodes(pending)
			if err != nil {
				return err
			}
			of := "stored"
			if pending {
				of = "pending"
			}
			l.tellCodes(j, codes, of)
		}
		if err := l.tellReadiness(j); err != nil {
			return err
		}
	}
	l.shutOff()
	l.step(j, 20)
	for i := range l.s.noticed.pumps {
		l.s.noticed.pumps[i] = l.w.PumpTone(l.lay.motors[i].id) > pumpAudible
	}
	l.s.noticed.engine, l.s.noticed.rpm = engineWord(l.w.Running()), 0
	l.s.scan = scanState{}
	return nil
}
