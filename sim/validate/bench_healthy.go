package validate

import "math"

const toBench = "Readings at the bench: "

func benchStations() []station {
	return []station{
		{name: "bench, resting circuits", group: toBench + "healthy, at rest", how: ByBench, run: restingCircuits},
		{name: "bench, driven circuits", group: toBench + "healthy, outputs driven, engine off", how: ByBench, run: drivenCircuits},
		{name: "bench, vacuum by hand", group: toBench + "healthy, vacuum by hand", how: ByBench, run: vacuumByHand},
		{name: "bench, cold run", group: toBench + "healthy, cold run", how: ByBench, run: benchColdRun},
		{name: "bench, run time", group: toBench + "healthy, when it runs", how: ByBench, run: runTimes},
		{name: "bench, warm idle", group: toBench + "healthy, warm idle", how: ByBench, run: benchWarmIdle},
		{name: "bench, altitude", group: toBench + "healthy, at 5000 ft", how: ByBench, run: benchAltitude},
	}
}

// What the meter and the clamp of the bay may add to a reading: 0.3 % and a digit; 1.5 % and a digit.
func meterTol(v, digit float64) float64 { return 0.003*math.Abs(v) + digit }
func clampTol(v float64) float64        { return 0.015*math.Abs(v) + 0.1 }

func restingCircuits(g *Ground, s *sheet) error {
	v := g.bay(brought{ambientC: 20})
	s.near("bench.rest", "meter, battery at rest", v.num("meter volts bat_pos bat_neg", "volts"), 12.65, meterTol(12.65, 0.01), "V",
		Source{Handbook, "state-of-charge sheet credited to BCI: 12.65 V full, within the meter's class"})
	s.near("bench.fuse_out", "meter, relay side of the 40 A fuse", v.num("meter volts f40_out bat_neg", "volts"), 12.65, meterTol(12.65, 0.01), "V", Source{Worked, "nothing flows, nothing drops"})
	s.near("bench.drop_rest", "meter across the fuse at rest", v.num("meter volts f40_in f40_out", "volts"), 0, 0.001, "V", Source{Worked, "nothing flows, nothing drops"})
	s.word("bench.lamp_fuse", "21 W lamp behind the 40 A fuse", v.word("meter off; lamp f40_out bat_neg", "glow"), Source{Worked, "12.6 V: full power"}, "bright")
	s.word("bench.lamp_dead", "21 W lamp at relay 87, key off", v.word("lamp rly_87 bat_neg", "glow"), Source{Worked, "the contact is open"}, "off")
	sol := v.num("lamp off; open sol_plug; meter ohms sol_1 sol_2", "ohms")
	s.band("bench.sol_ohm", "meter, solenoid coil", sol, 25, 40, "Ω", Source{Practice, "check-values.md 3.4: 25 to 40 Ω"})
	s.near("bench.sol_ohm_note", "the same", sol, 30, meterTol(30, 0.1), "Ω", Source{Note, "vehicle.md: 30 Ω at 20 °C"})
	rel := v.num("meter off; close sol_plug; remove relay; meter ohms rel_85 rel_86", "ohms")
	s.band("bench.rel_ohm", "meter, relay coil", rel, 70, 100, "Ω", Source{Practice, "ISO 7588 relays 70 to 100 Ω; a component data sheet has 75 Ω ± 10 %"})
	s.near("bench.rel_ohm_note", "the same", rel, 80, meterTol(80, 0.1), "Ω", Source{Note, "vehicle.md: 80 Ω"})
	s.word("bench.contact_open", "meter, relay contact at rest, relay in the hand", v.word("meter off; meter ohms rel_30 rel_87", "ohms"), Source{Worked, "30 and 87 are open at rest (ISO 7588, from memory)"}, "OL")
	s.near("bench.bias", "meter, ECM pin 12 with the relay out, key on", v.num("meter off; key on; watch 3; meter volts ecm_12 bat_neg", "volts"), 2.5*10e6/(10e6+47e3), 0.02, "V",
		Source{Worked, "vehicle.md's mid-level bias, 2.5 V behind 47 kΩ, loaded by a 10 MΩ meter"})
	s.near("bench.pin_off", "meter, ECM pin 12 with the relay in, key on", v.num("key off; meter off; refit relay; key on; watch 3; meter volts ecm_12 bat_neg", "volts"), 12.62, 0.06, "V",
		Source{Worked, "battery through the coil: 12.65 V less 1.5 A over 6.7 and 10 mΩ"})
	s.word("bench.look", "eyes, every line and hose in place", v.word("key off; meter off; look solenoid bend", "sign"), Source{Worked, "nothing is wrong"}, "nothing unusual")
	return v.err
}

