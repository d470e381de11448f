package validate

import "fmt"

func faultStations() []station {
	return []station{
		{name: "bench, electrical faults", group: toBench + "electrical faults", how: ByBench, run: electricalFaults},
		{name: "bench, vacuum faults", group: toBench + "vacuum faults", how: ByBench, run: vacuumFaults},
		{name: "bench, air faults", group: toBench + "air faults", how: ByBench, run: airFaults},
	}
}

const scipy = "SciPy, testdata/outside/pump.py, 1.9 s after the start (the mean of what the display holds), within the instrument's class"

func electricalFaults(g *Ground, s *sheet) error {
	t, err := g.table("outside/pump.csv")
	if err != nil {
		return err
	}
	src := Source{Program, scipy}
	for _, c := range []struct {
		id, fault, param, red, black, column, what string
		value                                      float64
	}{
		{"ground", "pump_ground_corroded", "j_gnd.ohm", "pump_2h", "bat_neg", "ground_V", "0.6 Ω in the ground", 0.6},
		{"contacts", "relay_contacts_burnt", "pump_relay.contact_ohm", "rly_30", "rly_87", "contact_V", "contacts of 0.6 Ω", 0.6},
		{"contacts_half", "relay_contacts_burnt", "pump_relay.contact_ohm", "rly_30", "rly_87", "contact_V", "contacts of 0.134 Ω", 0.134},
	} {
		severity, err := g.severityFor(c.fault, c.param, c.value)
		if err != nil {
			return err
		}
		v := g.bay(brought{fault: c.fault, severity: severity, ambientC: 20}).do(fmt.Sprintf("scan on; key on; clamp w_feed zero; meter volts %s %s", c.red, c.black))
		amps := v.num("actuator pump", "amps")
		drop, _ := v.find("volts")
		wantA, wantV := t.at("current_A", "case", c.id, "time_s", "1.9"), t.at(c.column, "case", c.id, "time_s", "1.9")
		s.near("fault."+c.id+"_amps", "clamp, "+c.what, amps, wantA, clampTol(wantA)+0.2, "A", src)
		s.near("fault."+c.id+"_drop", "meter, drop over the bad joint", drop.Value, wantV, meterTol(wantV, 0.05), "V", src)
		if c.value == 0.6 {
			s.word("fault."+c.id+"_whine", "ear, pump driven", v.word("listen pump", "whine"), Source{Practice, "a starved pump runs slow"}, "slow")
		}
		if v.err != nil {
			return v.err
		}
	}
	third, err := g.severityFor("pump_ground_corroded", "j_gnd.ohm", 0.3)
	if err != nil {
		return err
	}
	v := g.bay(brought{fault: "pump_ground_corroded", severity: third, ambientC: 20}).do("extract on; clamp w_feed zero; start; watch 19")
	amps, _ := v.find("amps")
	s.near("fault.ground_run", "clamp, 0.3 Ω in the ground, engine running", amps.Value, 15, 1.5, "A", Source{Note, "vehicle.md: brings the running pump from 27 A to about 15 A"})
	// The lamp as load does not show what the pump shows.
	v = g.bay(brought{fault: "pump_ground_corroded", severity: third, ambientC: 20}).do("open pump_plug; remove relay; jump rly_30 rly_87 12awg 30A")
	s.word("fault.lamp_ground", "21 W lamp in place of the pump, 0.3 Ω in the ground", v.word("lamp pump_1h pump_2h", "glow"), Source{Note, "vehicle.md: tenths of an ohm cost the lamp 0.5 V only"}, "bright")
	s.near("fault.lamp_volts", "meter at the lamp then", v.num("meter volts pump_1h pump_2h", "volts"), 12.65-0.53, 0.12, "V", Source{Note, "vehicle.md: 0.3 Ω costs the lamp 0.5 V"})
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "pump_fuse_blown", severity: 1, ambientC: 20})
	s.near("fault.fuse_in", "meter, battery side of the blown fuse", v.num("meter volts f40_in bat_neg", "volts"), 12.65, meterTol(12.65, 0.01), "V", Source{Handbook, "12.65 V full (BCI)"})
	s.near("fault.fuse_out", "meter, relay side", v.num("meter volts f40_out bat_neg", "volts"), 0, 0.01, "V", Source{Worked, "open"})
	s.word("fault.fuse_see", "eyes, fuse in the hand", v.word("meter off; remove fuse40; look fusebox", "sign", "fuse40"), Source{Practice, "a blown blade fuse shows its gap"}, "fuse element burnt through")
	s.near("fault.fuse_amps", "clamp, pump driven", v.num("refit fuse40; scan on; key on; clamp w_feed zero; actuator pump", "amps"), 0, 0.1, "A", Source{Worked, "open"})
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "solenoid_open", severity: 1, ambientC: 20}).do("open sol_plug")
	s.word("fault.coil_open", "meter, solenoid coil open", openOrHuge(v.num("meter ohms sol_1 sol_2", "ohms")), Source{Worked, "open"}, "open")
	s.word("fault.coil_click", "ear, solenoid driven", v.word("meter off; close sol_plug; scan on; key on; actuator solenoid; listen solenoid", "click"), Source{Worked, "no current, no click"}, "no click")
	return v.err
}

func openOrHuge(ohm float64) string {
	if ohm > 1e6 {
		return "open"
	}
	return digits(ohm, 4)
}

