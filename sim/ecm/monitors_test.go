package ecm

import (
	"testing"
	"unsafe"

	"coldbay/sim/scan"

	"github.com/stretchr/testify/require"
)

func (r *rig) codes(k Kind) []string {
	out := []string{}
	for _, c := range List(&r.p, &r.s, k) {
		out = append(out, c.String())
	}
	return out
}

// When the air runs: the windows and the curve of the calibration.
func TestEnabling(t *testing.T) {
	for _, c := range []struct {
		name string
		bend func(r *rig)
		want float64 // s of air
	}{
		{"cold", func(*rig) {}, 40 - 10*7.15/25},
		{"colder", func(r *rig) { r.in.CoolantK = 276 }, 50},
		{"at the end of the curve", func(r *rig) { r.in.CoolantK = 266 }, 60},
		{"too cold", func(r *rig) { r.in.CoolantK = 265.9 }, 0},
		{"too warm", func(r *rig) { r.in.CoolantK = 311.1 }, 0},
		{"intake cold", func(r *rig) { r.in.IntakeK = 263 }, 0},
		{"intake hot", func(r *rig) { r.in.IntakeK = 328 }, 0},
		{"weak battery", func(r *rig) { r.in.SupplyV = 11 }, 0},
		{"overcharged", func(r *rig) { r.in.SupplyV = 16.5 }, 0},
	} {
		r := newRig(t)
		r.p.Active.OnS = 0
		r.warms = false
		c.bend(r)
		r.start()
		on := 0.0
		for range 900 {
			r.run(0.1)
			if r.s.Pump {
				require.True(t, r.s.Sol)
				on += 0.1
			}
		}
		require.InDelta(t, c.want, on, 0.25, c.name)
	}
	for name, bend := range map[string]func(r *rig){
		"load":     func(r *rig) { r.in.Load = 0.9 },
		"throttle": func(r *rig) { r.in.Throttle = 0.7 },
		"warm":     func(r *rig) { r.in.CoolantK, r.warms = 401, false },
	} {
		r := newRig(t)
		r.start()
		r.run(10)
		require.True(t, r.s.Pump)
		bend(r)
		r.run(2.2)
		require.False(t, r.s.Pump, name)
		r.in.Load, r.in.Throttle = 0.4, 0
		r.run(5)
		require.False(t, r.s.Pump, "%s: it does not come back", name)
	}
}

// Each fault of a driver's circuit has its code. An open circuit and a short to ground show with the driver off, the others with it on.
func TestCircuits(t *testing.T) {
	for _, c := range []struct {
		pump, sol pinState
		want      []string
	}{
		{sound, sound, []string{}},
		{openPin, sound, []string{"P0418"}},
		{grounded, sound, []string{"P2257"}},
		{atBattery, sound, []string{"P2258"}},
		{dead, sound, []string{"P0418"}},
		{sound, openPin, []string{"P0413"}},
		{sound, grounded, []string{"P0414"}},
		{sound, atBattery, []string{"P0414"}},
		{sound, dead, []string{"P0412"}},
		{openPin, grounded, []string{"P0418", "P0414"}},
	} {
		r := newRig(t)
		r.pump, r.sol = c.pump, c.sol
		r.start()
		r.run(45)
		require.Equal(t, c.want, r.codes(Pending), "%v %v", c.pump, c.sol)
		require.Empty(t, r.codes(Confirmed))
		r.stop()
		r.start()
		r.run(45)
		require.Equal(t, c.want, r.codes(Confirmed), "%v %v", c.pump, c.sol)
	}
}

// Debounced by half a second; the solenoid's circuit means nothing while its feed is dead.
func TestCircuitDebounceAndFeed(t *testing.T) {
	r := newRig(t)
	r.start()
	r.run(40)
	for range 30 {
		r.pump = openPin
		r.run(0.4)
		r.pump = sound
		r.run(0.2)
	}
	require.Empty(t, r.codes(Pending))
	r.sol, r.in.FuelV = openPin, 0
	r.run(20)
	require.Empty(t, r.codes(Pending))
	r.in.FuelV = 13.5
	r.run(0.7)
	require.Equal(t, []string{"P0413"}, r.codes(Pending))

	r = newRig(t) // a car without a solenoid has no such circuit
	r.in.HasSol, r.sol = false, grounded
	r.start()
	r.run(45)
	require.Empty(t, r.codes(Pending))
}

