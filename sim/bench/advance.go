package bench

import "math"

// step lets n ticks pass: the world moves, instruments are sampled, what is unsafe takes its course. Quiet stretches, with no
// instrument in place and nothing running, are handed to the world in one piece.
func (l *Local) step(j *job, n int) {
	if n <= 0 {
		return
	}
	if l.quiet() {
		l.run(n)
		l.s.ticks += n
		l.airOut(n)
		if l.s.helper {
			l.s.helped += n
		}
		return
	}
	for i := range n {
		l.tick(j)
		if i%breath == breath-1 && l.cfg.Breathe != nil {
			l.cfg.Breathe()
		}
	}
}

// breath is the number of ticks between calls of Config.Breathe: a second.
const breath = 10

// run steps the world alone, in strides that let the program breathe. How a stretch is cut makes no difference to the world.
func (l *Local) run(n int) {
	if l.cfg.Breathe == nil {
		l.w.Step(n)
		return
	}
	for n > 0 {
		k := min(n, breath)
		l.w.Step(k)
		n -= k
		l.cfg.Breathe()
	}
}

// tick is one tick with everything watched.
func (l *Local) tick(j *job) {
	l.w.Step(1)
	l.s.ticks++
	if l.s.helper {
		l.s.helped++
	}
	l.sample()
	l.tickHazards(j)
}

// quiet says that nothing moves and nothing is being measured.
func (l *Local) quiet() bool {
	if l.w.KeyOn() || l.w.Running() || l.s.meter.mode != "" || l.s.lamp.red != "" || l.s.clamp.on != "" || l.s.hand.on != "" {
		return false
	}
	for i := range l.s.jumpers {
		if l.s.jumpers[i].from != "" {
			return false
		}
	}
	for _, m := range l.lay.motors {
		if l.w.PumpTone(m.id) > 1 {
			return false
		}
	}
	return true
}

func (l *Local) sample() {
	s := &l.s
	if s.meter.mode != "" {
		if r, ok := l.w.Instrument(slotMeter); ok {
			switch s.meter.mode {
			case modeVolts:
				s.meter.ring.push(r.Volts)
			case modeAmps:
				s.meter.ring.push(r.Amps)
			default:
				s.meter.ring.push(r.Ohms)
			}
		}
	}
	if s.lamp.red != "" {
		if r, ok := l.w.Instrument(slotLamp); ok {
			s.lamp.ring.push(math.Abs(float64(r.Volts * r.Amps)))
		}
	}
	if s.clamp.on != "" {
		if amps, err := l.w.Amps(l.lay.clamps[l.lay.clamp[s.clamp.on]].element); err == nil {
			s.clamp.ring.push(amps)
		}
	}
	if s.hand.on != "" {
		s.hand.follow(l.w.ToolVacuum())
	}
}

// spend lets a duration of the tariff pass.
func (l *Local) spend(j *job, seconds float64) { l.step(j, ticksOf(seconds)) }

// walk goes to a place: out to the middle of the bay and from there on.
func (l *Local) walk(j *job, to string) {
	if to == l.s.place || to == "" {
		return
	}
	from, fromOK := l.lay.place[l.s.place]
	dest, ok := l.lay.place[to]
	if !ok || !fromOK {
		return
	}
	l.step(j, l.lay.places[from].walk+l.lay.places[dest].walk)
	l.s.place = to
}

// byHelper walks only when there is no helper to do it.
func (l *Local) byHelper(j *job, to string) {
	if !l.s.helper {
		l.walk(j, to)
	}
}

// notice adds what nobody in the bay could miss: a pump starting to whine or falling silent, the engine catching or
// dying, the lamp and the temperature gauge for whoever sits at the dash. Only changes are told.
func (l *Local) notice(j *job) {
	n := &l.s.noticed
	running := l.w.Running()
	if word := engineWord(running); word != n.engine {
		n.engine = word
		j.see(Percept{Sense: Ear, Key: "engine", Of: "engine", Word: word})
	}
	if !running {
		n.rpm = 0
	}
	if near(l.s.place) || !running {
		for i, m := range l.lay.motors {
			on := l.w.PumpTone(m.id) > pumpAudible
			if on == n.pumps[i] {
				continue
			}
			n.pumps[i] = on
			word := "falls silent"
			if on {
				word = "whines"
			} else {
				n.rough = false
			}
			j.see(Percept{Sense: Ear, Key: "pump", Of: m.id, Word: word})
		}
	}
	if l.s.scan.actuator != "" && l.w.Testing() == "" {
		l.s.scan.actuator = ""
		l.line("test ended")
		j.see(Percept{Sense: Scan, Key: "actuator", Of: "test", Word: "ended"})
	}
	if l.s.place == placeDash && l.w.KeyOn() {
		l.noticeDash(j)
	}
	l.watchStems(j)
}

func (l *Local) noticeDash(j *job) {
	n := &l.s.noticed
	if lamp := l.w.Lamp(); lamp != n.lamp {
		n.lamp = lamp
		j.see(Percept{Sense: Eye, Key: "lamp", Of: placeDash, Word: onOff(lamp)})
	}
	if word := coolantWord(l.w.CoolantK()); word != n.coolant {
		n.coolant = word
		j.see(Percept{Sense: Eye, Key: "coolant", Of: placeDash, Word: word})
	}
}

// rev reads the rev counter, which stands still enough only to the next 50.
func (l *Local) rev(j *job) {
	rpm := int(math.Floor(l.w.Rpm()/50+0.5)) * 50
	l.s.noticed.rpm = rpm
	j.see(Percept{Sense: Eye, Key: "rpm", Of: placeDash, Value: float64(rpm), Unit: "rpm"})
}

func engineWord(running bool) string {
	if running {
		return engineRunning
	}
	return engineOff
}

func onOff(on bool) string {
	if on {
		return "on"
	}
	return "off"
}
