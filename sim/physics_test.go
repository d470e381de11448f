package sim

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"coldbay/sim/air"
	"coldbay/sim/car"
	"coldbay/sim/circuit"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func (w *World) put(t require.TestingT, name string, v float64) {
	i, ok := w.car.Param(name)
	require.True(t, ok, name)
	own(&w.par)[i], w.healthy[i] = v, v
	w.touch()
}

func until(w *World, seconds float64) *World {
	for w.RunS() < seconds && w.Err() == nil {
		w.Step(1)
	}
	return w
}

// A permanent-magnet motor of a drive textbook (example "4.5" in an open textbook-companion code set; the inputs and the method were
// read there, the answers worked out): 6000 r/min at 120 V without load, armature 2.5 ohm. At 60 V and 0.5 N m: 2.61799 A and
// 2672.75 r/min. And its mechanical time constant J R/k^2.
func TestTextbookMotor(t *testing.T) {
	const k, ra, j = 0.190986, 2.5, 2e-4
	rig := func(volts, nm float64) *World {
		w := newWorld(t)
		w.put(t, "battery.emf_v", volts)
		w.put(t, "battery.discharge_ohm", 1e-6)
		w.put(t, "battery.capacity_ah", 1e6)
		w.put(t, "pump_motor.ra_ohm", ra-0.008) // the two leads have 4 mohm of clips each
		w.put(t, "pump_motor.brush_v", 0)
		w.put(t, "pump_motor.ke_v_s", k)
		w.put(t, "pump_motor.j_kgm2", j)
		w.put(t, "pump_motor.bearing_nm", nm)
		w.put(t, "pump_motor.cv_nms", 0)
		w.put(t, "pump_motor.heat_j_k", 1e9)
		require.NoError(t, w.SetPartOff("air_pump", true))
		require.NoError(t, w.SetConnector("pump_plug", true))
		require.NoError(t, w.Attach(2, Instrument{Kind: JumperLead, A: "bat_pos", B: "pump_1", AWG: 4, LengthM: 0.01}))
		require.NoError(t, w.Attach(3, Instrument{Kind: JumperLead, A: "pump_2", B: "bat_neg", AWG: 4, LengthM: 0.01}))
		return w
	}
	const rpm = 30 / math.Pi
	w := rig(120, 0)
	w.Step(100)
	require.InEpsilon(t, 6000, w.PumpSpeed("pump_motor")*rpm, 5e-4)
	w = rig(60, 0.5)
	w.Step(100)
	require.InEpsilon(t, 2672.75, w.PumpSpeed("pump_motor")*rpm, 5e-4)
	require.InEpsilon(t, 2.61799, amps(t, w, "pump_motor"), 5e-4)

	w = rig(60, 0)
	secs, goal := 0.0, (1-math.Exp(-1))*60/k
	for w.PumpSpeed("pump_motor") < goal {
		require.NoError(t, w.fast(1e-4))
		secs += 1e-4
	}
	require.InEpsilon(t, j*ra/(k*k), secs, 0.03)
}

// Standard atmosphere at 5000 ft: 84.3 kPa (US Standard Atmosphere 1976), 5.02 inHg below sea level. "Readings lowered about 1 inch for
// every 1000 ft, about 5 inHg less at about 5000 ft" says a US Army ordnance training text's lesson on vacuum readings. An engine that
// pumps against less idles at a manifold pressure half an inch lower, hence 4 to 5.5.
func TestAltitude(t *testing.T) {
	idle := func(pa float64) float64 {
		w, err := New(carA(t), Conditions{AmbientK: 293.15, AmbientPa: pa})
		require.NoError(t, err)
		w.en.CoolantK, w.en.BlockK = 363, 360
		start(t, w)
		until(w, 90)
		require.InDelta(t, 750, w.Rpm(), 25)
		return vac(t, w, "manifold") / 3386.389
	}
	fall := idle(101325) - idle(84307)
	require.GreaterOrEqual(t, fall, 4.0, "inHg")
	require.LessOrEqual(t, fall, 5.5, "inHg")
}

