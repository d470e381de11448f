package validate

import (
	"fmt"
	"math"

	"coldbay/sim/air"
	"coldbay/sim/dmath"
	"coldbay/sim/engine"
	"coldbay/sim/exhaust"
	"coldbay/sim/units"
)

const (
	seaPa = 101325.0
	roomK = 293.15
	inHg  = units.PaPerInHg
)

func formulaStations() []station {
	return []station{
		{name: "flow through orifices", group: "Gas flow", how: ByFormula, once: true, run: orifices},
		{name: "vacuum hold", group: "Gas flow", how: ByFormula, once: true, run: vacuumHold},
		{name: "atmosphere", group: "Atmosphere and units", how: ByFormula, once: true, run: atmosphere},
		{name: "engine and exhaust formulas", group: "Engine, mixture, catalyst", how: ByFormula, run: mixture},
		{name: "exhaust gas", group: "Engine, mixture, catalyst", how: ByFormula, once: true, run: exhaustGas},
	}
}

func orifices(g *Ground, s *sheet) error {
	heywood := Source{Worked, "isentropic orifice, Heywood 1988 app. C eq. C.8, C.9 (numbers from memory); reference/orifice_constants.csv"}
	t, err := g.table("reference/orifice_constants.csv")
	if err != nil {
		return err
	}
	choked, _ := air.Psi(0.6, 1e-9)
	low, high := 0.4, 0.6 // the pressure ratio below which the flow no longer rises, by halving
	for range 60 {
		mid := (low + high) / 2
		if _, slope := air.Psi(1-mid, 1e-9); slope == 0 {
			low = mid
		} else {
			high = mid
		}
	}
	s.near("gas.critical", "critical pressure ratio of air", low, 0.5283, 5e-5, "", Source{Handbook, "C. Matthews, Aeronautical Engineer's Data Book, tables A4.1/A4.2"})
	s.rel("gas.cstar", "choked flow function, gamma 1.4", choked, t.at("value", "quantity", "critical_flow_function", "gamma", "1.4"), 1e-6, "", heywood)
	s.rel("gas.mfp", "choked mass-flow parameter, R 287.05", choked/math.Sqrt(air.R),
		t.at("value", "quantity", "mass_flow_parameter", "R_J_kgK", "287.05"), 1e-6, "s K^½/m", heywood)
	iso, err := g.table("reference/isentropic.csv")
	if err != nil {
		return err
	}
	for _, mach := range []string{"0.10", "0.50", "0.90"} {
		m := iso.at("mach", "mach", mach)
		ratio := dmath.Pow(1+0.2*m*m, -3.5)
		psi, _ := air.Psi(1-ratio, 1e-9)
		s.near("gas.area_m"+mach, "A/A* at Mach "+mach+" from the program's flow function", choked/psi, iso.at("A_over_Astar", "mach", mach),
			map[string]float64{"0.10": 5e-4, "0.50": 5e-5, "0.90": 5e-5}[mach], "",
			Source{Handbook, "C. Matthews, Aeronautical Engineer's Data Book, table A4.2; textbook table A.1, k = 1.4"})
	}
	ratios, err := g.table("reference/orifice_ratio.csv")
	if err != nil {
		return err
	}
	for _, pr := range []string{"0.98", "0.90", "0.70", "0.55"} {
		psi, _ := air.Psi(1-ratios.at("pressure_ratio", "pressure_ratio", pr), 1e-9)
		s.near("gas.psi_"+pr, "flow at pressure ratio "+pr+" over choked flow", psi/choked, ratios.at("psi_ratio", "pressure_ratio", pr), 1e-5, "", heywood)
	}
	flow, err := g.table("reference/orifice_flow.csv")
	if err != nil {
		return err
	}
	for i := range flow.rows {
		got := 1000 * air.MassFlow(flow.num(i, "CdA_mm2")*1e-6, flow.num(i, "p_up_Pa"), flow.num(i, "p_down_Pa"), flow.num(i, "T_up_K"))
		s.rel(fmt.Sprintf("gas.flow_%d", i+1), flow.text(i, "case"), got, flow.num(i, "flow_g_s"), flow.num(i, "tolerance_rel"), "g/s",
			Source{Worked, "isentropic orifice; reference/orifice_flow.csv"})
	}
	return nil
}

