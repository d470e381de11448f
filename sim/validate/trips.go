package validate

import (
	"coldbay/sim/bench"
)

func tripStations() []station {
	return []station{
		{name: "bench, driving cycles", group: "Driving cycles and codes", how: ByBench, only: "controller/", run: drivingCycles},
		{name: "bench, codes of faults", group: "Driving cycles and codes", how: ByBench, only: "controller/", run: faultCodes},
		{name: "bench, forty warm-ups", group: "Driving cycles and codes", how: ByBench, once: true, run: fortyWarmUps},
	}
}

func starts(n int) []bench.HistoryEvent { return []bench.HistoryEvent{{Do: "cold_start", Times: n}} }

const ccr = "13 CCR 1968.2 (d)(2.2.1), (2.2.2), text approved 9 Nov 2007, read on a reproduction"

func drivingCycles(g *Ground, s *sheet) error {
	src := Source{Standard, ccr}
	one := g.bay(brought{fault: "valve_stuck", severity: 1, ambientC: 20, history: starts(1)}).do("scan on; key on; watch 5")
	s.word("trip.pending_1", "pending after one cold start with no flow", one.codes("pending"), src, "P0491")
	s.word("trip.stored_1", "stored then", one.codes("stored"), src, "none")
	s.word("trip.lamp_0", "lamp with the engine running then", one.fork().word("key off; extract on; start; watch 2; look dash", "lamp"), src, "off")
	two := g.bay(brought{fault: "valve_stuck", severity: 1, ambientC: 20, history: starts(2)}).do("scan on; key on; watch 5")
	s.word("trip.stored_2", "stored after the second", two.codes("stored"), src, "P0491")
	s.word("trip.lamp_2", "lamp with the engine running then", two.fork().word("key off; extract on; start; watch 2; look dash", "lamp"), src, "on")
	s.word("trip.bulb", "lamp at key-on, engine off, healthy car", g.bay(brought{ambientC: 20}).word("key on; look dash", "lamp"), Source{Standard, "13 CCR 1968.2 (d)(2.1.2): lit as a bulb check"}, "on")
	s.near("trip.freeze", "freeze frame: coolant when it was set, above the 20 °C of the start", two.fork().num("freeze", "freeze.05")-20, 12, 10, "K", Source{Memory, "13 CCR 1968.2 (d)(4.3): the conditions when the fault was first seen, half a minute into the run"})
	mended := one.fork().do("key off; scan off; repair air_valve; drive")
	p, _ := mended.find("code", "pending")
	s.word("trip.withdrawn", "pending after the repair and one good cycle", p.Word, src, "none")
	p, _ = mended.find("monitor")
	s.word("trip.monitor", "readiness of the secondary air monitor after that drive", p.Word, Source{Standard, "SAE J1979 parameter $01 bit 3 (open decoder)"}, "complete")
	lamp := two.fork().do("key off; scan off; repair air_valve")
	for i, want := range []string{"on", "on", "off"} {
		lamp.do("drive")
		word := lamp.fork().word("extract on; start; watch 2; look dash", "lamp")
		s.word("trip.lamp_good_"+string(rune('1'+i)), "lamp in the start after good cycle "+string(rune('1'+i)), word,
			Source{Memory, "13 CCR 1968.2 (d)(2.3): out after three good cycles in a row"}, want)
	}
	p, _ = lamp.find("code", "stored")
	s.word("trip.stays", "the stored code then", p.Word, Source{Memory, "13 CCR 1968.2 (d)(2.4): stays for 40 warm-ups"}, "P0491")
	er := two.fork().do("erase")
	s.word("trip.erased", "stored after erasing", er.codes("stored"), Source{Standard, "SAE J1979 service $04"}, "none")
	s.word("trip.erased_ready", "readiness after erasing", er.word("readiness", "monitor"), Source{Standard, "SAE J1979 service $04 resets readiness"}, "not complete")
	s.word("trip.erased_back", "stored after erasing and two more faulty cycles", er.fork().do("key off; scan off; drive; drive; scan on; key on").codes("stored"), src, "P0491")
	for _, v := range []*visitor{one, two, mended, lamp, er} {
		if v.err != nil {
			return v.err
		}
	}
	return nil
}

func faultCodes(g *Ground, s *sheet) error {
	name := Source{Standard, "SAE J2012 names of P0413, P0491 (open code list); which fault sets which: vehicle.md"}
	for _, c := range []struct{ fault, want string }{
		{"solenoid_open", "P0413 P0491"}, {"valve_stuck", "P0491"}, {"pressure_pipe_off", "P0491"}, {"pump_fuse_blown", "P0491"},
		{"passages_carboned", "P0491"}, {"diaphragm_torn", "P0491"}, {"inlet_hose_off", "none"}, {"", "none"},
	} {
		v := g.bay(brought{fault: c.fault, severity: 1, ambientC: 20, history: starts(2)}).do("scan on; key on")
		id := c.fault
		if id == "" {
			id = "healthy"
		}
		s.word("codes."+id, "stored after two cold starts: "+id, v.codes("stored"), name, c.want)
		if v.err != nil {
			return v.err
		}
	}
	return nil
}

func fortyWarmUps(g *Ground, s *sheet) error {
	v := g.bay(brought{fault: "valve_stuck", severity: 1, ambientC: 20, history: starts(2)}).do("repair air_valve")
	for range 44 {
		v.do("drive")
	}
	p, _ := v.find("code", "stored")
	s.word("trip.forty", "the stored code after three good cycles and 40 warm-ups more", p.Word, Source{Memory, "13 CCR 1968.2 (d)(2.4): may be erased after 40 warm-up cycles; vehicle.md: erased"}, "none")
	return v.err
}
