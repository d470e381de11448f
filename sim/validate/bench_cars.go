package validate

import "fmt"

func otherBenchStations() []station {
	return []station{
		{name: "bench, the other cars' circuits", group: toBench + "the other cars, circuits", how: ByBench, cars: others, only: "electrical/", run: otherCircuits},
		{name: "bench, the other cars' vacuum and air", group: toBench + "the other cars, vacuum and air", how: ByBench, cars: others, once: true, run: otherAir},
		{name: "bench, the other cars' faults", group: toBench + "the other cars, faults", how: ByBench, cars: others, once: true, run: otherFaults},
	}
}

// Copper of ASTM B258 at 20 degC, ohm a metre, by gauge.
var copperOhmM = map[int]float64{10: 3.277e-3, 12: 5.211e-3, 18: 20.95e-3, 20: 33.31e-3}

// wired is what differs between the other cars' circuits: terminals and the figures of their data that a reading is worked out from.
type wired struct {
	coil, rest         string // lines that open up the coil, and lines that mend that
	coilA, coilB       string
	coilOhm, low, high float64
	pin                string  // driver's pin
	pinOhm             float64 // of the driver when it is on
	pinFeed            float64 // V behind the coil at key-on, by hand
	feedA, feedB, groundA, groundB,
	fuseA, fuseB string
	feedGauge, gndGauge  int
	feedM, gndM          float64
	fuseOhm, contactOhm  float64
	solOhm, solLow, solV float64
}

var otherWiring = map[string]wired{
	"car_b": {coil: "remove relay", rest: "refit relay", coilA: "rel_85", coilB: "rel_86", coilOhm: 85, low: 70, high: 100, pin: "ecm_31", pinOhm: 0.3, pinFeed: 12.65 - 1.4*0.017,
		feedA: "rly_87", feedB: "mot_1h", groundA: "mot_2h", groundB: "eng_gnd", fuseA: "f40_in", fuseB: "f40_out", feedGauge: 12, gndGauge: 12, feedM: 0.6, gndM: 0.7, fuseOhm: 1.7e-3, contactOhm: 5e-3},
	"car_c": {coil: "remove relay", rest: "refit relay", coilA: "rel_85", coilB: "rel_86", coilOhm: 78, low: 70, high: 100, pin: "ecm_44", pinOhm: 0.3, pinFeed: 12.65 - 1.8*0.013,
		feedA: "rly_87", feedB: "pump_1h", groundA: "pump_2h", groundB: "body", fuseA: "f50_in", fuseB: "f50_out", feedGauge: 10, gndGauge: 10, feedM: 2.2, gndM: 1.2, fuseOhm: 1.3e-3, contactOhm: 3.02e-3,
		solOhm: 32, solLow: 25, solV: 12.65 - 8.2*0.013 - 6.4*0.010 - 8.2*0.0005 - 0.38*(0.0075+0.16+0.5)},
	"car_d": {solOhm: 38, solLow: 25},
}

