package sound

import (
	"time"

	"github.com/hajimehoshi/ebiten/v2"
	"github.com/hajimehoshi/ebiten/v2/audio"
	"github.com/hajimehoshi/ebiten/v2/inpututil"

	"coldbay/scenes/sound/hearing"
	"coldbay/scenes/sound/synth"
	"coldbay/sim/bench"
)

// State is how far a player has come.
type State int

// The states of a player.
const (
	Off     State = iota // sound was switched off when the program began
	Waiting              // for the first click or key
	Probing              // a device is looked for
	Playing              // there is a device
	Absent               // there is none; silent for good
)

// Settings are what is kept from one day to the next.
type Settings struct {
	Volume float64 `json:"volume"` // 0 to 1
	Muted  bool    `json:"muted"`
}

// Usual are the settings of a new player.
var Usual = Settings{Volume: 0.6}

// Player plays what is heard. Its methods belong to the window's goroutine. A nil player is silent.
type Player struct {
	set   Settings
	state State
	synth *synth.Synth
	out   *stream
	open  func() (sink, error) // a device's end of the stream
	probe func() error
	found chan error
	sink  sink
	why   error

	ear    *hearing.Ear
	now    synth.Params
	heard  key
	asleep time.Time // since when the window has no focus, zero when it has
	paused bool
}

// sink is a device that plays.
type sink interface {
	Play()
	Pause()
	Close() error
}

// key tells whether what is heard can have changed.
type key struct {
	known          bool // there is a car
	order          string
	findings       int
	bench          float64
	place, engine  string
	rpm            int
	turning, rough bool
	closed         bool
}

// seed decides the noise. Which one does not matter.
const seed = 0xC01D

// New makes a player; no device is touched yet. With off it stays silent for good.
func New(set Settings, off bool) *Player {
	p := &Player{synth: synth.New(seed), state: Waiting, probe: probe, found: make(chan error, 1)}
	p.out = &stream{synth: p.synth}
	p.open = func() (sink, error) { return device(p.out) }
	if off {
		p.state = Off
	}
	p.Set(set)
	return p
}

// Set changes volume and mute, gliding.
func (p *Player) Set(s Settings) {
	if p == nil {
		return
	}
	s.Volume = min(max(s.Volume, 0), 1)
	p.set = s
	p.publish()
}

// Settings are the settings now.
func (p *Player) Settings() Settings {
	if p == nil {
		return Usual
	}
	return p.set
}

// State is how far the player has come, and why there is no device when it is Absent.
func (p *Player) State() (State, error) {
	if p == nil {
		return Off, nil
	}
	return p.state, p.why
}

// Hear says whose car is listened to, what stands before the trainee, and what was done so far, oldest first. It may be called every
// frame; it does something only when there is something new. What sounded before the first call for an order is not repeated.
func (p *Player) Hear(c *bench.Catalogue, v *bench.View, last []bench.Finding) {
	if p == nil {
		return
	}
	k := key{known: true, order: c.Order.ID, findings: len(last), bench: v.Bench, place: v.Place, engine: v.Engine, rpm: v.Rpm,
		turning: v.PumpTurning, rough: v.PumpRough, closed: v.Closed}
	if k == p.heard {
		return
	}
	if p.ear == nil || k.order != p.heard.order {
		p.ear = hearing.New(*c)
	}
	p.heard = k
	p.now = p.ear.Listen(*v, last).Params()
	p.publish()
}

// Leave says that there is no car to be heard.
func (p *Player) Leave() {
	if p == nil || !p.heard.known {
		return
	}
	p.heard, p.now = key{}, synth.Params{}
	p.publish()
}

// publish hands over what is heard at the volume that is set. The ear takes loudness by ratios, so the slider is squared.
func (p *Player) publish() {
	q := p.now
	q.Master = p.set.Volume * p.set.Volume
	if p.set.Muted || !p.asleep.IsZero() {
		q.Master = 0
	}
	p.synth.Publish(q)
}

// Update is called once a frame. It reads the window's focus and whether anything was pressed.
func (p *Player) Update(now time.Time) {
	if p == nil || p.state == Off || p.state == Absent {
		return
	}
	p.Tick(now, ebiten.IsFocused(), p.state == Waiting && pressed())
}

func pressed() bool {
	var keys [4]ebiten.Key
	var touches [2]ebiten.TouchID
	return inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonLeft) || inpututil.IsMouseButtonJustPressed(ebiten.MouseButtonRight) ||
		len(inpututil.AppendJustPressedKeys(keys[:0])) > 0 || len(inpututil.AppendJustPressedTouchIDs(touches[:0])) > 0
}

// fadeOut is how long a player goes on after the focus went, so that it ends with a glide.
const fadeOut = 400 * time.Millisecond

// Tick is Update with the focus and the gesture given; tests come in here.
func (p *Player) Tick(now time.Time, focused, gesture bool) {
	if p == nil {
		return
	}
	p.out.alive.Add(1)
	if focused != p.asleep.IsZero() {
		p.asleep = now
		if focused {
			p.asleep = time.Time{}
		}
		p.publish()
	}
	switch p.state {
	case Waiting:
		if gesture {
			p.state = Probing
			go func() { p.found <- p.probe() }() // a sound server can take seconds to answer
		}
	case Probing:
		select {
		case err := <-p.found:
			p.begin(err)
		default:
		}
	case Playing:
		p.sleep(now)
	}
}

// begin opens the device that was found.
func (p *Player) begin(err error) {
	if err == nil {
		p.sink, err = p.open()
	}
	if err != nil {
		p.state, p.why = Absent, err
		return
	}
	p.state = Playing
	p.sink.Play()
}

// sleep stops the device some time after the focus went, and starts it when it is back.
func (p *Player) sleep(now time.Time) {
	rest := !p.asleep.IsZero() && now.Sub(p.asleep) > fadeOut
	if rest == p.paused {
		return
	}
	p.paused = rest
	if rest {
		p.sink.Pause()
	} else {
		p.sink.Play()
	}
}

// Close gives the device back. The player is silent from then on.
func (p *Player) Close() error {
	if p == nil || p.sink == nil {
		return nil
	}
	s := p.sink
	p.sink, p.state = nil, Off
	return s.Close()
}

// buffered is how much is made in advance: short enough for a click to belong to the hand's movement, long enough for a slow laptop.
const buffered = 90 * time.Millisecond

// device is the engine's sound device, of which a program has one.
func device(out *stream) (sink, error) {
	c := audio.CurrentContext()
	if c == nil {
		c = audio.NewContext(synth.Rate)
	}
	if c.SampleRate() != synth.Rate {
		return nil, errRate
	}
	p, err := c.NewPlayerF32(out)
	if err != nil {
		return nil, err
	}
	p.SetBufferSize(buffered)
	return p, nil
}