func vacuumFaults(g *Ground, s *sheet) error {
	look := Source{Practice, "what a hand pump does on a line or chamber that leaks"}
	v := g.bay(brought{fault: "valve_line_split", severity: 1, ambientC: 20}).do("pull line_valve.b; pull line_valve.a; plug line_valve.a; handpump line_valve.b")
	s.atMost("fault.split", "gauge, 10 strokes on the split line, far end plugged", v.num("stroke 10", "vacuum"), 5, "kPa", look)
	s.word("fault.split_see", "eyes, line bent", v.word("handpump off; look valve bend", "sign", "line_valve"), look, "line split on its underside")
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "diaphragm_torn", severity: 1, ambientC: 20}).do("pull line_valve.a; handpump valve_nipple")
	s.atMost("fault.torn", "gauge, 10 strokes on the torn diaphragm", v.num("stroke 10", "vacuum"), 15, "kPa", Source{Practice, "below what begins to lift it (18 kPa)"})
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "diaphragm_torn", severity: 0.4, ambientC: 20}).do("pull line_valve.a; handpump valve_nipple; stroke 8")
	s.atLeast("fault.torn_a_little", "gauge, loss of a slightly torn diaphragm in 30 s", v.num("holdvac 30", "drop"), 3.4, "kPa", Source{Practice, "more than one inHg a minute is a leak"})
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "supply_line_off", severity: 1, ambientC: 20})
	s.word("fault.off", "eyes, line at the solenoid", v.word("look solenoid", "sign", "line_supply.b"), Source{Worked, "it hangs"}, "hangs free")
	s.word("fault.off_tail", "hand at the tailpipe, both driven", v.word("scan on; key on; actuator both; feel tailpipe", "flow"), Source{Worked, "no vacuum, valve shut"}, "none")
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "lines_swapped", severity: 1, ambientC: 20})
	s.word("fault.swapped", "eyes, lines at the solenoid", v.word("look solenoid", "sign", "line_supply.b"), Source{Worked, "it sits on the other port"}, "sits on sol_out")
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "solenoid_clogged", severity: 1, ambientC: 20}).do("scan on; pull line_valve.b; pull line_supply.b; helper on; key on; actuator solenoid")
	s.word("fault.clogged", "breath into the clogged solenoid, driven", v.word("blow sol_supply", "breath"), Source{Practice, "check-values.md section 7"}, "blocked")
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "valve_stuck", severity: 1, ambientC: 20}).do("pull line_valve.a; handpump valve_nipple")
	one := v.num("stroke 1", "vacuum")
	s.near("fault.stuck_stroke", "gauge, one stroke on the chamber of a stuck valve", one, 101.325*15/60, 1.1, "kPa", Source{Worked, "Boyle and Mariotte: 25 cm³ of chamber, 20 of pump, 15 a stroke"})
	s.word("fault.stuck_tail", "hand at the tailpipe, valve pulled by hand vacuum, pump driven", v.word("stroke 6; scan on; key on; actuator pump; feel tailpipe", "flow"), Source{Worked, "it does not lift"}, "none")
	return v.err
}

func airFaults(g *Ground, s *sheet) error {
	t, err := g.table("outside/pump.csv")
	if err != nil {
		return err
	}
	charged := "extract on; start; watch 100; stop; extract off; scan on; key on; clamp w_feed zero"
	for _, c := range []struct {
		id, fault, what string
		severity        float64
		tail            string
	}{
		{"passages", "passages_carboned", "passages carboned to 2 %", 1, "none"},
		{"worn", "pump_worn", "pump worn to 0.6", 0.6, "clear"},
		{"inlet_off", "inlet_hose_off", "inlet hose off", 1, "clear"},
	} {
		v := g.bay(brought{fault: c.fault, severity: c.severity, ambientC: 20}).do(charged)
		want := t.at("current_A", "case", c.id, "time_s", "1.9")
		s.near("fault."+c.id+"_amps", "clamp, both driven, "+c.what, v.num("actuator both", "amps"), want, clampTol(want)+0.3, "A", Source{Program, scipy})
		s.word("fault."+c.id+"_tail", "hand at the tailpipe then", v.word("feel tailpipe", "flow"), Source{Worked, "SciPy's flow in a 50 mm pipe; a hand feels from 0.2 m/s, clear from 0.9 m/s (practice)"}, c.tail)
		if v.err != nil {
			return v.err
		}
	}
	v := g.bay(brought{fault: "pump_worn", severity: 1, ambientC: 20}).do("scan on; key on; actuator pump; listen pump")
	s.word("fault.worn_bearing", "ear, worn pump", v.word("", "bearing"), Source{Practice, "a dry bearing is heard"}, "rough", "grinding")
	if v.err != nil {
		return v.err
	}
	v = g.bay(brought{fault: "pressure_pipe_off", severity: 1, ambientC: 20})
	s.word("fault.pipe_see", "eyes, pipe at the valve", v.word("look valve", "sign", "pressure_pipe.b"), Source{Worked, "it hangs"}, "hangs free")
	s.word("fault.pipe_tail", "hand at the tailpipe, both driven", v.word("scan on; key on; actuator both; feel tailpipe", "flow"), Source{Worked, "the air goes elsewhere"}, "none")
	s.word("fault.pipe_hand", "hand at the pipe's open end", v.word("actuator off; actuator both; feel pressure_pipe.b", "flow"), Source{Practice, "strong air"}, "strong blowing")
	return v.err
}
