package bay

import (
	"coldbay/sim/bench"
)

// tool is what the trainee holds or does.
type tool string

// The tools of the tray, in its order.
const (
	toolStep     tool = "step"
	toolEye      tool = "eye"
	toolEar      tool = "ear"
	toolHand     tool = "hand"
	toolHands    tool = "hands"
	toolMeter    tool = "meter"
	toolClamp    tool = "clamp"
	toolLamp     tool = "lamp"
	toolJumper   tool = "jumper"
	toolHandPump tool = "handpump"
	toolBreath   tool = "breath"
	toolSmoke    tool = "smoke"
	toolGas      tool = "gas"
	toolScan     tool = "scan"
	toolExtract  tool = "extract"
	toolHelper   tool = "helper"
	toolRepair   tool = "repair"
)

func tray() []tool {
	return []tool{toolStep, toolEye, toolEar, toolHand, toolHands, toolMeter, toolClamp, toolLamp, toolJumper,
		toolHandPump, toolBreath, toolSmoke, toolGas, toolScan, toolExtract, toolHelper, toolRepair}
}

// withheld tells whether an order can leave a tool out, and under what name.
func (t tool) withheld() bool {
	switch t {
	case toolMeter, toolClamp, toolLamp, toolJumper, toolHandPump, toolBreath, toolScan, toolHelper, toolSmoke, toolGas:
		return true
	}
	return false
}

// id is the tool's name among those that an order can allow or withhold.
func (t tool) id() string {
	switch t {
	case toolBreath:
		return bench.ToolBreath
	case toolGas:
		return bench.ToolGas
	}
	return string(t)
}

// kind is what sort of thing a spot is.
type kind string

const (
	aPlace     kind = "place"
	aTerminal  kind = "terminal"
	aPort      kind = "port"
	anEnd      kind = "end"
	aConnector kind = "connector"
	aPart      kind = "part"
	aClamp     kind = "clamp"
)

// The choices of the option bar.
var (
	meterModes = []string{"volts", "ohms", "amps"}
	lampWatts  = []string{"21", "5"}
	gauges     = []string{"18", "14", "12", "10"}
	fuses      = []string{"none", "3", "5", "10", "20", "30", "40"}
)

// hold is what is in hand and half done: the state behind a click.
type hold struct {
	tool  tool
	red   string // first terminal, chosen
	end   string // free hose end, chosen to be fitted
	bend  bool   // looking: move hoses and covers
	plug  bool   // hands: plug instead of pull
	meter string
	lamp  string
	gauge string
	fuse  string
}

func newHold() hold {
	return hold{tool: toolStep, meter: meterModes[0], lamp: lampWatts[0], gauge: "14", fuse: "10"}
}

// takes tells whether the tool in hand can be used on a thing, so that the thing is offered.
func (h *hold) takes(k kind, v *bench.View, id string) bool {
	switch h.tool {
	case toolEye, toolEar:
		return k == aPlace
	case toolHand:
		return k == aPlace || k == aPart || k == aPort && portFree(v, id) || k == anEnd && endFree(v, id)
	case toolHands:
		if h.plug {
			return k == aPort && portFree(v, id) || k == anEnd && endFree(v, id)
		}
		return k == aConnector || k == aPart || k == anEnd || k == aPort && h.end != "" && portFree(v, id)
	case toolMeter, toolLamp, toolJumper:
		return k == aTerminal
	case toolClamp:
		return k == aClamp
	case toolHandPump, toolBreath, toolSmoke:
		return k == aPort || k == anEnd && endFree(v, id)
	}
	return false
}

// use turns a click on a thing into an action. More is true when a second click is needed first.
func (h *hold) use(k kind, v *bench.View, id string) (a bench.Action, more bool) {
	switch h.tool {
	case toolEye:
		a = bench.Action{Verb: bench.Look, On: id}
		if h.bend {
			a.Mode = "bend"
		}
	case toolEar:
		a = bench.Action{Verb: bench.Listen, On: id}
	case toolHand:
		a = bench.Action{Verb: bench.Feel, On: id}
	case toolHands:
		return h.handle(k, v, id)
	case toolMeter, toolLamp, toolJumper:
		if h.red == "" {
			h.red = id
			return a, true
		}
		if h.red == id {
			h.red = ""
			return a, true
		}
		a = bench.Action{On: h.red, To: id}
		h.red = ""
		switch h.tool {
		case toolMeter:
			a.Verb, a.Mode = bench.MeterOn, h.meter
		case toolLamp:
			a.Verb, a.Mode = bench.LampOn, h.lamp
		default:
			a.Verb, a.Mode = bench.Jump, h.gauge+"awg "+fuseMode(h.fuse)
		}
	case toolClamp:
		a = bench.Action{Verb: bench.ClampOn, On: id}
	case toolHandPump:
		a = bench.Action{Verb: bench.HandPump, On: id}
	case toolSmoke:
		a = bench.Action{Verb: bench.SmokeIn, On: id}
	case toolBreath:
		a = bench.Action{Verb: bench.Blow, On: id}
	}
	return a, false
}

func fuseMode(fuse string) string {
	if fuse == "none" {
		return fuse
	}
	return fuse + "A"
}

func (h *hold) handle(k kind, v *bench.View, id string) (a bench.Action, more bool) {
	a.On = id
	if h.plug {
		a.Verb = bench.Plug
		if plugged(v, id) {
			a.Verb = bench.Unplug
		}
		return a, false
	}
	switch k {
	case aConnector:
		a.Verb = choose(isOn(v.Connectors, id), bench.Close, bench.Open)
	case aPart:
		a.Verb = choose(isOn(v.Parts, id), bench.Refit, bench.Remove)
	case anEnd:
		if !endFree(v, id) {
			a.Verb = bench.Pull
			return a, false
		}
		h.end = choose(h.end == id, "", id)
		return a, true
	case aPort:
		a = bench.Action{Verb: bench.Fit, On: h.end, To: id}
		h.end = ""
	}
	return a, false
}

func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

func isOn(list []bench.OnOff, id string) bool {
	for _, x := range list {
		if x.ID == id {
			return x.On
		}
	}
	return false
}

func portFree(v *bench.View, id string) bool {
	for _, p := range v.Ports {
		if p.ID == id {
			return p.Hose == ""
		}
	}
	return false
}

func endFree(v *bench.View, id string) bool {
	for _, e := range v.HoseEnds {
		if e.ID == id {
			return e.At == ""
		}
	}
	return false
}

func plugged(v *bench.View, id string) bool {
	for _, p := range v.Ports {
		if p.ID == id {
			return p.Plugged
		}
	}
	for _, e := range v.HoseEnds {
		if e.ID == id {
			return e.Plugged
		}
	}
	return false
}

// reachable tells whether what must be off or open before a probe reaches a spot is so: "open:pump_plug", "removed:relay".
func reachable(v *bench.View, when string) bool {
	if id, ok := cut(when, "open:"); ok {
		return isOn(v.Connectors, id)
	}
	if id, ok := cut(when, "removed:"); ok {
		return isOn(v.Parts, id)
	}
	return true
}

func cut(s, prefix string) (string, bool) {
	if len(s) > len(prefix) && s[:len(prefix)] == prefix {
		return s[len(prefix):], true
	}
	return "", false
}
