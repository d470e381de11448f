package validate

import (
	"errors"
	"fmt"
	"math"

	"coldbay/sim"
)

var errNoStart = errors.New("the engine does not start")

// startUp turns the key, waits a second, cranks until the engine runs.
func startUp(w *sim.World) error {
	w.SetKey(true)
	w.Step(10)
	w.SetStarter(true)
	for i := 0; !w.Running(); i++ {
		if i > 60 {
			return errNoStart
		}
		w.Step(1)
	}
	w.SetStarter(false)
	return w.Err()
}

// coldStart starts the engine and lets it run so many seconds.
func coldStart(w *sim.World, seconds float64) error {
	if err := startUp(w); err != nil {
		return err
	}
	return runTo(w, seconds)
}

func runTo(w *sim.World, seconds float64) error {
	for w.RunS() < seconds {
		w.Step(1)
		if err := w.Err(); err != nil {
			return err
		}
		if !w.Running() {
			return fmt.Errorf("the engine died at %.1f s", w.Time())
		}
	}
	return nil
}

// gauge pulls one number out of a world, NaN when the car has no such thing.
func volts(w *sim.World, a, b string) float64 {
	v, err := w.Volts(a, b)
	if err != nil {
		return math.NaN()
	}
	return v
}

func vacuum(w *sim.World, id string) float64 {
	v, err := w.Vacuum(id)
	if err != nil {
		return math.NaN()
	}
	return v
}

func worldStations() []station {
	const group = "What a run must show"
	return []station{
		{name: "cold start", group: group, how: ByWorld, run: coldRun},
		{name: "cold start without air", group: group, how: ByWorld, run: withoutAir},
		{name: "valve shut", group: group, how: ByWorld, run: valveShut},
		{name: "reservoir", group: group, how: ByWorld, run: reservoir},
		{name: "battery", group: group, how: ByWorld, only: "electrical/", run: battery},
	}
}

func solved(value string) Source {
	return Source{Note, "vehicle.md, What a run must show: independent solution " + value}
}