func otherCircuits(g *Ground, s *sheet) error {
	c, ok := otherWiring[g.Car.ID]
	if !ok {
		return nil // a car that was added: its owner has not worked its readings out
	}
	v := g.bay(brought{ambientC: 20})
	s.near("bench.rest", "meter, battery at rest", v.num("meter volts bat_pos bat_neg", "volts"), 12.65, meterTol(12.65, 0.01), "V",
		Source{Handbook, "state-of-charge sheet credited to BCI: 12.65 V full, within the meter's class"})
	v.do("meter off")
	if c.coil != "" {
		ohm := v.num(c.coil+"; meter ohms "+c.coilA+" "+c.coilB, "ohms")
		s.near("bench.rel_ohm", "meter, relay coil", ohm, c.coilOhm, meterTol(c.coilOhm, 0.1), "Ω", Source{Worked, "the coil's resistance in the car's data, at 20 °C"})
		s.band("bench.rel_ohm_rule", "the same", ohm, c.low, c.high, "Ω", Source{Practice, "ISO 7588 relays 70 to 100 Ω"})
		s.word("bench.contact_open", "meter, relay contact at rest, relay in the hand", v.word("meter off; meter ohms rel_30 rel_87", "ohms"), Source{Worked, "30 and 87 are open at rest (ISO 7588, from memory)"}, "OL")
		s.near("bench.bias", "meter, the relay driver's pin with the relay out, key on", v.num("meter off; key on; watch 3; meter volts "+c.pin+" bat_neg", "volts"), 2.5*10e6/(10e6+47e3), 0.02, "V",
			Source{Worked, "vehicle.md's mid-level bias, 2.5 V behind 47 kΩ, loaded by a 10 MΩ meter"})
		s.near("bench.pin_off", "meter, the same pin with the relay in, key on", v.num("key off; meter off; "+c.rest+"; key on; watch 3; meter volts "+c.pin+" bat_neg", "volts"), c.pinFeed, 0.06, "V",
			Source{Worked, "battery through the coil, less the key-on loads over battery and main relay"})
		v.do("key off; meter off")
		driven(g, s, v, c)
	}
	if c.solOhm > 0 {
		ohm := v.num("open sol_plug; meter ohms sol_1 sol_2", "ohms")
		s.near("bench.sol_ohm", "meter, solenoid coil", ohm, c.solOhm, meterTol(c.solOhm, 0.1), "Ω", Source{Worked, "the coil's resistance in the car's data, at 20 °C"})
		s.band("bench.sol_ohm_rule", "the same", ohm, c.solLow, 40, "Ω", Source{Practice, "check-values.md 3.4: 25 to 40 Ω"})
		v.do("meter off; close sol_plug")
	}
	if !g.Car.ScanPort {
		w := g.bay(brought{ambientC: 20}).do("extract on; meter volts sol_1h sol_2h; start; watch 9")
		s.near("bench.sol_run", "meter at the solenoid's plug, 10 s into a cold run, under the battery's voltage by", belowBattery(w), (5.9+0.36)*0.012+0.36*(0.0075+3.3*copperOhmM[18]+0.6+0.0012), 0.06, "V",
			Source{Worked, "main relay with 6.3 A, fuse, 3.3 m of 18 AWG (ASTM B258), driver of 0.6 Ω and body with 0.36 A"})
		if v.err == nil {
			v.err = w.err
		}
	}
	return v.err
}

// belowBattery reads the meter at the plug, then at the battery a moment later in a copy.
func belowBattery(w *visitor) float64 {
	at, _ := w.find("volts")
	return w.fork().num("meter volts bat_pos bat_neg", "volts") - at.Value
}

