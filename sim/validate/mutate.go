package validate

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"coldbay/sim/car"

	"gopkg.in/yaml.v3"
)

// Change is one number of a car file made wrong on purpose. Path leads to it: keys and, in a list, the id of an item or its place.
type Change struct {
	Car    string  `json:"car,omitempty"` // one of the further cars; "": the ground's own
	Path   string  `json:"path"`
	Factor float64 `json:"factor"`
	What   string  `json:"what"`
	Blind  string  `json:"blind,omitempty"` // why no row is expected to see it
}

// Changes are the important parameters of car A, each wrong by so much as a slip of the pen or of a unit would make it at the least.
func Changes() []Change {
	e, p := "electrical/elements/", "air/parts/"
	list := []Change{
		{"", e + "battery/emf_v", 0.98, "battery, voltage at rest", ""},
		{"", e + "battery/discharge_ohm", 2, "battery, resistance", ""},
		{"", e + "battery/charge_ohm", 0.5, "battery, resistance while charging", ""},
		{"", e + "battery/capacity_ah", 1.3, "battery, capacity", ""},
		{"", e + "alternator/emf_v", 0.98, "charging source, voltage", ""},
		{"", e + "alternator/limit_a", 1.2, "charging source, current limit", ""},
		{"", e + "g_body/ohm", 10, "battery minus to body", ""},
		{"", e + "fuse40/ohm", 2, "40 A fuse, resistance", ""},
		{"", e + "pump_relay/coil_ohm", 1.05, "relay, coil", ""},
		{"", e + "pump_relay/contact_ohm", 1.5, "relay, contact", ""},
		{"", e + "w_feed/length_m", 1.3, "feed wire, length", ""},
		{"", e + "w_gnd/length_m", 1.3, "ground wire, length", ""},
		{"", e + "w_gnd/awg", 1.17, "ground wire, 14 AWG for 12", ""},
		{"", e + "pump_motor/ra_ohm", 1.1, "pump motor, armature", ""},
		{"", e + "pump_motor/ke_v_s", 1.05, "pump motor, constant", ""},
		{"", e + "pump_motor/j_kgm2", 1.1, "pump motor, inertia", ""},
		{"", e + "pump_motor/bearing_nm", 2, "pump motor, bearing", ""},
		{"", e + "pump_motor/brush_v", 1.5, "pump motor, brushes", ""},
		{"", e + "sol_coil/ohm", 1.05, "solenoid, coil", ""},
		{"", e + "drv_sol/on_ohm", 1.5, "solenoid driver, on", ""},
		{"", e + "drv_relay/on_ohm", 2, "relay driver, on", ""},
		{"", e + "fuel_pump_load/amps", 2, "fuel pump, current", ""},
		{"", "air/volumes/reservoir/m3", 1.1, "reservoir, volume", ""},
		{"", "air/volumes/chamber/m3", 1.2, "chamber, volume", ""},
		{"", "air/volumes/manifold/m3", 2, "manifold, volume", "it shapes only the seconds after a start, for which no outside figure was found"},
		{"", "air/ports/man_nipple/cda_m2", 0.5, "manifold nipple, restrictor", ""},
		{"", "air/ports/res_out/cda_m2", 0.8, "vacuum hose, bore", ""},
		{"", p + "solenoid/cda_m2", 0.8, "solenoid, ports", ""},
		{"", p + "solenoid/vent_cda_m2", 0.8, "solenoid, vent", ""},
		{"", p + "reservoir_creep/cda_m2", 20, "reservoir, creep", ""},
		{"", p + "check_valve/crack_pa", 5, "check valve, crack pressure", ""},
		{"", p + "air_pump/head_pa", 1.03, "air pump, shut-off head", ""},
		{"", p + "air_pump/free_m3_s", 1.1, "air pump, free flow", ""},
		{"", p + "air_pump/torque0_nm", 1.05, "air pump, torque", ""},
		{"", p + "air_pump/torque1_nm", 1.2, "air pump, torque when shut", ""},
		{"", p + "air_valve/lift0_pa", 1.2, "air valve, begins to lift", ""},
		{"", p + "air_valve/lift1_pa", 1.2, "air valve, fully open", ""},
		{"", p + "air_valve/tau_s", 3, "air valve, lag", ""},
		{"", p + "air_valve/area_m2", 0.4, "air valve, area", ""},
		{"", p + "passages/cda_m2", 1.05, "passages, area", ""},
		{"", p + "filter/cda_m2", 0.4, "air filter, area", ""},
		{"", "engine/displacement_m3", 1.05, "engine, displacement", ""},
		{"", "engine/ve_slope", 1.05, "engine, filling", ""},
		{"", "engine/heating_value_j_kg", 1.05, "fuel, heating value", ""},
		{"", "engine/stoich_afr", 1.01, "fuel, stoichiometric ratio", ""},
		{"", "engine/spark_heat", 1.05, "late ignition, efficiency", ""},
		{"", "engine/fmep0_pa", 1.1, "engine, friction", ""},
		{"", "engine/idle_cold_rpm", 1.15, "idle, cold", ""},
		{"", "engine/idle_warm_rpm", 1.05, "idle, warm", ""},
		{"", "engine/thermostat_k", 0.95, "thermostat", ""},
		{"", "engine/mixture/start", 0.95, "mixture, start", ""},
		{"", "engine/mixture/air_end", 0.95, "mixture, end of the air", ""},
		{"", "exhaust/back_pa_s2_kg2", 0.5, "exhaust, back pressure", ""},
		{"", "exhaust/share0", 1.1, "exhaust, share of the heat", ""},
		{"", "exhaust/man_j_k", 1.2, "exhaust manifold, heat capacity", ""},
		{"", "exhaust/catalyst/heat_j_k", 1.1, "catalyst, heat capacity", ""},
		{"", "exhaust/catalyst/t50_k", 1.01, "catalyst, light-off temperature", ""},
		{"", "exhaust/catalyst/ea_over_r_k", 1.5, "catalyst, activation", ""},
		{"", "controller/enable/run/0/s", 1.1, "controller, run time at -7 degC", ""},
		{"", "controller/enable/run/1/s", 1.05, "controller, run time at 20 degC", ""},
		{"", "controller/enable/run/2/s", 1.1, "controller, run time at 38 degC", ""},
		{"", "controller/enable/coolant_max_k", 1.02, "controller, warmest start", ""},
		{"", "controller/enable/coolant_min_k", 1.01, "controller, coldest start", ""},
		{"", "controller/enable/delay_s", 4, "controller, delay of the air", ""},
		{"", "controller/flow/low", 0.02, "controller, least flow", ""},
		{"", "controller/flow/expected/kg_h", 2, "controller, expected flow", ""},
	}
	return append(list, otherChanges()...)
}

