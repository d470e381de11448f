package sim

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"coldbay/sim/car"
	"coldbay/sim/scan"

	"github.com/stretchr/testify/require"
)

func ask(t testing.TB, w *World, request ...byte) scan.Response {
	t.Helper()
	b := w.Scan(request)
	require.NotNil(t, b, "% X", request)
	r, err := scan.ParseResponse(b)
	require.NoError(t, err, "% X", b)
	return r
}

// flowResult is what the passive flow monitor last measured, and its limits, kg/h.
func flowResult(t testing.TB, w *World) scan.Measured {
	t.Helper()
	for _, r := range ask(t, w, 0x06, scan.MIDSecondaryAir1).Results {
		if r.TID == scan.TIDAirFlow {
			m, err := r.Measured()
			require.NoError(t, err)
			return m
		}
	}
	t.Fatal("no result of the flow monitor")
	return scan.Measured{}
}

// Sound cars, cold and mild, low and high, nominal and drawn, set no code in a cold start, a drive, and an idle long enough for every monitor; and what
// the controller expects of the air is what comes, within 3.3 %: half the way to the nearest limit would be 20 %.
func TestSoundCarsSetNoCode(t *testing.T) {
	for _, k := range []float64{267, 280, 293.15, 308} {
		for _, pa := range []float64{101325, 79500} {
			for _, draw := range []uint64{0, 3} {
				name := fmt.Sprintf("%.0f K, %.0f Pa, draw %d", k, pa, draw)
				w, err := New(carA(t), Conditions{AmbientK: k, AmbientPa: pa, Draw: draw})
				require.NoError(t, err)
				start(t, w)
				w.Step(1400)
				w.HoldSpeed(2200)
				w.Step(2000)
				w.HoldSpeed(0)
				w.Step(1500)
				m := flowResult(t, w)
				require.True(t, m.Pass, name)
				require.InDelta(t, 1, m.Value/(m.Min/0.6), 0.033, name)
				w.SetKey(false)
				w.Step(50)
				start(t, w)
				w.Step(2500)
				require.Empty(t, w.Codes(true), name)
				require.Empty(t, w.Codes(false), name)
				status := scan.ParseReadiness([4]byte(ask(t, w, 0x01, 0x01).Items[0].Data))
				require.True(t, status.Complete(), name)
				require.NoError(t, w.Err())
			}
		}
	}
}

// What happens to the drivers' wires in the car gives the standard's codes: by parameters, by parts taken out, and by leads.
func TestCircuitCodesOfTheCar(t *testing.T) {
	set := func(name string, v float64) func(w *World) {
		return func(w *World) { require.NoError(t, shop{w}.Set(name, func(float64) float64 { return v })); w.touch() }
	}
	lead := func(a, b string) func(w *World) {
		return func(w *World) {
			require.NoError(t, w.Attach(2, Instrument{Kind: JumperLead, A: a, B: b, AWG: 12, LengthM: 2}))
		}
	}
	for _, c := range []struct {
		name string
		do   func(w *World)
		want string
	}{
		{"relay driver wire open", set("w_coil_drv.add_ohm", 1e9), "P0418"},
		{"solenoid driver wire open", set("w_sol_drv.add_ohm", 1e9), "P0413"},
		{"solenoid feed open", set("w_sol_feed.add_ohm", 1e9), "P0413"},
		{"solenoid plug open", func(w *World) { require.NoError(t, w.SetConnector("sol_plug", true)) }, "P0413"},
		{"relay out of its socket", func(w *World) { require.NoError(t, w.SetConnector("pump_relay_socket", true)) }, "P0418"},
		{"solenoid fuse out", func(w *World) { require.NoError(t, w.SetElementOut("fuse15", true)) }, "P0413"},
		{"relay driver wire to ground", lead("ecm_12", "body"), "P2257"},
		{"solenoid driver wire to ground", lead("ecm_27", "body"), "P0414"},
		// Too much current, but not so much that the driver dies: it shuts down and says so.
		{"relay coil with shorted turns", set("pump_relay.coil_ohm", 2), "P2258"},
		{"solenoid coil with shorted turns", set("sol_coil.ohm", 2.5), "P0414"},
		// Battery straight on the pin kills it; nothing pulls any more, and nothing reports.
		{"relay driver wire to battery", lead("bat_pos", "ecm_12"), "P0418"},
		{"solenoid driver wire to battery", lead("bat_pos", "ecm_27"), "P0412"},
		{"relay driver dead", set("drv_relay.dead", 1), "P0418"},
		{"solenoid driver dead", set("drv_sol.dead", 1), "P0412"},
	} {
		w := newWorld(t)
		c.do(w)
		start(t, w)
		w.Step(1100)
		require.Contains(t, w.Codes(true), c.want, c.name)
		for _, code := range w.Codes(true) {
			require.Contains(t, []string{c.want, "P0491", "P0411"}, code, "%s: only what follows for the air comes with it", c.name)
		}
		require.NoError(t, w.Err())
	}
}

