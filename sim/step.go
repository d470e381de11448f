package sim

import (
	"fmt"
	"math"

	"coldbay/sim/circuit"
	"coldbay/sim/ecm"
	"coldbay/sim/engine"
	"coldbay/sim/exhaust"
)

// Step advances the world by ticks of 0.1 s. After an error it does nothing any more: see Err.
func (w *World) Step(ticks int) {
	for range ticks {
		if w.err != nil {
			return
		}
		w.fail(w.tick())
	}
}

// fail ends the world.
func (w *World) fail(err error) {
	if err != nil {
		w.err = fmt.Errorf("at %.1f s: %w", w.Time(), err)
	}
}

// tick runs the controller once, the electrical, pneumatic and mechanical parts in strides of 5 to 100 ms as fast as things
// move, and the slow heat of engine and exhaust once.
func (w *World) tick() error {
	w.onsets()
	if w.resting() {
		return w.rest()
	}
	w.controller()
	for left := 100; left > 0; {
		ms := min(w.stride(), left)
		if err := w.fast(float64(ms) / 1000); err != nil {
			return err
		}
		w.brisk = max(0, w.brisk-ms)
		left -= ms
	}
	if err := w.slow(Tick); err != nil {
		return err
	}
	w.ms += 100
	return nil
}

// stride chooses the next short step in ms from how fast things move now.
func (w *World) stride() int {
	fastest := w.pn.Rate
	for m := range w.link.pumpOf {
		if w.el.W[m] > 1 {
			fastest = max(fastest, 500)
		}
	}
	switch {
	case w.brisk > 600:
		return 5
	case w.brisk > 0:
		return 10
	case fastest > 3000:
		return 20
	case fastest > 20 || w.en.W > 1 || w.pn.Tool() != 0:
		return 50
	}
	return 100
}

func (w *World) controller() {
	c, l := w.car, w.link
	mix := &c.Engine.Mixture
	in := ecm.Inputs{
		Dt: Tick, Key: w.key, Crank: w.key && w.starter, Rpm: w.en.W * engine.Rpm,
		CoolantK: w.reads(coolantSensor, w.en.CoolantK), IntakeK: w.reads(intakeSensor, w.cond.AmbientK),
		SupplyV: w.el.Volts(l.supply, l.ground), FuelV: w.el.Volts(l.fuelOut, l.ground),
		MafKgS: c.Air.ThrottleFlow(&w.pn), CylKgS: w.en.CylAir,
		MapPa: c.Air.ManifoldPa(&w.pn), BaroPa: w.cond.AmbientPa,
		Lambda: w.reads(oxygenSensor, w.ex.Seen), SensorK: w.ex.SensorK, CatK: w.ex.Cat[0],
		Throttle: w.en.Area / c.Engine.AreaMax * 0.25, // the idle path is a quarter of the throttle's travel [invented]
		AFR:      c.Engine.StoichAFR, HasPump: l.pumpPin >= 0, HasSol: l.solPin >= 0,
		Air: ecm.Mixture{Start: mix.Start, AirEnd: mix.AirEnd, TailS: mix.TailS, TrimMax: mix.TrimMax, TrimRate: mix.TrimRate,
			TrimSoft: mix.TrimSoft, LongRate: mix.LongRate, ReadyK: mix.ReadyK},
	}
	if w.ec.Started() {
		// PID 04 is the air flow over that with the throttle open, at the same speed and outside pressure.
		if full := float64(w.pn.CylSlope*in.BaroPa) - w.pn.CylOffset; full > 0 {
			in.Load = min(max((float64(w.pn.CylSlope*in.MapPa)-w.pn.CylOffset)/full, 0), 1)
		}
	}
	if in.Key && w.ms > 0 && in.SupplyV == 0 {
		in.SupplyV = 12 // the first tick after key-on: the main relay has not been solved yet
	}
	if l.pumpPin >= 0 {
		in.PumpPinV = w.el.Volts(l.pumpPin, l.ground)
		in.PumpShut = c.Circuit.Shut(&w.el, l.pumpDrv)
	}
	if l.solPin >= 0 {
		in.SolPinV = w.el.Volts(l.solPin, l.ground)
		in.SolShut = c.Circuit.Shut(&w.el, l.solDrv)
	}
	if c.Banks == 2 {
		in.Banks, in.Lambda2, in.Sensor2K, in.Cat2K = 2, w.reads(oxygenSensor2, w.ex2.v.Seen), w.ex2.v.SensorK, w.ex2.v.Cat[0]
	}
	if c.Controller.NarrowBand {
		in.OxygenV = [2]float64{exhaust.SensorVolts(in.Lambda, in.SensorK), exhaust.SensorVolts(in.Lambda2, w.ex2.v.SensorK)}
	}
	in.PipePa, in.HasPipe = w.PipeSensorPa()
	ecm.Step(&c.Controller, &w.ec, &in)
	w.command(l.key, w.key)
	w.command(l.run, w.ec.Started())
	w.command(l.crank, w.key && w.starter)
	w.command(l.fuel, w.ec.Fuel)
	w.command(l.pump, w.ec.Pump)
	w.command(l.sol, w.ec.Sol)
}

