package sim

import (
	"fmt"

	"coldbay/sim/car"
	"coldbay/sim/exhaust"
)

// Inner quantities for traces, lessons and validation. No bench action reads them: a trainee's only way into a world is the bench.

// Refinement makes a world step finer than it would by itself, and shows it between its strides.
type Refinement struct {
	FastMS int              // strides of circuit, motors, air and crankshaft end at each multiple of it, ms; 0: as the world chooses
	Slow   int              // parts into which the 0.1 s of heat and chemistry are cut; 0 is 1
	See    func(dt float64) // called after each stride of dt seconds; may be nil
	// Heat is called after each part of heat and chemistry for each bank with what its exhaust got and how it stood before and after; may
	// be nil. A rest that a parked car is asked to take is not cut into what it sees.
	Heat func(bank int, in exhaust.Inputs, before, after exhaust.State)
}

// Follow advances the world by ticks of 0.1 s like [World.Step], as finely as r asks. With the zero Refinement the result has the
// same bits. A resting car does not take its naps when a finer stride is asked for.
func (w *World) Follow(ticks int, r Refinement) {
	for range ticks {
		if w.err != nil {
			return
		}
		w.fail(w.follow(r))
	}
}

func (w *World) follow(r Refinement) error {
	w.onsets()
	if w.resting() && r.FastMS <= 0 {
		if err := w.rest(); err != nil {
			return err
		}
		if r.See != nil {
			r.See(Tick)
		}
		return nil
	}
	w.wake()
	w.controller()
	for left := 100; left > 0; {
		ms := min(w.stride(), left)
		if r.FastMS > 0 {
			ms = min(ms, r.FastMS-(100-left)%r.FastMS)
		}
		dt := float64(ms) / 1000
		if err := w.fast(dt); err != nil {
			return err
		}
		w.brisk = max(0, w.brisk-ms)
		left -= ms
		if r.See != nil {
			r.See(dt)
		}
	}
	for range max(1, r.Slow) {
		dt := Tick / float64(max(1, r.Slow))
		if r.Heat == nil {
			if err := w.slow(dt); err != nil {
				return err
			}
			continue
		}
		in, before := w.breaths(dt), [2]exhaust.State{w.ex, w.ex2.v}
		if err := w.slow(dt); err != nil {
			return err
		}
		after := [2]exhaust.State{w.ex, w.ex2.v}
		for bank := range max(1, w.car.Banks) {
			r.Heat(bank, in[bank], before[bank], after[bank])
		}
	}
	w.ms += 100
	return nil
}

// CoilAmps is the current through the coil of a relay or solenoid in A.
func (w *World) CoilAmps(element string) (float64, error) {
	e, ok := w.car.Circuit.Elem(element)
	if !ok {
		return 0, fmt.Errorf("no element %q", element)
	}
	return w.car.Circuit.CoilAmps(&w.el, e), nil
}

// MotorAmps is a motor's armature current in A, 0 for one that the car does not have.
func (w *World) MotorAmps(motor string) float64 {
	if m := w.motor(motor); m >= 0 {
		return w.car.Circuit.MotorAmps(&w.el, m)
	}
	return 0
}

// Charge is the battery's state of charge, 0 to 1.
func (w *World) Charge() float64 { return w.el.Charge }

// ThrottleFlow is the metered air in kg/s.
func (w *World) ThrottleFlow() float64 { return w.car.Air.ThrottleFlow(&w.pn) }

// PartFlow is the flow in kg/s through a pneumatic part from its first end to its second.
func (w *World) PartFlow(part string) (float64, error) {
	p := w.car.Air.Part(part)
	if p < 0 {
		return 0, fmt.Errorf("no part %q", part)
	}
	return w.car.Air.PartFlow(&w.pn, p), nil
}

// PumpTorque is the air's torque on a motor's shaft in N m, 0 for a motor that turns no pump.
func (w *World) PumpTorque(motor string) float64 {
	m := w.motor(motor)
	if m < 0 || w.link.pumpOf[m] < 0 {
		return 0
	}
	in := w.pnIn
	in.W[w.link.pumpOf[m]] = w.el.W[m]
	return w.car.Air.PumpLoad(&w.pn, w.par.v[:], &in, w.link.pumpOf[m])
}