func drivenCircuits(g *Ground, s *sheet) error {
	t, err := g.table("outside/pump.csv")
	if err != nil {
		return err
	}
	src := Source{Program, "SciPy, testdata/outside/pump.py, 1.9 s after the start (the mean of what the display holds), within the instrument's class"}
	at := func(column string) float64 { return t.at(column, "case", "pump", "time_s", "1.9") }
	base := g.bay(brought{ambientC: 20}).do("scan on; key on; clamp w_feed zero")
	read := func(red, black string) float64 {
		return base.fork().num("meter volts "+red+" "+black+"; actuator pump", "volts")
	}
	v := base.fork()
	s.near("bench.amps_shut", "clamp, pump driven, valve shut", v.num("actuator pump", "amps"), at("current_A"), clampTol(at("current_A")), "A", src)
	s.word("bench.whine", "ear, pump driven", v.word("listen pump", "whine"), Source{Worked, "1000 to 1100 rad/s"}, "normal")
	s.word("bench.bearing", "ear, its bearing", v.word("", "bearing"), Source{Worked, "nothing is worn"}, "smooth")
	plug := read("pump_1h", "pump_2h")
	s.near("bench.plug_volts", "meter at the pump's plug", plug, at("plug_V"), meterTol(at("plug_V"), 0.03), "V", src)
	feed := read("bat_pos", "pump_1h")
	s.near("bench.feed", "meter, whole feed", feed, at("feed_V"), meterTol(at("feed_V"), 0.006), "V", src)
	rule := Source{Practice, "check-values.md 3.4, voltage drop under load"}
	s.atMost("bench.feed_rule", "the rule for a feed", feed, 0.5, "V", rule)
	contact := read("rly_30", "rly_87")
	s.near("bench.contact", "meter across the relay's contact", contact, at("contact_V"), meterTol(at("contact_V"), 0.002), "V", src)
	s.atMost("bench.contact_rule", "the rule for a contact", contact, 0.2, "V", rule)
	joint := read("f40_in", "f40_out")
	s.near("bench.fuse_drop", "meter across the 40 A fuse", joint, at("current_A")*0.0017, 0.002, "V", Source{Worked, "1.7 mΩ cold (from memory) times the current that SciPy has"})
	ground := read("pump_2h", "bat_neg")
	s.near("bench.ground", "meter, ground side", ground, at("ground_V"), meterTol(at("ground_V"), 0.003), "V", src)
	s.atMost("bench.ground_most", "the rule for a ground, at most", ground, 0.2, "V", Source{Practice, "check-values.md 3.4: 0.1 V, 0.2 V at most"})
	s.near("bench.pin_on", "meter, ECM pin 12 driven", read("ecm_12", "bat_neg"), 0.3*12.2/80.5+0.0005*27, 0.02, "V", Source{Worked, "0.3 Ω on, 0.15 A through the coil, body 0.5 mΩ"})
	s.near("bench.sol_volts", "meter across the solenoid's plug, driven", base.fork().num("meter volts sol_1h sol_2h; actuator solenoid", "volts"), 12.215, 0.05, "V",
		Source{Worked, "12.65 V less 6.7 mΩ, main and fuel pump relay 10 mΩ each, fuse, wires and 0.5 Ω of the driver, by hand"})
	s.near("bench.pin27", "meter, ECM pin 27 driven", base.fork().num("meter volts ecm_27 bat_neg; actuator solenoid", "volts"), 0.5*0.407+0.0035, 0.01, "V", Source{Worked, "0.5 Ω times 0.41 A"})
	w := base.fork()
	amps := w.num("clamp off; key off; open sol_plug; jump sol_2h sol_2 18awg 3A; key on; meter amps sol_1h sol_1; actuator solenoid", "amps")
	s.band("bench.sol_amps", "meter in series, solenoid", amps, 0.3, 0.5, "A", Source{Practice, "check-values.md 3.4: 0.3 to 0.5 A"})
	s.near("bench.sol_amps_note", "the same", amps, 12.476/30.72, 0.004, "A", Source{Worked, "12.48 V over 30 Ω, driver, wires, fuse, shunt and lead, by hand"})
	s.word("bench.click", "ear, solenoid driven", base.fork().word("actuator solenoid; listen solenoid", "click"), Source{Practice, "check-values.md section 7: it clicks"}, "clicks")
	s.word("bench.status_test", "scan, parameter $12, pump driven by the test", base.fork().word("actuator pump; data 12", "pid.12"), Source{Standard, "SAE J1979 parameter $12 (open decoder): bit 3, pump commanded on for diagnostics"}, onForDiagnostics)
	b := g.bay(brought{ambientC: 20}).do("extract on; start; watch 100; stop; extract off; scan on; key on; clamp w_feed zero; meter volts pump_1h pump_2h")
	amps = b.num("actuator both", "amps")
	volt, _ := b.find("volts")
	s.near("bench.amps_open", "clamp, both driven, reservoir filled", amps, 23.6, clampTol(23.6)+0.2, "A", solved("23.6 A"))
	s.near("bench.volts_open", "meter at the pump then", volt.Value, 11.92, meterTol(11.92, 0.05), "V", solved("11.92 V"))
	s.word("bench.tailpipe", "hand at the tailpipe then", b.fork().word("feel tailpipe", "flow"), Source{Practice, "check-values.md section 7: steady air; 14.9 kg/h in a 50 mm pipe are 1.8 m/s"}, "clear")
	w = b.fork().do("actuator off; key off; meter off; clamp off; pull pressure_pipe.b; key on; actuator pump")
	s.word("bench.pipe_off", "hand at the pipe pulled off the valve, pump driven", w.word("feel pressure_pipe.b", "flow"), Source{Practice, "check-values.md section 7: steady air from the pipe"}, "strong blowing")
	if v.err == nil {
		v.err = w.err
	}
	if v.err == nil {
		v.err = b.err
	}
	return v.err
}