// command hands a controller output to the circuit; a change is followed in short strides.
func (w *World) command(i int, on bool) {
	if i >= 0 && w.elIn.On[i] != on {
		w.elIn.On[i] = on
		w.el.Touch()
		w.brisk = 900
	}
}

// fast advances circuit, motors, air and crankshaft by dt seconds.
func (w *World) fast(dt float64) error {
	c, l := w.car, w.link
	w.elIn.Dt, w.elIn.TempK = dt, w.cond.AmbientK
	if err := c.Circuit.Step(&w.el, w.par.v[:], w.elIn); err != nil {
		return diverged(err)
	}
	if w.el.Parted != 0 {
		c.Circuit.Part(&w.el, own(&w.par)[:])
	}
	if w.el.Moved {
		w.brisk = 900
	}
	for i := range l.coil {
		if e := l.coil[i]; e >= 0 {
			if on := c.Circuit.Pulled(&w.el, e); on != w.pnIn.Coil[i] {
				w.pnIn.Coil[i] = on
				w.pn.Touch()
			}
		}
	}
	for m := range c.Circuit.MotorCount() {
		if w.spin(m, dt); !(w.el.W[m] < maxRad) {
			return diverged(fmt.Errorf("motor %q: %.3g rad/s", c.Circuit.Motors()[m], w.el.W[m]))
		}
	}
	belt := 0.0
	for _, part := range l.belts {
		belt += w.belt(part)
	}
	charge := engine.ChargeK(&c.Engine, &w.en, w.cond.AmbientK)
	w.pn.CylK, w.pn.CylSlope, w.pn.CylOffset = engine.Breathing(&c.Engine, &w.en, charge)
	w.pn.Throttle = w.en.Area
	w.pnIn.Dt = dt
	w.pnIn.AmbientPa, w.pnIn.AmbientK, w.pnIn.ChargeK = w.cond.AmbientPa, w.cond.AmbientK, charge
	w.pnIn.ExhaustPa = w.cond.AmbientPa + exhaust.PortPa(&c.Exhaust, w.ex.Flow)
	w.pnIn.ExhaustK = w.ex.PortK
	w.pnIn.PulsePa = 0
	if w.en.W > 1 {
		w.pnIn.PulsePa = exhaust.PulsePa(&c.Exhaust, (w.en.CylAir+w.ec.FuelRate)/float64(max(1, c.Banks)))
	}
	w.pnIn.Exhaust2Pa = w.cond.AmbientPa + exhaust.PortPa(&c.Exhaust, w.ex2.v.Flow)
	w.pnIn.Exhaust2K = w.ex2.v.PortK
	if err := c.Air.Step(&w.pn, w.par.v[:], &w.pnIn); err != nil {
		return diverged(err)
	}
	p := c.Air.ManifoldPa(&w.pn)
	w.en.CylAir = max(0, w.pn.CylK*(float64(w.pn.CylSlope*p)-w.pn.CylOffset))
	in := engine.Inputs{Dt: dt, AmbientPa: w.cond.AmbientPa, ManifoldPa: p, Crank: w.key && w.starter,
		Fire: w.ec.Fire, Heating: w.ec.Heating, HoldRad: w.hold, Fuel: w.ec.FuelRate,
		StarterV: w.el.Volts(l.battA, l.battB), BeltNm: belt}
	if l.alt >= 0 {
		in.AltWatts = max(0, -c.Circuit.Amps(&w.el, l.alt)) * in.StarterV
	}
	engine.Step(&c.Engine, &w.en, &in)
	if !(math.Abs(w.en.W) < maxRad) {
		return diverged(fmt.Errorf("crankshaft: %.3g rad/s", w.en.W))
	}
	return nil
}

// What no shaft and no metal of a car comes near: beyond it a solution is none.
const (
	maxRad = 1e6 // rad/s
	maxK   = 1e6 // K
)

// spin advances a motor: J dw/dt = Ke I - T, by the linearised trapezoidal rule; the current answers the speed
// through the resistance of the loop that the armature sees.
func (w *World) spin(m int, dt float64) {
	c := w.car
	loop, at := c.Circuit.MotorFrame(&w.el, m)
	p := w.par.v[at:]
	ke, j := p[circuit.MotorKe], p[circuit.MotorJ]
	v := w.el.W[m]
	load := 0.0
	if part := w.link.pumpOf[m]; part >= 0 {
		w.pnIn.W[part] = v
		load = c.Air.PumpLoad(&w.pn, w.par.v[:], &w.pnIn, part)
	}
	drag := p[circuit.MotorBearing] + float64(p[circuit.MotorCv]*v) + load
	drive := float64(ke * c.Circuit.MotorAmps(&w.el, m))
	if v <= 0 && drive <= p[circuit.MotorBearing] {
		w.el.W[m] = 0
		return
	}
	f := (drive - drag) / j
	slope := -(float64(ke*ke)/loop + p[circuit.MotorCv] + 2*load/max(v, 20)) / j
	v += dt * f / (1 - float64(0.5*dt*slope))
	w.el.W[m] = max(v, 0)
	if part := w.link.pumpOf[m]; part >= 0 {
		w.pnIn.W[part] = w.el.W[m]
	}
	if math.Abs(f) > 600 {
		w.brisk = max(w.brisk, 100)
	}
}