// otherChanges are parameters of the other cars. Most rows there are bands of the trade, which only gross slips leave.
func otherChanges() (list []Change) {
	for _, c := range []struct {
		id, relay, motor, coil, pump string
		driver, relief               string
	}{
		{id: "car_b", relay: "air_relay", motor: "blower", pump: "air_pump", driver: "drv_relay"},
		{id: "car_c", relay: "sai_relay", motor: "pump_motor", coil: "sol_coil", pump: "air_pump", driver: "drv_sol"},
		{id: "car_d", coil: "sol_coil", pump: "air_pump", driver: "drv_sol", relief: "diverter"},
	} {
		e, p := "electrical/elements/", "air/parts/"
		put := func(has string, path string, factor float64, what string) {
			if has != "" {
				list = append(list, Change{c.id, path, factor, "car " + strings.ToUpper(strings.TrimPrefix(c.id, "car_")) + ": " + what, ""})
			}
		}
		put(c.id, e+"battery/emf_v", 0.98, "battery, voltage at rest")
		put(c.id, e+"alternator/emf_v", 0.98, "charging source, voltage")
		put(c.driver, e+c.driver+"/on_ohm", 1.5, "driver, on")
		put(c.coil, e+c.coil+"/ohm", 1.05, "solenoid, coil")
		put(c.relay, e+c.relay+"/contact_ohm", 1.5, "relay, contact")
		put(c.motor, e+"w_feed/length_m", 1.3, "feed wire, length")
		put(c.motor, e+c.motor+"/ra_ohm", 1.1, "pump motor, armature")
		put(c.motor, e+c.motor+"/ke_v_s", 1.05, "pump motor, constant")
		put(c.motor, e+c.motor+"/j_kgm2", 2, "pump motor, inertia")
		put(c.pump, p+c.pump+"/head_pa", 1.5, "air pump, shut-off head")
		put(c.pump, p+c.pump+"/free_m3_s", 1.5, "air pump, free flow")
		put(c.relief, p+c.relief+"/relief_pa", 0.7, "diverter, relief")
		put(c.id, p+"passages/cda_m2", 1.5, "passages, area")
		put(c.id, "engine/idle_cold_rpm", 1.3, "idle, cold")
		put(c.id, "engine/mixture/start", 0.85, "mixture, start")
		put(c.id, "exhaust/back_pa_s2_kg2", 0.5, "exhaust, back pressure")
		put(c.id, "exhaust/catalyst/t50_k", 1.1, "catalyst, light-off temperature")
		put(c.id, "exhaust/catalyst/heat_j_k", 1.8, "catalyst, heat capacity")
		put(c.id, "controller/enable/run/1/s", 1.7, "controller, run time at 20 degC")
	}
	return list
}