// onForDiagnostics and upstream are how the scan tool words the states of parameter $12.
const (
	onForDiagnostics = "Pump commanded on for diagnostics"
	upstream         = "Upstream of catalyst"
	airOff           = "From outside atmosphere or off"
)

func vacuumByHand(g *Ground, s *sheet) error {
	boyle := func(start, m3 float64, strokes int) float64 {
		p := start
		for range strokes {
			p *= (m3 + 20e-6) / (m3 + 35e-6)
		}
		return (start - p) / 1000
	}
	v := g.bay(brought{ambientC: 20}).do("pull line_supply.a; handpump res_out")
	// The line to the check valve (1 cm3) hangs on the reservoir.
	law := "Boyle and Mariotte: 15 cm³ a stroke, pump 20 cm³ (invented); the gauge reads to 1 kPa with 0.5 kPa of play"
	s.near("bench.stroke_res", "gauge after 10 strokes on the reservoir", v.num("stroke 10", "vacuum"), boyle(seaPa, 401e-6, 10), 1.2, "kPa", Source{Worked, law})
	s.near("bench.stroke_res30", "gauge after 30", v.num("stroke 20", "vacuum"), boyle(seaPa, 401e-6, 30), 1.3, "kPa", Source{Worked, law})
	s.atMost("bench.hold_res", "gauge, loss of the reservoir in 60 s", v.num("holdvac 60", "drop"), 3.4, "kPa", Source{Practice, "check-values.md section 7: holds; one inHg a minute at most"})
	w := g.bay(brought{ambientC: 20}).do("pull line_valve.a; handpump valve_nipple")
	s.atLeast("bench.valve_4", "gauge after 4 strokes on the valve", w.num("stroke 4", "vacuum"), 40, "kPa", Source{Practice, "a hand pump draws 15 inHg and more on a diaphragm"})
	s.atMost("bench.valve_hold", "gauge, loss of the valve in 60 s", w.num("holdvac 60", "drop"), 3.4, "kPa", Source{Practice, "check-values.md section 7: one inHg a minute at most"})
	w.do("scan on; key on")
	s.word("bench.valve_open", "hand at the tailpipe, valve held open by hand vacuum, pump driven", w.fork().word("actuator pump; feel tailpipe", "flow"), Source{Note, "vehicle.md: fully open at 32 kPa"}, "clear")
	s.word("bench.valve_shut", "the same, vacuum released", w.fork().word("release; actuator pump; feel tailpipe", "flow"), Source{Practice, "check-values.md section 7: closed by its spring at 0"}, "none")
	b := g.bay(brought{ambientC: 20}).do("scan on; pull line_valve.b; pull line_supply.b")
	s.word("bench.breath_out", "breath into the solenoid's outlet at rest", b.fork().word("blow sol_out", "breath"), Source{Practice, "check-values.md section 7: valve port to vent"}, "free", "hard")
	s.word("bench.breath_supply", "breath into its supply at rest", b.fork().word("blow sol_supply", "breath"), Source{Practice, "check-values.md section 7: manifold port blocked"}, "blocked")
	driven := Source{Practice, "check-values.md section 7: manifold port to valve port"}
	s.word("bench.breath_driven", "breath into its supply, driven", b.fork().word("helper on; key on; actuator solenoid; blow sol_supply", "breath"), driven, "free")
	s.word("bench.breath_driven_out", "breath into its outlet, driven, both lines off", b.fork().word("helper on; key on; actuator solenoid; blow sol_out", "breath"), driven, "free")
	for _, x := range []*visitor{w, b} {
		if v.err == nil {
			v.err = x.err
		}
	}
	return v.err
}