// belt turns a belt-driven pump with the engine and gives the torque in N m that it asks of the crankshaft.
func (w *World) belt(part int) float64 {
	n := w.car.Air
	if w.pn.Off(part) {
		w.pnIn.W[part] = 0
		return 0
	}
	ratio, bearing, grip, _ := n.Belt(w.par.v[:], part)
	w.pnIn.W[part] = w.en.W * ratio
	if w.pnIn.W[part] <= 0 {
		return 0
	}
	if bearing > grip { // the pulley stands, and the belt slips over it
		w.pnIn.W[part] = 0
		return float64(ratio * grip)
	}
	return float64(ratio * (bearing + n.PumpLoad(&w.pn, w.par.v[:], &w.pnIn, part)))
}

// breaths are what the exhaust of each bank gets in dt seconds of slow; that of a second bank stays empty in a car with one.
func (w *World) breaths(dt float64) (banks [2]exhaust.Inputs) {
	c := w.car
	mix := &c.Engine.Mixture
	in := exhaust.Inputs{Dt: dt, AmbientK: w.cond.AmbientK, Air: w.en.CylAir, Fuel: w.ec.FuelRate, Burnt: w.en.Burnt,
		Second: c.Air.ExhaustFlow(&w.pn), Spark: w.en.Spark, EtaInd: c.Engine.EtaInd, HV: c.Engine.HeatingValue,
		AFR: c.Engine.StoichAFR, Run: w.ec.RunS, LagS: mix.LagS + w.sensorLag(oxygenSensor), TauS: mix.TauS, FinalK: mix.FinalK, Heater: w.ec.Started()}
	if w.en.W < 1 {
		in.Air = 0
	}
	in.Leak, _ = w.joint(0)
	if c.Banks != 2 {
		banks[0] = in
		return banks
	}
	// Each bank has half the cylinders, and an exhaust of its own with the secondary air that is blown into it.
	in.Air, in.Fuel = in.Air/2, w.ec.FuelRate-w.ec.Fuel2
	second := in
	second.Fuel = w.ec.Fuel2
	if in.Burnt > 0 { // what burns in a bank is bounded by its own air
		in.Burnt, second.Burnt = min(in.Fuel, in.Air/in.AFR), min(second.Fuel, in.Air/in.AFR)
	}
	in.Second, second.Second = c.Air.BankFlow(&w.pn, 0), c.Air.BankFlow(&w.pn, 1)
	second.Leak, _ = w.joint(1)
	second.LagS = mix.LagS + w.sensorLag(oxygenSensor2)
	return [2]exhaust.Inputs{in, second}
}

// slow advances heat and chemistry by dt seconds.
func (w *World) slow(dt float64) error {
	c := w.car
	in := w.breaths(dt)
	before := w.lulled()
	heat := 0.0
	if c.Banks == 2 {
		heat = exhaust.Step(&c.Exhaust, own(&w.ex2), &in[1])
	}
	heat += exhaust.Step(&c.Exhaust, &w.ex, &in[0])
	engine.Warm(&c.Engine, &w.en, heat, w.cond.AmbientK, dt)
	w.comeBack(dt)
	if now := w.lulled(); !(now[0]+now[1]+now[2]+now[3]+w.ex.PortK+w.ex2.v.Cat[0] < maxK) {
		return diverged(fmt.Errorf("heat: coolant %.3g, block %.3g, manifold %.3g, catalyst %.3g and %.3g, gas at the ports %.3g K",
			now[0], now[1], now[2], now[3], w.ex2.v.Cat[0], w.ex.PortK))
	}
	w.lull(before, dt)
	return nil
}

// Soak switches the key off and lets the car stand for hours: everything cools, vacuum creeps away, a load that stayed on
// runs the battery down.
func (w *World) Soak(hours float64) {
	w.wake()
	w.key, w.starter, w.hold = false, false, 0
	w.Step(50)
	w.wake()
	if w.err != nil {
		return
	}
	seconds := float64(hours * 3600)
	engine.Cool(&w.car.Engine, &w.en, w.cond.AmbientK, seconds)
	exhaust.Cool(&w.car.Exhaust, &w.ex, w.cond.AmbientK, seconds)
	if w.car.Banks == 2 {
		exhaust.Cool(&w.car.Exhaust, own(&w.ex2), w.cond.AmbientK, seconds)
	}
	w.pipeK = [maxSeats]float64{w.cond.AmbientK, w.cond.AmbientK}
	left := seconds
	for dt := 0.1; left > 0; dt *= 1.3 {
		d := min(dt, left, 600)
		if !w.napping() {
			d = min(d, 20) // what runs a battery down heats and slows
		}
		if err := w.fast(d); err != nil {
			w.fail(err)
			return
		}
		left -= d
	}
	w.ms += int64(float64(seconds*10)+0.5) * 100
	w.brisk = 900
}
