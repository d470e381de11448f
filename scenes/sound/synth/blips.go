package synth

// beepVoice is the two short tones of a device that wakes up.
type beepVoice struct {
	at    int // frames since it began
	phase float64
	out   way
	quiet bool
}

func (v *beepVoice) aim(p *Path, hit bool) bool {
	if hit {
		v.at, v.phase, v.quiet = 0, 0, false
		v.out.aim(p, 1, true)
		return true
	}
	if v.quiet || v.at > int((beepGap+beepLong)*Rate)+2*Rate/100 {
		v.quiet = true
		return false
	}
	v.out.aim(p, 1, false)
	return true
}

func (v *beepVoice) render(s *sines, buf *[block]float64) {
	for i := range buf {
		t := float64(v.at) * seconds
		if t >= beepGap {
			t -= beepGap
		}
		v.at++
		v.phase += beepPitch * seconds
		if v.phase >= 1 {
			v.phase--
		}
		y := 0.0
		if t < beepLong {
			edge := s.at(0.5 * t / beepLong)
			y = edge * edge * s.at(v.phase)
		}
		buf[i] = y * beepLevel
	}
}

// arcVoice is a crack: noise that dies away.
type arcVoice struct {
	level float64
	rise  pole
	out   way
	quiet bool
}

func (v *arcVoice) aim(p *Path, hit bool) bool {
	switch {
	case hit:
		v.out.aim(p, 1, v.quiet)
		v.level, v.quiet = 1, false
	case v.quiet:
		return false
	case v.level < 1e-6:
		v.level, v.rise, v.quiet = 0, pole{}, true
		return false
	default:
		v.out.aim(p, 1, false)
	}
	return true
}

func (v *arcVoice) render(n *noise, buf *[block]float64) {
	fade := 1 - seconds/arcDecay
	for i := range buf {
		v.level *= fade
		buf[i] = n.next() * v.rise.step(v.level, 0.05) * arcLevel
	}
}