func benchColdRun(g *Ground, s *sheet) error {
	v := g.bay(brought{ambientC: 20}).do("extract on; scan on; key on")
	live := Source{Worked, "the car stands at 20 °C, sea level"}
	s.near("bench.ect", "scan, coolant at key-on", v.num("data 05 0F 33 0C 42", "pid.05"), 20, 0.5, "°C", live)
	s.near("bench.iat", "scan, intake air", v.num("", "pid.0F"), 20, 0.5, "°C", live)
	s.near("bench.baro", "scan, barometer", v.num("", "pid.33"), 101, 0.5, "kPa", live)
	s.near("bench.rpm0", "scan, engine speed", v.num("", "pid.0C"), 0, 0.5, "rpm", live)
	s.near("bench.ecm_volts", "scan, controller's supply, key on", v.num("", "pid.42"), 12.6, 0.06, "V", Source{Worked, "12.65 V less the loads of key-on"})
	v.do("key off; clamp w_feed zero; meter volts pump_1h pump_2h; start; watch 19")
	amps, _ := v.find("amps")
	volt, _ := v.find("volts")
	s.near("bench.run_amps", "clamp, pump, 20 s into the run", amps.Value, 27.2, clampTol(27.2)+0.2, "A", solved("27.2 A"))
	s.near("bench.run_volts", "meter at the pump then", volt.Value, 12.93, meterTol(12.93, 0.05), "V", solved("12.93 V"))
	s.near("bench.bus", "meter at the battery", v.fork().num("meter volts bat_pos bat_neg", "volts"), 13.57, meterTol(13.57, 0.04), "V", solved("13.57 V"))
	s.band("bench.charging", "the same", v.fork().num("meter volts bat_pos bat_neg", "volts"), 13.5, 14.8, "V", Source{Practice, "check-values.md section 7: 13.5 to 14.8 V"})
	d := v.fork()
	s.word("bench.status", "scan, parameter $12 in the run", d.word("data 12 34 0C 10 0B", "pid.12"), Source{Standard, "SAE J1979 parameter $12 (open decoder): 01 upstream"}, upstream)
	s.band("bench.ratio", "scan, ratio at the sensor", d.num("", "pid.34", "Equivalence ratio B1S1"), 1.05, 1.5, "", Source{Memory, "vehicle.md: 1.05 to 1.5"})
	s.band("bench.fast_idle", "scan, cold idle", d.num("", "pid.0C"), 1000, 1400, "rpm", Source{Practice, "check-values.md section 7: 1000 to 1400 rpm"})
	s.band("bench.maf", "scan, engine air", d.num("", "pid.10")*3.6, 28, 34, "kg/h", Source{Note, "vehicle.md: 28 to 34 kg/h while the air runs"})
	s.band("bench.cold_vacuum", "scan, manifold pressure as vacuum, cold run", (101.3-d.num("", "pid.0B"))*1000/inHg, 12, 19, "inHg", Source{Practice, "check-values.md section 7: 12 to 19 inHg with late ignition"})
	s.word("bench.tail_run", "hand at the tailpipe, engine running", v.fork().word("extract off; feel tailpipe", "flow"), Source{Worked, "45 kg/h of gas in a 50 mm pipe"}, "strong")
	w := g.bay(brought{ambientC: 20}).do("extract on; pull line_valve.a; handpump line_valve.a")
	s.atLeast("bench.line_run", "gauge on the line to the valve, 15 s into the run", w.num("scan on; start; watch 15; read gauge", "vacuum"), 32, "kPa", Source{Note, "vehicle.md: the valve is fully open at 32 kPa"})
	s.band("bench.line_man", "the same, less the manifold's vacuum by scan at that moment", w.num("", "vacuum")-(101.3-w.fork().num("data 0B", "pid.0B")), -3, 4, "kPa",
		Source{Worked, "the reservoir stands at the deepest vacuum since the start, less crack pressure"})
	s.word("bench.no_codes", "scan, codes after it", d.codes("stored"), Source{Worked, "nothing is wrong"}, "none")
	for _, x := range []*visitor{d, w} {
		if v.err == nil {
			v.err = x.err
		}
	}
	return v.err
}

