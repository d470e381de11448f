package validate

import (
	"fmt"
	"math"
	"strings"

	"coldbay/sim/circuit"
	"coldbay/sim/units"
)

func circuitStations() []station {
	return []station{
		{name: "wire", group: "Wire, fuses, battery, motor", how: ByFormula, once: true, run: wires},
		{name: "networks", group: "Wire, fuses, battery, motor", how: ByFormula, once: true, run: networks},
		{name: "fuses", group: "Wire, fuses, battery, motor", how: ByFormula, once: true, run: fuses},
		{name: "batteries and motors", group: "Wire, fuses, battery, motor", how: ByFormula, once: true, run: motors},
	}
}

// board is a small circuit.
type board struct {
	n   *circuit.Net
	s   circuit.State
	par []float64
	at  map[string]int
	in  circuit.Inputs
}

func newBoard(elems ...circuit.Element) (*board, error) {
	b := &board{at: map[string]int{}, in: circuit.Inputs{Dt: 0.01, TempK: roomK}}
	var err error
	b.n, err = circuit.Build("0", elems, func(owner, name string, v float64) int {
		b.par = append(b.par, v)
		b.at[owner+"."+name] = len(b.par) - 1
		return len(b.par) - 1
	})
	if err != nil {
		return nil, err
	}
	b.s = b.n.NewState(roomK)
	return b, nil
}

func (b *board) step() error {
	err := b.n.Step(&b.s, b.par, b.in)
	b.n.Part(&b.s, b.par)
	return err
}

func (b *board) volts(node string) float64 {
	i, ok := b.n.Node(node)
	if !ok {
		return math.NaN()
	}
	return b.s.Volts(i, 0)
}

func (b *board) amps(elem string) float64 {
	i, ok := b.n.Elem(elem)
	if !ok {
		return math.NaN()
	}
	return b.n.Amps(&b.s, i)
}

func resistor(id, a, b string, ohm float64) circuit.Element {
	return circuit.Element{ID: id, Kind: "resistor", A: a, B: b, Params: map[string]float64{"ohm": ohm}}
}

func source(a, b string, volts, ohm float64) circuit.Element {
	return circuit.Element{ID: "battery", Kind: "battery", A: a, B: b,
		Params: map[string]float64{"emf_v": volts, "discharge_ohm": ohm, "charge_ohm": ohm, "capacity_ah": 1000}}
}

func wires(g *Ground, s *sheet) error {
	t, err := g.table("reference/awg.csv")
	if err != nil {
		return err
	}
	for i := range t.rows {
		awg := t.text(i, "awg")
		ohm := units.Gauge(t.num(i, "awg")).OhmPerMetre(roomK) * 304.8
		if v := t.num(i, "ohm_per_1000ft"); !math.IsNaN(v) {
			s.rel("wire.awg"+awg, awg+" AWG copper at 20 °C", ohm, v, 1e-3, "Ω/1000 ft", Source{Handbook, "HyperPhysics, Common wire gauges (after Floyd)"})
		} else {
			s.rel("wire.awg"+awg, awg+" AWG copper at 20 °C", ohm, t.num(i, "formula_ohm_per_1000ft"), 5e-4, "Ω/1000 ft", Source{Worked, "ASTM B258 geometry, 0.017241 Ω mm²/m (NBS Handbook 100, as quoted)"})
		}
	}
	alpha := Source{Handbook, "Industrial Power Engineering and Applications Handbook p. 970: 0.00393 /K at 20 °C"}
	s.near("wire.80c", "copper at 80 °C over that at 20 °C", units.CopperFactor(353.15), 1.2358, 1e-4, "", alpha)
	b, err := newBoard(source("b", "0", 50, 1e-5), circuit.Element{ID: "w", Kind: "wire", A: "b", B: "x", AWG: 12, Params: map[string]float64{"length_m": 4}},
		circuit.Element{ID: "load", Kind: "load", A: "x", B: "0", When: "key", Params: map[string]float64{"amps": 25}})
	if err != nil {
		return err
	}
	b.in.On[0] = true
	if err := b.step(); err != nil {
		return err
	}
	s.near("wire.drop", "4 m of 12 AWG at 25 A drop", b.volts("b")-b.volts("x"), 0.521, 1e-3, "V", Source{Worked, "ASTM B258; reference/copper.csv"})
	b.in.TempK = 353.15
	b.s.Touch()
	if err := b.step(); err != nil {
		return err
	}
	s.near("wire.drop_hot", "the same at 80 °C", b.volts("b")-b.volts("x"), 0.521*1.2358, 2e-3, "V", alpha)
	return nil
}

