package sim

import (
	"fmt"
	"math"
	"slices"

	"coldbay/sim/car"
	"coldbay/sim/engine"
)

// KeyOn says whether the key is on.
func (w *World) KeyOn() bool { return w.key }

// Running says whether the engine turns by itself.
func (w *World) Running() bool { return w.ec.Started() }

// Rpm is the crankshaft's speed in 1/min.
func (w *World) Rpm() float64 { return w.en.W * engine.Rpm }

// AmbientK and AmbientPa are the surroundings.
func (w *World) AmbientK() float64  { return w.cond.AmbientK }
func (w *World) AmbientPa() float64 { return w.cond.AmbientPa }

// CoolantK is the coolant's temperature in K.
func (w *World) CoolantK() float64 { return w.en.CoolantK }

// ExhaustPartK is the exhaust manifold's skin temperature in K; in a car with two banks, of the first.
func (w *World) ExhaustPartK() float64 { return w.ex.ManK }

// ExhaustSideK is the same of the bank that a part of the air network leads to.
func (w *World) ExhaustSideK(part string) float64 {
	if p := w.car.Air.Part(part); p >= 0 && w.car.Banks == 2 {
		if first, second := w.car.Air.KeepsExhaust(p); second && !first {
			return w.ex2.v.ManK
		}
	}
	return w.ex.ManK
}

// Lamp says whether the malfunction lamp is lit.
func (w *World) Lamp() bool { return w.ec.Lamp() }

// Volts is the potential difference between two terminals in V at the last step, as it is without a meter.
func (w *World) Volts(a, b string) (float64, error) {
	i, okA := w.car.Circuit.Node(a)
	j, okB := w.car.Circuit.Node(b)
	if !okA || !okB {
		return 0, fmt.Errorf("no terminals %q and %q", a, b)
	}
	return w.el.Volts(i, j), nil
}

// Amps is the current through an element in A, first terminal to second; of a relay, through its contact.
func (w *World) Amps(element string) (float64, error) {
	e, ok := w.car.Circuit.Elem(element)
	if !ok {
		return 0, fmt.Errorf("no element %q", element)
	}
	return w.car.Circuit.Amps(&w.el, e), nil
}

// Tool is the pneumatic tool in use.
func (w *World) Tool() ToolKind { return w.pn.Tool() }

// ToolVacuum is what the hand pump's gauge sees: Pa below ambient.
func (w *World) ToolVacuum() float64 { return w.cond.AmbientPa - w.car.Air.ToolPa(&w.pn) }

// ToolFlow is the flow in kg/s that the tool pushes (+) into its opening, or draws (-) out of it.
func (w *World) ToolFlow() float64 { return w.car.Air.ToolFlow(&w.pn) }

// FlowOut is the flow in kg/s out (+) of or into (-) an opening: a free port or hose end, "tailpipe", or a three-way valve's
// vent by "<part>.vent".
func (w *World) FlowOut(opening string) (float64, error) {
	if opening == "tailpipe" {
		return w.ex.Flow + w.ex2.v.Flow, nil
	}
	n := len(opening)
	if n > 5 && opening[n-5:] == ".vent" {
		p := w.car.Air.Part(opening[:n-5])
		if p < 0 {
			return 0, fmt.Errorf("no part %q", opening[:n-5])
		}
		return w.car.Air.VentFlow(&w.pn, p), nil
	}
	e, p, err := w.opening(opening)
	if err != nil {
		return 0, err
	}
	return w.car.Air.FlowOut(&w.pn, e, p), nil
}

// LeakFlow is the flow in kg/s out of the splits and tears of a hose or volume (negative: air is drawn in).
func (w *World) LeakFlow(id string) float64 {
	for bank, name := range car.ExhaustJoints() {
		if id == name {
			_, blown := w.joint(bank)
			return blown
		}
	}
	n := w.car.Air.Node(id)
	if n < 0 {
		return 0
	}
	return w.car.Air.LeakFlow(&w.pn, n)
}