// leakRig is a can of air with a hole.
func leakRig(m3, mm float64) (*air.Net, air.State, []float64, error) {
	var par []float64
	n, err := air.Build(air.Spec{
		Volumes: []air.Volume{{ID: "manifold", M3: 3e-3}, {ID: "can", M3: m3}},
		Parts: []air.Part{{ID: "hole", Kind: "orifice", A: "ambient", B: "can",
			Params: map[string]float64{"cda_m2": math.Pi / 4 * mm * mm * 1e-6}}},
	}, func(_, _ string, v float64) int { par = append(par, v); return len(par) - 1 })
	if err != nil {
		return nil, air.State{}, nil, err
	}
	s := n.NewState(seaPa)
	s.P[n.Node("can")] = seaPa - 20*inHg
	return n, s, par, nil
}

// holdTime is how long a can takes to lose one inHg, s.
func holdTime(m3, mm float64) (secs, rate float64, err error) {
	n, s, par, err := leakRig(m3, mm)
	if err != nil {
		return 0, 0, err
	}
	in := air.Inputs{Dt: 0.05, AmbientPa: seaPa, AmbientK: roomK, ChargeK: roomK, ExhaustPa: seaPa, ExhaustK: roomK}
	can := n.Node("can")
	mark := s.P[can] + inHg
	for s.P[can] < mark {
		before := s.P[can]
		if err := n.Step(&s, par, &in); err != nil {
			return 0, 0, err
		}
		secs += in.Dt
		if rate == 0 {
			rate = (s.P[can] - before) / in.Dt
		}
		if s.P[can] > mark {
			secs -= in.Dt * (s.P[can] - mark) / (s.P[can] - before)
		}
	}
	return secs, rate, nil
}

func vacuumHold(g *Ground, s *sheet) error {
	t, err := g.table("reference/vacuum_hold.csv")
	if err != nil {
		return err
	}
	src := Source{Worked, "choked leak into 100 cm³, isothermal; reference/vacuum_hold.csv"}
	for i := range t.rows {
		secs, rate, err := holdTime(1e-4, t.num(i, "hole_mm"))
		if err != nil {
			return err
		}
		hole := t.text(i, "hole_mm")
		if i < 2 {
			s.rel("hold.rate_"+hole, "leak into 100 cm³ through "+hole+" mm", rate, t.num(i, "leak_Pa_s"), 2e-3, "Pa/s", src)
		}
		s.rel("hold.time_"+hole, "time for one inHg, hole "+hole+" mm", secs, t.num(i, "time_per_inHg_s"), 6e-3, "s", src)
	}
	inch, _, err := holdTime(1e-4, 0.0189)
	if err != nil {
		return err
	}
	s.rel("hold.inch_a_minute", "\"one inHg a minute\" on 100 cm³ is a hole of 18.9 µm", inch, 60, 0.01, "s", src)
	half, _, err := holdTime(5e-5, 0.05)
	if err != nil {
		return err
	}
	full, _, err := holdTime(1e-4, 0.05)
	if err != nil {
		return err
	}
	s.near("hold.half_volume", "half the volume halves the time", half/full, 0.5, 0.003, "", src)
	return nil
}

func atmosphere(g *Ground, s *sheet) error {
	t, err := g.table("reference/atmosphere.csv")
	if err != nil {
		return err
	}
	for i := range t.rows {
		h := t.text(i, "altitude_m")
		a, err := units.StandardAtmosphere(t.num(i, "altitude_m"))
		if err != nil {
			return err
		}
		if p := t.num(i, "table_Pa"); !math.IsNaN(p) {
			s.rel("atm.table_"+h, "pressure at "+h+" m", a.Pressure, p, 5e-4, "Pa", Source{Handbook, "engineering reference table of altitude data (rounded psia)"})
		} else {
			s.rel("atm.formula_"+h, "pressure at "+h+" m", a.Pressure, t.num(i, "pressure_Pa"), 1e-4, "Pa", Source{Worked, "ISO 2533 / US Standard Atmosphere 1976, formula read, value worked out"})
		}
	}
	a, err := units.StandardAtmosphere(304.8)
	if err != nil {
		return err
	}
	s.near("atm.inch_per_1000ft", "a vacuum gauge reads lower by, first 1000 ft", (seaPa-a.Pressure)/inHg, 1.0, 0.1, "inHg",
		Source{Handbook, "US Army ordnance text OD1001, lesson 3: about 1 inHg for every 1000 ft"})
	s.near("units.20inhg", "20 inHg of vacuum at sea level, absolute", units.Absolute(20*inHg, seaPa), 33597, 1, "Pa", Source{Worked, "conventional inHg 3386.389 Pa (two conversion pages)"})
	return nil
}