// Turned is what a change did.
type Turned struct {
	Change
	From float64  `json:"from"`
	To   float64  `json:"to"`
	Red  []string `json:"red"`            // rows, in order
	Lost string   `json:"lost,omitempty"` // why the car could not be had or a station not end, "" when all ran
}

// Mutate makes one change after another and runs the rows that look at the car again. base are the rows of the car as it is; workers
// cars are run at once.
func Mutate(ctx context.Context, g Ground, base []Row, list []Change, workers int, tell Progress) ([]Turned, error) {
	was := map[string]bool{}
	for _, r := range base {
		was[r.ID] = r.Red()
	}
	out := make([]Turned, len(list))
	errs := make([]error, len(list))
	var wait sync.WaitGroup
	var lock sync.Mutex
	next, done := 0, 0
	for range max(1, workers) {
		wait.Go(func() {
			for ctx.Err() == nil {
				lock.Lock()
				i := next
				next++
				lock.Unlock()
				if i >= len(list) {
					return
				}
				out[i], errs[i] = mutate(g, list[i], was)
				lock.Lock()
				done++
				if tell != nil {
					tell(list[i].What, done, len(list))
				}
				lock.Unlock()
			}
		})
	}
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

func mutate(g Ground, c Change, was map[string]bool) (Turned, error) {
	t := Turned{Change: c, Red: []string{}}
	at := slices.IndexFunc(g.Others, func(x *car.Car) bool { return x.ID == c.Car })
	if c.Car != "" && at < 0 {
		return t, fmt.Errorf("%s: there is no car %q", c.Path, c.Car)
	}
	model := g.Car
	if at >= 0 {
		model = g.Others[at]
	}
	file, err := yaml.Marshal(model.File)
	if err != nil {
		return t, err
	}
	if file, t.From, t.To, err = changed(file, c); err != nil {
		return t, err
	}
	if model, err = car.Parse("car.yaml", file); err == nil && at < 0 {
		g.Car = model
		err = g.prepare()
	}
	if err != nil {
		t.Lost = err.Error()
		return t, nil
	}
	for _, st := range stations() {
		if st.once || !strings.HasPrefix(c.Path, st.only) || (at < 0) == (st.cars == others) {
			continue
		}
		s, ground := g.sheet(&st, model)
		if err := st.run(ground, s); err != nil && t.Lost == "" {
			t.Lost = st.name + ": " + err.Error()
		}
		for _, r := range s.rows {
			if r.Red() && !was[r.ID] {
				t.Red = append(t.Red, r.ID)
			}
		}
	}
	return t, nil
}

// changed gives the car file with one number multiplied; whole numbers stay whole.
func changed(source []byte, c Change) (out []byte, from, to float64, err error) {
	var doc yaml.Node
	if err := yaml.Unmarshal(source, &doc); err != nil {
		return nil, 0, 0, err
	}
	at := doc.Content[0]
	for _, key := range strings.Split(c.Path, "/") {
		if at = below(at, key); at == nil {
			return nil, 0, 0, fmt.Errorf("%s: the car file has no %q there", c.Path, key)
		}
	}
	if from, err = strconv.ParseFloat(at.Value, 64); err != nil {
		return nil, 0, 0, fmt.Errorf("%s: %q is no number", c.Path, at.Value)
	}
	to = from * c.Factor
	if at.Tag == "!!int" && strings.HasSuffix(c.Path, "/awg") {
		to = float64(int(to + 0.5))
	}
	at.Value, at.Tag, at.Style = strconv.FormatFloat(to, 'g', -1, 64), "", 0
	var b bytes.Buffer
	enc := yaml.NewEncoder(&b)
	if err := enc.Encode(&doc); err != nil {
		return nil, 0, 0, err
	}
	return b.Bytes(), from, to, enc.Close()
}

// below is the value of a key, or the item of a list with that id.
func below(n *yaml.Node, key string) *yaml.Node {
	switch n.Kind {
	case yaml.MappingNode:
		for i := 0; i+1 < len(n.Content); i += 2 {
			if n.Content[i].Value == key {
				return n.Content[i+1]
			}
		}
	case yaml.SequenceNode:
		if i, err := strconv.Atoi(key); err == nil && i >= 0 && i < len(n.Content) {
			return n.Content[i]
		}
		for _, item := range n.Content {
			if id := below(item, "id"); id != nil && id.Value == key {
				return item
			}
		}
	}
	return nil
}