// Vacuum is a volume's or hose's pressure below ambient in Pa.
func (w *World) Vacuum(id string) (float64, error) {
	n := w.car.Air.Node(id)
	if n < 0 {
		return 0, fmt.Errorf("no volume or hose %q", id)
	}
	return w.cond.AmbientPa - w.pn.P[n], nil
}

// AirFlow is the flow in kg/s into the exhaust ports.
func (w *World) AirFlow() float64 { return w.car.Air.ExhaustFlow(&w.pn) }

func (w *World) motor(id string) int {
	for i, m := range w.car.Circuit.Motors() {
		if m == id {
			return i
		}
	}
	return -1
}

// PumpSpeed is the speed of a motor, or of a belt-driven pump, in rad/s.
func (w *World) PumpSpeed(motor string) float64 {
	if m := w.motor(motor); m >= 0 {
		return w.el.W[m]
	}
	if p := w.car.Air.Part(motor); p >= 0 && slices.Contains(w.link.belts, p) {
		return w.pnIn.W[p]
	}
	return 0
}

// toneRad is the speed in rad/s at which a sound electric pump turns, and by which ears judge one.
const toneRad = 1190

// PumpTone is a pump's speed in rad/s as the ear judges it. A motor has its own. A belt-driven pump follows the engine, and it is heard against
// the engine whether it keeps up: it has the share that its belt leaves it of an electric pump's speed.
func (w *World) PumpTone(motor string) float64 {
	p := w.car.Air.Part(motor)
	if ratio, _, ok := w.beltOf(p); ok && w.en.W > 5 {
		healthy, _ := w.Healthy(motor + ".ratio")
		return toneRad * ratio / healthy * min(1, w.PumpSpeed(motor)/(40*healthy)) // it runs up with the engine
	}
	return w.PumpSpeed(motor)
}

func (w *World) beltOf(part int) (ratio, bearing float64, ok bool) {
	if part < 0 || w.pn.Off(part) {
		return 0, 0, false
	}
	ratio, bearing, _, ok = w.car.Air.Belt(w.par.v[:], part)
	return ratio, bearing, ok
}

// PumpDrag is the bearing torque of a motor or a belt-driven pump over that of this car when healthy.
func (w *World) PumpDrag(motor string) float64 {
	i, ok := w.car.Param(motor + ".bearing_nm")
	if !ok || w.healthy[i] == 0 {
		return 1
	}
	return (w.par.v[i] + w.pumpParam(motor, "rub_nm")) / w.healthy[i]
}

// loud is the torque in N m from which what rubs or splashes in a pump is heard [invented].
const loud = 0.02

// PumpNoise is what else is heard of a turning pump: "rattles" from a loose body, "gurgles" from water in it.
func (w *World) PumpNoise(motor string) string {
	switch {
	case w.pumpParam(motor, "rub_nm") >= loud:
		return "rattles"
	case w.pumpParam(motor, "water_nm") >= loud:
		return "gurgles"
	}
	return ""
}

// pumpParam is a parameter of the pump that a motor turns, or of a belt-driven pump; 0 where there is none.
func (w *World) pumpParam(motor, param string) float64 {
	part := w.car.Air.Part(motor)
	if m := w.motor(motor); m >= 0 {
		part = w.link.pumpOf[m]
	} else if !slices.Contains(w.link.belts, part) {
		return 0
	}
	if part < 0 {
		return 0
	}
	i, ok := w.car.Param(w.car.Pneumatic.Parts[part].ID + "." + param)
	if !ok {
		return 0
	}
	return w.par.v[i]
}

// MotorK is a motor's winding temperature in K.
func (w *World) MotorK(motor string) float64 {
	if m := w.motor(motor); m >= 0 {
		return w.el.WindingK(m)
	}
	return w.cond.AmbientK
}

// PartK is how warm an electrical element is to the hand, K: its coil or the warmest of its joints, ambient where it has neither.
func (w *World) PartK(element string) float64 {
	e, ok := w.car.Circuit.Elem(element)
	if !ok {
		return w.cond.AmbientK
	}
	k, ok := w.car.Circuit.JointK(&w.el, e)
	if kind := w.car.Circuit.Kind(e); kind == "relay" || kind == "coil" {
		k, ok = max(k, w.car.Circuit.CoilK(&w.el, e)), true
	}
	if !ok {
		return w.cond.AmbientK
	}
	return k
}

