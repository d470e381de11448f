package synth

import "math"

// pumpVoice is an air pump. Its pitches are locked to one shaft.
type pumpVoice struct {
	speed, clear, rough ramp
	turn                float64 // phase of the shaft, turns
	pitch, swing        drift
	top, bottom         pole
	grind               band
	bump                float64
	next                float64 // turn at which the next ball passes
	out                 way
	quiet               bool
}

func (v *pumpVoice) init() {
	v.pitch, v.swing = newDrift(roughRate), newDrift(roughRate)
	v.grind.tune(grindPitch, 1.1)
	v.quiet = true
}

// aim sets out for a block's numbers and says whether there is anything to hear.
func (v *pumpVoice) aim(p *Pump) bool {
	if v.quiet && (p.Speed < pumpInaudible || p.Gain == 0) {
		return false
	}
	share := glide(pumpUp)
	if p.Speed < v.speed.v {
		share = glide(pumpDown)
	}
	if v.quiet {
		v.speed.jump(pumpInaudible)
		v.clear.jump(p.Clear)
		v.rough.jump(p.Rough)
	}
	v.speed.aim(p.Speed, share)
	v.clear.aim(p.Clear, glide(pathGlide))
	v.rough.aim(p.Rough, glide(pathGlide))
	v.out.aim(&p.Path, 1, v.quiet)
	v.quiet = false
	if v.speed.end < pumpInaudible && p.Speed < pumpInaudible || p.Gain == 0 && v.out.left.still() && v.out.right.still() {
		v.quiet = true
		v.speed.jump(0)
		v.top, v.bottom, v.bump = pole{}, pole{}, 0
		v.grind.low, v.grind.mid = 0, 0
		return false
	}
	return true
}

func (v *pumpVoice) render(s *sines, n *noise, buf *[block]float64) {
	x := v.speed.v / usualPump
	// Loudness grows with the speed, from nothing where the pump is not heard.
	loud := within((v.speed.v-pumpInaudible)/usualPump, 0, 1.4)
	loudEnd := within((v.speed.end-pumpInaudible)/usualPump, 0, 1.4)
	dl := (loudEnd - loud) / block
	kTop, kBottom := poleShare(airTop*max(x, 0.1)), poleShare(airBottom)
	fade := 1 - seconds/bumpDecay
	v.pitch.advance(n)
	v.swing.advance(n)
	speed, clear, rough, pitch, swing := v.speed.v, v.clear.v, v.rough.v, v.pitch.v, v.swing.v
	for i := range buf {
		speed += v.speed.d
		clear += v.clear.d
		rough += v.rough.d
		loud += dl
		pitch += v.pitch.d
		swing += v.swing.d
		hz := speed / (2 * math.Pi) * (1 + rough*roughPitch*pitch)
		v.turn += max(hz, 0) * seconds
		if v.turn >= 1 {
			v.turn--
			v.next--
		}
		if v.turn >= v.next {
			v.next += 1.0 / bumpsATurn
			u := n.unit()
			v.bump += rough * u * u
		}
		v.bump *= fade
		tone := shaftLevel*s.at(v.turn) + barLevel*s.at(v.turn*bars) + vaneLevel*s.at(v.turn*vanes) + vaneOctave*s.at(v.turn*(2*vanes))
		white := n.next()
		air := v.top.step(white, kTop)
		air -= v.bottom.step(air, kBottom)
		metal := v.grind.step(white) * (0.12*rough + v.bump) * grindLevel
		level := within(1+roughSwing*rough*swing, 0.15, 2)
		y := tone*clear*level + air*airLevel*(1+unclearAir*(1-clear))*loud + metal
		buf[i] = y * loud
	}
	v.speed.v, v.clear.v, v.rough.v = v.speed.end, v.clear.end, v.rough.end
}