func coldRun(g *Ground, s *sheet) error {
	w, err := g.world("", 0)
	if err != nil {
		return err
	}
	if err := startUp(w); err != nil {
		return err
	}
	peak, on, spun, filled := 0.0, 0.0, math.NaN(), math.NaN()
	sol := 0.0
	w.Follow(30, sim.Refinement{FastMS: 2, See: func(dt float64) {
		a := w.MotorAmps("pump_motor")
		if a > 1 {
			on += dt
		}
		peak = max(peak, a)
		if math.IsNaN(spun) && w.PumpSpeed("pump_motor") > 0.9*1190.7 {
			spun = on
		}
		if w.CoilOn("sol_coil") {
			sol += dt
		}
		if math.IsNaN(filled) && sol > 0 && vacuum(w, "manifold")-vacuum(w, "chamber") < 3000 {
			filled = sol
		}
	}})
	trade := Source{Practice, "vehicle.md and check-values.md section 7"}
	s.band("run.peak", "pump inrush peak, engine running", peak, 80, 120, "A", trade)
	s.near("run.peak_note", "the same", peak, 109, 6, "A", solved("109 A"))
	s.band("run.spin", "pump spin-up to 90 % of its steady 11,370 rpm", spun, 0.2, 0.6, "s", trade)
	s.near("run.spin_note", "the same", spun, 0.53, 0.05, "s", solved("0.53 s"))
	s.atMost("run.fill", "chamber within 3 kPa of the manifold after", filled, 0.5, "s", Source{Note, "vehicle.md: under 0.5 s (derived); independent solution 0.21 s"})
	s.near("run.fill_note", "the same", filled, 0.21, 0.06, "s", solved("0.21 s"))
	low, high, engLow, engHigh := math.Inf(1), 0.0, math.Inf(1), 0.0
	for w.RunS() < 20 && w.Err() == nil {
		w.Step(1)
		low, high = min(low, w.Lambda()), max(high, w.Lambda())
		engLow, engHigh = min(engLow, w.EngineAir()*3600), max(engHigh, w.EngineAir()*3600)
	}
	amps := w.MotorAmps("pump_motor")
	s.band("run.amps", "pump current, valve open", amps, 20, 30, "A", trade)
	s.near("run.amps_note", "the same", amps, 27.2, 0.4, "A", solved("27.2 A"))
	flow := w.AirFlow() * 3600
	s.band("run.flow", "air into the exhaust", flow, 14, 20, "kg/h", Source{Note, "vehicle.md: 14 to 20 (typical)"})
	s.near("run.flow_note", "the same", flow, 15.7, 0.2, "kg/h", solved("15.7 kg/h"))
	s.near("run.pipe", "pressure in the pipe, valve open", -vacuum(w, "scroll")/1000, 8.6, 0.25, "kPa", solved("8.6 kPa"))
	s.near("run.volts", "voltage at the pump", volts(w, "pump_1h", "pump_2h"), 12.93, 0.08, "V", solved("12.93 V"))
	s.near("run.bus", "voltage at the battery", volts(w, "bat_pos", "bat_neg"), 13.57, 0.04, "V", solved("13.57 V"))
	s.near("run.rpm", "pump speed", w.PumpSpeed("pump_motor")*30/math.Pi, 11370, 120, "rpm", solved("11,370 rpm"))
	s.near("run.watts", "electrical power at the pump", volts(w, "pump_1", "pump_2")*amps, 351, 8, "W", solved("351 W"))
	share := w.AirFlow() / w.EngineAir()
	s.band("run.share", "secondary air over engine air", share, 0.15, 0.5, "", Source{Practice, "check-values.md section 7: 15 to 50 %"})
	for w.RunS() < 78 {
		w.Step(1)
		low, high = min(low, w.Lambda()), max(high, w.Lambda())
		engLow, engHigh = min(engLow, w.EngineAir()*3600), max(engHigh, w.EngineAir()*3600)
	}
	mem := Source{Memory, "vehicle.md: 1.05 to 1.5 in the exhaust during the run; the forced lean signal of check-values.md section 7"}
	s.band("run.ratio_low", "exhaust ratio, lowest between 4 and 78 s", low, 1.05, 1.5, "", mem)
	s.band("run.ratio_high", "exhaust ratio, highest", high, 1.05, 1.5, "", mem)
	s.near("run.ratio_low_note", "lowest", low, 1.15, 0.03, "", solved("1.15"))
	s.near("run.ratio_high_note", "highest", high, 1.40, 0.03, "", solved("1.40"))
	note := Source{Note, "vehicle.md: late ignition holds engine air at about 28 to 34 kg/h while the air runs"}
	s.band("run.engine_low", "engine air, lowest between 4 and 78 s", engLow, 26, 34, "kg/h", note)
	s.band("run.engine_high", "engine air, highest", engHigh, 28, 36, "kg/h", note)
	s.band("run.light_off", "light-off with air", w.LitAt(), 25, 40, "s", Source{Memory, "vehicle.md: 25 to 40 s; direction and order are published (SAE 2001-01-0658, abstract)"})
	s.near("run.light_off_note", "the same", w.LitAt(), 30.6, 1.5, "s", solved("30.6 s"))
	s.band("run.exhaust_back", "mean pressure at the exhaust ports", w.PortPa()/1000, 0.3, 5, "kPa", trade)
	return w.Err()
}