// driven holds the feed of a pump that the scan tool's test drives to Ohm's law: drops over known metres of known wire, by the clamp.
func driven(g *Ground, s *sheet, v *visitor, c wired) {
	base := g.bay(brought{ambientC: 20}).do("scan on; key on; clamp w_feed zero")
	read := func(red, black string) (volts, amps float64) {
		w := base.fork()
		volts = w.num("meter volts "+red+" "+black+"; actuator pump", "volts")
		p, _ := w.find("amps")
		if v.err == nil {
			v.err = w.err
		}
		return volts, p.Value
	}
	copper := func(gauge int, m float64) float64 { return copperOhmM[gauge] * m }
	feed, amps := read(c.feedA, c.feedB)
	s.band("bench.amps", "clamp, pump driven, engine off", amps, 20, 35, "A", Source{Practice, "reference/trade_bands.csv: pump run current"})
	want := amps * copper(c.feedGauge, c.feedM)
	s.near("bench.feed_wire", fmt.Sprintf("meter along %.3g m of %d AWG to the pump", c.feedM, c.feedGauge), feed, want, 0.02*want+0.003, "V", Source{Worked, "ASTM B258's ohms a metre times the clamp's reading; 2 % for the clamp's class and the wire's warmth"})
	ground, amps := read(c.groundA, c.groundB)
	want = amps * copper(c.gndGauge, c.gndM)
	s.near("bench.ground_wire", fmt.Sprintf("meter along %.3g m of %d AWG from it", c.gndM, c.gndGauge), ground, want, 0.02*want+0.003, "V", Source{Worked, "ASTM B258 and the clamp"})
	s.atMost("bench.ground_most", "the rule for a ground, at most", ground, 0.2, "V", Source{Practice, "check-values.md 3.4: 0.1 V, 0.2 V at most"})
	fuse, amps := read(c.fuseA, c.fuseB)
	s.near("bench.fuse_drop", "meter across the pump's fuse", fuse, amps*c.fuseOhm, 0.004, "V", Source{Worked, "the fuse's cold resistance in the car's data times the clamp's reading"})
	contact, amps := read("rly_30", "rly_87")
	s.near("bench.contact", "meter across the relay's contact", contact, amps*c.contactOhm, 0.003+0.02*amps*c.contactOhm, "V", Source{Worked, "contact and socket of the car's data times the clamp's reading"})
	s.atMost("bench.contact_rule", "the rule for a contact", contact, 0.2, "V", Source{Practice, "check-values.md 3.4, voltage drop under load"})
	battery, _ := read("bat_pos", "bat_neg")
	plus, _ := read("bat_pos", c.feedB)
	plug, _ := read(c.feedB, c.groundA)
	minus, _ := read(c.groundA, "bat_neg")
	s.near("bench.kirchhoff", "meter, feed, pump and ground together less the battery", plus+plug+minus-battery, 0, 3*0.003*plug, "V", Source{Worked, "Kirchhoff's second law; each reading within the meter's class"})
	pin, _ := read(c.pin, "bat_neg")
	s.near("bench.pin_on", "meter, the driver's pin driven", pin, c.pinOhm*12.4/(c.coilOhm+0.5)+0.001, 0.02, "V", Source{Worked, "the driver's on resistance times the coil's current"})
	if c.solV > 0 {
		sol := base.fork().num("meter volts sol_1h sol_2h; actuator solenoid", "volts")
		s.near("bench.sol_volts", "meter across the solenoid's plug, driven", sol, c.solV, 0.05, "V", Source{Worked, "12.65 V less 8.2 A over battery, main relay and body, 6.4 A over the fuel pump relay, 0.38 A over fuse, 4.8 m of 20 AWG (ASTM B258) and the driver's 0.5 Ω, by hand"})
	}
	w := base.fork()
	s.word("bench.whine", "ear, pump driven", w.word("actuator pump; listen pump", "whine"), Source{Practice, "a sound pump"}, "normal")
	if v.err == nil {
		v.err = w.err
	}
}

// stroked is the vacuum in kPa that strokes of the hand pump draw in a closed volume, m3, by Boyle and Mariotte.
func stroked(m3 float64, strokes int) float64 {
	p := seaPa
	for range strokes {
		p *= (m3 + 20e-6) / (m3 + 35e-6)
	}
	return (seaPa - p) / 1000
}

var byBoyle = Source{Worked, "Boyle and Mariotte: 15 cm³ a stroke, pump 20 cm³ (invented); the gauge reads to 1 kPa with 0.5 kPa of play"}