// The passive monitor: limits of the expected flow, and only where it may judge.
func TestFlow(t *testing.T) {
	for _, c := range []struct {
		name  string
		share float64
		bend  func(r *rig)
		want  []string
		ran   bool
	}{
		{"sound", 1, nil, []string{}, true},
		{"just enough", 0.62, nil, []string{}, true},
		{"too little", 0.58, nil, []string{"P0491"}, true},
		{"none", 0, nil, []string{"P0491"}, true},
		{"just not too much", 1.38, nil, []string{}, true},
		{"too much", 1.45, nil, []string{"P0411"}, true},
		{"too high up", 0, func(r *rig) { r.in.BaroPa = 73000 }, []string{}, false},
		{"at speed", 0, func(r *rig) { r.in.Rpm = 2500 }, []string{}, false},
		{"under load", 0, func(r *rig) { r.in.Load = 0.8 }, []string{}, false},
	} {
		r := newRig(t)
		r.share = c.share
		r.start()
		if c.bend != nil {
			c.bend(r)
		}
		r.run(45)
		require.Equal(t, c.want, r.codes(Pending), c.name)
		require.Equal(t, c.ran, r.s.Ready(), c.name)
	}
	// Half of it in between at speed: the judgement waits for the idle to go on.
	r := newRig(t)
	r.share = 0.3
	r.start()
	r.run(8)
	r.in.Rpm = 2500
	r.run(15)
	require.False(t, r.s.judged)
	r.in.Rpm = 900
	r.run(10)
	require.True(t, r.s.judged)
	require.Equal(t, []string{"P0491"}, r.codes(Pending))
}

// What a sound system gives follows outside pressure, temperature and supply.
func TestExpectedFlow(t *testing.T) {
	x := Expected{KgH: 15, BaroPa: 1e5, IntakeK: 290, SupplyV: 13, BaroExp: 1, IntakeEx: -1, SupplyEx: 2}
	require.InDelta(t, 15, x.at(&Inputs{BaroPa: 1e5, IntakeK: 290, SupplyV: 13})*3600, 1e-9)
	require.InDelta(t, 12, x.at(&Inputs{BaroPa: 8e4, IntakeK: 290, SupplyV: 13})*3600, 1e-9)
	require.InDelta(t, 30, x.at(&Inputs{BaroPa: 1e5, IntakeK: 145, SupplyV: 13})*3600, 1e-9)
	require.InDelta(t, 3.75, x.at(&Inputs{BaroPa: 1e5, IntakeK: 290, SupplyV: 6.5})*3600, 1e-9)
}

// Air that goes on after it was stopped leans the exhaust for seconds.
func TestAirAfter(t *testing.T) {
	for _, c := range []struct {
		stay float64
		want []string
	}{{0, []string{}}, {0.2, []string{}}, {0.6, []string{"P0411"}}, {1, []string{"P0411"}}} {
		r := newRig(t)
		r.stay = c.stay
		r.start()
		r.run(60)
		require.Equal(t, c.want, r.codes(Pending), c.stay)
	}
}

