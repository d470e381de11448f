package synth

import "math"

// block is how many frames are made at a time. Levels are aimed anew for each block and run in a straight line within it.
const (
	block   = 32
	seconds = 1.0 / Rate
)

// glide gives the share of the way that is gone in one block for a time constant in s.
func glide(tau float64) float64 {
	a := block * seconds / tau
	return a / (1 + a)
}

// ramp is a level that never steps.
type ramp struct{ v, d, end float64 }

// aim sets out for a target; near enough it arrives.
func (r *ramp) aim(target, share float64) {
	r.end = r.v + (target-r.v)*share
	if math.Abs(target-r.end) < 1e-6*max(1, math.Abs(target)) {
		r.end = target
	}
	r.d = (r.end - r.v) / block
}

func (r *ramp) jump(to float64) { *r = ramp{to, 0, to} }

// still says that the level is zero and stays there.
func (r *ramp) still() bool { return r.v == 0 && r.end == 0 }

// noise is a xorshift generator; its values are uniform in -1..1, with a variance of one third.
type noise uint64

func (n *noise) next() float64 {
	x := uint64(*n)
	x ^= x << 13
	x ^= x >> 7
	x ^= x << 17
	*n = noise(x)
	return float64(int64(x)) * (1.0 / (1 << 63))
}

// share of the unit interval.
func (n *noise) unit() float64 { return 0.5 + 0.5*n.next() }

// pole is a first-order low-pass.
type pole struct{ z float64 }

func (p *pole) step(x, k float64) float64 {
	p.z += (x - p.z) * k
	return p.z
}

// poleShare is the coefficient of a pole with the given corner in Hz.
func poleShare(hz float64) float64 {
	a := 2 * math.Pi * hz * seconds
	return a / (1 + a)
}

// drift is slow noise with unit variance. It is made once a block and runs in a straight line from one block to the next.
type drift struct {
	ramp
	a, b pole
	k, n float64
}

func newDrift(hz float64) drift {
	k := poleShare(hz * block)
	// Two equal poles in a row leave this part of the variance of white noise: the sum of the squared impulse response k^2 (n+1) (1-k)^n.
	q := (1 - k) * (1 - k)
	left := k * k * k * k * (1 + q) / ((1 - q) * (1 - q) * (1 - q))
	return drift{k: k, n: 1 / math.Sqrt(left/3)}
}

// advance goes on to the next block.
func (d *drift) advance(n *noise) {
	d.v = d.end
	d.aim(d.b.step(d.a.step(n.next(), d.k), d.k)*d.n, 1)
}

// band is a second-order band-pass (a state-variable filter in Chamberlin's form), with unit gain at its centre.
type band struct{ low, mid, f, q float64 }

func (b *band) tune(hz, q float64) {
	b.f, b.q = 2*math.Sin(math.Pi*min(hz, Rate/7)*seconds), 1/q
}

func (b *band) step(x float64) float64 {
	b.low += b.f * b.mid
	b.mid += b.f * (x - b.low - b.q*b.mid)
	return b.mid * b.q
}

// sines is a table of one turn.
type sines [sineSteps + 1]float64

const sineSteps = 4096

func (s *sines) fill() {
	for i := range s {
		s[i] = math.Sin(2 * math.Pi * float64(i) / sineSteps)
	}
}

// at gives the sine of a phase in turns, which must not be negative.
func (s *sines) at(turns float64) float64 {
	x := (turns - float64(int64(turns))) * sineSteps
	i := int(x)
	return s[i] + (s[i+1]-s[i])*(x-float64(i))
}

// pulse is a rounded push at the start of each unit of phase, with a mean of zero.
func pulse(p float64) float64 {
	q := 1 - p
	q2 := q * q
	return p*q2*q2*q*14.93 - 0.35548
}

// soft bends what is loud so that it never passes 1, and leaves what is quiet as it is.
func soft(x float64) float64 {
	x = within(x, -3, 3)
	return x * (27 + x*x) / (27 + 9*x*x)
}