func mixture(g *Ground, s *sheet) error {
	stoich, err := g.table("reference/stoichiometry.csv")
	if err != nil {
		return err
	}
	s.near("mix.afr", "stoichiometric air-fuel ratio of the car's fuel", g.Car.Engine.StoichAFR, stoich.at("air_fuel_ratio", "fuel", "CH1.87"), 0.02, "",
		Source{Worked, "atom balance of CH1.87 with air of 4.774 mol per mol O2; reference/stoichiometry.csv"})
	s.rel("mix.heating_value", "lower heating value of the car's fuel", g.Car.Engine.HeatingValue/1e6, 43.438, 0.012, "MJ/kg",
		Source{Handbook, "Hydrogen Analysis Resource Center (GREET), conventional gasoline; the car's is a round 43.0"})
	air2, err := g.table("reference/engine_air.csv")
	if err != nil {
		return err
	}
	for i := range air2.rows {
		p := &engine.Spec{Displacement: air2.num(i, "displacement_L") / 1000, VeSlope: air2.num(i, "volumetric_efficiency")}
		k, slope, _ := engine.Breathing(p, &engine.State{W: air2.num(i, "rpm") / engine.Rpm}, air2.num(i, "temperature_K"))
		s.rel(fmt.Sprintf("mix.speed_density_%d", i+1), fmt.Sprintf("air into 2.0 l at %s rpm, %s Pa, efficiency 0.80", air2.text(i, "rpm"), air2.text(i, "pressure_Pa")),
			1000*k*slope*air2.num(i, "pressure_Pa"), air2.num(i, "flow_g_s"), 1e-4, "g/s", Source{Worked, "speed density, one displacement in two revolutions (engine engineering site)"})
	}
	second, err := g.table("reference/secondary_air.csv")
	if err != nil {
		return err
	}
	for i := range second.rows {
		from, to := second.num(i, "lambda_engine"), second.num(i, "lambda_total")
		st := exhaust.NewState(&g.Car.Exhaust, roomK)
		const airflow = 0.009
		exhaust.Step(&g.Car.Exhaust, &st, &exhaust.Inputs{Dt: 0.1, AmbientK: roomK, Air: airflow, Fuel: airflow / (14.6 * from), Burnt: airflow / 14.6,
			Second: airflow * second.num(i, "ratio"), Spark: 0.66, EtaInd: 0.31, HV: 43e6, AFR: 14.6, Run: 10, LagS: 0.25, TauS: 9, FinalK: 900})
		s.rel(fmt.Sprintf("mix.second_%d", i+1), fmt.Sprintf("exhaust ratio of an engine at %g with %s of its air added", from, second.text(i, "ratio")), st.Lambda, to, 1e-4, "",
			Source{Worked, "carbon balance; reference/secondary_air.csv"})
	}
	bed := lightOffK(&g.Car.Exhaust)
	s.band("mix.light_off", "bed temperature at which half is converted, reference flow", bed-273.15, 250, 300, "°C", Source{Handbook, "sustainability reference article on converters' cold operation: 250 to 300 °C"})
	s.near("mix.light_off_note", "the same", bed-273.15, 270, 1, "°C", Source{Note, "vehicle.md: 50 % near 270 °C"})
	return nil
}

// lightOffK finds the even bed temperature at which the conversion is one half, by halving.
func lightOffK(p *exhaust.Spec) float64 {
	low, high := 400.0, 800.0
	for range 40 {
		mid := (low + high) / 2
		st := exhaust.NewState(p, mid)
		exhaust.Step(p, &st, &exhaust.Inputs{Dt: 1e-6, AmbientK: roomK, Air: 0.012 * 14.6 / 15.6, Fuel: 0.012 / 15.6, Burnt: 0.012 / 15.6,
			Spark: 0.84, EtaInd: 0.31, HV: 43e6, AFR: 14.6, Run: 10, LagS: 0.25, TauS: 9, FinalK: 900})
		if st.Bed < 0.5 {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