// The active monitor: once in a driving cycle that the passive one could not use, at warm idle, and only a gross loss fails.
func TestActiveFlow(t *testing.T) {
	for _, c := range []struct {
		share float64
		want  []string
	}{{1, []string{}}, {0.5, []string{}}, {0, []string{"P0491"}}} {
		r := newRig(t)
		r.share = c.share
		r.in.CoolantK = 350
		r.start()
		on, starts, was := 0.0, 0, false
		for range 2400 {
			r.run(0.1)
			if r.s.Pump {
				on += 0.1
			}
			if r.s.Pump && !was {
				starts++
			}
			was = r.s.Pump
		}
		require.Equal(t, 1, starts)
		require.InDelta(t, 6, on, 0.21)
		require.Equal(t, c.want, r.codes(Pending), c.share)
		require.True(t, r.s.Ready())
		require.Less(t, r.s.Short, 0.02, "the trim comes back")
		require.Greater(t, r.s.Short, -0.02)
		require.InDelta(t, 0, r.s.Long, 0.02, "nothing of it is learnt")
	}
	// After a cold run the passive monitor has spoken.
	r := newRig(t)
	r.start()
	r.run(45)
	r.in.CoolantK = 350
	for range 1500 {
		r.run(0.1)
		require.False(t, r.s.Pump)
	}
	// Not while driving, and not with a circuit that is known to be bad.
	for _, bend := range []func(r *rig){func(r *rig) { r.in.Rpm = 2000 }, func(r *rig) { r.sol = openPin }} {
		r := newRig(t)
		r.in.CoolantK = 350
		r.start()
		bend(r)
		for range 1500 {
			r.run(0.1)
			require.False(t, r.s.Pump)
		}
	}
}

// A pass of the active monitor is no pass for a loss that only the passive one can see; one that it found itself it may clear.
func TestActivePassIsGrossOnly(t *testing.T) {
	warm := func(r *rig, share float64) {
		r.share, r.in.CoolantK = share, 350
		r.start()
		r.run(80)
		r.stop()
	}
	r := newRig(t)
	r.cycle('F')
	warm(r, 1)
	require.Equal(t, "pf", r.state(0x0491))
	r = newRig(t)
	warm(r, 0)
	require.Equal(t, "pf", r.state(0x0491))
	warm(r, 1)
	require.Equal(t, "", r.state(0x0491))
	warm(r, 0)
	warm(r, 0)
	require.Equal(t, "pckLf", r.state(0x0491))
}

// Supply, trims and heater.
func TestOtherMonitors(t *testing.T) {
	r := newRig(t)
	r.in.CoolantK = 320
	r.start()
	r.in.SupplyV = 10
	r.run(9)
	require.Empty(t, r.codes(Pending))
	r.run(2)
	require.Equal(t, []string{"P0562"}, r.codes(Pending))

	r = newRig(t)
	r.p.Active.OnS = 0
	r.in.CoolantK, r.stay = 320, 1 // air that nobody metered
	r.start()
	r.run(90)
	require.Equal(t, []string{"P0171"}, r.codes(Pending))

	r = newRig(t)
	r.in.Air.ReadyK = 1000 // the sensor never gets hot enough
	r.in.CoolantK = 320
	r.start()
	r.run(59)
	require.Empty(t, r.codes(Pending))
	r.run(2)
	require.Equal(t, []string{"P0135"}, r.codes(Pending))
}

// Readiness: each monitor is complete when it has run, and all start again after an erasure.
func TestReadiness(t *testing.T) {
	r := newRig(t)
	r.in.Key = true
	r.run(1)
	status := Readiness(&r.p, &r.s, false)
	want := scan.MonitorsOf(scan.FuelSystem, scan.Components, scan.Catalyst, scan.SecondaryAir, scan.OxygenSensor, scan.OxygenHeater)
	require.Equal(t, want, status.Supported)
	require.Equal(t, scan.MonitorsOf(scan.Catalyst, scan.SecondaryAir, scan.OxygenSensor, scan.OxygenHeater), status.Incomplete)
	r.stop()
	r.start()
	r.run(25)
	require.Equal(t, scan.MonitorsOf(scan.Catalyst, scan.OxygenSensor), Readiness(&r.p, &r.s, false).Incomplete)
	r.run(150)
	require.True(t, Readiness(&r.p, &r.s, false).Complete())
	require.True(t, Readiness(&r.p, &r.s, true).Complete())
	r.stop()
	r.start()
	require.True(t, Readiness(&r.p, &r.s, false).Complete())
	require.False(t, Readiness(&r.p, &r.s, true).Complete(), "this driving cycle has only begun")
	r.stop()
	r.in.Key = true
	r.run(1)
	require.NoError(t, Erase(&r.s))
	require.False(t, Readiness(&r.p, &r.s, false).Complete())
}

