package sim

import "coldbay/sim/car"

// Use lets the car be driven for hours over days and weeks, in the wet or in the dry, and lets wear what the way it stands makes wear:
// a pump whose inlet is open to the road draws in water and dirt; exhaust that comes back through a valve burns what it reaches. How
// fast stands in the car's data.
func (w *World) Use(hours float64, wet bool) error {
	if len(w.car.Wear) == 0 || hours <= 0 {
		return w.err
	}
	measured, back := -1, 0.0
	for i := range w.car.Wear {
		r := &w.car.Wear[i]
		part := w.car.Air.Part(r.Of)
		amount := 0.0
		switch r.From {
		case car.WetInlet:
			if wet && w.openInlet(part) {
				amount = hours
			}
		case car.Backflow:
			if measured != part {
				var err error
				if back, err = w.backflow(part); err != nil {
					return err
				}
				measured = part
			}
			amount = back * hours * 3600
		}
		if amount > 0 {
			w.wake()
			w.wearOut(r, amount)
		}
	}
	return w.err
}

func (w *World) wearOut(r *car.Wear, amount float64) {
	i, ok := w.car.Param(r.Set)
	if !ok {
		return
	}
	by := float64(r.Rate * amount)
	if v := w.par.v[i]; v < r.To {
		own(&w.par)[i] = min(v+by, r.To)
	}
	w.touch()
}

// openInlet says whether a pump draws from the road instead of through the filter: its inlet port is open, or what is on it leads
// into the open.
func (w *World) openInlet(part int) bool {
	if w.pn.Off(part) {
		return false
	}
	return w.car.Air.OpenInlet(&w.pn, part)
}

// backflow is the exhaust in kg/s that comes back through a valve on a drive: a copy of the car is started, warmed up and idled.
func (w *World) backflow(part int) (float64, error) {
	trial := w.Clone()
	trial.SetKey(true)
	trial.Step(10)
	trial.SetStarter(true)
	for i := 0; i < 50 && !trial.Running() && trial.err == nil; i++ {
		trial.Step(1)
	}
	trial.SetStarter(false)
	trial.Step(1300) // past the longest run of the air
	sum := 0.0
	const n = 200
	for range n {
		trial.Step(1)
		for k, v := range w.link.sensed.back {
			if v.part == part {
				sum += trial.backAt(k)
			}
		}
	}
	if !trial.Running() {
		return 0, trial.err
	}
	return sum / n, trial.err
}