// runTimes watches parameter $12 every second until the air stops.
func runTimes(g *Ground, s *sheet) error {
	var first error
	timed := func(c float64) float64 {
		v := g.bay(brought{ambientC: c}).do("extract on; scan on; start; data 12 1F")
		last := 0.0
		for range 130 {
			v.do("watch 1")
			if v.err != nil {
				break
			}
			p, _ := v.find("pid.12")
			if p.Word != upstream {
				break
			}
			t, _ := v.find("pid.1F")
			last = t.Value
		}
		if first == nil {
			first = v.err
		}
		return last
	}
	law := Source{Worked, "vehicle.md: 110 s at −7 °C to 60 s at 38 °C, straight between, begun 1 s after the start; read every second"}
	s.near("bench.time_20", "scan, air stops after the start at 20 °C, last seen running", timed(20), 81, 1.6, "s", law)
	s.near("bench.time_0", "at 0 °C", timed(0), 1+110-50*7.0/45, 1.6, "s", law)
	s.near("bench.time_30", "at 30 °C", timed(30), 1+110-50*37.0/45, 1.6, "s", law)
	window := Source{Note, "vehicle.md: coolant −7 to 38 °C at start, intake above −10 °C"}
	for _, c := range []struct {
		id   string
		temp float64
		want string
	}{{"m15", -15, airOff}, {"m5", -5, upstream}, {"36", 36, upstream}, {"42", 42, airOff}} {
		v := g.bay(brought{ambientC: c.temp}).do("extract on; scan on; start; watch 5")
		s.word("bench.enable_"+c.id, "scan, parameter $12 five seconds after a start at "+digits(c.temp, 3)+" °C", v.word("data 12", "pid.12"), window, c.want)
		if first == nil {
			first = v.err
		}
	}
	return first
}