// In-use counters: numerator when the monitor has run, denominator after a drive of ten minutes with five of them driven, an idle of half a minute and
// ten seconds of air; once in a driving cycle, and untouched by erasing [13 CCR 1968.2 (d)(4), from memory].
func TestInUse(t *testing.T) {
	r := newRig(t)
	r.start()
	r.run(60)
	r.in.Rpm = 2200
	r.run(310)
	require.Zero(t, r.s.InUse().Air.Encountered)
	r.in.Rpm = 900
	r.run(300)
	u := r.s.InUse()
	require.Equal(t, scan.InUseCount{Completed: 1, Encountered: 1}, u.Air)
	require.EqualValues(t, 1, u.Conditions)
	r.stop()
	r.in.CoolantK = 320 // no air this time
	r.start()
	r.in.Rpm = 2200
	r.run(400)
	r.in.Rpm = 900
	r.run(300)
	r.stop()
	u = r.s.InUse()
	require.EqualValues(t, 2, u.Conditions)
	require.EqualValues(t, 2, u.Ignitions)
	require.EqualValues(t, 1, u.Air.Encountered)
	r.in.Key = true
	r.run(1)
	require.NoError(t, Erase(&r.s))
	require.Equal(t, u, r.s.InUse())
}

// Re-arm conditions of the actuator tests.
func TestRearm(t *testing.T) {
	keyOn := func(r *rig) { r.in.Key = true; r.run(1) }
	for _, c := range []struct {
		rearm                     string
		again, afterKey, afterRun bool
	}{{"", true, true, true}, {"at_once", true, true, true}, {"key_cycle", false, true, true}, {"engine_run", false, false, true}} {
		r := newRig(t)
		r.p.Actuator.Rearm = c.rearm
		ok := func() bool {
			err := Actuate(&r.p, &r.s, TestPump)
			if err != nil {
				require.ErrorIs(t, err, ErrNotArmed)
			}
			return err == nil
		}
		keyOn(r)
		require.True(t, ok(), c.rearm)
		r.run(3)
		require.True(t, r.s.Pump)
		require.False(t, r.s.Sol)
		r.run(60)
		require.Equal(t, NoTest, r.s.Testing(), "it ends by itself")
		require.False(t, r.s.Pump)
		require.Equal(t, c.again, ok(), "%s: at once", c.rearm)
		r.stop()
		keyOn(r)
		require.Equal(t, c.afterKey, ok(), "%s: after a key cycle", c.rearm)
		require.NoError(t, Actuate(&r.p, &r.s, NoTest))
		r.stop()
		r.start()
		r.run(2)
		r.stop()
		keyOn(r)
		require.Equal(t, c.afterRun, ok(), "%s: after an engine run", c.rearm)
	}
	r := newRig(t)
	r.in.HasSol = false
	keyOn(r)
	require.ErrorIs(t, Actuate(&r.p, &r.s, TestSolenoid), ErrNoOutput)
	require.ErrorIs(t, Actuate(&r.p, &r.s, TestBoth), ErrNoOutput)
	require.NoError(t, Actuate(&r.p, &r.s, TestPump))

	r = newRig(t)
	require.ErrorIs(t, Actuate(&r.p, &r.s, TestPump), ErrKeyOff)
	r.in.SupplyV = 9.5
	keyOn(r)
	require.ErrorIs(t, Actuate(&r.p, &r.s, TestPump), ErrBattery)
	r.in.SupplyV = 12.5
	r.stop()
	r.start()
	require.ErrorIs(t, Actuate(&r.p, &r.s, TestPump), ErrEngineRuns)
}

// Worlds are copied by the thousand, each with a controller.
func TestStateIsSmall(t *testing.T) {
	require.LessOrEqual(t, unsafe.Sizeof(State{}), uintptr(704))
	r := newRig(t)
	r.start()
	require.Zero(t, testing.AllocsPerRun(100, func() { Step(&r.p, &r.s, &r.in) }))
}
