package cutaway

import (
	"slices"
	"time"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/paint"
	inside "coldbay/sim/cutaway"
)

const (
	numbersEvery = 250 * time.Millisecond  // how often readings are written anew while the clock runs
	settleFor    = 4500 * time.Millisecond // how long flows move after something was changed while the clock stands
	longestFrame = 100 * time.Millisecond
)

// Clock tells the time; tests have one of their own.
type Clock func() time.Time

// Wall is the wall's clock.
func Wall() time.Time { return time.Now() }

// Panel is a cutaway: the cars that it shows, its clock, and what is chosen on it.
type Panel struct {
	Sheet *inside.Schematic
	// Touch asks for the screen to be built again; Now tells the time.
	Touch func()
	Now   Clock

	studio   *Studio
	show     lessons.Show
	at       float64 // s on the film
	playing  bool
	part     string
	films    [2]*inside.Film // as shown; nil until the first is made
	wanted   [2]inside.Setup
	pictures int
	last     time.Time // frame before
	written  time.Time // readings
	moving   time.Time // flows move until then
	phase    [2][]float64
	spin     [2]map[string]float64
	lay      layout
	marked   marking
	pieces   [][][]paint.Pt // of each way in view, in field units
}

// NewPanel makes a panel of a car. Nothing is filmed before something is shown.
func NewPanel(sheet *inside.Schematic, touch func()) *Panel {
	p := &Panel{Sheet: sheet, Touch: touch, Now: Wall, studio: NewStudio(sheet)}
	for i := range p.phase {
		p.phase[i] = make([]float64, len(sheet.Ways)+len(sheet.Leaks))
		p.spin[i] = map[string]float64{}
	}
	return p
}

// Show sets the panel to what a step of a lesson shows. A fault of no severity is the healthy car.
func (p *Panel) Show(s lessons.Show) {
	p.show, p.at, p.playing, p.part = s, s.At, s.Play, s.Part
	if s.Fault != "" && s.Severity == 0 {
		p.show.Severity = 1
	}
	p.show.Channels = slices.Clone(s.Channels)
	p.films = [2]*inside.Film{}
	p.change()
}

// Shown is what the panel shows now.
func (p *Panel) Shown() lessons.Show { return p.show }

// Leave stops the clock and gives up what is being filmed: another panel shows.
func (p *Panel) Leave() {
	p.playing = false
	p.studio.Want()
}

// over is what shows of this car as another car shows it: no fault, since faults are each car's own.
func (p *Panel) over(sheet *inside.Schematic) lessons.Show {
	show := p.show
	show.Fault, show.Severity, show.Part, show.At, show.Play = "", 0, "", p.at, false
	if _, ok := sheet.View(show.View); !ok {
		show.View = sheet.Views[0].ID
	}
	if !slices.Contains(inside.RunsOf(sheet.CarOf()), string(show.Run)) {
		show.Run, show.At = inside.ColdStart, 0
	}
	show.Until = show.Run.Seconds()
	return show
}

// At is the time on the film, s.
func (p *Panel) At() float64 { return p.at }

// Playing tells whether the clock runs.
func (p *Panel) Playing() bool { return p.playing }

// change asks for the films that are shown now.
func (p *Panel) change() {
	who := p.show.Who()
	if p.show.Severity == 0 {
		who = lessons.Who{}
	}
	p.wanted[0], p.pictures = who.Setup(p.show.Run), 1
	sets := []inside.Setup{p.wanted[0]}
	if other, ok := p.show.BesideWho(); ok {
		p.wanted[1], p.pictures = other.Setup(p.show.Run), 2
		sets = append(sets, p.wanted[1])
	} else {
		p.films[1] = nil
	}
	p.studio.Want(sets...)
	p.take()
	p.stir()
	p.Touch()
}

// take shows what was filmed.
func (p *Panel) take() {
	for i := range p.pictures {
		if f, ok := p.studio.Film(p.wanted[i]); ok {
			p.films[i] = f
		}
	}
}

