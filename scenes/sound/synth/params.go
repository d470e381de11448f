package synth

// Rate is the number of frames a second.
const Rate = 48000

// Params is what is heard where one listens. The zero value is silence.
type Params struct {
	Master float64 // volume of everything, 0 to 1
	// Scene names what the counters belong to. When it changes, Once is taken over without a sound.
	Scene  uint64
	Pump   Pump
	Engine Engine
	Hiss   Hiss
	Once   [Events]Event
}

// Path is how a sound comes from its source to the ear.
type Path struct {
	Gain   float64 // 0 unheard to 1 beside it
	Cutoff float64 // Hz above which the way swallows it; 0 means nothing is swallowed
	Pan    float64 // -1 left to 1 right
}

// Pump is an electric air pump.
type Pump struct {
	Speed float64 // of the shaft, rad/s; 0 is silent
	Clear float64 // 0: only rushing air, no pitch to be made out; 1: the whine with its pitch
	Rough float64 // 0 smooth bearing to 1 grinding
	Path
}

// Engine is a four-cylinder four-stroke.
type Engine struct {
	Rpm  float64 // 0 does not run
	Hunt float64 // swing of the speed to either side, rpm
	Open float64 // 0 to 1: exhaust blowing out of an open port
	Path
}

// Hiss is air escaping.
type Hiss struct {
	Flow float64 // 0 none to 1 strong
	Path
}

// Event is something that sounds once each time when Count grows.
type Event struct {
	Count uint32
	Path
}

// Kinds of events, the indices of Params.Once.
const (
	Relay       = iota // a relay's armature: in, and out again
	Solenoid           // a solenoid's armature: in, and out again
	Crank              // the starter, after which the engine catches
	CrankInVain        // the starter for longer, and the engine does not catch
	Beep               // a scan tool that wakes up
	Arc                // the crack of a short circuit
	Events             // how many kinds there are
)

// within brings x into lo..hi, and what is not a number to lo.
func within(x, lo, hi float64) float64 {
	if !(x >= lo) {
		return lo
	}
	return min(x, hi)
}

// tame brings a block into the ranges that are allowed.
func (p *Params) tame() {
	p.Master = within(p.Master, 0, 1)
	p.Pump.Speed = within(p.Pump.Speed, 0, maxPumpSpeed)
	p.Pump.Clear = within(p.Pump.Clear, 0, 1)
	p.Pump.Rough = within(p.Pump.Rough, 0, 1)
	p.Engine.Rpm = within(p.Engine.Rpm, 0, maxRpm)
	p.Engine.Hunt = within(p.Engine.Hunt, 0, maxHunt)
	p.Engine.Open = within(p.Engine.Open, 0, 1)
	p.Hiss.Flow = within(p.Hiss.Flow, 0, 1)
	p.Pump.tame()
	p.Engine.tame()
	p.Hiss.tame()
	for i := range p.Once {
		p.Once[i].tame()
	}
}

func (p *Path) tame() {
	p.Gain = within(p.Gain, 0, 1)
	p.Pan = within(p.Pan, -1, 1)
	if !(p.Cutoff > 0) || p.Cutoff > openCutoff {
		p.Cutoff = openCutoff
	}
	p.Cutoff = max(p.Cutoff, 50)
}
