package validate

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"coldbay/sim"
	"coldbay/sim/air"
	"coldbay/sim/car"
)

func lawStations() []station {
	return []station{
		{name: "conservation over a cold start", group: "Conservation", how: ByWorld, cars: each, once: true, run: conservation},
		{name: "heat of the exhaust", group: "Conservation", how: ByWorld, cars: each, once: true, run: exhaustHeat},
		{name: "finer strides", group: "Convergence", how: ByWorld, cars: each, once: true, run: convergence},
		{name: "finer heat", group: "Convergence", how: ByWorld, cars: each, once: true, run: finerHeat},
		{name: "more of a fault", group: "Monotony", how: ByWorld, once: true, run: monotony},
		{name: "altitude and temperature", group: "Altitude and temperature", how: ByWorld, run: surroundings},
	}
}

// kirchhoff is the largest sum of currents at a node over the largest current, and the sum of all elements' powers over the largest.
func kirchhoff(g *Ground, w *sim.World) (node, power float64) {
	sum := map[string]float64{}
	var order []string
	largest, most, total := 0.0, 0.0, 0.0
	put := func(a, b string, amps float64) {
		for _, n := range []string{a, b} {
			if _, ok := sum[n]; !ok {
				order = append(order, n)
			}
		}
		sum[a] -= amps
		sum[b] += amps
		p := volts(w, a, b) * amps
		largest, most, total = max(largest, math.Abs(amps)), max(most, math.Abs(p)), total+p
	}
	for _, e := range g.Car.Electrical.Elements {
		switch e.Kind {
		case "connector":
			ohm, err := w.Param(e.ID, "ohm")
			if err != nil || w.Opened(e.ID) {
				continue
			}
			for _, pin := range e.Pins {
				put(pin[0], pin[1], volts(w, pin[0], pin[1])/ohm)
			}
		case "relay":
			coil, err := w.CoilAmps(e.ID)
			if err != nil {
				continue
			}
			put(e.A, e.B, coil)
			if contact, err := w.Amps(e.ID); err == nil {
				put(e.C, e.D, contact)
			}
		default:
			if a, err := w.Amps(e.ID); err == nil {
				put(e.A, e.B, a)
			}
		}
	}
	for _, n := range order {
		node = max(node, math.Abs(sum[n]))
	}
	return node / max(largest, 1), math.Abs(total) / max(most, 1)
}

func conservation(g *Ground, s *sheet) error {
	w, err := g.world("", 0)
	if err != nil {
		return err
	}
	if err := startUp(w); err != nil {
		return err
	}
	w.Step(1)
	a := g.Car.Anatomy()
	if len(a.Inlets) != 1 {
		return fmt.Errorf("the air comes in by %d ways; one is reckoned with", len(a.Inlets))
	}
	inertia, ke, bearing, cv := 0.0, 0.0, 0.0, 0.0
	for name, to := range map[string]*float64{"j_kgm2": &inertia, "ke_v_s": &ke, "bearing_nm": &bearing, "cv_nms": &cv} {
		if a.Motor == "" {
			break
		}
		if *to, err = w.Param(a.Motor, name); err != nil {
			return err
		}
	}
	var node, power, drawn, pushed, metered, swallowed, given, spent float64
	stored0, man0 := g.pumped(w, a), g.trapped(w)
	speed := w.PumpSpeed(a.Motor)
	kinetic0, before := 0.5*inertia*speed*speed, speed
	w.Follow(1300, sim.Refinement{FastMS: 5, See: func(dt float64) {
		n, p := kirchhoff(g, w)
		node, power = max(node, n), max(power, p)
		in, _ := w.PartFlow(a.Inlets[0])
		drawn += in * dt
		pushed += w.AirFlow() * dt
		for _, dump := range a.Dumps {
			out, _ := w.FlowOut(dump)
			pushed += out * dt
		}
		metered += w.ThrottleFlow() * dt
		swallowed += w.EngineAir() * dt
		v := w.PumpSpeed(a.Motor)
		mean := (v + before) / 2
		before = v
		given += ke * w.MotorAmps(a.Motor) * mean * dt
		spent += (bearing + cv*mean + w.PumpTorque(a.Motor)) * mean * dt
	}})
	if err := w.Err(); err != nil {
		return err
	}
	law := func(text string) Source { return Source{Property, text} }
	s.atMost("law.charge", "largest sum of currents at a node, of the largest current, cold start of 130 s", node, 1e-8, "", law("Kirchhoff's current law, every stride"))
	s.atMost("law.power", "sum of the powers of all elements, of the largest", power, 1e-8, "", law("Tellegen's theorem, every stride"))
	what := "air drawn by the pump, less what reached the exhaust and is stored, of all"
	if len(a.Dumps) > 0 {
		what = "air drawn by the pump, less what reached the exhaust or the open and is stored, of all"
	}
	s.atMost("law.pump_air", what, math.Abs(drawn-pushed-(g.pumped(w, a)-stored0))/drawn, 2e-3, "", law("mass; the pipe's air warms behind the pump, which the model lets go as expansion"))
	s.atMost("law.engine_air", "air metered less air into the cylinders and into the manifold, of all", math.Abs(metered-swallowed-(g.trapped(w)-man0))/metered, 5e-3, "", law("mass; the vacuum line lends the rest"))
	drained, taken, err := g.drain(a)
	if err != nil {
		return err
	}
	load := "ten minutes of a welded pump relay"
	if a.Relay == "" {
		load = "ten minutes with the key on"
	}
	s.near("law.battery", "charge that "+load+" take out of the battery", drained, taken, 1e-6, "Ah", law("charge is the current's integral"))
	if a.Motor != "" {
		final := w.PumpSpeed(a.Motor)
		s.atMost("law.shaft", "work of the pump's motor less bearing, air and kinetic energy, of all", math.Abs(given-spent-(0.5*inertia*final*final-kinetic0))/given, 5e-3, "", law("energy of the shaft"))
	}
	return nil
}

