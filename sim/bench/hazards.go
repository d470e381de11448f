package bench

// Limits at which an unsafe act shows. Temperatures in K.
const (
	leadHotK   = 353 // too hot to hold: above the burn threshold of plastics touched for a second (from memory, ISO 13732-1)
	leadSoftK  = 433 // PVC melts and runs off the copper (from memory)
	leadGlowK  = 798 // first dull red: the Draper point (from memory)
	skinBurnK  = 338 // bare metal burns within a second from about 65 degC (from memory, ISO 13732-1)
	pumpHotK   = 403 // winding class B, 130 degC (from memory, IEC 60085)
	arcAmps    = 200 // more than any load of the car but the starter draws: a short circuit with an arc [practice]
	coTicks    = 180 * 10
	coGrave    = 420 * 10
	coClearing = 2 // aired twice as fast as filled [invented]
)

// tickHazards watches what can go wrong within a tick.
func (l *Local) tickHazards(j *job) {
	for i := range l.s.jumpers {
		if l.s.jumpers[i].from != "" {
			l.tickLead(j, i)
		}
	}
	for i, m := range l.lay.motors {
		if !l.s.hazard.hotPump[i] && l.w.MotorK(m.id) > pumpHotK {
			l.s.hazard.hotPump[i] = true
			j.hurt("pump_overheated", m.id, false)
			j.see(Percept{Sense: Nose, Key: "smell", Of: m.place, Word: "hot varnish"})
		}
	}
	if l.w.Running() && !l.s.extract {
		l.fumes(j)
	} else {
		l.airOut(1)
	}
}

func (l *Local) tickLead(j *job, i int) {
	jp := &l.s.jumpers[i]
	r, ok := l.w.Instrument(slotJumper + i)
	if !ok {
		return
	}
	of := jp.from + "/" + jp.to
	if r.FuseBlown {
		if !jp.blown {
			jp.blown = true
			j.see(Percept{Sense: Eye, Key: "lead", Of: of, Word: "fuse blown"})
			j.f.Cost += l.tar.Prices.JumperFuse
		}
		return
	}
	switch {
	case r.LeadK >= leadGlowK:
		j.hurt("lead_glows", of, true)
		j.see(Percept{Sense: Eye, Key: "lead", Of: of, Word: "glows and burns through"})
		j.f.Cost += l.tar.Prices.JumperLead
		l.w.Detach(slotJumper + i)
		*jp = jumperState{}
	case r.LeadK >= leadSoftK && jp.state != leadSoft:
		jp.state = leadSoft
		j.hurt("lead_melts", of, true)
		j.see(Percept{Sense: Eye, Key: "lead", Of: of, Word: "softens and smokes"})
	case r.LeadK >= leadHotK && jp.state == "":
		jp.state = leadHot
		j.hurt("lead_hot", of, false)
		j.see(Percept{Sense: Nose, Key: "lead", Of: of, Word: "smells hot"})
	}
}

// States of a jumper lead that shows what it carries.
const (
	leadHot  = "hot"
	leadSoft = "soft"
)

// fumes adds a tick of exhaust to the bay. First the head aches; later the engine is shut off and the bay aired, which the body
// insists on.
func (l *Local) fumes(j *job) {
	h := &l.s.hazard
	h.co++
	if h.co >= coTicks && !h.coSaid {
		h.coSaid = true
		j.hurt("co", l.s.place, false)
		j.see(Percept{Sense: Nose, Key: "fumes", Of: l.s.place, Word: "headache"})
	}
	if h.co >= coGrave {
		j.hurt("co", l.s.place, true)
		j.see(Percept{Sense: Nose, Key: "fumes", Of: l.s.place, Word: "faint and giddy; engine shut off, doors open"})
		l.w.HoldSpeed(0)
		l.s.hold = 0
		l.w.SetKey(false)
		h.co, h.coSaid = 0, false
		n := ticksOf(l.tar.Seconds.Air)
		l.run(n)
		l.s.ticks += n
		j.cut = true
	}
}

func (l *Local) airOut(n int) {
	h := &l.s.hazard
	h.co = max(0, h.co-coClearing*n)
	if h.co == 0 {
		h.coSaid = false
	}
}

// finishHazards looks once an action is over for what is slower than a tick or shows only afterwards.
func (l *Local) finishHazards(j *job) {
	for i, d := range l.lay.drivers {
		if l.s.hazard.dead[i] {
			continue
		}
		if dead, err := l.w.Param(d, "dead"); err == nil && dead > 0.5 {
			l.s.hazard.dead[i] = true
			j.hurt("driver_killed", d, true)
		}
	}
}

// burn is what happens to bare hands on the exhaust.
func (l *Local) burn(j *job, of string) {
	if l.w.ExhaustPartK() > skinBurnK {
		j.hurt("burn", of, true)
		j.see(Percept{Sense: Hand, Key: "heat", Of: of, Word: "burns"})
	}
}

// openPorts warns of hot exhaust blowing out where a part is off while the engine turns.
func (l *Local) openPorts(j *job) {
	for i, p := range l.lay.parts {
		if p.hot && l.s.parts[i] {
			j.hurt("open_port", p.id, true)
			j.see(Percept{Sense: Ear, Key: "exhaust", Of: p.id, Word: "hot exhaust blows out of the open port"})
		}
	}
}