// PumpMotor is the motor that turns the car's first air pump and that pump's part; both are "" when the car has none.
func (w *World) PumpMotor() (motor, part string) {
	for m, p := range w.link.pumpOf {
		if p >= 0 {
			return w.car.Circuit.Motors()[m], w.car.Pneumatic.Parts[p].ID
		}
	}
	return "", ""
}

// CatalystK is the temperature of a cell of the catalyst in K, counted from the front; of the last cell beyond it.
func (w *World) CatalystK(cell int) float64 {
	return w.ex.Cat[min(max(cell, 0), w.car.Exhaust.Catalyst.Cells-1)]
}

// Conversion is the bed's own conversion at present temperatures and flow with oxygen enough, 0 to 1.
func (w *World) Conversion() float64 { return w.ex.Bed }

// SeenRatio is the relative air-fuel ratio as the sensor's signal has it, after transport and lag.
func (w *World) SeenRatio() float64 { return w.ex.Seen }

// FuelRate is the injected fuel in kg/s.
func (w *World) FuelRate() float64 { return w.ec.FuelRate }

// PortPa is the mean gauge pressure at the exhaust ports in Pa.
func (w *World) PortPa() float64 { return exhaust.PortPa(&w.car.Exhaust, w.ex.Flow) }

// PumpCommand and ValveCommand say whether the controller drives the pump's relay and the solenoid.
func (w *World) PumpCommand() bool  { return w.ec.Pump }
func (w *World) ValveCommand() bool { return w.ec.Sol }

// Healthy is this car's own healthy value of a parameter "owner.param", car-to-car draw included.
func (w *World) Healthy(param string) (float64, bool) {
	i, ok := w.car.Param(param)
	if !ok {
		return 0, false
	}
	return w.healthy[i], true
}

// SetParam changes a parameter of this one car from outside the fault catalogue: for validation, which needs changes of known size. What is no
// finite number is refused; a finite one may be any, also one that a car file may not have.
func (w *World) SetParam(param string, value float64) error {
	i, ok := w.car.Param(param)
	if !ok || i >= car.MaxParams {
		return fmt.Errorf("no parameter %q", param)
	}
	if !finite(value) {
		return fmt.Errorf("parameter %q: found %g, a finite number is allowed", param, value)
	}
	w.wake()
	own(&w.par)[i] = value
	w.touch()
	return nil
}

// Bank is what lessons and validation see of the exhaust of the first (0) or second (1) bank.
type Bank struct {
	AirKgS     float64 // secondary air
	GasKgS     float64 // all that leaves by this bank's exhaust
	Ratio      float64 // true relative air-fuel ratio
	Seen       float64 // the same as the bank's sensor has it
	PortPa     float64 // mean gauge pressure at its ports
	Conversion float64 // of its catalyst, 0 to 1
	LitAt      float64 // s after the start, 0 before light-off
}

// Bank looks at a bank's exhaust. A car with one bank has only the first.
func (w *World) Bank(i int) Bank {
	ex := w.bank(i)
	return Bank{AirKgS: w.car.Air.BankFlow(&w.pn, i), GasKgS: ex.Flow, Ratio: ex.Lambda, Seen: ex.Seen, PortPa: exhaust.PortPa(&w.car.Exhaust, ex.Flow),
		Conversion: ex.Bed, LitAt: ex.LitAt}
}

// BankCatalystK is the temperature in K of a cell of a bank's catalyst, counted from the front; of the last cell beyond it.
func (w *World) BankCatalystK(bank, cell int) float64 {
	return w.bank(bank).Cat[min(max(cell, 0), w.car.Exhaust.Catalyst.Cells-1)]
}

func (w *World) bank(i int) *exhaust.State {
	if i == 1 && w.car.Banks == 2 {
		return &w.ex2.v
	}
	return &w.ex
}

// PipeSensorPa is what the controller's pressure sensor in the air pipe reports, Pa absolute; ok is false when the car has none.
func (w *World) PipeSensorPa() (pa float64, ok bool) {
	if w.link.sensor < 0 {
		return 0, false
	}
	return w.car.Air.SensorPa(&w.pn, w.par.v[:], w.link.sensor), true
}
