package validate

import (
	"encoding/json"
	"fmt"
	"math"

	"coldbay/sim"
	"coldbay/sim/air"
	"coldbay/sim/exhaust"

	"gopkg.in/yaml.v3"
)

// What the scripts beside testdata/outside solve again: which cars, and the numbers that they get.

// OutsideCar is the car as the scripts read it.
type OutsideCar struct {
	AmbientK    float64            `json:"ambient_k"`
	AmbientPa   float64            `json:"ambient_pa"`
	ReservoirPa float64            `json:"reservoir_pa"` // at the beginning of the filling
	Back        float64            `json:"exhaust_back"`
	Params      map[string]float64 `json:"params"`
	Volumes     map[string]float64 `json:"volumes"` // m3
	Exhaust     map[string]any     `json:"exhaust"` // by the car file's keys
	Engine      map[string]float64 `json:"engine"`
	Cases       []OutsideCase      `json:"cases"`
}

// OutsideCase is one faulty or healthy car in an actuator test.
type OutsideCase struct {
	Name     string             `json:"name"`
	Solenoid bool               `json:"solenoid"` // the valve is open
	InletOff bool               `json:"inlet_off"`
	Params   map[string]float64 `json:"params"`

	fault    string
	severity float64
	param    string // the severity is the one at which this parameter has that value
	value    float64
}

