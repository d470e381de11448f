package validate

import (
	"math"

	"coldbay/sim"
)

func lawStations() []station {
	return []station{
		{name: "conservation over a cold start", group: "Conservation", how: ByWorld, once: true, run: conservation},
		{name: "finer strides", group: "Convergence", how: ByWorld, once: true, run: convergence},
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
	inertia, err := w.Param("pump_motor", "j_kgm2")
	if err != nil {
		return err
	}
	ke, bearing, cv := 0.0, 0.0, 0.0
	for name, to := range map[string]*float64{"ke_v_s": &ke, "bearing_nm": &bearing, "cv_nms": &cv} {
		if *to, err = w.Param("pump_motor", name); err != nil {
			return err
		}
	}
	var node, power, drawn, pushed, metered, swallowed, given, spent float64
	stored0, man0 := g.pumped(w), g.trapped(w)
	speed := w.PumpSpeed("pump_motor")
	kinetic0, before := 0.5*inertia*speed*speed, speed
	w.Follow(1300, sim.Refinement{FastMS: 5, See: func(dt float64) {
		n, p := kirchhoff(g, w)
		node, power = max(node, n), max(power, p)
		in, _ := w.PartFlow("filter")
		drawn += in * dt
		pushed += w.AirFlow() * dt
		metered += w.ThrottleFlow() * dt
		swallowed += w.EngineAir() * dt
		v := w.PumpSpeed("pump_motor")
		mean := (v + before) / 2
		before = v
		given += ke * w.MotorAmps("pump_motor") * mean * dt
		spent += (bearing + cv*mean + w.PumpTorque("pump_motor")) * mean * dt
	}})
	if err := w.Err(); err != nil {
		return err
	}
	law := func(text string) Source { return Source{Property, text} }
	s.atMost("law.charge", "largest sum of currents at a node, of the largest current, cold start of 130 s", node, 1e-8, "", law("Kirchhoff's current law, every stride"))
	s.atMost("law.power", "sum of the powers of all elements, of the largest", power, 1e-8, "", law("Tellegen's theorem, every stride"))
	s.atMost("law.pump_air", "air drawn by the pump, less what reached the exhaust and is stored, of all", math.Abs(drawn-pushed-(g.pumped(w)-stored0))/drawn, 2e-3, "", law("mass; the pipe's air warms by 30 K, which the model lets go as expansion"))
	s.atMost("law.engine_air", "air metered less air into the cylinders and into the manifold, of all", math.Abs(metered-swallowed-(g.trapped(w)-man0))/metered, 5e-3, "", law("mass; the vacuum line lends the rest"))
	drained, taken, err := g.drain()
	if err != nil {
		return err
	}
	s.near("law.battery", "charge that ten minutes of a welded pump relay take out of the battery", drained, taken, 1e-6, "Ah", law("charge is the current's integral"))
	final := w.PumpSpeed("pump_motor")
	s.atMost("law.shaft", "work of the pump's motor less bearing, air and kinetic energy, of all", math.Abs(given-spent-(0.5*inertia*final*final-kinetic0))/given, 5e-3, "", law("energy of the shaft"))
	return nil
}

// drain is what the state of charge says, and what the current says, ten minutes after the pump's relay has welded, Ah.
func (g *Ground) drain() (charge, current float64, err error) {
	w, err := g.world("", 0)
	if err != nil {
		return 0, 0, err
	}
	if err := w.SetParam("pump_relay.welded", 1); err != nil {
		return 0, 0, err
	}
	capacity, err := w.Param("battery", "capacity_ah")
	if err != nil {
		return 0, 0, err
	}
	before := w.Charge()
	w.Follow(6000, sim.Refinement{FastMS: 50, See: func(dt float64) {
		if a, err := w.Amps("battery"); err == nil {
			current -= a * dt / 3600
		}
	}})
	return (before - w.Charge()) * capacity, current, w.Err()
}

// pumped is the air between filter and exhaust ports, kg, at the surroundings' temperature.
func (g *Ground) pumped(w *sim.World) float64 {
	m := 0.0
	for _, v := range g.Car.Pneumatic.Volumes {
		switch v.ID {
		case "airbox", "scroll", "gallery":
			m += (w.AmbientPa() - vacuum(w, v.ID)) * v.M3
		}
	}
	for _, h := range g.Car.Pneumatic.Hoses {
		switch h.ID {
		case "inlet_hose", "pressure_pipe":
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

func readAt(w *sim.World) readings {
	return readings{w.MotorAmps("pump_motor"), volts(w, "pump_1", "pump_2"), vacuum(w, "scroll"), vacuum(w, "manifold"), vacuum(w, "chamber"), w.AirFlow() * 3600, w.LitAt()}
}

func convergence(g *Ground, s *sheet) error {
	src := Source{Property, "the same cold start at strides of 2.5 ms at most and heat in four parts, against the program's own strides"}
	var worst readings
	for _, f := range []struct {
		id  string
		sev float64
	}{{"", 0}, {"pump_worn", 0.6}, {"passages_carboned", 0.6}} {
		coarse, err := g.world(f.id, f.sev)
		if err != nil {
			return err
		}
		if err := startUp(coarse); err != nil {
			return err
		}
		fine := coarse.Clone()
		for coarse.RunS() < 100 {
			coarse.Step(1)
			fine.Follow(1, sim.Refinement{FastMS: 2, Slow: 4})
			if t := coarse.RunS(); t < 5 || t > 79 && t < 90 {
				continue // while pump and valve move, a reading is none
			}
			a, b := readAt(coarse), readAt(fine)
			worst.amps = max(worst.amps, math.Abs(a.amps-b.amps))
			worst.volts = max(worst.volts, math.Abs(a.volts-b.volts))
			worst.pipe = max(worst.pipe, math.Abs(a.pipe-b.pipe))
			worst.manifold = max(worst.manifold, math.Abs(a.manifold-b.manifold))
			worst.chamber = max(worst.chamber, math.Abs(a.chamber-b.chamber))
			worst.flow = max(worst.flow, math.Abs(a.flow-b.flow))
		}
		worst.lit = max(worst.lit, math.Abs(coarse.LitAt()-fine.LitAt()))
		if err := fine.Err(); err != nil {
			return err
		}
	}
	s.atMost("step.amps", "pump current changes by at most (three cars, 5 to 100 s)", worst.amps, 0.1, "A", src)
	s.atMost("step.volts", "voltage at the pump", worst.volts, 0.01, "V", src)
	s.atMost("step.pipe", "pressure in the pipe", worst.pipe/1000, 0.1, "kPa", src)
	s.atMost("step.manifold", "manifold vacuum", worst.manifold/1000, 0.3, "kPa", src)
	s.atMost("step.chamber", "chamber vacuum", worst.chamber/1000, 0.3, "kPa", src)
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