// Ready tells whether all that is shown has been filmed.
func (p *Panel) Ready() bool {
	for i := range p.pictures {
		if _, ok := p.studio.Film(p.wanted[i]); !ok {
			return false
		}
	}
	return p.pictures > 0
}

// Film gives the film of a run of a car; when it has not been made it is asked for, once what is shown has been.
func (p *Panel) Film(run inside.Run, who lessons.Who) (*inside.Film, bool) {
	set := who.Setup(run)
	if f, ok := p.studio.Film(set); ok {
		return f, true
	}
	if p.Ready() && !p.studio.Busy() {
		p.studio.Want(set)
	}
	return nil, false
}

// stir lets the flows move for a while, so that one sees their direction also while the clock stands.
func (p *Panel) stir() { p.moving = p.Now().Add(settleFor) }

// seconds is the length of the film.
func (p *Panel) seconds() float64 { return p.show.Run.Seconds() }

// Play runs the clock or stops it. At the end it begins anew.
func (p *Panel) Play() {
	p.playing = !p.playing
	if p.playing {
		if p.at >= p.seconds()-0.05 {
			p.at = 0
		}
		if p.at >= p.show.Until-0.05 {
			p.show.Until = p.seconds()
		}
	}
	p.stir()
	p.Touch()
}

// Seek sets the clock.
func (p *Panel) Seek(at float64) {
	p.at = min(max(at, 0), p.seconds())
	if p.at >= p.show.Until {
		p.show.Until = p.seconds()
	}
	p.stir()
	p.Touch()
}

// Speed sets how much faster than real time the clock runs.
func (p *Panel) Speed(times float64) { p.show.Speed = times; p.Touch() }

// Severity sets how far the fault has gone, 0 to 1.
func (p *Panel) Severity(s float64) { p.show.Severity = s; p.change() }

// Fault sets the fault, "" for none.
func (p *Panel) Fault(id string) {
	p.show.Fault, p.show.Severity = id, 1
	if id == "" {
		p.show.Severity = 0
	}
	p.change()
}

// Beside sets what stands beside the car.
func (p *Panel) Beside(o lessons.Other) { p.show.Beside = o; p.change() }

// Run sets what is done to the car.
func (p *Panel) Run(r inside.Run) {
	p.show.Run, p.at, p.show.Until = r, 0, r.Seconds()
	p.change()
}

// View sets which part of the schematic shows, with the charts that go with it.
func (p *Panel) View(id string) {
	v, ok := p.Sheet.View(id)
	if !ok {
		return
	}
	p.show.View, p.show.Channels, p.part = id, slices.Clone(v.Channels), ""
	p.stir()
	p.Touch()
}

// Live runs the clock and adds what moves. Seconds is 0 when nothing is to move by itself: then flows are shown by marks that stand, and
// only the clock runs if it was started.
func (p *Panel) Live(m *paint.Mesh, seconds float64) {
	now := p.Now()
	dt := min(now.Sub(p.last), longestFrame).Seconds()
	if p.last.IsZero() || dt < 0 {
		dt = 0
	}
	p.last = now
	if p.studio.Poll() {
		p.take()
		p.stir()
		p.Touch()
	}
	if p.playing && p.Ready() {
		p.at += dt * p.show.Speed
		if end := min(p.show.Until, p.seconds()); p.at >= end {
			p.at, p.playing = end, false
			p.stir()
			p.Touch()
		}
		if now.Sub(p.written) >= numbersEvery {
			p.written = now
			p.Touch()
		}
	}
	still := seconds == 0
	on := !still && (p.playing || now.Before(p.moving))
	for i := range p.pictures {
		if f := p.films[i]; f != nil && i < len(p.lay.pictures) {
			if on {
				p.advance(i, f, dt)
			}
			p.animate(m, i, f)
		}
	}
	p.cursor(m)
	m.Shift, m.Zoom = paint.Pt{}, 0
}

// Failed gives the error of a film that could not be made, once.
func (p *Panel) Failed() error { return p.studio.Fault() }

// Busy tells whether a film is being made.
func (p *Panel) Busy() bool { return p.studio.Busy() }
