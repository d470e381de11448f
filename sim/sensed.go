package sim

import (
	"coldbay/sim/car"
	"coldbay/sim/exhaust"
)

// The controller's sensors, in the order of car.SensorKinds.
const (
	coolantSensor = iota
	intakeSensor
	oxygenSensor
	oxygenSensor2
	sensors
)

// Parameters of a sensor, in the order of car.SensorParams.
const (
	sensorPull = iota
	sensorToward
	sensorOffset
	sensorLag
)

// sensed are the indices of sensors' first parameters, -1 where the car names none, and of the exhaust's joint and the valves' seats.
type sensed struct {
	at    [sensors]int
	joint [2]int // by bank
	back  []seat
}

// seat is a valve that keeps exhaust back, the parameter that counts what has come back through it, and the hose before it.
type seat struct {
	part, par, hose int
	second          bool // it leads to the second bank
}

// maxSeats bounds the valves whose hoses are followed: one for each bank.
const maxSeats = 2

func senseLinks(c *car.Car) sensed {
	var s sensed
	for k, kind := range car.SensorKinds() {
		s.at[k] = -1
		for _, d := range c.Sensors {
			if d.Kind == kind {
				s.at[k], _ = c.Param(d.ID + "." + car.SensorParams()[0])
			}
		}
	}
	for bank, name := range car.ExhaustJoints() {
		s.joint[bank] = -1
		if i, ok := c.Param(name + ".leak_m2"); ok {
			s.joint[bank] = i
		}
	}
	for _, p := range c.Pneumatic.Parts {
		part := c.Air.Part(p.ID)
		i, ok := c.Param(p.ID + ".back_kg")
		if first, second := c.Air.KeepsExhaust(part); ok && (first || second) && len(s.back) < maxSeats {
			s.back = append(s.back, seat{part, i, c.Air.Approach(part), second && !first})
		}
	}
	return s
}

// reads is what the controller gets of a quantity.
func (w *World) reads(sensor int, actual float64) float64 {
	at := w.link.sensed.at[sensor]
	if at < 0 {
		return actual
	}
	p := w.par.v[at:]
	return actual + float64((p[sensorToward]-actual)*p[sensorPull]) + p[sensorOffset]
}

// sensorLag is what a slow oxygen sensor adds to its signal's lag, s.
func (w *World) sensorLag(sensor int) float64 {
	if at := w.link.sensed.at[sensor]; at >= 0 {
		return w.par.v[at+sensorLag]
	}
	return 0
}

// joint is what the joint of a bank's exhaust before the sensor draws in and lets out, kg/s.
func (w *World) joint(bank int) (drawn, blown float64) {
	at := w.link.sensed.joint[bank]
	if at < 0 || w.par.v[at] <= 0 || w.en.W < 1 {
		return 0, 0
	}
	return exhaust.Joint(&w.car.Exhaust, w.par.v[at], (w.en.CylAir+w.ec.FuelRate)/float64(max(1, w.car.Banks)), w.cond.AmbientPa/(287.05*w.cond.AmbientK))
}

// Exhaust that comes back warms what it passes: half of the way to the gas at backHalf, within backTauS [invented].
const (
	backHalf = 2e-4 // kg/s
	backTauS = 30.0
)

// comeBack counts the exhaust that flows back through each valve and warms the pipe before it.
func (w *World) comeBack(dt float64) {
	for k, v := range w.link.sensed.back {
		back := w.backAt(k)
		if back > 0 {
			own(&w.par)[v.par] += float64(back * dt)
		}
		gasK := w.ex.PortK
		if v.second {
			gasK = w.ex2.v.PortK
		}
		goal := w.cond.AmbientK + float64((gasK-w.cond.AmbientK)*(back/(back+backHalf)))
		w.pipeK[k] += float64((goal - w.pipeK[k]) * (dt / (backTauS + dt)))
	}
}

// backAt is the exhaust in kg/s that comes back at a seat: what passes it, or what the pulses breathe through a leaking check valve.
func (w *World) backAt(seat int) float64 {
	if w.en.W <= 1 {
		return 0
	}
	part := w.link.sensed.back[seat].part
	back := max(-w.car.Air.PartFlow(&w.pn, part), 0)
	if leak, volume := w.car.Air.Seat(w.par.v[:], part); leak > 0 {
		back = max(back, exhaust.Breath(&w.car.Exhaust, leak, volume, w.pnIn.PulsePa, w.pipeK[seat], w.pnIn.ExhaustPa/(287.05*w.pipeK[seat]), w.Rpm()))
	}
	if back <= 1e-7 {
		return 0
	}
	return back
}

// HoseK is how warm a hose is to the hand, K: one on a valve's inlet is warmed by exhaust that comes back.
func (w *World) HoseK(id string) float64 {
	for i, h := range w.car.Pneumatic.Hoses {
		if h.ID != id {
			continue
		}
		for k, v := range w.link.sensed.back {
			if v.hose == i {
				return w.pipeK[k]
			}
		}
	}
	return w.cond.AmbientK
}

// PipeK is how warm the warmest hose before a valve is to the hand, K: from exhaust that comes back.
func (w *World) PipeK() float64 { return max(w.pipeK[0], w.pipeK[1]) }

// TailGas is the dry gas at the tailpipe, both banks mixed.
func (w *World) TailGas() exhaust.Gas {
	g := w.ex.TailGas()
	if w.car.Banks != 2 || w.ex.Flow+w.ex2.v.Flow <= 0 {
		return g
	}
	h, x := w.ex2.v.TailGas(), w.ex2.v.Flow/(w.ex.Flow+w.ex2.v.Flow)
	blend := func(a, b float64) float64 { return a + float64((b-a)*x) }
	return exhaust.Gas{O2: blend(g.O2, h.O2), CO: blend(g.CO, h.CO), CO2: blend(g.CO2, h.CO2), H2: blend(g.H2, h.H2), HC: blend(g.HC, h.HC)}
}

// FuelTrims are the controller's short and long fuel trims of the first (0) or second (1) bank as shares: 0.1 adds a tenth of fuel.
func (w *World) FuelTrims(bank int) (short, long float64) {
	if bank == 1 {
		return w.ec.Short2, w.ec.Long2
	}
	return w.ec.Short, w.ec.Long
}
