package ecm

// The limits of 13 CCR 1968.2. Only the two-trip rule (d)(2.2) and the bulb check (d)(2.1.2) could be read; the others are from memory:
// lamp off after three good driving cycles (d)(2.3), a code erased after 40 warm-ups without the lamp (d)(2.4), a warm-up being a rise of
// the coolant by 40 degF to at least 160 degF.
const (
	goodCycles   = 3
	eraseWarmUps = 40
	warmRiseK    = 40.0 / 1.8
	warmK        = (160.0-32.0)/1.8 + 273.15
)

// monitor is one test's memory.
type monitor struct {
	bad   float32 // s that the fault has been there without a break
	flags uint16
	clean uint8 // good driving cycles in a row since the lamp was lit for it
	warm  uint8 // warm-ups since its lamp went out
}

// A monitor's flags. Those of thisCycle go when the next driving cycle begins.
const (
	failed    uint16 = 1 << iota // in this driving cycle
	ran                          // in this driving cycle
	counted                      // its failure in this driving cycle has been taken into account
	pending                      //
	stored                       // confirmed
	lit                          // lights the lamp
	permanent                    //
	grossLoss                    // found by the active flow monitor, which may therefore clear it
	thisCycle = failed | ran | counted
)

// trips turns failures of this driving cycle into pending and confirmed codes, at once, which is within the ten seconds of
// (d)(2.2.1). A second failure in the next driving cycle in which the test runs confirms.
func (s *State) trips(p *Spec) {
	for i := range s.mon {
		m := &s.mon[i]
		if m.flags&(failed|counted) != failed {
			continue
		}
		m.clean, m.warm = 0, 0
		again := m.flags&(pending|lit) != 0
		m.flags |= counted | pending
		if again {
			m.flags |= stored | lit | permanent
		}
		s.freeze(p, i, again)
	}
	if !s.warmed && s.seen.coolantK >= warmK && s.seen.coolantK-s.startK >= warmRiseK {
		s.warmed = true
		s.warmUp()
	}
}

// warmUp counts one warm-up cycle and erases what has long been gone.
func (s *State) warmUp() {
	if s.warmUps < 255 {
		s.warmUps++
	}
	for i := range s.mon {
		m := &s.mon[i]
		if m.flags&(stored|lit|pending) != stored {
			continue
		}
		if m.warm++; m.warm >= eraseWarmUps {
			m.flags &^= stored
			m.warm = 0
			s.thaw(i)
		}
	}
}

// endOfCycle closes a driving cycle: a test that ran and passed withdraws its pending code, three good cycles in a row put the lamp out
// and with it the permanent code; one that was left by an erasure goes with the first pass.
func (s *State) endOfCycle() {
	for i := range s.mon {
		m := &s.mon[i]
		if m.flags&ran == 0 || m.flags&failed != 0 {
			m.flags &^= thisCycle
			continue
		}
		m.flags &^= thisCycle | pending | grossLoss
		switch {
		case m.flags&lit != 0:
			if m.clean++; m.clean >= goodCycles {
				m.flags &^= lit | permanent
				m.clean = 0
			}
		case m.flags&stored == 0:
			m.flags &^= permanent
		}
		if m.flags&stored == 0 {
			s.thaw(i)
		}
	}
}

// Erase clears codes, freeze frame, monitor results and readiness; key on, engine off. Permanent codes and the in-use counters stay.
func Erase(s *State) error {
	if !s.key {
		return ErrKeyOff
	}
	if s.started {
		return ErrEngineRuns
	}
	for i := range s.mon {
		s.mon[i] = monitor{flags: s.mon[i].flags & permanent}
	}
	s.file = nil
	s.ready, s.warmUps = 0, 0
	return nil
}

// Kind is a list of codes.
type Kind uint8

// The lists of codes.
const (
	Confirmed Kind = iota
	Pending
	Permanent
)

var kindFlag = [...]uint16{stored, pending, permanent}

// listed says whether a test before this one has already put its code on a list.
func (s *State) listed(p *Spec, k Kind, test int) bool {
	for i := range test {
		if s.mon[i].flags&kindFlag[k] != 0 && p.Codes.of(i) == p.Codes.of(test) {
			return true
		}
	}
	return false
}

// LampCommanded says whether a confirmed fault lights the lamp.
func (s *State) LampCommanded() bool {
	for i := range s.mon {
		if s.mon[i].flags&lit != 0 {
			return true
		}
	}
	return false
}

// Lamp says whether the malfunction lamp is lit: for a confirmed fault, or as a bulb check for at least 15 s with the key on and the engine
// off (13 CCR 1968.2 (d)(2.1.2)).
func (s *State) Lamp() bool { return s.key && (s.LampCommanded() || s.bulb && !s.started) }

// Ready says whether the secondary air monitor has run since the codes were erased.
func (s *State) Ready() bool { return s.ready&didAir != 0 }