func benchWarmIdle(g *Ground, s *sheet) error {
	v := g.bay(brought{ambientC: 20}).do("extract on; scan on; start; hold 2500; watch 400; hold idle; watch 60; data 05 06 07 0B 0C 12 3C")
	s.band("bench.warm_ect", "scan, coolant after 7 min at 2500 rpm", v.num("", "pid.05"), 80, 105, "°C", Source{Practice, "thermostat 90 °C"})
	s.near("bench.warm_rpm", "scan, idle", v.num("", "pid.0C"), 750, 20, "rpm", Source{Note, "vehicle.md: 750 rpm warm"})
	s.near("bench.warm_map", "scan, manifold pressure", v.num("", "pid.0B"), 101.3-65.5, 2, "kPa", solved("65.5 kPa of vacuum"))
	s.near("bench.stft", "scan, short trim", v.num("", "pid.06"), 0, 5, "%", Source{Practice, "within 5 % nobody looks twice"})
	s.near("bench.ltft", "scan, long trim", v.num("", "pid.07"), 0, 5, "%", Source{Practice, "within 5 % nobody looks twice"})
	s.word("bench.warm_status", "scan, parameter $12", v.word("", "pid.12"), Source{Standard, "SAE J1979 parameter $12 (open decoder): 04 off"}, airOff)
	s.atLeast("bench.warm_cat", "scan, catalyst", v.num("", "pid.3C"), 270, "°C", Source{Handbook, "converters work above 250 to 300 °C"})
	s.word("bench.even", "ear, idle", v.word("listen front", "idle"), Source{Practice, "an even idle"}, "even")
	w := g.bay(brought{ambientC: 20}).do("extract on; start; hold 2500; watch 400; hold idle; watch 60; pull line_manifold.a; handpump man_nipple")
	gauge := w.num("watch 15; read gauge", "vacuum")
	s.band("bench.warm_gauge", "gauge on the manifold's nipple, warm idle", gauge*1000/inHg, 17, 22, "inHg", Source{Practice, "17 to 22 inHg; about 20 in US Army ordnance text OD1001"})
	s.near("bench.warm_gauge_note", "the same", gauge, 65.5, 2, "kPa", solved("65.5 kPa"))
	hot := g.bay(brought{ambientC: 20}).do("extract on; scan on; start; hold 2500; watch 1800")
	s.band("bench.hot", "scan, coolant after 30 min held at 2500 rpm", hot.num("data 05", "pid.05"), 85, 110, "°C", Source{Practice, "the thermostat opens at 90 °C and the radiator holds it"})
	for _, x := range []*visitor{w, hot} {
		if v.err == nil {
			v.err = x.err
		}
	}
	return v.err
}

func benchAltitude(g *Ground, s *sheet) error {
	read := func(m float64) (gauge, baro float64, err error) {
		v := g.bay(brought{ambientC: 20, altitudeM: m}).do("extract on; scan on; start; hold 2500; watch 400; hold idle; watch 60; pull line_manifold.a; handpump man_nipple")
		gauge = v.num("watch 15; read gauge", "vacuum")
		baro = v.num("data 33", "pid.33")
		return gauge, baro, v.err
	}
	sea, _, err := read(0)
	if err != nil {
		return err
	}
	high, baro, err := read(1524)
	if err != nil {
		return err
	}
	s.near("bench.alt_baro", "scan, barometer at 1524 m", baro, 84.3, 0.6, "kPa", Source{Handbook, "standard atmosphere at 5000 ft; parameter $33 counts whole kPa"})
	s.band("bench.alt_gauge", "gauge, warm idle, lower than at sea level by", (sea-high)*1000/inHg, 3.9, 5.6, "inHg", Source{Handbook, "US Army ordnance text OD1001: about 5 inHg less at about 5000 ft; the gauge reads to 0.3 inHg"})
	return nil
}
