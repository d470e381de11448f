package ecm

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The two-trip rule: 13 CCR 1968.2 (d)(2.2.1) and (d)(2.2.2) as read in the check tables (pending at the first failure; confirmed with the lamp at a
// second one before the end of the next driving cycle in which monitoring occurs; pending withdrawn when that cycle passes); lamp off after three good
// cycles and permanent codes from memory of (d)(2.3) and (d)(2.4).
func TestTrips(t *testing.T) {
	for _, c := range []struct{ cycles, want string }{
		{"", ""},
		{"P", ""},
		{"F", "pf"},
		{"F-", "pf"},
		{"FP", ""},
		{"F--P", ""},
		{"FPF", "pf"},
		{"FF", "pckLf"},
		{"F-F", "pckLf"},
		{"FF-", "pckLf"},
		{"FFP", "ckLf"},
		{"FFPP", "ckLf"},
		{"FFPP---", "ckLf"},
		{"FFPPP", "cf"},
		{"FFP-P-P", "cf"},
		{"FFPPFPP", "ckLf"},
		{"FFPPFPPP", "cf"},
		{"FFPPPF", "pcf"},
		{"FFPPPFP", "cf"},
		{"FFPPPFF", "pckLf"},
	} {
		r := newRig(t)
		r.p.Active.OnS = 0
		r.cycles(c.cycles)
		require.Equal(t, c.want, r.state(0x0491), c.cycles)
	}
}

// A code is pending within ten seconds of its detection, in the middle of the drive.
func TestPendingAtOnce(t *testing.T) {
	r := newRig(t)
	r.share = 0.3
	r.start()
	for !r.s.judged {
		r.run(0.1)
		require.Less(t, r.s.RunS, 40.0)
	}
	require.Equal(t, "pf", r.state(0x0491))
}

// 40 warm-ups without the lamp erase a confirmed code and its frame [memory of 13 CCR 1968.2 (d)(2.4)]; those with the lamp on don't count, and neither
// does a drive that warms the coolant by less than 22 K (40 degF).
func TestWarmUpsErase(t *testing.T) {
	r := newRig(t)
	r.p.Active.OnS = 0
	r.cycles("FF")
	for range 45 {
		r.cycle('w')
	}
	require.Equal(t, "pckLf", r.state(0x0491))
	require.EqualValues(t, 45, r.s.warmUps)
	r.cycles("PPP")
	for range 39 {
		r.cycle('w')
	}
	require.Equal(t, "cf", r.state(0x0491))
	for range 3 { // starts hot: 80 degC is reached, but by 10 K
		r.in.CoolantK, r.warms = 343.15, true
		r.start()
		r.run(20)
		r.stop()
	}
	require.Equal(t, "cf", r.state(0x0491))
	require.EqualValues(t, 84, r.s.warmUps)
	r.cycle('w')
	require.Equal(t, "", r.state(0x0491))
}

// A scan tool's erasure leaves the permanent code, which goes only when the monitor has run and passed.
func TestPermanent(t *testing.T) {
	r := newRig(t)
	r.p.Active.OnS = 0
	r.cycles("FF")
	r.in.Key = true
	r.run(1)
	require.NoError(t, Erase(&r.s))
	require.Equal(t, "k", r.state(0x0491))
	require.False(t, r.s.Ready())
	r.stop()
	r.cycles("--w")
	require.Equal(t, "k", r.state(0x0491))
	r.cycle('P')
	require.Equal(t, "", r.state(0x0491))
	r.cycles("FF")
	r.in.Key = true
	r.run(1)
	require.NoError(t, Erase(&r.s))
	r.stop()
	r.cycle('F')
	require.Equal(t, "pkf", r.state(0x0491), "a failure after the erasure is a first one again")
}

// The lamp: 15 to 20 s as a bulb check with the engine off (13 CCR 1968.2 (d)(2.1.2)), out when the engine runs, on for a confirmed fault.
func TestLamp(t *testing.T) {
	r := newRig(t)
	require.False(t, r.s.Lamp())
	r.in.Key = true
	on := 0
	for range 400 {
		r.run(0.1)
		if r.s.Lamp() {
			on++
		}
	}
	require.GreaterOrEqual(t, on, 150)
	require.LessOrEqual(t, on, 200)
	r.stop()
	r.start()
	require.False(t, r.s.Lamp())
	r.stop()
	r.cycles("FF")
	r.in.Key = true
	r.run(30)
	require.True(t, r.s.Lamp(), "after the bulb check")
	r.stop()
	r.start()
	require.True(t, r.s.Lamp())
}

// The freeze frame belongs to the first code; a fuel system fault takes it over [memory of 13 CCR 1968.2], and so does a confirmed code from one
// that is only pending.
func TestFreezeFrameRule(t *testing.T) {
	owner := func(r *rig) string { c, _, _ := FrameCode(&r.p, &r.s); return c }
	fail := func(r *rig, test int) {
		r.s.mon[test].flags |= failed | ran
		r.s.trips(&r.p)
	}
	end := func(r *rig) { r.s.endOfCycle() }

	r := newRig(t)
	fail(r, flowLow)
	fail(r, solOpen)
	require.Equal(t, "P0491", owner(r))
	fail(r, tooLean)
	require.Equal(t, "P0171", owner(r))
	fail(r, flowHigh)
	require.Equal(t, "P0171", owner(r))
	end(r)
	r.s.mon[tooLean].flags |= ran
	end(r)
	require.Equal(t, "", owner(r), "the pending code is withdrawn, and its frame with it")

	r = newRig(t)
	r.s.seen.rpm = 1000
	fail(r, flowLow)
	end(r)
	fail(r, solOpen)
	require.Equal(t, "P0491", owner(r))
	end(r)
	r.s.seen.rpm = 2000
	fail(r, solOpen)
	require.Equal(t, "P0413", owner(r), "confirmed before pending")
	_, pids, values := FrameCode(&r.p, &r.s)
	for i, pid := range pids {
		if pid == 0x0C {
			require.Equal(t, 2000.0, values[i])
		}
	}
}
