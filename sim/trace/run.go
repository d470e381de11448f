package trace

import (
	"context"
	"fmt"
	"math"

	"coldbay/sim"
	"coldbay/sim/car"
)

// Setup is everything that a trace depends on; the same setup gives the same numbers.
type Setup struct {
	Car        *car.Car
	Conditions sim.Conditions
	Faults     []sim.FaultChoice
	Scenario   Scenario
	Channels   []Channel
	Seconds    float64 // length of the record, 0.1 to 86400 s
	Every      float64 // s between samples: whole tenths of a second, or 1, 2, 4, 5, 10, 20, 25, 50 ms
}

// Record is a trace.
type Record struct {
	Channels  []Channel
	Time      []float64   // s since the beginning of the record
	Values    [][]float64 // by channel, then by sample
	Low       []float64   // by channel: extremes over every stride, also between samples
	High      []float64
	HighAt    []float64 // s
	Started   float64   // time at which the engine started, NaN: it did not while recording
	LightOff  float64   // s after the engine's start, 0: not reached
	LitSecond float64   // the same of the second bank; NaN in a car with one
	Stored    []string  // codes at the end
	Pending   []string
}

const maxSamples = 2_000_000

// fineMS are the spacings below a tenth of a second, ms: they divide it.
var fineMS = [...]int{1, 2, 4, 5, 10, 20, 25, 50}

// plan turns the spacing into ticks per sample, or a stride in ms below that.
func (s *Setup) plan() (ticks, ms int, err error) {
	if !(s.Seconds >= 0.1 && s.Seconds <= 86400) {
		return 0, 0, fmt.Errorf("%g seconds: allowed are 0.1 to 86400", s.Seconds)
	}
	if !(s.Every > 0) {
		return 0, 0, fmt.Errorf("a sample every %g s: must be above 0", s.Every)
	}
	if s.Seconds/s.Every*float64(len(s.Channels)+1) > maxSamples {
		return 0, 0, fmt.Errorf("%g s every %g s of %d channels is more than %d numbers: record less often", s.Seconds, s.Every, len(s.Channels), maxSamples)
	}
	for _, m := range fineMS {
		if math.Abs(s.Every*1000-float64(m)) < 1e-9 {
			return 1, m, nil
		}
	}
	ticks = int(s.Every*10 + 0.5)
	if ticks < 1 || math.Abs(float64(ticks)-s.Every*10) > 1e-9 {
		return 0, 0, fmt.Errorf("a sample every %g s: allowed are whole tenths of a second, and 0.001, 0.002, 0.004, 0.005, 0.01, 0.02, 0.025, 0.05", s.Every)
	}
	return ticks, 0, nil
}

// Check refuses a length or a spacing that can't be recorded.
func (s *Setup) Check() error {
	_, _, err := s.plan()
	return err
}

// Run makes the record. tell, when not nil, hears how much of it is done, 0 to 1.
func Run(ctx context.Context, s Setup, tell func(share float64)) (*Record, error) {
	ticks, ms, err := s.plan()
	if err != nil {
		return nil, err
	}
	w, err := sim.New(s.Car, s.Conditions, s.Faults...)
	if err != nil {
		return nil, err
	}
	driver := &driver{w: w, list: s.Scenario.Before}
	for t := 0; float64(t) < s.Scenario.LeadS*10; t++ {
		if err := driver.tick(float64(t) / 10); err != nil {
			return nil, err
		}
		if t%600 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		w.Step(1)
	}
	n := len(s.Channels)
	r := &Record{Channels: s.Channels, Values: make([][]float64, n), Low: make([]float64, n), High: make([]float64, n), HighAt: make([]float64, n), Started: math.NaN()}
	for i := range r.Low {
		r.Low[i], r.High[i] = math.Inf(1), math.Inf(-1)
	}
	*driver = *driver.next(s.Scenario.Controls)
	first := w
	if s.Scenario.LeadS <= 0 { // nothing has been solved yet: the first sample is of the car as it stands there
		first = w.Clone()
		first.Step(1)
	}
	return r, r.record(ctx, &s, driver, first, ticks, ms, tell)
}

// record is the run itself; first is the world that the first sample is taken of.
func (r *Record) record(ctx context.Context, s *Setup, d *driver, first *sim.World, ticks, ms int, tell func(float64)) error {
	w, all := d.w, int(s.Seconds*10+0.5)
	now, since := 0.0, 0.0
	sample := func(w *sim.World) {
		r.Time = append(r.Time, math.Round(now*1000)/1000)
		for i, c := range r.Channels {
			r.Values[i] = append(r.Values[i], c.read(w))
		}
	}
	extremes := func(w *sim.World) {
		for i, c := range r.Channels {
			v := c.read(w)
			if v > r.High[i] {
				r.High[i], r.HighAt[i] = v, math.Round(now*1000)/1000
			}
			r.Low[i] = min(r.Low[i], v)
		}
	}
	see := func(dt float64) {
		now += dt
		extremes(w)
		if since += dt; ms > 0 && since > s.Every-1e-9 {
			since = 0
			sample(w)
		}
	}
	for t := range all {
		now = float64(t) / 10
		if err := d.tick(now); err != nil {
			return err
		}
		if t == 0 {
			extremes(first)
			sample(first)
		}
		w.Follow(1, sim.Refinement{FastMS: ms, See: see})
		now = float64(t+1) / 10
		if ms == 0 && (t+1)%ticks == 0 {
			sample(w)
		}
		if err := w.Err(); err != nil {
			return err
		}
		if math.IsNaN(r.Started) && w.Running() {
			r.Started = max(0, now-w.RunS())
		}
		if t%200 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if tell != nil {
				tell(float64(t) / float64(all))
			}
		}
	}
	r.LightOff, r.LitSecond = w.LitAt(), math.NaN()
	if s.Car.Banks == 2 {
		r.LitSecond = w.Bank(1).LitAt
	}
	r.Stored, r.Pending = w.Codes(false), w.Codes(true)
	return nil
}

// driver does controls when their time comes.
type driver struct {
	w      *sim.World
	list   []Control
	done   int
	crankS float64 // s left for the starter
}

func (d *driver) next(list []Control) *driver { return &driver{w: d.w, list: list} }

// tick does what is due at a time, before the tick that begins there.
func (d *driver) tick(now float64) error {
	if d.crankS > 0 {
		if d.crankS -= 0.1; d.crankS <= 0 || d.w.Running() {
			d.w.SetStarter(false)
			d.crankS = 0
		}
	}
	for ; d.done < len(d.list) && d.list[d.done].At <= now+1e-9; d.done++ {
		c := d.list[d.done]
		crank, err := do(d.w, c)
		if err != nil {
			return fmt.Errorf("at %.1f s, %s %s: %w", now, c.Do, c.On, err)
		}
		d.crankS = max(d.crankS, crank)
	}
	return nil
}

// Find is the place of a channel, -1 when it was not recorded.
func (r *Record) Find(id string) int {
	for i, c := range r.Channels {
		if c.ID == id {
			return i
		}
	}
	return -1
}
