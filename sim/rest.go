package sim

// A car that stands with the key off changes slowly and evenly: vacuum creeps, metal cools. Its ticks only count time until so
// much is owed that something may have moved noticeably; then one long stride makes up for it. How long that may be follows from
// the state alone and hands settle what is owed before they change anything, so that the result does not depend on how the
// ticks are asked for.
const (
	longestNap = 10000 // ms
	napPa      = 20.0  // what a pressure may move in one stride: a twentieth of a needle's width
	napK       = 0.5   // what a temperature may move
	restA      = 0.02  // A out of the battery: a meter's own current, not a lamp's
)

// resting says whether nothing but time can change the car's ways.
func (w *World) resting() bool {
	return w.nap > 100 && !w.key && w.brisk == 0 && w.en.W == 0 && w.pn.Tool() == NoTool && w.ec.Asleep() && w.napping()
}

// napping says whether nothing turns and hardly a current flows.
func (w *World) napping() bool {
	for _, v := range w.el.W {
		if v != 0 {
			return false
		}
	}
	a := w.car.Circuit.Amps(&w.el, w.link.batt)
	return a < restA && a > -restA
}

// rest passes a tick of a resting car.
func (w *World) rest() error {
	w.ms += 100
	w.owed += 100
	if w.owed < w.nap {
		return nil
	}
	return w.settle()
}

// settle steps over the time that is owed.
func (w *World) settle() error {
	dt := float64(w.owed) / 1000
	w.owed = 0
	if err := w.fast(dt); err != nil {
		return err
	}
	return w.slow(dt)
}

// wake comes before any hand's work: the time before it belongs to the car as it was.
func (w *World) wake() {
	if w.owed > 0 && w.err == nil {
		w.fail(w.settle())
	}
}

// lull chooses the length of the next nap, in ms, from how fast things move.
func (w *World) lull(before lulled, dt float64) {
	now := w.lulled()
	s := min(longestNap/1000, napPa/max(w.pn.Rate, 1e-9))
	for i := range now {
		s = min(s, napK*dt/max(now[i]-before[i], before[i]-now[i], 1e-9))
	}
	w.nap = max(100, int(s*10)*100)
}

// lulled are the temperatures that a nap watches, K.
type lulled [4]float64

func (w *World) lulled() lulled { return lulled{w.en.CoolantK, w.en.BlockK, w.ex.ManK, w.ex.Cat[0]} }