// drain is what the state of charge says, and what the current says, ten minutes after the pump's relay has welded, or after the key was turned
// on in a car without such a relay, Ah.
func (g *Ground) drain(a car.Anatomy) (charge, current float64, err error) {
	w, err := g.world("", 0)
	if err != nil {
		return 0, 0, err
	}
	if a.Relay == "" {
		w.SetKey(true)
	} else if err := w.SetParam(a.Relay+".welded", 1); err != nil {
		return 0, 0, err
	}
	capacity, err := w.Param(a.Battery, "capacity_ah")
	if err != nil {
		return 0, 0, err
	}
	before := w.Charge()
	w.Follow(6000, sim.Refinement{FastMS: 50, See: func(dt float64) {
		if a, err := w.Amps(a.Battery); err == nil {
			current -= a * dt / 3600
		}
	}})
	return (before - w.Charge()) * capacity, current, w.Err()
}

// pumped is the air between filter and exhaust ports, kg, at the surroundings' temperature.
func (g *Ground) pumped(w *sim.World, a car.Anatomy) float64 {
	m := 0.0
	for _, v := range g.Car.Pneumatic.Volumes {
		if slices.Contains(a.Pumped, v.ID) {
			m += (w.AmbientPa() - vacuum(w, v.ID)) * v.M3
		}
	}
	for _, h := range g.Car.Pneumatic.Hoses {
		if slices.Contains(a.Pumped, h.ID) {
			m += (w.AmbientPa() - vacuum(w, h.ID)) * h.M3
		}
	}
	return m / (287.05 * w.AmbientK())
}

// trapped is the air in the manifold, kg, at 298 K.
func (g *Ground) trapped(w *sim.World) float64 {
	for _, v := range g.Car.Pneumatic.Volumes {
		if v.ID == "manifold" {
			return (w.AmbientPa() - vacuum(w, v.ID)) * v.M3 / (287.05 * 298)
		}
	}
	return 0
}

// readings of a car during its cold run.
type readings struct{ amps, volts, pipe, manifold, chamber, flow, lit float64 }

func readAt(w *sim.World, a car.Anatomy) readings {
	r := readings{w.MotorAmps(a.Motor), 0, vacuum(w, a.Pipe), vacuum(w, "manifold"), 0, w.AirFlow() * 3600, w.LitAt()}
	if a.Motor != "" {
		r.volts = volts(w, a.Plus, a.Minus)
	}
	if len(a.Chambers) > 0 {
		r.chamber = vacuum(w, a.Chambers[0])
	}
	return r
}