// A stroke of the hand pump expands gauge, hose and what hangs on it by 15 cm3 (isothermal, worked out): next to nothing is lost
// meanwhile. On the valve's chamber with its 20 cm3 of pump the design note rounds to 24 kPa, on the reservoir to 3 kPa.
func TestStrokes(t *testing.T) {
	w := newWorld(t, FaultChoice{"valve_stuck", 1})
	require.NoError(t, w.PullEnd("line_valve.a"))
	require.NoError(t, w.AttachTool(HandPump, "valve_nipple"))
	w.Stroke()
	w.Step(15)
	require.InDelta(t, 101325*15/(25+20+15), w.ToolVacuum(), 400)
	require.InDelta(t, 24e3, w.ToolVacuum(), 2e3)

	r := newWorld(t)
	require.NoError(t, r.PullEnd("line_supply.a"))
	require.NoError(t, r.AttachTool(HandPump, "res_out"))
	r.Stroke()
	r.Step(15)
	require.InDelta(t, 101325*15/(400+1+20+15), r.ToolVacuum(), 100)
	require.InDelta(t, 3e3, r.ToolVacuum(), 700)

	// A healthy diaphragm holds: an inch in a minute at most (common practice, no source).
	h := newWorld(t)
	require.NoError(t, h.PullEnd("line_valve.a"))
	require.NoError(t, h.AttachTool(HandPump, "valve_nipple"))
	for range 4 {
		h.Stroke()
		h.Step(10)
	}
	before := h.ToolVacuum()
	require.Greater(t, before, 15*3386.0)
	h.Step(600)
	require.Less(t, before-h.ToolVacuum(), 3386.0)
	require.InDelta(t, 0.006, h.ValveLift("air_valve"), 1e-4)
}

