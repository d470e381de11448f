package synth

import "math"

// clickVoice is an armature that strikes: a few damped resonances, set off once when it goes in and once, softer, when it falls out.
type clickVoice struct {
	re, im, cos, sin [modes]float64 // states and rotations; the damping is in the rotation
	level            [modes]float64
	gap              int // frames from in to out
	wait             int // frames until it falls out, 0 when nothing is due
	out              way
	quiet            bool
}

func (v *clickVoice) init(table [modes]mode, out float64) {
	for i, m := range table {
		r := 1 - seconds/m.decay
		w := 2 * math.Pi * m.pitch * seconds
		v.cos[i], v.sin[i], v.level[i] = r*math.Cos(w), r*math.Sin(w), m.level
	}
	v.gap = int(out * Rate)
	v.quiet = true
}

func (v *clickVoice) strike(force float64) {
	for i := range v.re {
		v.re[i] += v.level[i] * force // the sine part is heard, so that it starts without a step
	}
}

// aim sets the path; hit says that the armature moves now.
func (v *clickVoice) aim(p *Path, hit bool) bool {
	if hit {
		v.out.aim(p, 1, v.quiet)
		v.strike(1)
		v.wait = v.gap
		v.quiet = false
		return true
	}
	if v.quiet {
		return false
	}
	v.out.aim(p, 1, false)
	rest := 0.0
	for i := range v.re {
		rest += math.Abs(v.re[i]) + math.Abs(v.im[i])
	}
	if rest < 1e-7 {
		v.re, v.im = [modes]float64{}, [modes]float64{}
		v.quiet = v.wait == 0
	}
	return !v.quiet
}

func (v *clickVoice) render(buf *[block]float64) {
	for i := range buf {
		if v.wait > 0 {
			v.wait--
			if v.wait == 0 {
				v.strike(outSofter)
			}
		}
		y := 0.0
		for k := range v.re {
			re := v.re[k]*v.cos[k] - v.im[k]*v.sin[k]
			v.im[k] = v.re[k]*v.sin[k] + v.im[k]*v.cos[k]
			v.re[k] = re
			y += v.im[k]
		}
		buf[i] = y
	}
}
