package synth

// crankVoice is the starter turning the engine over compression after compression.
type crankVoice struct {
	left  int // frames
	level ramp
	comp  float64 // phase of the compressions
	tone  float64 // phase of the starter's gears
	thump band
	rasp  pole
	out   way
	quiet bool
}

func (v *crankVoice) init() {
	v.thump.tune(110, 1)
	v.quiet = true
}

// aim starts for the given time when it is more than 0 s, and says whether there is anything to hear.
func (v *crankVoice) aim(p *Path, start float64) bool {
	if start > 0 {
		if v.quiet {
			v.comp, v.tone = 0.3, 0
			v.out.aim(p, 1, true)
		}
		v.left = int(start * Rate)
		v.quiet = false
	}
	if v.quiet {
		return false
	}
	if start <= 0 {
		v.out.aim(p, 1, false)
	}
	to := 0.0
	if v.left > 0 {
		to = 1
	}
	v.level.aim(to, glide(crankEdge))
	if v.left == 0 && v.level.still() {
		v.quiet = true
		v.thump.low, v.thump.mid, v.rasp = 0, 0, pole{}
	}
	return !v.quiet
}

// turning says that the starter is engaged.
func (v *crankVoice) turning() bool { return v.left > 0 }

func (v *crankVoice) render(s *sines, n *noise, buf *[block]float64) {
	level := v.level.v
	k := poleShare(2200)
	for i := range buf {
		level += v.level.d
		push := pulse(v.comp)
		load := max(push, 0)
		v.comp += crankPulses * seconds * (1 - 0.4*load)
		if v.comp >= 1 {
			v.comp--
		}
		v.tone += crankTone * seconds * (1 - crankSag*load)
		if v.tone >= 1 {
			v.tone--
		}
		gears := s.at(v.tone) + 0.6*s.at(2*v.tone) + 0.5*s.at(3*v.tone) + 0.3*s.at(7*v.tone)
		rasp := v.rasp.step(n.next(), k)
		y := crankLevel*(gears*(0.55+0.3*load)+rasp*(0.5+load)) + crankThump*v.thump.step(push)
		buf[i] = y * level
	}
	v.left = max(0, v.left-block)
	v.level.v = v.level.end
}
