package hearing

import (
	"coldbay/scenes/sound/synth"
	"coldbay/sim/bench"
)

// What words sound like. Invented, chosen by ear: three pitches a fourth or more apart, so that nobody takes one for another, and none
// of them the simulated speed.
var (
	pumpSpeed = map[string]float64{Whines: 1080, "slow": 640, "normal": 1080, "fast": 1560} // rad/s
	roughness = map[string]float64{"rough": 0.45, "grinding": 1}
	hissFlow  = map[string]float64{"faint": 0.18, "clear": 0.5, "strong": 1}
	idleHunt  = map[string]float64{Idles: 8, "even": 8, "hunts": 70} // rpm to either side
)

// usualIdle is the speed of an idle that nobody read, rpm. Invented.
const usualIdle = 750

// How far things stand, as gain and cutoff in Hz. Invented, chosen by ear.
var (
	beside   = synth.Path{Gain: 1}
	stepsOff = synth.Path{Gain: 0.45, Cutoff: 3500}
	outside  = synth.Path{Gain: 0.16, Cutoff: 800}

	engineHere     = synth.Path{Gain: 0.55}
	engineDash     = synth.Path{Gain: 0.35, Cutoff: 450}
	engineTailpipe = synth.Path{Gain: 0.6, Cutoff: 900}

	inHand = synth.Path{Gain: 0.7}
)

// Sides, from left to right as one looks into the engine compartment. Invented.
const (
	pumpSide     = -0.45
	relaySide    = 0.5
	solenoidSide = 0.25
	besideSide   = 0.3 // what is left of a side close up
)

// path is the way from a thing to the ear.
func path(ear, thing string, side float64) synth.Path {
	p := outside
	switch {
	case ear == thing:
		p, side = beside, side*besideSide
	case inCompartment(ear) && inCompartment(thing):
		p = stepsOff
	}
	p.Pan = side
	return p
}

func engineTo(ear string) synth.Path {
	switch ear {
	case dash:
		return engineDash
	case tailpipe:
		return engineTailpipe
	}
	return engineHere
}

// Params is what is heard as numbers, at full volume.
func (h Heard) Params() synth.Params {
	e := h.ear
	if e == nil {
		e = &Ear{}
	}
	p := synth.Params{Master: 1, Scene: e.scene()}
	// Paths stay when a sound ends, so that it runs down where it was.
	p.Pump.Path = path(h.Place, e.placeOf(h.PumpOf, "pump"), pumpSide)
	if h.Pump == "" {
		p.Pump.Path.Gain = 0
	}
	p.Pump.Speed = pumpSpeed[h.Pump]
	p.Pump.Rough = roughness[h.Bearing]
	if h.Pump != Whines {
		p.Pump.Clear = 1
	}
	p.Engine.Path = engineTo(h.Place)
	if h.Running {
		p.Engine.Rpm = float64(h.Rpm)
		if h.Rpm == 0 {
			p.Engine.Rpm = usualIdle
		}
		p.Engine.Hunt = idleHunt[h.Idle]
		if h.Blows != "" {
			p.Engine.Open = 1
		}
	}
	p.Hiss = synth.Hiss{Flow: hissFlow[h.Hiss], Path: beside}

	once := func(kind int, m Mark, way synth.Path) {
		p.Once[kind] = synth.Event{Count: uint32(max(0, m.Seq)), Path: way}
	}
	once(synth.Relay, h.Relay, path(h.Place, e.placeOf(h.Relay.Of, fuseBox), relaySide))
	once(synth.Solenoid, h.Solenoid, path(h.Place, e.placeOf(h.Solenoid.Of, "solenoid"), solenoidSide))
	works, vain := h.Start, Mark{}
	if h.Start.Word != "starts" {
		works, vain = vain, works
	}
	once(synth.Crank, works, engineTo(h.Place))
	once(synth.CrankInVain, vain, engineTo(h.Place))
	once(synth.Beep, h.Beep, inHand)
	once(synth.Arc, h.Arc, inHand)
	return p
}

// FromView is what is heard on a car with the usual places.
func FromView(v bench.View, last []bench.Finding) synth.Params {
	return (&Ear{}).Listen(v, last).Params()
}
