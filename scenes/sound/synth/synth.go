package synth

import "math"

// Synth renders what was published last. Publish belongs to one goroutine, Render and Gate to another.
type Synth struct {
	in    exchange
	heard [Events]uint32 // counters that have sounded
	scene uint64
	begun bool // a block was taken

	noise  noise
	sines  sines
	pump   pumpVoice
	engine engineVoice
	hiss   hissVoice
	relay  clickVoice
	sol    clickVoice
	crank  crankVoice
	beep   beepVoice
	arc    arcVoice

	cranks int  // Crank or CrankInVain, the last that was heard
	held   bool // the starter turned the engine in the last block
	shut   bool
	master ramp
	dc     [2]blocker
	mixed  [2 * block]float64
	voice  [block]float64
	ready  [2 * block]float32
	at     int // of ready, that is given out next
}

// blocker is a first-order high-pass that leaves no constant part.
type blocker struct{ x, y float64 }

// blockShare sets its corner at about 6 Hz.
const blockShare = 1 - 0.0008

func (b *blocker) step(x float64) float64 {
	b.y = x - b.x + blockShare*b.y
	b.x = x
	return b.y
}

// New makes a silent synthesiser. The seed decides its noise.
func New(seed uint64) *Synth {
	s := &Synth{noise: noise(seed*0x9E3779B97F4A7C15 | 1), at: 2 * block}
	for range 8 {
		s.noise.next()
	}
	s.in.init()
	s.sines.fill()
	s.pump.init()
	s.engine.init(&s.noise)
	s.hiss.init()
	s.relay.init(relayModes, relayOut)
	s.sol.init(solenoidModes, solenoidOut)
	s.crank.init()
	s.beep.quiet, s.arc.quiet = true, true
	return s
}

// Publish says what is to be heard from now on. It neither waits nor allocates.
func (s *Synth) Publish(p Params) {
	p.tame()
	s.in.put(p)
}

// Gate shuts everything off, gliding, or opens it again. It is for the one who renders.
func (s *Synth) Gate(open bool) { s.shut = !open }

// Render fills out with frames of two samples, left and right, each within -1 to 1. An odd last element is set to 0. It neither waits
// nor allocates.
func (s *Synth) Render(out []float32) {
	if len(out)%2 != 0 {
		out[len(out)-1] = 0
		out = out[:len(out)-1]
	}
	for len(out) > 0 {
		if s.at == len(s.ready) {
			s.next()
			s.at = 0
		}
		n := copy(out, s.ready[s.at:])
		s.at += n
		out = out[n:]
	}
}

// events tells which counters grew.
func (s *Synth) events(p *Params) (hit [Events]bool) {
	if !s.begun || p.Scene != s.scene {
		s.begun, s.scene = true, p.Scene
		for i := range p.Once {
			s.heard[i] = p.Once[i].Count
		}
		return hit
	}
	for i := range p.Once {
		hit[i] = p.Once[i].Count > s.heard[i]
		s.heard[i] = p.Once[i].Count
	}
	return hit
}

// next makes a block.
func (s *Synth) next() {
	p, isNew := s.in.take()
	var hit [Events]bool
	if isNew {
		hit = s.events(p)
	}
	s.mixed = [2 * block]float64{}
	s.states(p, s.starter(p, hit[Crank], hit[CrankInVain]))
	s.blips(p, &hit)
	target := p.Master
	if s.shut {
		target = 0
	}
	s.master.aim(target, glide(masterGlide))
	s.finish()
}

// starter runs the starter and says whether it was let go just now with the engine catching.
func (s *Synth) starter(p *Params, works, vain bool) (caught bool) {
	length := 0.0
	switch {
	case works:
		length, s.cranks = crankCatch, Crank
	case vain:
		length, s.cranks = crankVain, CrankInVain
	}
	if s.crank.aim(&p.Once[s.cranks].Path, length) {
		s.crank.render(&s.sines, &s.noise, &s.voice)
		s.crank.out.mix(&s.voice, &s.mixed)
	}
	caught = s.held && !s.crank.turning()
	s.held = s.crank.turning()
	return caught
}

func (s *Synth) states(p *Params, caught bool) {
	if s.pump.aim(&p.Pump) {
		s.pump.render(&s.sines, &s.noise, &s.voice)
		s.pump.out.mix(&s.voice, &s.mixed)
	}
	if s.engine.aim(&p.Engine, s.held, caught) {
		s.engine.render(&s.sines, &s.noise, &s.voice)
		s.engine.out.mix(&s.voice, &s.mixed)
	}
	if s.hiss.aim(&p.Hiss) {
		s.hiss.render(&s.noise, &s.voice)
		s.hiss.out.mix(&s.voice, &s.mixed)
	}
}

func (s *Synth) blips(p *Params, hit *[Events]bool) {
	if s.relay.aim(&p.Once[Relay].Path, hit[Relay]) {
		s.relay.render(&s.voice)
		s.relay.out.mix(&s.voice, &s.mixed)
	}
	if s.sol.aim(&p.Once[Solenoid].Path, hit[Solenoid]) {
		s.sol.render(&s.voice)
		s.sol.out.mix(&s.voice, &s.mixed)
	}
	if s.beep.aim(&p.Once[Beep].Path, hit[Beep]) {
		s.beep.render(&s.sines, &s.voice)
		s.beep.out.mix(&s.voice, &s.mixed)
	}
	if s.arc.aim(&p.Once[Arc].Path, hit[Arc]) {
		s.arc.render(&s.noise, &s.voice)
		s.arc.out.mix(&s.voice, &s.mixed)
	}
}

// inaudible is below what a converter of 24 bits tells from nothing.
const inaudible = 1e-7

// finish takes the constant part out, sets the volume and bends what is too loud.
func (s *Synth) finish() {
	level := s.master.v
	for i := range block {
		level += s.master.d
		for ear := range 2 {
			y := s.dc[ear].step(s.mixed[2*i+ear])
			if math.Abs(y) < inaudible {
				y = 0
				s.dc[ear].y = 0 // no endless tail of tiny numbers
			}
			s.ready[2*i+ear] = float32(soft(y * level))
		}
	}
	s.master.v = s.master.end
}