func withoutAir(g *Ground, s *sheet) error {
	w, err := g.world("", 0)
	if err != nil {
		return err
	}
	if err := w.SetElementOut("fuse40", true); err != nil {
		return err
	}
	if err := coldStart(w, 150); err != nil {
		return err
	}
	s.near("run.light_off_none", "light-off without air", w.LitAt(), 75.7, 3, "s", solved("75.7 s"))
	s.known("the whole car solved by another program with the numbers of the note (SciPy, row run.light_off_none_scipy) lights off as early, so the difference is the note's own run, which is not kept: there 75 s come out when the charging source does not load the crankshaft, and 76 s with a spark efficiency of 0.70 instead of 0.66")
	t, err := g.table("outside/coldstart/air.csv")
	if err != nil {
		return err
	}
	s.near("run.light_off_none_scipy", "light-off without air, the whole car by another program", w.LitAt(), t.at("lit_s", "case", "without_air"), 0.3, "s",
		Source{Program, "SciPy LSODA, testdata/outside/coldstart/coldstart.py: the same equations written down anew, its own solver"})
	with, err := g.world("", 0)
	if err != nil {
		return err
	}
	if err := coldStart(with, 60); err != nil {
		return err
	}
	s.atLeast("run.light_off_twice", "the same over light-off with air", w.LitAt()/with.LitAt(), 2, "", Source{Memory, "vehicle.md: at least twice that with air; from memory there, direction and order are published"})
	s.known("a figure from memory: 0.4 % short of it, and with it row run.light_off_none, which see")
	return nil
}

func valveShut(g *Ground, s *sheet) error {
	w, err := g.world("valve_stuck", 1)
	if err != nil {
		return err
	}
	if err := coldStart(w, 20); err != nil {
		return err
	}
	amps, pipe := w.MotorAmps("pump_motor"), -vacuum(w, "scroll")/1000
	trade := Source{Practice, "vehicle.md and check-values.md section 7"}
	s.band("shut.amps", "pump current, valve shut", amps, 20, 30, "A", trade)
	s.near("shut.amps_note", "the same", amps, 29.8, 0.4, "A", solved("29.8 A"))
	s.band("shut.pipe", "pressure in the pipe, valve shut", pipe, 12, 16, "kPa", Source{Note, "vehicle.md: 12 to 16 kPa"})
	s.near("shut.pipe_note", "the same", pipe, 14.8, 0.3, "kPa", solved("14.8 kPa"))
	s.atMost("shut.flow", "air into the exhaust then", w.AirFlow()*3600, 0.05, "kg/h", Source{Worked, "nothing passes a shut valve"})
	return nil
}

func reservoir(g *Ground, s *sheet) error {
	w, err := g.world("", 0)
	if err != nil {
		return err
	}
	if err := coldStart(w, 100); err != nil {
		return err
	}
	w.SetKey(false)
	w.Step(50)
	w.SetKey(true)
	w.Step(10)
	full, none := 0, 0
	for i := range 20 {
		if err := w.Actuate("solenoid"); err != nil {
			return err
		}
		w.Step(40)
		lift := w.ValveLift("air_valve")
		if lift > 0.0058 {
			full++
		}
		if none == 0 && lift < 1e-5 {
			none = i + 1
		}
		if err := w.Actuate("off"); err != nil {
			return err
		}
		w.Step(20)
	}
	s.near("res.full", "full lifts of the valve from the reservoir alone", float64(full), 7, 1, "", solved("7"))
	s.near("res.none", "the first opening that gives no lift", float64(none), 14, 1, "", solved("none from the 14th"))
	return w.Err()
}

func battery(g *Ground, s *sheet) error {
	w, err := g.world("", 0)
	if err != nil {
		return err
	}
	if err := w.SetParam("pump_relay.welded", 1); err != nil {
		return err
	}
	minutes := 0
	for ; minutes < 300 && (minutes == 0 || volts(w, "bat_pos", "bat_neg") > 10.5); minutes++ {
		w.Step(600)
	}
	s.band("batt.welded", "a welded pump relay flattens the battery (10.5 V) in", float64(minutes)/60, 2, 3, "h", Source{Note, "vehicle.md: two to three hours; 60 Ah at 23 A are 2.6 h"})
	return w.Err()
}