func otherAir(g *Ground, s *sheet) error {
	steady := Source{Practice, "check-values.md section 7: steady air"}
	var all []*visitor
	at := func(lines string) *visitor {
		v := g.bay(brought{ambientC: 20}).do(lines)
		all = append(all, v)
		return v
	}
	switch g.Car.ID {
	case "car_b":
		s.word("bench.tailpipe", "hand at the tailpipe, pump driven, engine off", at("scan on; key on").word("actuator pump; feel tailpipe", "flow"), Source{Note, "vehicle.md: the pump's own pressure opens the valve"}, "clear")
		s.word("bench.pipe_off", "hand at the pipe pulled off the valve, pump driven", at("scan on; pull pressure_pipe.b; key on").word("actuator pump; feel pressure_pipe.b", "flow"), steady, "strong blowing")
		s.word("bench.inlet", "hand at the inlet hose pulled off the filter, pump driven", at("scan on; pull inlet_hose.a; key on").word("actuator pump; feel inlet_hose.a", "flow"), Source{Worked, "what comes out must go in"}, "strong suction", "clear suction")
	case "car_c":
		v := at("pull line_supply.a; handpump res_out")
		s.near("bench.stroke_res", "gauge after 10 strokes on the reservoir", v.num("stroke 10", "vacuum"), stroked(501e-6, 10), 1.2, "kPa", byBoyle)
		s.atMost("bench.hold_res", "gauge, its loss in 60 s", v.num("holdvac 60", "drop"), 3.4, "kPa", Source{Practice, "one inHg a minute at most"})
		// Line, tee and both branches, shut at the valves: 2.1 + 1.5 + 2.8 + 4.2 cm3.
		v = at("pull line_valve.a; pull line_valve_2.a; plug line_valve.a; plug line_valve_2.a; pull line_tee.b; handpump line_tee.b")
		s.near("bench.stroke_tee", "gauge after one stroke on the tee and its lines, shut at both valves", v.num("stroke 1", "vacuum"), stroked(10.6e-6, 1), 1.2, "kPa", byBoyle)
		for _, bank := range []struct{ id, pull, on, pipe string }{{"1", "line_valve.a", "valve_nipple", "branch_pipe.b"}, {"2", "line_valve_2.a", "valve_nipple_2", "branch_pipe_2.b"}} {
			v = at("pull " + bank.pull + "; handpump " + bank.on)
			s.atLeast("bench.valve_"+bank.id, "gauge after 4 strokes on the valve of bank "+bank.id, v.num("stroke 4", "vacuum"), 40, "kPa", Source{Practice, "a hand pump draws 15 inHg and more on a diaphragm"})
			s.atMost("bench.valve_hold_"+bank.id, "gauge, its loss in 60 s", v.num("holdvac 60", "drop"), 3.4, "kPa", Source{Practice, "one inHg a minute at most"})
			s.word("bench.one_bank_"+bank.id, "hand at the tailpipe, that valve alone held open, pump driven", v.word("scan on; key on; actuator pump; feel tailpipe", "flow"), Source{Note, "vehicle.md: fully open at 32 kPa"}, "clear")
			s.word("bench.pipe_off_"+bank.id, "hand at that bank's pipe pulled off its valve, pump driven", at("scan on; pull "+bank.pipe+"; key on").word("actuator pump; feel "+bank.pipe, "flow"), steady, "strong blowing")
		}
		v = at("extract on; scan on; start; watch 19; data 12 34 38")
		s.word("bench.status", "scan, parameter $12 in the run", v.word("", "pid.12"), Source{Standard, "SAE J1979 parameter $12 (open decoder): 01 upstream"}, upstream)
		for bank, pid := range []string{"pid.34", "pid.38"} {
			s.band(fmt.Sprintf("bench.ratio_%d", bank+1), fmt.Sprintf("scan, ratio at bank %d's sensor", bank+1), v.num("", pid, fmt.Sprintf("Equivalence ratio B%dS1", bank+1)), 1.05, 1.5, "", Source{Memory, "vehicle.md: 1.05 to 1.5"})
		}
	case "car_d":
		v := at("pull line_diverter.a; handpump div_nipple")
		s.atLeast("bench.diverter", "gauge after 6 strokes on the diverter", v.num("stroke 6", "vacuum"), 27, "kPa", Source{Note, "car_d.yaml: fully lifted at 27 kPa"})
		s.atMost("bench.diverter_hold", "gauge, its loss in 60 s", v.num("holdvac 60", "drop"), 3.4, "kPa", Source{Practice, "one inHg a minute at most"})
		// The line alone: 3.8 cm3.
		v = at("pull line_diverter.a; plug line_diverter.a; pull line_diverter.b; handpump line_diverter.b")
		s.near("bench.stroke_line", "gauge after one stroke on the diverter's line, shut at its end", v.num("stroke 1", "vacuum"), stroked(3.8e-6, 1), 1.2, "kPa", byBoyle)
		b := at("pull line_diverter.b; pull line_supply.b")
		s.word("bench.breath_out", "breath into the solenoid's outlet at rest", b.fork().word("blow sol_out", "breath"), Source{Practice, "check-values.md section 7: valve port to vent"}, "free", "hard")
		s.word("bench.breath_supply", "breath into its supply at rest", b.fork().word("blow sol_supply", "breath"), Source{Practice, "check-values.md section 7: manifold port blocked"}, "blocked")
		s.word("bench.blow_check", "breath through the check valve towards the exhaust", at("pull air_hose.a").word("blow check_inlet", "breath"), Source{Practice, "a check valve lets air towards the exhaust"}, "free")
		s.word("bench.dump_cold", "hand at the diverter's silencer, 6 s into a cold run", at("extract on; start; watch 5").word("feel div_dump", "flow"), Source{Note, "car_d.yaml: vacuum sends the air to the exhaust"}, "none", "faint blowing")
		s.word("bench.dump_warm", "the same when the run is over", at("extract on; start; watch 130").word("feel div_dump", "flow"), Source{Note, "car_d.yaml: without vacuum the air goes out at the silencer"}, "strong blowing")
		s.word("bench.check_back", "hand before the check valve, hose off, engine running", at("extract on; pull air_hose.a; start; watch 3").word("feel check_inlet", "flow"), Source{Practice, "nothing may come back through a check valve"}, "none")
		s.word("bench.hose_cold", "hand on the air hose at the check valve, warm idle", at("extract on; start; watch 130").word("feel air_hose", "heat"), Source{Practice, "a sound check valve keeps its hose cool"}, "cold")
		w := at("extract on; start; hold 2500; watch 400; hold idle; watch 60; pull line_supply.a; handpump man_nipple")
		s.band("bench.warm_gauge", "gauge on the manifold's nipple, warm idle", w.num("watch 15; read gauge", "vacuum")*1000/inHg, 17, 22, "inHg", Source{Practice, "17 to 22 inHg; about 20 in US Army ordnance text OD1001"})
	}
	for _, v := range all {
		if v.err != nil {
			return v.err
		}
	}
	return nil
}