// severityFor finds the severity of a fault at which a parameter has a value: how the car file maps severities is its own business.
func (g *Ground) severityFor(fault, param string, value float64) (float64, error) {
	at := func(s float64) (float64, error) {
		w, err := g.world(fault, s)
		if err != nil {
			return 0, err
		}
		return paramOf(w, param)
	}
	low, high := 1e-3, 1.0
	first, err := at(low)
	if err != nil {
		return 0, err
	}
	last, err := at(high)
	if err != nil {
		return 0, err
	}
	if value < min(first, last) || value > max(first, last) {
		return 0, fmt.Errorf("no severity of %s makes %s %g: %g to %g", fault, param, value, first, last)
	}
	for range 50 {
		mid := (low + high) / 2
		v, err := at(mid)
		if err != nil {
			return 0, err
		}
		if (v < value) == (first < last) {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2, nil
}

const startPa = 40000.0 // of the reservoir, absolute

func outsideCases() []OutsideCase {
	return []OutsideCase{
		{Name: "both", Solenoid: true},
		{Name: "pump"},
		{Name: "ground", fault: "pump_ground_corroded", param: "j_gnd.ohm", value: 0.6},
		{Name: "contacts", fault: "relay_contacts_burnt", param: "pump_relay.contact_ohm", value: 0.6},
		{Name: "contacts_half", fault: "relay_contacts_burnt", param: "pump_relay.contact_ohm", value: 0.134},
		{Name: "passages", Solenoid: true, fault: "passages_carboned", severity: 1},
		{Name: "worn", Solenoid: true, fault: "pump_worn", severity: 0.6},
		{Name: "inlet_off", Solenoid: true, InletOff: true, fault: "inlet_hose_off", severity: 1},
	}
}

// Export gives the JSON that the scripts read.
func Export(g Ground) ([]byte, error) {
	if err := g.prepare(); err != nil {
		return nil, err
	}
	params := func(w *sim.World) map[string]float64 {
		m := map[string]float64{}
		for _, p := range g.Car.Params {
			v, err := paramOf(w, p.Name)
			if err == nil {
				m[p.Name] = v
			}
		}
		return m
	}
	w, err := g.world("", 0)
	if err != nil {
		return nil, err
	}
	out := OutsideCar{AmbientK: roomK, AmbientPa: seaPa, ReservoirPa: startPa, Back: g.Car.Exhaust.Back, Params: params(w), Volumes: map[string]float64{}, Cases: outsideCases()}
	text, err := yaml.Marshal(g.Car.Exhaust)
	if err != nil {
		return nil, err
	}
	if err := yaml.Unmarshal(text, &out.Exhaust); err != nil {
		return nil, err
	}
	out.Engine = map[string]float64{"heating_value": g.Car.Engine.HeatingValue}
	for _, v := range g.Car.Pneumatic.Volumes {
		out.Volumes[v.ID] = v.M3
	}
	for _, h := range g.Car.Pneumatic.Hoses {
		out.Volumes[h.ID] = h.M3
	}
	for i := range out.Cases {
		c := &out.Cases[i]
		if c.param != "" {
			if c.severity, err = g.severityFor(c.fault, c.param, c.value); err != nil {
				return nil, err
			}
		}
		if w, err = g.world(c.fault, c.severity); err != nil {
			return nil, err
		}
		c.Params = params(w)
	}
	return json.MarshalIndent(out, "", " ")
}

func paramOf(w *sim.World, name string) (float64, error) {
	for i := len(name) - 1; i >= 0; i-- {
		if name[i] == '.' {
			return w.Param(name[:i], name[i+1:])
		}
	}
	return 0, fmt.Errorf("no parameter %q", name)
}

// world is a cold car at 20 degC and sea level; fault "" is none.
func (g *Ground) world(fault string, severity float64) (*sim.World, error) {
	return g.worldAt(roomK, seaPa, fault, severity)
}

func (g *Ground) worldAt(k, pa float64, fault string, severity float64) (*sim.World, error) {
	var f []sim.FaultChoice
	if fault != "" {
		f = append(f, sim.FaultChoice{ID: fault, Severity: severity})
	}
	return sim.New(g.Car, sim.Conditions{AmbientK: k, AmbientPa: pa}, f...)
}

func outsideStations() []station {
	return []station{
		{name: "pump spin-up against SciPy", group: "Pump against SciPy", how: ByWorld, run: spinUp},
		{name: "filling of the chamber against SciPy", group: "Vacuum chamber against SciPy", how: ByWorld, run: chamber},
		{name: "exhaust against SciPy", group: "Exhaust and catalyst against SciPy", how: ByWorld, run: heatUp},
		{name: "circuit against ngspice", group: "Circuit against ngspice", how: ByWorld, run: spice},
	}
}

// spinUp runs the pump alone in an actuator test, at a stride of 1 ms.
func spinUp(g *Ground, s *sheet) error {
	t, err := g.table("outside/pump.csv")
	if err != nil {
		return err
	}
	w, err := g.world("", 0)
	if err != nil {
		return err
	}
	w.SetKey(true)
	w.Step(30)
	if err := w.Actuate("pump"); err != nil {
		return err
	}
	src := Source{Program, "SciPy solve_ivp (Radau, 1e-7): testdata/outside/pump.py"}
	type sample struct{ at, w, a, v float64 }
	var got []sample
	on, peak, dial := -1.0, 0.0, 0.0
	w.Follow(45, sim.Refinement{FastMS: 1, See: func(dt float64) {
		a := w.MotorAmps("pump_motor")
		if on < 0 && a > 1 {
			on = 0
		} else if on >= 0 {
			on += dt
		}
		if a > peak {
			peak, dial = a, on
		}
		v, _ := w.Volts("pump_1h", "pump_2h")
		if on >= 0 {
			got = append(got, sample{on, w.PumpSpeed("pump_motor"), a, v})
		}
	}})
	if err := w.Err(); err != nil {
		return err
	}
	find := func(at float64) sample {
		for _, x := range got {
			if x.at >= at-2e-4 {
				return x
			}
		}
		return sample{math.NaN(), math.NaN(), math.NaN(), math.NaN()}
	}
	s.rel("spin.peak", "inrush peak, engine off, valve shut", peak, t.at("current_A", "case", "pump", "time_s", "0"), 0.02, "A", src)
	s.atMost("spin.peak_at", "the peak comes with the contact's closing, within", dial*1000, 5, "ms", src)
	for _, at := range []string{"0.1", "0.2", "0.3", "0.5", "1", "4"} {
		x := find(t.at("time_s", "case", "pump", "time_s", at))
		s.rel("spin.speed_"+at, "speed "+at+" s after the contact closes", x.w, t.at("speed_rad_s", "case", "pump", "time_s", at), 0.01, "rad/s", src)
	}
	for _, at := range []string{"0.2", "0.5", "1", "4"} {
		x := find(t.at("time_s", "case", "pump", "time_s", at))
		s.rel("spin.current_"+at, "current "+at+" s after the contact closes", x.a, t.at("current_A", "case", "pump", "time_s", at), 0.015, "A", src)
	}
	x := find(2)
	s.near("spin.volts_2", "voltage at the pump, 2 s", x.v, t.at("plug_V", "case", "pump", "time_s", "2"), 0.01, "V", src)
	return nil
}

// chamber steps the car's air network alone: reservoir and supply line at 40 kPa, the solenoid energised, later let go.
func chamber(g *Ground, s *sheet) error {
	t, err := g.table("outside/chamber.csv")
	if err != nil {
		return err
	}
	n := g.Car.Air
	st := n.NewState(seaPa)
	for _, id := range []string{"reservoir", "line_supply", "line_check"} {
		if i := n.Node(id); i >= 0 {
			st.P[i] = startPa
		}
	}
	par := make([]float64, len(g.Car.Params))
	for i, p := range g.Car.Params {
		par[i] = p.Value
	}
	in := air.Inputs{Dt: 0.001, AmbientPa: seaPa, AmbientK: roomK, ChargeK: 298, ExhaustPa: seaPa, ExhaustK: roomK}
	sol, valve, ch := n.Part("solenoid"), n.Part("air_valve"), n.Node("chamber")
	if sol < 0 || valve < 0 || ch < 0 {
		return fmt.Errorf("the car has no solenoid, air valve or chamber of that name")
	}
	src := Source{Program, "SciPy solve_ivp (Radau, 1e-8): testdata/outside/chamber.py"}
	for _, c := range []struct {
		name, what string
		on         bool
		at         []string
	}{{"fill", "energised", true, []string{"0.05", "0.1", "0.2", "0.3", "2"}}, {"vent", "let go", false, []string{"0.1", "0.2", "0.5"}}} {
		in.Coil[sol] = c.on
		st.Touch()
		ms := 0
		for _, at := range c.at {
			goal := int(t.at("time_s", "case", c.name, "time_s", at)*1000 + 0.5)
			for ; ms < goal; ms++ {
				if err := n.Step(&st, par, &in); err != nil {
					return err
				}
			}
			s.near("fill."+c.name+"_"+at, "chamber vacuum "+at+" s after the solenoid is "+c.what, (seaPa-st.P[ch])/1000, t.at("chamber_kPa", "case", c.name, "time_s", at), 0.5, "kPa", src)
			if at == "0.1" {
				s.near("fill."+c.name+"_lift", "lift of the valve then", st.Lift(valve)*1000, t.at("lift_mm", "case", c.name, "time_s", at), 0.25, "mm", src)
			}
		}
		for ; ms < 2000; ms++ {
			if err := n.Step(&st, par, &in); err != nil {
				return err
			}
		}
	}
	return nil
}

// heatUp steps the car's exhaust alone with prescribed flows, those of exhaust.py, at the world's tenth of a second.
func heatUp(g *Ground, s *sheet) error {
	t, err := g.table("outside/exhaust.csv")
	if err != nil {
		return err
	}
	src := Source{Program, "SciPy solve_ivp (Radau, 1e-8): testdata/outside/exhaust.py"}
	p, cells := &g.Car.Exhaust, g.Car.Exhaust.Catalyst.Cells
	for _, c := range []struct {
		name, what string
		second     float64
	}{{"air", "with 15.7 kg/h of air", 15.7}, {"none", "without air", 0}} {
		st := exhaust.NewState(p, roomK)
		for tick := 1; tick <= 800; tick++ {
			now := float64(tick-1) / 10
			flow := (32 - 0.06*now) / 3600
			fuel := flow / (14.6 * (0.78 + 0.12*now/80))
			exhaust.Step(p, &st, &exhaust.Inputs{Dt: 0.1, AmbientK: roomK, Air: flow, Fuel: fuel, Burnt: min(fuel, flow/14.6), Second: c.second / 3600,
				Spark: 0.66, EtaInd: 0.31, HV: g.Car.Engine.HeatingValue, AFR: 14.6, Run: float64(tick) / 10, LagS: 0.25, TauS: 9, FinalK: 900, Heater: true})
			at := digits(float64(tick)/10, 4)
			if tick != 200 && tick != 400 && tick != 800 {
				continue
			}
			for _, x := range []struct {
				column string
				k      float64
			}{{"manifold_C", st.ManK}, {"front_C", st.Cat[0]}, {"middle_C", st.Cat[(cells-1)/2]}, {"rear_C", st.Cat[cells-1]}} {
				s.near("heat."+c.name+"_"+at+"_"+x.column[:len(x.column)-2], x.column[:len(x.column)-2]+" "+at+" s after the start, "+c.what, x.k-273.15,
					t.at(x.column, "case", c.name, "time_s", at), 1.5, "°C", src)
			}
		}
		s.near("heat."+c.name+"_lit", "light-off "+c.what+", flows prescribed", st.LitAt, t.at("light_off_s", "case", c.name, "time_s", "80"), 0.3, "s", src)
	}
	return nil
}

// spice compares the running car's node voltages with what the circuit simulator answered for the same car; the tables are kept
// beside the test of package sim that makes them, and copied here.
func spice(g *Ground, s *sheet) error {
	for _, c := range []struct {
		file, fault, what string
		nodes             []string
	}{
		{"running", "", "engine running, pump on", []string{"bat_pos", "f40_out", "rly_87", "pump_1h", "pump_2h", "body", "ecm_feed", "ecm_12", "sol_1h", "ecm_27"}},
		{"ground_corroded", "pump_ground_corroded", "the same, 0.6 Ω in the ground", []string{"bat_pos", "pump_1h", "pump_2h"}},
	} {
		t, err := g.table("outside/ngspice_" + c.file + ".csv")
		if err != nil {
			return err
		}
		severity := 1.0
		if c.fault != "" {
			if severity, err = g.severityFor(c.fault, "j_gnd.ohm", 0.6); err != nil {
				return err
			}
		}
		w, err := g.world(c.fault, severity)
		if err != nil {
			return err
		}
		if err := coldStart(w, 20); err != nil {
			return err
		}
		for _, node := range c.nodes {
			v, err := w.Volts(node, "bat_neg")
			if err != nil {
				return err
			}
			s.near("spice."+c.file+"."+node, c.what+": "+node, v, t.at("volt", "node", node), 0.005, "V", Source{Program, "ngspice operating point, netlist made from the car file: sim/testdata/ngspice/" + c.file + ".cir"})
		}
	}
	return nil
}