// graded is the first fault with a severity of which a change sets a parameter that is asked for.
func (g *Ground) graded(wanted func(of, param string) bool) (fault string) {
	for _, f := range g.Car.Faults {
		for _, c := range f.Changes {
			if of, param, ok := strings.Cut(c.Set, "."); ok && !f.Fixed && wanted(of, param) {
				return f.ID
			}
		}
	}
	return ""
}

// steadily follows the controller's commands: while pump and valve move, a reading is none.
type steadily struct {
	pump, valve bool
	moved       float64
}

// at tells for a moment of a run whether a reading can be taken: 3 s after an output has gone on and 10 s after one has gone off, for a pump runs down.
func (q *steadily) at(w *sim.World) bool {
	pump, valve := w.PumpCommand(), w.ValveCommand()
	switch {
	case q.pump && !pump || q.valve && !valve:
		q.moved = w.RunS() + 10
	case pump != q.pump || valve != q.valve:
		q.moved = w.RunS() + 3
	}
	q.pump, q.valve = pump, valve
	return w.RunS() > max(q.moved, 5)
}

func convergence(g *Ground, s *sheet) error {
	src := Source{Property, "the same cold start at strides of 2.5 ms at most and heat in four parts, against the program's own strides; the last digit of a mechanic's instrument (common practice, no source)"}
	a := g.Car.Anatomy()
	worn := g.graded(func(of, param string) bool { return of == a.Pump && param == "wear" })
	grown := g.graded(func(of, param string) bool {
		return param == "clog" && slices.ContainsFunc(g.Car.Pneumatic.Parts, func(p air.Part) bool { return p.ID == of && p.B == "exhaust" })
	})
	if worn == "" || grown == "" {
		return fmt.Errorf("no fault with a severity wears the pump, or none clogs the way into the exhaust")
	}
	var worst readings
	for _, f := range []string{"", worn, grown} {
		coarse, err := g.world(f, 0.6)
		if err != nil {
			return err
		}
		if err := startUp(coarse); err != nil {
			return err
		}
		fine := coarse.Clone()
		var q steadily
		for coarse.RunS() < 100 {
			coarse.Step(1)
			fine.Follow(1, sim.Refinement{FastMS: 2, Slow: 4})
			if !q.at(coarse) {
				continue
			}
			x, y := readAt(coarse, a), readAt(fine, a)
			worst.amps = max(worst.amps, math.Abs(x.amps-y.amps))
			worst.volts = max(worst.volts, math.Abs(x.volts-y.volts))
			worst.pipe = max(worst.pipe, math.Abs(x.pipe-y.pipe))
			worst.manifold = max(worst.manifold, math.Abs(x.manifold-y.manifold))
			worst.chamber = max(worst.chamber, math.Abs(x.chamber-y.chamber))
			worst.flow = max(worst.flow, math.Abs(x.flow-y.flow))
		}
		worst.lit = max(worst.lit, math.Abs(coarse.LitAt()-fine.LitAt()))
		if err := fine.Err(); err != nil {
			return err
		}
	}
	if a.Motor != "" {
		s.atMost("step.amps", "pump current changes by at most (three cars, 5 to 100 s)", worst.amps, 0.1, "A", src)
		s.atMost("step.volts", "voltage at the pump", worst.volts, 0.01, "V", src)
	}
	s.atMost("step.pipe", "pressure in the pipe", worst.pipe/1000, 0.1, "kPa", src)
	s.atMost("step.manifold", "manifold vacuum", worst.manifold/1000, 0.3, "kPa", src)
	if len(a.Chambers) > 0 {
		s.atMost("step.chamber", "chamber vacuum", worst.chamber/1000, 0.3, "kPa", src)
	}
	s.atMost("step.flow", "air into the exhaust", worst.flow, 0.15, "kg/h", src)
	s.atMost("step.lit", "light-off", worst.lit, 0.5, "s", src)
	return nil
}