// Started warm, the car's pump is not used for the catalyst; after some minutes at idle the controller looks for itself, and finds what is gross.
func TestActiveMonitorOfTheCar(t *testing.T) {
	for _, c := range []struct {
		fault string
		want  []string
	}{{"no_fault_found", nil}, {"inlet_hose_off", nil}, {"pump_fuse_blown", []string{"P0491"}}, {"valve_stuck", []string{"P0491"}}} {
		w := newWorld(t, FaultChoice{c.fault, 1})
		w.en.CoolantK, w.en.BlockK = 358, 355
		start(t, w)
		on := 0
		for w.RunS() < 300 {
			w.Step(1)
			if w.ec.Pump {
				on++
			}
		}
		require.InDelta(t, 60, on, 2, c.fault)
		require.Equal(t, c.want, w.Codes(true), c.fault)
		require.True(t, w.MonitorRan(), c.fault)
		require.Less(t, w.ec.Short, 0.03)
		require.Greater(t, w.ec.Short, -0.03)
	}
}

// Contacts welded and a valve that stays open: the one case in which air goes on, and the oxygen sensor sees it. Either of them alone shows to
// nobody but who looks.
func TestAirAfterTheRun(t *testing.T) {
	for _, c := range []struct {
		welded, stuck float64
		want          []string
	}{{1, 0, nil}, {0, 1, nil}, {1, 1, []string{"P0411"}}} {
		w := newWorld(t)
		sh := shop{w}
		require.NoError(t, sh.Set("pump_relay.welded", func(float64) float64 { return c.welded }))
		require.NoError(t, sh.Set("sol_coil.stuck", func(float64) float64 { return c.stuck }))
		w.touch()
		start(t, w)
		w.Step(1100)
		require.Equal(t, c.want, w.Codes(true), "welded %v, solenoid stuck energised %v", c.welded, c.stuck)
	}
}

// Two cold starts with a fault light the lamp; mended, three good ones put it out, and the code stays for warm-ups to erase.
func TestLampOfTheCar(t *testing.T) {
	w := newWorld(t, FaultChoice{"pump_fuse_blown", 1})
	cold := func() {
		w.Soak(12)
		start(t, w)
		w.Step(600)
	}
	cold()
	require.False(t, w.Lamp())
	cold()
	require.True(t, w.Lamp() && w.CodeLamp())
	w.SetKey(false)
	w.Step(50)
	require.NoError(t, w.RepairUnit("pump_fuse"))
	for range 3 {
		cold()
		require.True(t, w.Lamp(), "until three good driving cycles have ended")
	}
	cold()
	require.False(t, w.Lamp() || w.CodeLamp())
	require.Equal(t, []string{"P0491"}, w.Codes(false))
	require.Empty(t, w.Codes(true))
	require.Empty(t, ask(t, w, 0x0A).Codes)
}

// What a scan tool reads is what the controller's values encode to, and it reads nothing without key or socket.
func TestScan(t *testing.T) {
	w := newWorld(t)
	require.Nil(t, w.Scan([]byte{0x01, 0x05}))
	start(t, w)
	w.Step(300)
	for _, pid := range w.PIDs() {
		values, ok := w.PID(pid)
		require.True(t, ok)
		a := ask(t, w, 0x01, pid)
		readings, err := a.Items[0].Readings()
		require.NoError(t, err)
		require.InDelta(t, values[0], readings[0].Value, 0.51*max(readings[0].Resolution, 0.001), "%02X", pid)
	}
	require.Equal(t, []byte{0x7F, 0x04, 0x22}, w.Scan([]byte{0x04}))
	w.SetKey(false)
	w.Step(10)
	require.Nil(t, w.Scan([]byte{0x03}))

	data, err := os.ReadFile("../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	c, err := car.Parse("lamp_only.yaml", []byte(strings.Replace(string(data), "scan_port: true", "scan_port: false", 1)))
	require.NoError(t, err)
	d, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325})
	require.NoError(t, err)
	start(t, d)
	require.Nil(t, d.Scan([]byte{0x01, 0x05}))
}

// A calibration that cannot be is refused at load, with the key named.
func TestCalibrationIsChecked(t *testing.T) {
	data, err := os.ReadFile("../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	for _, c := range []struct{ was, now, want string }{
		{"rearm: at_once", "rearm: later", "rearm"},
		{"coolant_max_k: 311.15", "coolant_max_k: 200", "coolant_max_k"},
		{"{coolant_k: 293.15, s: 80}", "{coolant_k: 250, s: 80}", "coolant_k"},
		{"flow_low: P0491", "flow_low: P49", "flow_low"},
		{"low_v: 0.8", "lowest_v: 0.8", "lowest_v"},
	} {
		require.Contains(t, string(data), c.was)
		_, err := car.Parse("bent.yaml", []byte(strings.Replace(string(data), c.was, c.now, 1)))
		require.ErrorContains(t, err, c.want)
		require.ErrorContains(t, err, "bent.yaml:")
	}
}