func networks(g *Ground, s *sheet) error {
	elems, err := g.table("reference/dc_network_a_elements.csv")
	if err != nil {
		return err
	}
	var list []circuit.Element
	for i := range elems.rows {
		id := strings.ReplaceAll(elems.text(i, "element"), " ", "_")
		switch id {
		case "battery_emf":
		case "battery":
			list = append(list, source("b", "0", 12.6, elems.num(i, "value")))
		default:
			list = append(list, resistor(id, elems.text(i, "from"), elems.text(i, "to"), elems.num(i, "value")))
		}
	}
	b, err := newBoard(list...)
	if err != nil {
		return err
	}
	b.in.TempK = 298.15
	if err := b.step(); err != nil {
		return err
	}
	want, err := g.table("reference/dc_network_a.csv")
	if err != nil {
		return err
	}
	src := Source{Program, "ngspice-39 and a separate nodal solution agree to 6 digits; reference/dc_network_a.csv"}
	for _, q := range []string{"b", "n2", "p", "g", "c2", "s2"} {
		s.near("net."+q, "stalled pump network, node "+q, b.volts(q), want.at("value", "quantity", q), 1e-5, "V", src)
	}
	s.near("net.battery", "stalled pump network, battery", -b.amps("battery"), want.at("value", "quantity", "battery"), 1e-4, "A", src)
	s.near("net.motor", "stalled pump network, motor", b.amps("motor"), want.at("value", "quantity", "motor"), 1e-4, "A", src)
	load, err := g.table("reference/meter_loading.csv")
	if err != nil {
		return err
	}
	for i := range load.rows {
		b, err := newBoard(source("b", "0", 12.6, 1e-5), resistor("joint", "b", "x", load.num(i, "series_ohm")))
		if err != nil {
			return err
		}
		x, _ := b.n.Node("x")
		b.n.Attach(&b.s, 0, circuit.Instrument{Kind: circuit.Voltmeter, A: x, B: 0}, roomK)
		if ohm := load.num(i, "load_ohm"); !math.IsNaN(ohm) {
			b.n.Attach(&b.s, 1, circuit.Instrument{Kind: circuit.TestLamp, A: x, B: 0, Watts: 144 / ohm}, roomK)
		}
		if err := b.step(); err != nil {
			return err
		}
		r, _ := b.s.Instrument(0)
		s.near(fmt.Sprintf("net.meter_%d", i+1), "10 MΩ meter: "+load.text(i, "note"), r.Volts, load.num(i, "reading_V"), 1e-4, "V",
			Source{Worked, "loading error 100 Rs/(Rs+Ri) % (bench multimeter manual); reference/meter_loading.csv"})
	}
	return nil
}

func fuses(g *Ground, s *sheet) error {
	t, err := g.table("reference/blade_fuse.csv")
	if err != nil {
		return err
	}
	src := Source{Memory, "ISO 8820-3 type C/F and SAE J1284 blade fuses (scope read, table from memory); reference/blade_fuse.csv"}
	for i := range t.rows {
		share := t.num(i, "percent_of_rating") / 100
		b, err := newBoard(source("b", "0", 50, 1e-5), circuit.Element{ID: "f", Kind: "fuse", A: "b", B: "x", Params: map[string]float64{"ohm": 0.001, "rating_a": 10}},
			resistor("load", "x", "0", 50/(10*share)))
		if err != nil {
			return err
		}
		b.in.Dt = 0.001
		most := t.num(i, "open_by_s")
		if math.IsNaN(most) {
			b.in.Dt = 1
		}
		secs := 0.0
		for b.par[b.at["f.blown"]] < 0.5 && secs < 1000 {
			if err := b.step(); err != nil {
				return err
			}
			secs += b.in.Dt
		}
		name := t.text(i, "percent_of_rating")
		if math.IsNaN(most) {
			s.atLeast("fuse."+name, "a fuse at "+name+" % of its rating holds for", secs, 1000, "s", src)
			continue
		}
		s.band("fuse."+name, "a fuse at "+name+" % of its rating opens after", secs, t.num(i, "not_before_s"), most, "s", src)
	}
	return nil
}

func motors(g *Ground, s *sheet) error {
	t, err := g.table("reference/lead_acid.csv")
	if err != nil {
		return err
	}
	for i := range t.rows {
		b, err := newBoard(source("b", "0", 12.65, 0.006), resistor("r", "b", "0", 1e6))
		if err != nil {
			return err
		}
		charge := t.num(i, "charge_percent") / 100
		if charge == 0 {
			continue // the table calls empty what a starter can't use; the model goes on below it
		}
		b.s.Charge = charge
		if err := b.step(); err != nil {
			return err
		}
		s.near("batt.rest_"+t.text(i, "charge_percent"), "rest voltage at "+t.text(i, "charge_percent")+" % charge", b.volts("b"), t.num(i, "rest_V"), 0.01, "V",
			Source{Handbook, "battery state-of-charge sheet, table credited to BCI, 80 °F"})
	}
	b, err := newBoard(source("b", "0", 12.6, 0.006), resistor("r", "b", "0", 0.1))
	if err != nil {
		return err
	}
	cold := func(k float64) (float64, error) {
		b.in.TempK = k
		b.s.Touch()
		err := b.step()
		return (12.6 - b.volts("b")) / -b.amps("battery") * 1000, err
	}
	ohm, err := cold(255.15)
	if err != nil {
		return err
	}
	s.near("batt.cold", "internal resistance at −18 °C of a battery with 6 mΩ at 25 °C", ohm, 12, 0.05, "mΩ", Source{Note, "vehicle.md: twice at −18 °C"})
	k := Source{Handbook, "drive textbook example 4.5 in a textbook-companion code set (inputs and method read, answer worked out)"}
	const ke, ra = 0.190986, 2.5
	m, err := newBoard(source("b", "0", 60, 1e-5), circuit.Element{ID: "m", Kind: "motor", A: "b", B: "0",
		Params: map[string]float64{"ra_ohm": ra, "brush_v": 0, "ke_v_s": ke, "j_kgm2": 1e-4, "bearing_nm": 0.5, "cv_nms": 0}})
	if err != nil {
		return err
	}
	m.s.W[0] = 2672.75 * math.Pi / 30
	if err := m.step(); err != nil {
		return err
	}
	s.rel("motor.current", "60 V, 2672.75 rpm, k 0.190986 V s, 2.5 Ω", m.amps("m"), 2.61799, 5e-4, "A", k)
	s.rel("motor.torque", "its torque", ke*m.amps("m"), 0.5, 5e-4, "N m", k)
	return nil
}