func monotony(g *Ground, s *sheet) error {
	for _, c := range []struct {
		id, fault, what string
		read            func(*sim.World) float64
		up              bool
	}{
		{"split", "valve_line_split", "a worse split never gives more chamber vacuum", func(w *sim.World) float64 { return vacuum(w, "chamber") }, false},
		{"tear", "diaphragm_torn", "a worse tear never gives more chamber vacuum", func(w *sim.World) float64 { return vacuum(w, "chamber") }, false},
		{"ground", "pump_ground_corroded", "a worse ground never gives more current", func(w *sim.World) float64 { return w.MotorAmps("pump_motor") }, false},
		{"contacts", "relay_contacts_burnt", "worse contacts never give more voltage at the pump", func(w *sim.World) float64 { return volts(w, "pump_1h", "pump_2h") }, false},
		{"passages", "passages_carboned", "narrower passages never give more air", func(w *sim.World) float64 { return w.AirFlow() }, false},
		{"pressure", "passages_carboned", "narrower passages never give less pressure in the pipe", func(w *sim.World) float64 { return -vacuum(w, "scroll") }, true},
		{"worn", "pump_worn", "a worse pump never gives more air", func(w *sim.World) float64 { return w.AirFlow() }, false},
	} {
		against, last := 0, math.NaN()
		for k := 1; k <= 10; k++ {
			w, err := g.world(c.fault, float64(k)/10)
			if err != nil {
				return err
			}
			if err := coldStart(w, 12); err != nil {
				return err
			}
			v := c.read(w)
			slack := 5e-4*math.Abs(v) + 1e-9
			if !math.IsNaN(last) && (c.up && v < last-slack || !c.up && v > last+slack) {
				against++
			}
			last = v
		}
		s.near("mono."+c.id, c.what+": severities out of order among 0.1, 0.2 … 1.0", float64(against), 0, 0.5, "", Source{Property, "12 s into the cold run"})
	}
	return nil
}

// warmIdle is a car warmed up at 2500 rpm and left to idle.
func (g *Ground) warmIdle(k, pa float64) (*sim.World, error) {
	w, err := g.worldAt(k, pa, "", 0)
	if err != nil {
		return nil, err
	}
	if err := coldStart(w, 5); err != nil {
		return nil, err
	}
	w.HoldSpeed(2500)
	w.Step(4000)
	w.HoldSpeed(0)
	w.Step(600)
	return w, w.Err()
}

func surroundings(g *Ground, s *sheet) error {
	low, err := g.warmIdle(roomK, seaPa)
	if err != nil {
		return err
	}
	vac := vacuum(low, "manifold")
	s.band("idle.vacuum", "warm idle manifold vacuum, sea level", vac/inHg, 17, 22, "inHg", Source{Practice, "check-values.md section 7: 17 to 22 inHg; about 20 in US Army ordnance text OD1001"})
	s.near("idle.vacuum_note", "the same", vac/1000, 65.5, 1.5, "kPa", solved("65.5 kPa"))
	s.near("idle.rpm", "warm idle speed", low.Rpm(), 750, 10, "rpm", Source{Note, "vehicle.md: 750 rpm warm"})
	high, err := g.warmIdle(roomK, 84307.3)
	if err != nil {
		return err
	}
	s.band("idle.altitude", "warm idle vacuum is lower at 5000 ft by", (vac-vacuum(high, "manifold"))/inHg, 4, 5.5, "inHg", Source{Handbook, "US Army ordnance text OD1001, lesson 3: about 5 inHg less at about 5000 ft"})
	w, err := g.worldAt(roomK, 84307.3, "", 0)
	if err != nil {
		return err
	}
	if err := coldStart(w, 20); err != nil {
		return err
	}
	s.near("alt.flow", "air into the exhaust at 5000 ft over that at sea level (15.7 kg/h)", w.AirFlow()*3600/15.7, 0.885, 0.05, "",
		Source{Worked, "a fan pumps volume: density ratio 0.832 and a lighter load, which turns it faster"})
	s.atMost("alt.amps", "pump current at 5000 ft, valve open", w.MotorAmps("pump_motor"), 27.6, "A", Source{Worked, "thinner air loads no pump more"})
	cold, err := g.worldAt(253.15, seaPa, "", 0)
	if err != nil {
		return err
	}
	cold.SetKey(true)
	cold.Step(10)
	cold.SetStarter(true)
	lowest := math.Inf(1)
	for i := 0; i < 60 && !cold.Running(); i++ {
		cold.Step(1)
		lowest = min(lowest, volts(cold, "bat_pos", "bat_neg"))
	}
	s.band("cold.crank", "battery voltage while cranking at −20 °C", lowest, 9.6, 11.5, "V", Source{Practice, "check-values.md section 7: at least 9.6 V"})
	return cold.Err()
}
