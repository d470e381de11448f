package car

import (
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func text(t testing.TB, id string) string {
	t.Helper()
	data, err := os.ReadFile("../../scenarios/cars/" + id + ".yaml")
	require.NoError(t, err)
	return string(data)
}

// Each of these is refused at load, in one sentence that names file, line and the item. old is a pattern of which the first match is replaced.
func TestBadCars(t *testing.T) {
	for _, c := range []struct{ name, car, old, new, want string }{
		// Netlists that can't be solved.
		{"floating terminal", "car_b", `a: pump_gnd, b: eng_gnd, ohm`, `a: nowhere, b: elsewhere, ohm`,
			`element "j_gnd": nothing ties its terminal "nowhere" to the reference "bat_neg", not even with everything closed`},
		{"floating part of the net", "car_d", `\{id: g_body, kind: resistor, a: body, b: bat_neg, ohm: 0.0006, unit: ground_body\}`,
			`{id: island, kind: resistor, a: isle_1, b: isle_2, ohm: 5, unit: ecm}`, `element "island": nothing ties its terminal "isle_1" to the reference`},
		{"reference that is nothing's", "car_b", `reference: bat_neg`, `reference: bat_nog`, `to the reference "bat_nog"`},
		{"second battery", "car_b", `- \{id: g_body,`, "- {id: spare, kind: battery, a: bat_pos, b: body, emf_v: 12, discharge_ohm: 0.01, charge_ohm: 0.1, capacity_ah: 50, unit: battery}\n    - {id: g_body,",
			`element "spare": a second battery beside "battery"; one is allowed`},
		{"both ends at one terminal", "car_b", `a: pump_gnd, b: eng_gnd`, `a: pump_gnd, b: pump_gnd`, `element "j_gnd": both ends are at "pump_gnd"`},
		{"terminal missing", "car_b", `kind: wire, a: mot_2h, b: pump_gnd`, `kind: wire, a: mot_2h`, `element "w_gnd": a terminal is missing`},
		// Unknown or unfit elements.
		{"unknown element", "car_b", `kind: fuse, a`, `kind: fusible, a`, `element "fuse40": kind "fusible" is unknown; allowed is resistor, wire, battery`},
		{"unknown number", "car_b", `rating_a: 40`, `rating: 40`, `element "fuse40": unknown key "rating"; allowed is ohm, rating_a, blown`},
		{"number missing", "car_b", `, rating_a: 40`, ``, `element "fuse40": fuse needs rating_a`},
		{"number of another kind", "car_b", `kind: resistor, a: body`, `kind: resistor, awg: 4, a: body`, `element "g_body": a resistor takes no awg`},
		{"contact on a coil-less thing", "car_b", `kind: switch, a: bat_pos`, `kind: switch, c: x, a: bat_pos`, `element "main_relay": a switch takes no c`},
		{"element twice", "car_b", `id: w_gnd, kind`, `id: w_feed, kind`, `element "w_feed": the name stands twice`},
		{"load that is never on", "car_b", `when: crank`, `when: cranking`, `element "starter": when: found "cranking"; allowed: key, run, crank, fuel`},
		{"driver of nothing", "car_b", `drive: pump`, `drive: horn`, `element "drv_relay": drive: found "horn"; allowed: pump, solenoid`},
		{"second driver", "car_c", `limit_a: 2.5, drive: solenoid`, `limit_a: 2.5, drive: pump`, `element "drv_sol": a second driver of the pump beside "drv_relay"`},
		// Wrong units and numbers out of range.
		{"words for a number", "car_b", `ra_ohm: 0.092`, `ra_ohm: 92 mohm`, `electrical.elements`},
		{"milliohms", "car_b", `bearing_nm: 0.011`, `bearing_nm: 1100`, `element "blower": bearing_nm = 1100, allowed is 0 to 100`},
		{"not a number", "car_b", `ra_ohm: 0.092`, `ra_ohm: .nan`, `a finite number is allowed`},
		{"cubic centimetres", "car_b", `displacement_m3: 1.798e-3`, `displacement_m3: 1798`, `key "engine.displacement_m3": found 1798, allowed is 0.0003 to 0.01`},
		{"degrees Celsius", "car_b", `thermostat_k: 362.15`, `thermostat_k: 89`, `key "engine.thermostat_k": found 89, allowed is 320 to 400`},
		{"engine number missing", "car_b", `  inertia_kgm2: 0.145\n`, ``, `key "engine.inertia_kgm2": missing; allowed is 0.01 to 2`},
		{"exhaust out of range", "car_b", `t50_k: 543.15`, `t50_k: 270`, `key "exhaust.catalyst.t50_k": found 270, allowed is 400 to 800`},
		{"air that never runs", "car_b", `    off_coolant_k: 333.15\n`, ``, `key "controller.enable.off_coolant_k": found 0, must be above coolant_max_k, or the air never runs`},
		{"litres", "car_b", `m3: 2.7e-3`, `m3: 2.7`, `air.volumes`},
		{"half a litre", "car_b", `m3: 4.0e-4, bore`, `m3: 0.4, bore`, `hose "pressure_pipe": found 0.4, allowed is 1e-8 to 0.05 m3`},
		{"square millimetres", "car_b", `on: airbox, cda_m2: 2.9e-4`, `on: airbox, cda_m2: 290`, `port "airbox_stub": found 290, allowed is above 0 to 0.005 m2`},
		{"part out of range", "car_b", `open0_pa: 3000`, `open0_pa: 3`, `part "air_valve": open0_pa = 3, allowed is 100 to 100000`},
		{"valve that opens at nothing", "car_a", `crack_pa: 1000`, `crack_pa: 0`, `part "check_valve": crack_pa = 0, allowed is 1 to 100000`},
		{"reed that opens at nothing", "car_a", `reed_crack_pa: 100,`, `reed_crack_pa: 0,`, `part "air_valve": reed_crack_pa = 0, allowed is 1 to 100000`},
		{"full lift before the first", "car_a", `lift1_pa: 32000`, `lift1_pa: 10000`, `part "air_valve": lift1_pa = 10000, must be at least 100 above lift0_pa = 18000`},
		{"full lift with the first", "car_a", `lift1_pa: 32000`, `lift1_pa: 18000`, `part "air_valve": lift1_pa = 18000, must be at least 100 above lift0_pa = 18000`},
		{"full opening before the first", "car_b", `open0_pa: 3000`, `open0_pa: 30000`, `part "air_valve": open1_pa = `},
		{"chamber of a thimble", "car_a", `\{id: chamber, m3: [0-9.e-]+`, `{id: chamber, m3: 1e-6`,
			`part "air_valve": dia_m2 = 0.0012 times lift_m = 0.006 sweeps 7.2e-06 m3, at most 0.9 of the 1e-06 m3 of its chamber "chamber" are allowed`},
		{"diaphragm of a square metre", "car_d", `dia_m2: [0-9.e-]+`, `dia_m2: 1`, `part "diverter": dia_m2 = 1 times lift_m = `},
		{"hose like an oven", "car_b", `valve_inlet, warm_k: 30`, `valve_inlet, warm_k: 2000`, `hose "pressure_pipe": found 2000, allowed is 0 to 200 K above the surroundings`},
		{"laminar everywhere", "car_a", `laminar_pa: [0-9.e-]+`, `laminar_pa: 1e9`, `laminar_pa = 1e+09, allowed is 0 to 1e5`},
		{"fault that turns a spring round", "car_a", `changes: \[\{set: w_feed.add_ohm, to: 3,`, `changes: [{set: air_valve.lift1_pa, to: 9000}, {set: w_feed.add_ohm, to: 3,`,
			`with fault "pump_feed_loose": part "air_valve": lift1_pa = 9000, must be at least 100 above lift0_pa = 18000`},
		{"wire gauge", "car_b", `awg: 12, length_m: 0.8`, `awg: 120, length_m: 0.8`, `element "w_fuse_relay"`},
		{"banks", "car_c", `banks: 2 `, `banks: 3 `, `key "banks": found 3, allowed is 1 or 2`},
		{"fault out of range", "car_b", `pressure_pipe.split_m2, to: 2.0e-4`, `pressure_pipe.split_m2, to: 200`, `pressure_pipe.split_m2: found 200, allowed is 0 to 1`},
		{"fault opens what is shut", "car_b", `clog, to: 0.99, scale: shut`, `clog, to: 1, scale: shut`, `pressure_pipe.clog: found 1, a shut scale allows 0 up to but not 1`},
		{"spread", "car_b", `set: blower.ra_ohm, share: 0.03`, `set: blower.ra_ohm, share: 3`, `key "spread[1].share": found 3, allowed is 0 to 0.5`},
		{"price", "car_b", `part: 24500`, `part: -5`, `unit "air_pump": a part at -5 cents`},
		// Pneumatic networks that don't match.
		{"unknown part", "car_b", `kind: pressure_valve`, `kind: pressure_valv`, `part "air_valve": kind "pressure_valv" is unknown; allowed is orifice, check`},
		{"hose to nowhere", "car_b", `a: pump_outlet, b: valve_inlet`, `a: pump_outlet, b: valve_outlet`, `hose "pressure_pipe": ends at "pump_outlet" and "valve_outlet", both must be ports`},
		{"two hoses on a port", "car_b", `a: pump_outlet, b: valve_inlet`, `a: airbox_stub, b: valve_inlet`, `hose "pressure_pipe": the port "airbox_stub" has the hose "inlet_hose" already`},
		{"hose in a ring", "car_b", `a: airbox_stub, b: pump_inlet`, `a: airbox_stub, b: airbox_stub`, `hose "inlet_hose" has both ends on the port "airbox_stub"`},
		{"hose between two parts", "car_b", `a: airbox_stub, b: pump_inlet`, `a: valve_inlet, b: pump_inlet`, `hose "inlet_hose": one of its ends must be at a port on a volume`},
		{"port of nothing", "car_b", `    - \{id: valve_inlet\}`, "    - {id: valve_inlet}\n    - {id: spare_stub}", `port "spare_stub" is on no volume, and no part names it`},
		{"port on nothing", "car_b", `on: scroll`, `on: scrol`, `port "pump_outlet": on "scrol", which is no volume`},
		{"port of two parts", "car_c", `b: gallery_2, chamber: chamber_2`, `b: gallery_2, chamber: nowhere`, `part "air_valve_2": chamber "nowhere" is no volume`},
		{"shared port", "car_c", `a: valve_inlet_2, b: gallery_2`, `a: valve_inlet, b: gallery_2`, `part "air_valve_2": the port "valve_inlet" belongs to "air_valve" already`},
		{"bank that is not there", "car_b", `b: exhaust,`, `b: exhaust_2,`, `part "passages" leads into exhaust_2, which only a car with banks: 2 has`},
		{"end too many", "car_d", `kind: check, a: check_body`, `kind: check, dump: div_dump, a: check_body`, `part "check_valve": "div_dump": a check has no such end`},
		{"no manifold", "car_b", `id: manifold, m3`, `id: plenum, m3`, `no volume is called "manifold"`},
		{"coil that is not there", "car_c", `coil: sol_coil, supply`, `coil: sol_coyl, supply`, `a three_way's coil "sol_coyl" is no element of the netlist`},
		{"motor that is not there", "car_b", `motor: blower`, `motor: blowr`, `a pump's motor "blowr" is no element of the netlist`},
		{"two things of one name", "car_c", `id: sol_coil, kind: coil`, `id: air_valve, kind: coil`, `two things give the parameter "air_valve.stuck" its name`},
		// Bays that don't match.
		{"hose without a name", "car_b", `    - \{id: inlet_hose, name: "inlet hose, filter housing to pump"\}\n`, ``, `hose "inlet_hose" has no name in the bay's hoses, so nobody could reach it`},
		{"port without a place", "car_b", `    - \{id: pump_outlet, name: pump outlet, place: pump\}\n`, ``, `port "pump_outlet" has no name and place in the bay's ports, so nobody could reach it`},
		{"hose that is not there", "car_b", `  hoses:\n    - \{id: inlet_hose, name`, "  hoses:\n    - {id: ghost_hose, name: a hose}\n    - {id: inlet_hose, name", `"ghost_hose" is no hose of the pneumatic network`},
		{"place that is not there", "car_b", `name: pump inlet, place: pump`, `name: pump inlet, place: pomp`, `found "pomp", allowed is one of the places of this bay`},
		{"no dash", "car_b", `    - \{id: dash, .*\n`, ``, `no place "dash"; every car needs front, dash, tailpipe`},
		{"place twice", "car_b", `id: valve, name: air valve on`, `id: pump, name: air valve on`, `key "bay.places[3].id": "pump" is empty or stands twice`},
		{"terminal that is not there", "car_b", `id: mot_1h, name`, `id: mot_1x, name`, `"mot_1x" is no terminal of the netlist`},
		{"connector that is not there", "car_b", `when_open: motor_plug`, `when_open: motor_plgu`, `found "motor_plgu"; did you mean "motor_plug"?`},
		{"part that is not there", "car_b", `when_removed: relay`, `when_removed: relais`, `terminal "rel_30": found "relais"; allowed: fuse40, relay, pump, valve`},
		{"hoses of another part", "car_b", `hoses: \[pressure_pipe\], valve`, `hoses: [inlet_hose], valve`, `part "valve": the hose "inlet_hose" does not end on "air_valve"`},
		{"part that takes nothing off", "car_b", `place: battery, fuse: fuse40, off_s`, `place: battery, off_s`, `part "fuse40" takes nothing off`},
		{"sign of nothing", "car_b", `when: "pulled:valve_inlet"`, `when: "pulled:valve_outlet"`, `found "pulled:valve_outlet"; did you mean "valve_inlet"?`},
		{"sign when", "car_b", `when: "pulled:valve_inlet"`, `when: "smelt:valve_inlet"`, `found "smelt:valve_inlet"; allowed is nothing, bend, removed:PART`},
		{"sign of no parameter", "car_b", `of: air_valve, param: stuck`, `of: air_valve, param: stucc`, `"air_valve.stucc" is no parameter; allowed is air_valve.area_m2`},
		{"fault of no unit", "car_b", `unit: pump_fuse, weight: 5`, `unit: pomp_fuse, weight: 5`, `found "pomp_fuse", allowed is one of the units of this car`},
		{"fault that swaps nothing", "car_c", `swap: \[line_supply.b, line_tee.b\]`, `swap: [line_supply.b, line_te.b]`, `"line_te.b" is no hose end`},
	} {
		t.Run(c.name, func(t *testing.T) {
			good := text(t, c.car)
			at := regexp.MustCompile(c.old).FindStringIndex(good)
			require.NotNil(t, at, "the pattern is not in the file")
			bad := good[:at[0]] + c.new + good[at[1]:]
			car, err := Parse("c.yaml", []byte(bad))
			require.Nil(t, car)
			require.ErrorContains(t, err, c.want)
			m := regexp.MustCompile(`^c\.yaml:(\d+): key "`).FindStringSubmatch(err.Error())
			require.NotNil(t, m, err.Error())
			require.NotContains(t, err.Error(), "\n")
		})
	}
}

// A loop of sources and conductors of next to no resistance has no currents that one could believe in.
func TestLoopsOfIdealSources(t *testing.T) {
	good := text(t, "car_b")
	for _, c := range [][2]string{
		{"emf_v: 12.65, discharge_ohm: 0.007, charge_ohm: 0.13", "emf_v: 12.65, discharge_ohm: 0.0002, charge_ohm: 0.13"},
		{"- {id: g_body,", "- {id: bar, kind: resistor, a: bat_pos, b: bat_neg, ohm: 0.00001, unit: battery}\n    - {id: g_body,"},
	} {
		_, err := Parse("c.yaml", []byte(strings.Replace(good, c[0], c[1], 1)))
		require.NoError(t, err, "one of them alone is bad workmanship, but has a solution")
	}
	shorted := strings.Replace(good, "discharge_ohm: 0.007", "discharge_ohm: 0.0002", 1)
	shorted = strings.Replace(shorted, "- {id: g_body,", "- {id: bar, kind: resistor, a: bat_pos, b: bat_neg, ohm: 0.00001, unit: battery}\n    - {id: g_body,", 1)
	_, err := Parse("c.yaml", []byte(shorted))
	require.EqualError(t, err, `c.yaml:14: key "electrical.elements[0]": element "battery" closes a loop of ideal sources through "bar": 0.00021 ohm in all, at least 0.001 is allowed`)

	two := strings.Replace(good, "discharge_ohm: 0.007", "discharge_ohm: 0.0002", 1)
	two = strings.Replace(two, "emf_v: 14.2, ohm: 0.016", "emf_v: 14.2, ohm: 0.0001", 1)
	two = strings.Replace(two, "{id: g_engine, kind: resistor, a: eng_gnd, b: bat_neg, ohm: 0.0005", "{id: g_engine, kind: resistor, a: eng_gnd, b: bat_neg, ohm: 0.00002", 1)
	_, err = Parse("c.yaml", []byte(two))
	require.ErrorContains(t, err, `element "battery" closes a loop of ideal sources through "alternator", "g_engine": 0.00032 ohm in all`)
}

// The line is that of the item itself.
func TestErrorsNameTheLine(t *testing.T) {
	good := text(t, "car_d")
	bad := strings.Replace(good, "kind: belt_pump", "kind: belted_pump", 1)
	_, err := Parse("c.yaml", []byte(bad))
	require.Error(t, err)
	line := 1 + strings.Count(bad[:strings.Index(bad, "{id: air_pump, kind: belted_pump")], "\n")
	require.Regexp(t, `^c\.yaml:`+strconv.Itoa(line)+`: key "air\.parts\[2\]": part "air_pump": kind "belted_pump" is unknown`, err.Error())
}

func FuzzParse(f *testing.F) {
	for _, id := range []string{"car_a", "car_b", "car_c", "car_d"} {
		f.Add([]byte(text(f, id)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Parse("f", data)
		if (c == nil) == (err == nil) {
			t.Fatal("a car or an error, not both and not neither")
		}
	})
}