// NearEngineK is how warm a place is, K, that takes on a share of the coolant's warmth, 0 to 1.
func (w *World) NearEngineK(share float64) float64 {
	return w.cond.AmbientK + float64(share*(w.CoolantK()-w.cond.AmbientK))
}

// CoilOn says whether the armature of a relay or solenoid is pulled in.
func (w *World) CoilOn(coil string) bool {
	e, ok := w.car.Circuit.Elem(coil)
	return ok && w.car.Circuit.Pulled(&w.el, e)
}

// CoilClicks counts an armature's movements so far.
func (w *World) CoilClicks(coil string) int {
	e, ok := w.car.Circuit.Elem(coil)
	if !ok {
		return 0
	}
	return w.car.Circuit.Clicks(&w.el, e)
}

// ValveLift is a diaphragm valve's lift in m.
func (w *World) ValveLift(valve string) float64 {
	p := w.car.Air.Part(valve)
	if p < 0 {
		return 0
	}
	return w.pn.Lift(p)
}

// Param is the present value of a parameter, for what the eyes can get.
func (w *World) Param(of, param string) (float64, error) {
	i, ok := w.car.Param(of + "." + param)
	if !ok {
		return 0, fmt.Errorf("no parameter %s.%s", of, param)
	}
	return w.par.v[i], nil
}

// Lambda is the true relative air-fuel ratio in the exhaust; CatalystK the bed's temperatures; LitAt the time of light-off in
// s after the start, 0 before it. Lesson and validation views only: no bench action reads them.
func (w *World) Lambda() float64 { return w.ex.Lambda }

// LitAt is the time of light-off in s after the engine start, 0 before it: the bed's own conversion reaches 50 %.
func (w *World) LitAt() float64 { return w.ex.LitAt }

// EngineAir is the air into the cylinders in kg/s.
func (w *World) EngineAir() float64 { return w.en.CylAir }

// RunS is the time since the engine started, s.
func (w *World) RunS() float64 { return w.ec.RunS }

// Hash is a digest of the state, equal for equal bits.
func (w *World) Hash() uint64 {
	h := uint64(14695981039346656037) // FNV-1a
	add := func(x uint64) {
		for range 8 {
			h = (h ^ x&255) * 1099511628211
			x >>= 8
		}
	}
	f := func(x float64) { add(math.Float64bits(x)) }
	f(w.pipeK[0])
	f(w.pipeK[1])
	if w.late != nil {
		for i := range w.late.v {
			if w.late.v[i].on {
				add(uint64(i + 1))
			}
		}
	}
	add(uint64(w.ms))
	add(uint64(w.owed))
	for i := range w.car.Params {
		f(w.par.v[i])
	}
	w.el.Sum(f)
	w.pn.Sum(f)
	for _, v := range [...]float64{w.en.W, w.en.CoolantK, w.en.BlockK, w.en.Spark, w.en.CylAir, w.en.Area,
		w.ex.ManK, w.ex.PipeK, w.ex.PortK, w.ex.Lambda, w.ex.Seen, w.ex.SensorK, w.ex.Flow, w.ex.Bed, w.ex.LitAt,
		w.ec.RunS, w.ec.FuelRate, w.ec.Short, w.ec.Long} {
		f(v)
	}
	for _, v := range w.ex.Cat {
		f(v)
	}
	if ex2 := &w.ex2.v; w.car.Banks == 2 {
		for _, v := range [...]float64{ex2.ManK, ex2.PipeK, ex2.PortK, ex2.Lambda, ex2.Seen, ex2.SensorK, ex2.Flow, ex2.Bed, ex2.LitAt,
			w.ec.Short2, w.ec.Long2, w.ec.Fuel2} {
			f(v)
		}
		for _, v := range ex2.Cat {
			f(v)
		}
	}
	return h
}
