package synth

import "math"

// hissVoice is air that escapes: noise around a pitch that falls as the flow grows.
type hissVoice struct {
	flow    ramp
	flutter drift
	around  band
	again   band
	out     way
	centre  float64 // Hz
	quiet   bool
}

func (v *hissVoice) init() {
	v.flutter = newDrift(hissRate)
	v.quiet = true
}

func (v *hissVoice) aim(p *Hiss) bool {
	if v.quiet {
		if p.Flow == 0 || p.Gain == 0 {
			return false
		}
		v.flow.jump(0)
	}
	v.flow.aim(p.Flow, glide(pathGlide))
	v.out.aim(&p.Path, 1, v.quiet)
	v.quiet = false
	if v.flow.still() && p.Flow == 0 || p.Gain == 0 && v.out.left.still() && v.out.right.still() {
		v.quiet = true
		v.around.low, v.around.mid, v.again.low, v.again.mid = 0, 0, 0, 0
		return false
	}
	v.centre = hissHigh + (hissLow-hissHigh)*v.flow.end
	v.around.tune(v.centre, 0.8)
	v.again.tune(v.centre*0.8, 0.6)
	return true
}

func (v *hissVoice) render(n *noise, buf *[block]float64) {
	// The ear takes loudness by ratios: a faint hiss is to be heard beside a strong one.
	from, to := math.Sqrt(v.flow.v), math.Sqrt(v.flow.end)
	// A filter of the same shape lets more noise through the higher it sits.
	even := hissLevel * math.Sqrt(hissLow/v.centre)
	v.flutter.advance(n)
	level, d, flutter := from, (to-from)/block, v.flutter.v
	for i := range buf {
		level += d
		flutter += v.flutter.d
		y := v.again.step(v.around.step(n.next()))
		buf[i] = y * level * even * within(1+hissFlutter*flutter, 0.3, 1.7)
	}
	v.flow.v = v.flow.end
}
