package bench

// doKey turns the key on or off. Off stops a running engine too.
func (l *Local) doKey(j *job) error {
	on, err := j.switched(l.w.KeyOn(), "the key is on already", "the key is off already")
	if err != nil {
		return err
	}
	l.byHelper(j, placeDash)
	if !on {
		l.shutOff()
		l.spend(j, l.tar.Seconds.Key)
		return nil
	}
	l.w.SetKey(true)
	l.spend(j, l.tar.Seconds.Key)
	l.tellLamp(j)
	return nil
}

func (l *Local) shutOff() {
	l.w.HoldSpeed(0)
	l.s.hold = 0
	l.w.SetKey(false)
	l.s.scan.actuator = ""
}

func (l *Local) tellLamp(j *job) {
	l.s.noticed.lamp = l.w.Lamp()
	j.see(Percept{Sense: Eye, Key: "lamp", Of: placeDash, Word: onOff(l.s.noticed.lamp)})
}

// doStart turns the key and cranks until the engine runs, at most as long as a starter may.
func (l *Local) doStart(j *job) error {
	if l.s.noticed.engine == engineRunning {
		return j.no("the engine is running")
	}
	if l.s.scan.actuator != "" {
		return j.no("the actuator test is on; switch it off first")
	}
	l.byHelper(j, placeDash)
	if !l.w.KeyOn() {
		l.w.SetKey(true)
		l.spend(j, l.tar.Seconds.Key)
		l.tellLamp(j)
	}
	l.w.SetStarter(true)
	most, cranked := ticksOf(l.tar.Seconds.CrankMax), 0
	for ; cranked < most && !l.w.Running(); cranked++ {
		l.tick(j)
	}
	l.w.SetStarter(false)
	l.step(j, 10)
	word := "starts"
	if !l.w.Running() {
		word = "does not start"
	}
	l.s.noticed.engine = engineWord(l.w.Running())
	j.see(Percept{Sense: Ear, Key: "start", Of: "engine", Word: word})
	if l.w.Running() {
		l.openPorts(j)
	}
	if l.w.Running() && (l.s.place == placeDash || l.s.helper) {
		l.rev(j)
	}
	return nil
}

func (l *Local) doStop(j *job) error {
	if l.s.noticed.engine != engineRunning {
		return j.no("the engine is not running; the key can be turned off with: key off")
	}
	l.byHelper(j, placeDash)
	l.shutOff()
	l.spend(j, l.tar.Seconds.Key)
	l.step(j, 20) // it runs down
	return nil
}

// doHold holds a speed with the pedal; 0 lets it idle.
func (l *Local) doHold(j *job) error {
	if l.s.noticed.engine != engineRunning {
		return j.no("the engine is not running; start it first")
	}
	if j.a.N != 0 && (j.a.N < 1000 || j.a.N > 4000) {
		return j.no("hold a speed of 1000 to 4000 rpm, or 0 for idle")
	}
	l.byHelper(j, placeDash)
	l.w.HoldSpeed(j.a.N)
	l.s.hold = j.a.N
	l.spend(j, l.tar.Seconds.Hold)
	l.rev(j)
	return nil
}

// doWatch lets time pass and reads every instrument in view at the end. When ctx ends it stops at a whole tick; the ledger then holds
// the time it really took, so that a replay does the same.
func (l *Local) doWatch(j *job) error {
	if j.a.N < perTick || j.a.N > 3600 {
		return j.no("watch for how long? 0.1 to 3600 seconds")
	}
	n := ticksOf(j.a.N)
	j.a.N = secs(n)
	if l.quiet() {
		l.step(j, n)
	} else {
		done := 0
		for ; done < n && !j.cut && (done == 0 || j.ctx.Err() == nil); done++ {
			l.tick(j)
		}
		j.a.N = secs(done)
	}
	l.readAll(j)
	if l.s.place == placeDash && l.w.Running() {
		l.rev(j)
	}
	if l.s.scan.plugged && len(l.s.scan.data) > 0 && l.w.KeyOn() {
		return l.readData(j, l.s.scan.data)
	}
	return nil
}

// bare refuses what can only be done with a car put together again and nothing hanging on it.
func (l *Local) bare(j *job, whatFor string) error {
	switch {
	case l.s.meter.mode != "":
		return j.no("take the meter off before %s", whatFor)
	case l.s.clamp.on != "":
		return j.no("take the clamp off before %s", whatFor)
	case l.s.lamp.red != "":
		return j.no("take the test lamp off before %s", whatFor)
	case l.s.hand.on != "":
		return j.no("take the hand pump off before %s", whatFor)
	}
	for _, jp := range l.s.jumpers {
		if jp.from != "" {
			return j.no("take the jumper lead %s %s off before %s", jp.from, jp.to, whatFor)
		}
	}
	return nil
}

// doSoak leaves the car standing overnight. Helper and extraction go; the scan tool stays home.
func (l *Local) doSoak(j *job) error {
	if l.w.KeyOn() {
		return j.no("turn the key off before the car is left for the night")
	}
	if err := l.bare(j, "the car is left for the night"); err != nil {
		return err
	}
	l.spend(j, l.tar.Seconds.SoakBench)
	l.night()
	j.f.Cost += l.tar.Prices.Night
	return nil
}

func (l *Local) night() {
	l.w.Soak(l.tar.Prices.NightHours)
	l.s.calendar += float64(l.tar.Prices.NightHours * 3600)
	l.s.place, l.s.helper, l.s.extract = placeFront, false, false
	l.s.scan = scanState{}
	l.s.noticed.engine, l.s.noticed.rpm = engineOff, 0
	l.s.hazard.co, l.s.hazard.coSaid = 0, false
}