func otherFaults(g *Ground, s *sheet) error {
	var all []*visitor
	with := func(fault string, severity float64, lines string) *visitor {
		v := g.bay(brought{fault: fault, severity: severity, ambientC: 20}).do(lines)
		all = append(all, v)
		return v
	}
	open := Source{Worked, "open"}
	switch g.Car.ID {
	case "car_b":
		v := with("fuse_blown", 1, "meter volts f40_out bat_neg")
		s.near("fault.fuse_out", "meter, pump side of the blown fuse", v.num("", "volts"), 0, 0.01, "V", open)
		v = with("valve_leaks_back", 1, "extract on; start; watch 130")
		s.word("fault.leaks_back", "hand on the pressure pipe, warm idle, valve stuck open and reed leaking", v.word("feel pressure_pipe", "heat"), Source{Practice, "a pipe that gets hot at the valve lets exhaust back"}, "hot")
		v = with("pipe_off", 1, "scan on; key on; actuator pump")
		s.word("fault.pipe_tail", "hand at the tailpipe, pipe off, pump driven", v.word("feel tailpipe", "flow"), Source{Worked, "the air goes elsewhere"}, "none")
	case "car_c":
		v := with("line_1_off", 1, "scan on; key on; actuator both")
		s.word("fault.line_see", "eyes, line at the valve of bank 1", v.word("actuator off; key off; look valve", "sign", "line_valve.a"), Source{Worked, "it hangs"}, "hangs free")
		v = with("line_1_off", 1, "pull line_tee.b; handpump line_tee.b")
		s.atMost("fault.tee", "gauge, 10 strokes on the tee with one line off", v.num("stroke 10", "vacuum"), 15, "kPa", Source{Practice, "below what begins to lift a valve (18 kPa)"})
	case "car_d":
		v := with("check_leaks_back", 1, "extract on; start; watch 130")
		s.word("fault.check_heat", "hand on the air hose at a leaking check valve, warm idle", v.word("feel air_hose", "heat"), Source{Practice, "a hose that gets hot or burns at the check valve shows that it lets exhaust back"}, "hot")
		v = with("check_leaks_back", 1, "extract on; pull air_hose.a; start; watch 3")
		s.word("fault.check_back", "hand before it, hose off, engine running", v.word("feel check_inlet", "flow"), Source{Practice, "nothing may come back through a check valve"}, "clear blowing", "strong blowing")
		v = with("check_shut", 1, "pull air_hose.a")
		s.word("fault.check_shut", "breath through a check valve stuck shut", v.word("blow check_inlet", "breath"), open, "blocked")
		v = with("belt_gone", 1, "extract on; start; watch 5")
		s.word("fault.belt_see", "eyes, belt", v.fork().word("stop; look front", "sign", "air_pump"), Source{Worked, "it is not there"}, "the pump's belt is gone")
		s.word("fault.belt_dump", "hand at the silencer, belt gone, line to the diverter off", with("belt_gone", 1, "extract on; pull line_diverter.a; start; watch 5").word("feel div_dump", "flow"), Source{Worked, "a pump that stands gives no air"}, "none")
	}
	for _, v := range all {
		if v.err != nil {
			return v.err
		}
	}
	return nil
}
