package synth

import "math"

// way brings one source to both ears: muffled by its path, panned, and never stepping.
type way struct {
	left, right, k ramp
	a, b           pole
	placed         bool
}

// aim follows a path. A source that was silent starts on its path at once.
func (w *way) aim(p *Path, level float64, silent bool) {
	l := level * p.Gain * math.Sqrt(0.5*(1-p.Pan)) * math.Sqrt2
	r := level * p.Gain * math.Sqrt(0.5*(1+p.Pan)) * math.Sqrt2
	k := poleShare(p.Cutoff)
	if silent || !w.placed {
		w.left.jump(l)
		w.right.jump(r)
		w.k.jump(k)
		w.a, w.b = pole{}, pole{}
		w.placed = true
		return
	}
	g := glide(pathGlide)
	w.left.aim(l, g)
	w.right.aim(r, g)
	w.k.aim(k, g)
}

// mix adds a block to both ears.
func (w *way) mix(in *[block]float64, out *[2 * block]float64) {
	l, r, k := w.left.v, w.right.v, w.k.v
	for i, x := range in {
		k += w.k.d
		l += w.left.d
		r += w.right.d
		x = w.b.step(w.a.step(x, k), k)
		out[2*i] += x * l
		out[2*i+1] += x * r
	}
	w.left.v, w.right.v, w.k.v = w.left.end, w.right.end, w.k.end
}
