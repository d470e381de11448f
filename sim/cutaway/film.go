package cutaway

import (
	"context"
	"fmt"
	"math"
	"slices"

	"coldbay/sim"
)

// slice is how many ticks are stepped between two yields: a few milliseconds of computing at most, in a browser too.
const slice = 4

// Setup is everything that a film depends on.
type Setup struct {
	Run        Run
	Conditions sim.Conditions
	Faults     []sim.FaultChoice
	WithoutAir bool // the pump's feed is taken out, so that no secondary air flows
}

// Code is a trouble code and when it came.
type Code struct {
	At     float64 // s
	Name   string
	Stored bool // with the lamp; else pending
}

// Film is one run of a car, recorded at each tick of [sim.Tick] seconds. It is immutable.
type Film struct {
	Setup    Setup
	Seconds  float64
	Started  float64 // s from the beginning until the engine ran, NaN: it did not while filmed
	LightOff float64 // s from the engine's start until the catalyst's own conversion reached one half; NaN: not while filmed
	Codes    []Code

	of     *Schematic
	frames int
	tracks [][]float32
	high   []float64 // by channel, over every stride of the solver
	highAt []float64
}

// Shoot makes a film. yield, which may be nil, is called every few ticks, so that a caller with one thread can let others work; an
// error of the context ends the work.
func Shoot(ctx context.Context, s *Schematic, set Setup, yield func()) (*Film, error) {
	if runs := RunsOf(s.car); !slices.Contains(runs, string(set.Run)) {
		return nil, fmt.Errorf("run %q of car %s; allowed are %v", set.Run, s.car.ID, runs)
	}
	w, err := sim.New(s.car, set.Conditions, set.Faults...)
	if err != nil {
		return nil, err
	}
	if set.WithoutAir {
		if err := w.SetElementOut(s.Without, true); err != nil {
			return nil, err
		}
	}
	rest := func() error {
		if yield != nil {
			yield()
		}
		return ctx.Err()
	}
	if err := set.Run.before(w, rest); err != nil {
		return nil, err
	}
	f := &Film{Setup: set, Seconds: set.Run.Seconds(), Started: math.NaN(), LightOff: math.NaN(), of: s, tracks: make([][]float32, len(s.makers)),
		high: make([]float64, len(s.Channels)), highAt: make([]float64, len(s.Channels))}
	return f, f.shoot(w, rest)
}

func (f *Film) shoot(w *sim.World, rest func() error) error {
	s := f.of
	ticks := int(math.Round(f.Seconds / sim.Tick))
	readers := make([]reader, len(s.makers))
	for i, m := range s.makers {
		readers[i] = m()
		f.tracks[i] = make([]float32, 0, ticks+1)
	}
	for i := range f.high {
		f.high[i] = math.Inf(-1)
	}
	now := 0.0
	extremes := func() {
		for i := range s.Channels {
			if v := readers[s.Channels[i].track](w); v > f.high[i] {
				f.high[i], f.highAt[i] = v, now
			}
		}
	}
	see := sim.Refinement{See: func(dt float64) { now += dt; extremes() }}
	sample := func() {
		for i, r := range readers {
			f.tracks[i] = append(f.tracks[i], float32(r(w)))
		}
		f.frames++
	}
	for t := range ticks {
		now = float64(t) * sim.Tick
		f.Setup.Run.at(w, t)
		if t == 0 {
			extremes()
			sample()
		}
		w.Follow(1, see)
		if err := w.Err(); err != nil {
			return err
		}
		now = float64(t+1) * sim.Tick
		sample()
		if math.IsNaN(f.Started) && w.Running() {
			f.Started = now - w.RunS()
		}
		if (t+1)%10 == 0 {
			f.codes(w, now)
		}
		if t%slice == 0 {
			if err := rest(); err != nil {
				return err
			}
		}
	}
	if at := w.LitAt(); at > 0 {
		f.LightOff = at
	}
	return nil
}

// codes notes what the controller has newly set.
func (f *Film) codes(w *sim.World, now float64) {
	for _, stored := range []bool{false, true} {
		for _, name := range w.Codes(!stored) {
			if !slices.ContainsFunc(f.Codes, func(c Code) bool { return c.Name == name && c.Stored == stored }) {
				f.Codes = append(f.Codes, Code{At: now, Name: name, Stored: stored})
			}
		}
	}
}

// Of is the schematic that the film belongs to.
func (f *Film) Of() *Schematic { return f.of }

// value of a track at a time, between two ticks in proportion.
func (f *Film) value(track int, at float64) float64 {
	x := min(max(at/sim.Tick, 0), float64(f.frames-1))
	i := min(int(x), f.frames-2)
	v := f.tracks[track]
	a, b := float64(v[i]), float64(v[i+1])
	return a + (b-a)*(x-float64(i))
}

// Channel is a channel's value at a time, in the channel's unit.
func (f *Film) Channel(c Channel, at float64) float64 { return c.Show(f.value(c.track, at)) }

// Flow is what moves along a way at a time: kg/s, or A.
func (f *Film) Flow(w Way, at float64) float64 { return f.value(w.flow, at) }

// Shade is what a way is filled with at a time: Pa or V; ok is false for one without.
func (f *Film) Shade(w Way, at float64) (value float64, ok bool) {
	if w.shade < 0 {
		return 0, false
	}
	return f.value(w.shade, at), true
}

// Leak is what flows out (+) or in (-) at a leak, kg/s.
func (f *Film) Leak(l Leak, at float64) float64 { return f.value(l.flow, at) }

// State is the nth quantity that an item's symbol follows, in its SI unit.
func (f *Film) State(it Item, n int, at float64) float64 {
	if n >= len(it.states) {
		return 0
	}
	return f.value(it.states[n], at)
}

// High is the highest value of a channel over every stride of the solver, also between ticks, in the channel's unit, and when.
func (f *Film) High(id string) (value, at float64) {
	i := slices.IndexFunc(f.of.Channels, func(c Channel) bool { return c.ID == id })
	if i < 0 {
		return math.NaN(), math.NaN()
	}
	return f.of.Channels[i].Show(f.high[i]), f.highAt[i]
}

// Has tells whether a code was set by the end of the film.
func (f *Film) Has(code string, stored bool) bool {
	return slices.ContainsFunc(f.Codes, func(c Code) bool { return c.Name == code && c.Stored == stored })
}