// Contacts welded shut run the pump with the key off: the battery is flat in two to three hours (design note; 60 Ah over the pump's
// 23 A or so at 12 V is 2.5 h) and then does not crank the engine.
func TestWeldedRelayFlattensTheBattery(t *testing.T) {
	data, err := os.ReadFile("../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	text := strings.Replace(string(data), "\nfault_sets:", `
  - {id: relay_stays_shut, name: pump relay contacts welded, unit: pump_relay, weight: 1,
     changes: [{set: pump_relay.welded, to: 1}]}
fault_sets:`, 1)
	c, err := car.Parse("welded.yaml", []byte(text))
	require.NoError(t, err)
	w, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325}, FaultChoice{"relay_stays_shut", 1})
	require.NoError(t, err)
	hours := 0.0
	for volts(t, w, "bat_pos", "bat_neg") > 10.5 || hours == 0 {
		w.Step(60 * 10)
		hours += 1.0 / 60
		require.NoError(t, w.Err())
		require.Less(t, hours, 4.0)
	}
	require.GreaterOrEqual(t, hours, 2.0)
	require.LessOrEqual(t, hours, 3.0)

	s, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325}, FaultChoice{"relay_stays_shut", 1})
	require.NoError(t, err)
	s.Soak(10)
	require.NoError(t, s.Err())
	s.SetKey(true)
	s.Step(10)
	s.SetStarter(true)
	s.Step(60)
	require.False(t, s.Running(), "flat after a night")
	require.Less(t, s.Rpm(), 50.0)
}

// readings are what a mechanic's instruments say of a running car; those for which a car has no place stay 0.
type readings struct {
	amps, volts, pipe, manifold, flow float64
	chambers                          []float64
}

func readCar(t testing.TB, w *World, a car.Anatomy) readings {
	t.Helper()
	r := readings{pipe: vac(t, w, a.Pipe), manifold: vac(t, w, "manifold"), flow: w.AirFlow() * 3600}
	if a.Motor != "" {
		r.amps, r.volts = w.MotorAmps(a.Motor), volts(t, w, a.Plus, a.Minus)
	}
	for _, id := range a.Chambers {
		r.chambers = append(r.chambers, vac(t, w, id))
	}
	return r
}

var allCars = []string{"car_a", "car_b", "car_c", "car_d"}

// severeOf gives a car's first fault with a severity that changes a parameter of that name, for each of the names that it has.
func severeOf(c *car.Car, severity map[string]float64) (f []FaultChoice) {
	seen := map[string]bool{}
	for _, x := range c.Faults {
		_, name, _ := strings.Cut(x.Changes[0].Set, ".")
		if s := severity[name]; s > 0 && !x.Fixed && !seen[name] {
			seen[name] = true
			f = append(f, FaultChoice{x.ID, s})
		}
	}
	return f
}

// Half the stride, other things equal: steady readings stay within the last digit of an instrument (0.1 A, 10 mV, 0.1 kPa, 1 % of
// the flow), and light-off within half a second. Healthy, and with a worn pump, a slack belt, split hoses, clogged passages.
func TestHalfTheStride(t *testing.T) {
	for _, id := range allCars {
		c := carFile(t, id)
		a := c.Anatomy()
		for _, f := range append(severeOf(c, map[string]float64{"wear": 0.6, "bearing_nm": 0.6, "slip": 0.3, "split_m2": 0.3, "clog": 0.6}), FaultChoice{c.NoFault.ID, 1}) {
			coarse, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325}, f)
			require.NoError(t, err)
			start(t, coarse)
			fine := coarse.Clone()
			compared, steady := 0, 0
			for coarse.RunS() < 90 {
				pump, valve := coarse.PumpCommand(), coarse.ValveCommand()
				coarse.Step(1)
				fine.controller()
				for left := 100; left > 0; {
					ms := min(fine.stride(), left)
					require.NoError(t, fine.fast(float64(ms)/2000))
					require.NoError(t, fine.fast(float64(ms)/2000))
					fine.brisk = max(0, fine.brisk-ms)
					left -= ms
				}
				fine.slow(Tick)
				fine.ms += 100
				steady++
				if coarse.PumpCommand() != pump || coarse.ValveCommand() != valve {
					steady = 0 // while pump and valve move, a reading is none
				}
				if s := coarse.RunS(); s > 5 && int(s*10)%50 == 0 && steady > 60 { // a pump runs down for seconds
					at := fmt.Sprintf("%s, %v at %.1f s", id, f, s)
					x, y := readCar(t, coarse, a), readCar(t, fine, a)
					require.InDelta(t, y.amps, x.amps, 0.1, at)
					require.InDelta(t, y.volts, x.volts, 0.01, at)
					require.InDelta(t, y.pipe, x.pipe, 100, at)
					require.InDelta(t, y.manifold, x.manifold, 300, at)
					require.InDeltaSlice(t, y.chambers, x.chambers, 300, at)
					require.InDelta(t, y.flow, x.flow, max(0.15, 0.01*y.flow), at)
					compared++
				}
			}
			require.Greater(t, compared, 10)
			require.NoError(t, coarse.Err())
			require.InDelta(t, fine.LitAt(), coarse.LitAt(), 0.5, "%s, %v", id, f)
		}
	}
}

// never is something of which a worse fault gives no more.
type never struct {
	car   *car.Car
	fault string
	what  string // chamber: vacuum in the valve chambers; amps: current into the pump; flow: air into the exhaust
}

// nevers are found in the cars' lists of faults: a worse split or tear on the vacuum side never gives more vacuum in a chamber, more
// resistance never more current into the pump, and what narrows, opens or wears the air's way never more air.
func nevers(t testing.TB, ids []string) (list []never) {
	for _, id := range ids {
		c := carFile(t, id)
		a := c.Anatomy()
		w, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325})
		require.NoError(t, err)
		start(t, w)
		until(w, 12)
		for _, f := range c.Faults {
			of, name, _ := strings.Cut(f.Changes[0].Set, ".")
			at, ok := c.Param(f.Changes[0].Set)
			if f.Fixed || !ok || f.Changes[0].To < c.Params[at].Value {
				continue
			}
			switch name {
			case "tear_m2":
				list = append(list, never{c, f.ID, "chamber"})
			case "split_m2":
				if slices.Contains(a.Pumped, of) {
					list = append(list, never{c, f.ID, "flow"})
				} else {
					list = append(list, never{c, f.ID, "chamber"})
				}
			case "ohm", "contact_ohm", "add_ohm", "ra_ohm":
				if amps, err := w.Amps(of); err == nil && amps > 1 && amps > 0.5*w.MotorAmps(a.Motor) { // in the motor's loop, not a solenoid's
					list = append(list, never{c, f.ID, "amps"})
				}
			case "clog", "wear", "slip", "bearing_nm", "open0_pa":
				list = append(list, never{c, f.ID, "flow"})
			}
		}
	}
	return list
}

func TestMoreOfAFault(t *testing.T) {
	list := nevers(t, allCars)
	for _, id := range allCars {
		require.GreaterOrEqual(t, len(nevers(t, []string{id})), 5, id)
	}
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.SampledFrom(list).Draw(rt, "of")
		lo := rapid.Float64Range(0.02, 0.99).Draw(rt, "less")
		hi := rapid.Float64Range(lo, 1).Draw(rt, "more")
		var r [2]readings
		for i, severity := range []float64{lo, hi} {
			w, err := New(n.car, Conditions{AmbientK: 293.15, AmbientPa: 101325}, FaultChoice{n.fault, severity})
			require.NoError(rt, err)
			start(t, w)
			until(w, 12)
			require.NoError(rt, w.Err())
			r[i] = readCar(t, w, n.car.Anatomy())
		}
		at := n.car.ID + " " + n.fault
		switch n.what {
		case "chamber":
			for i := range r[0].chambers {
				require.LessOrEqual(rt, r[1].chambers[i], r[0].chambers[i]+50, at)
			}
		case "amps":
			require.LessOrEqual(rt, r[1].amps, r[0].amps+0.01, at)
		case "flow":
			require.LessOrEqual(rt, r[1].flow, r[0].flow*1.0005+1e-3, at) // 1 g/h is what dribbles past a valve that is nearly shut
		}
	})
}

// Whatever hands do, in any order, on any car of the catalogue: no panic, nothing that is not a number, no negative pressure.
func TestHandsCannotBreakAWorld(t *testing.T) {
	for _, id := range allCars {
		t.Run(id, func(t *testing.T) { rapid.Check(t, hands(carFile(t, id))) })
	}
}

func hands(c *car.Car) func(rt *rapid.T) {
	terminals, openings, ports, parts, faults := touched(c)
	ends := 2 * len(c.Pneumatic.Hoses)
	var opened []circuit.Element // what hands open or take out; without its engine strap a car may have no solution (see sim/circuit/unsound.go)
	for _, e := range c.Electrical.Elements {
		if e.Kind == "connector" || e.Kind == "fuse" || e.Kind == "relay" {
			opened = append(opened, e)
		}
	}
	return func(rt *rapid.T) {
		one := func(of []string, label string) string { return rapid.SampledFrom(of).Draw(rt, label) }
		w, err := New(c, Conditions{AmbientK: rapid.Float64Range(230, 320).Draw(rt, "K"), AmbientPa: rapid.Float64Range(6e4, 1.05e5).Draw(rt, "Pa"),
			Draw: rapid.Uint64Range(0, 5).Draw(rt, "car")}, FaultChoice{one(faults, "fault"), rapid.Float64Range(0.01, 1).Draw(rt, "severity")})
		require.NoError(rt, err)
		for range rapid.IntRange(1, 40).Draw(rt, "acts") {
			switch rapid.IntRange(0, 17).Draw(rt, "act") {
			case 0:
				w.SetKey(rapid.Bool().Draw(rt, "key"))
			case 1:
				w.SetStarter(rapid.Bool().Draw(rt, "starter"))
			case 2:
				w.HoldSpeed(rapid.Float64Range(0, 4000).Draw(rt, "rpm"))
			case 3:
				_ = w.PullEnd(one(openings[:ends], "end"))
			case 4:
				_ = w.FitEnd(one(openings[:ends], "end"), one(ports, "port"))
			case 5:
				_ = w.SetPlug(one(openings, "opening"), rapid.Bool().Draw(rt, "plug"))
			case 6:
				_ = w.SetPartOff(one(parts, "part"), rapid.Bool().Draw(rt, "off"))
			case 7:
				_ = w.AttachTool(rapid.SampledFrom([]air.ToolKind{HandPump, Breath}).Draw(rt, "tool"), one(openings, "opening"))
			case 8:
				w.Stroke()
			case 9:
				w.ToolVent(rapid.Bool().Draw(rt, "vent"))
			case 10:
				w.DetachTool()
			case 11, 12:
				_ = w.Attach(rapid.IntRange(0, Slots-1).Draw(rt, "slot"), Instrument{Kind: rapid.SampledFrom([]circuit.InstrumentKind{Voltmeter, Ohmmeter, Ammeter,
					TestLamp, JumperLead}).Draw(rt, "instrument"), A: one(terminals, "red"), B: one(terminals, "black"), Watts: 21, AWG: 14, LengthM: 2,
					FuseA: rapid.SampledFrom([]float64{0, 3, 40}).Draw(rt, "fuse")})
			case 13:
				w.Detach(rapid.IntRange(0, Slots-1).Draw(rt, "slot"))
			case 14:
				_ = w.SetConnector(rapid.SampledFrom(opened).Draw(rt, "element").ID, rapid.Bool().Draw(rt, "open"))
			case 15:
				_ = w.Actuate(one([]string{"pump", "solenoid", "both", "off"}, "test"))
			case 16:
				w.Soak(rapid.Float64Range(0.01, 20).Draw(rt, "hours"))
			case 17:
				_ = w.RepairUnit(rapid.SampledFrom(c.Units).Draw(rt, "unit").ID)
			}
			w.Step(rapid.SampledFrom([]int{1, 3, 30, 200}).Draw(rt, "ticks"))
			sound(rt, w)
		}
	}
}

// touched lists what hands can come to on a car; openings begin with the hose ends.
func touched(c *car.Car) (terminals, openings, ports, parts, faults []string) {
	for _, x := range c.Bay.Terminals {
		terminals = append(terminals, x.ID)
	}
	for _, h := range c.Pneumatic.Hoses {
		openings = append(openings, h.ID+".a", h.ID+".b")
	}
	for _, p := range c.Pneumatic.Ports {
		ports = append(ports, p.ID)
	}
	openings = append(openings, ports...)
	for _, p := range c.Pneumatic.Parts {
		parts = append(parts, p.ID)
	}
	faults = append(faults, c.NoFault.ID)
	for _, f := range c.Faults {
		faults = append(faults, f.ID)
	}
	return terminals, openings, ports, parts, faults
}

// sound looks at everything that a percept could come from.
func sound(t *rapid.T, w *World) {
	if err := w.Err(); err != nil {
		t.Fatal(err)
	}
	number := func(x float64) {
		if !finite(x) {
			t.Fatal("a state is not a finite number")
		}
	}
	w.el.Sum(number)
	w.pn.Sum(number)
	// A vane pump turned at 4000 rpm by a belt against a shut way has (523/150)^2 of its 42 kPa, half a megapascal; at the bench no hose stays on
	// what is taken off, so that there the way is open.
	most := 3e5
	if w.car.Anatomy().Motor == "" {
		most = 1e6
	}
	for i, p := range w.pn.P {
		if p < 0 || p > most {
			t.Fatalf("node %d at %g Pa", i, p)
		}
	}
	for _, e := range w.car.Electrical.Elements {
		a, err := w.Amps(e.ID)
		if err != nil || math.Abs(a) > 6000 {
			t.Fatalf("%s: %g A %v", e.ID, a, err)
		}
	}
	for slot := range Slots {
		if r, ok := w.Instrument(slot); ok && (!finite(r.Amps) || !finite(r.Volts) || math.IsNaN(r.Ohms) || !(r.LeadK < 1e5)) {
			t.Fatalf("slot %d reads %+v", slot, r)
		}
	}
	a := w.car.Anatomy()
	pump := a.Motor
	if pump == "" {
		pump = a.Pump
	}
	for _, x := range []float64{w.Rpm(), w.CoolantK(), w.ExhaustPartK(), w.Lambda(), w.AirFlow(), w.EngineAir(), w.ToolFlow(), w.ToolVacuum(),
		w.MotorK(pump), w.PumpSpeed(pump)} {
		number(x)
	}
	if w.Rpm() > 8000 || w.MotorK(pump) > 3000 || w.PumpSpeed(pump) > 3000 {
		t.Fatalf("%g rpm, motor %g K, %g rad/s", w.Rpm(), w.MotorK(pump), w.PumpSpeed(pump))
	}
}
