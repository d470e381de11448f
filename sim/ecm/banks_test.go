package ecm

import (
	"testing"

	"coldbay/sim/scan"

	"github.com/stretchr/testify/require"
)

// Two banks: each is judged against its half of the air, with a code, a result and parameters of its own.
func TestSecondBank(t *testing.T) {
	for _, c := range []struct {
		bank1, bank2 float64
		want         []string
	}{
		{1, 1, []string{}},
		{0.2, 1, []string{"P0491"}},
		{1, 0.2, []string{"P0492"}},
		{0.2, 0.2, []string{"P0491", "P0492"}},
		// One valve shut sends its air the other way: too little here, too much there.
		{1.8, 0.1, []string{"P0492", "P0411"}},
	} {
		r := newRig(t)
		r.in.Banks, r.p.Codes.FlowLow2 = 2, "P0492"
		r.share, r.bank2 = c.bank1, c.bank2
		r.start()
		r.run(45)
		require.Equal(t, c.want, r.codes(Pending), "%v %v", c.bank1, c.bank2)
		for bank, share := range []float64{c.bank1, c.bank2} {
			results := r.ask(0x06, scan.MIDSecondaryAir1+byte(bank)).Results
			m, err := results[0].Measured()
			require.NoError(t, err)
			require.InDelta(t, 7.5*share, m.Value, 0.1, "half of 15 kg/h")
			require.InDelta(t, 4.5, m.Min, 0.01)
		}
		require.Equal(t, []byte{0x71, 0x72}, scan.Supported(0x60, [4]byte(r.ask(0x06, 0x60).Items[0].Data)))
		require.Len(t, r.ask(0x01, scan.PIDLambdaB2S1, scan.PIDCatalystB2S1).Items, 2)
	}
}

// Each bank has trims of its own, told as parameters and in the freeze frame, and codes of its own when they stand at their limit.
func TestTrimsByBank(t *testing.T) {
	for _, c := range []struct {
		air1, air2   float64 // unmetered, of 15 kg/h
		trim1, trim2 float64 // what makes up for it, %: 15 kg/h are 52.1 % of the engine's 28.8
		want         []string
	}{
		{0.05, 0, 2.6, 0, []string{}},
		{0, 0.1, 0, 5.2, []string{}},
		{0.9, 0, 46.9, 0, []string{"P0171"}},
		{0, 0.9, 0, 46.9, []string{"P0174"}},
	} {
		r := newRig(t)
		r.in.Banks, r.p.Active.OnS, r.p.Flow.After.LeanS = 2, 0, 1e6
		r.p.Codes.Lean2, r.p.Codes.Rich2 = "P0174", "P0175"
		r.stay, r.stay2 = c.air1, c.air2
		r.start()
		r.run(200)
		value := func(pid byte) float64 {
			v, ok := Value(&r.p, &r.s, pid)
			require.True(t, ok)
			return v[0]
		}
		require.InDelta(t, c.trim1, value(scan.PIDShortTrim1)+value(scan.PIDLongTrim1), 0.7, "%v", c)
		require.InDelta(t, c.trim2, value(scan.PIDShortTrim2)+value(scan.PIDLongTrim2), 0.7, "%v", c)
		require.Equal(t, c.want, r.codes(Pending))
		items := r.ask(0x01, scan.PIDShortTrim2, scan.PIDLongTrim2).Items
		require.Len(t, items, 2)
		if len(c.want) > 0 {
			_, pids, _ := FrameCode(&r.p, &r.s)
			require.Subset(t, pids, []byte{0x06, 0x07, 0x08, 0x09})
			require.NotNil(t, Answer(&r.p, &r.s, []byte{0x02, scan.PIDLongTrim2, 0}))
		}
	}
	one := newRig(t)
	one.start()
	one.run(60)
	_, ok := Value(&one.p, &one.s, scan.PIDShortTrim2)
	require.False(t, ok, "one bank has no trims of a second")
	require.Nil(t, Answer(&one.p, &one.s, []byte{0x01, scan.PIDShortTrim2}))
}

// A narrow-band sensor tells only rich from lean: with the mixture of the cold run, lean needs a third of the air or so, and less than that is all that
// it can complain of.
func TestNarrowBand(t *testing.T) {
	failsBelow := 0.0
	for share := 0.0; share < 1; share += 0.02 {
		r := newRig(t)
		r.p.NarrowBand, r.p.Flow.Low, r.p.Flow.High, r.p.Codes.FlowHigh = true, 0.5, 0, ""
		r.share = share
		r.start()
		r.run(45)
		require.True(t, r.s.judged)
		if len(r.codes(Pending)) > 0 {
			require.Equal(t, []string{"P0491"}, r.codes(Pending))
			failsBelow = share
		}
		volts := r.ask(0x01, scan.PIDOxygenB1S1).Items
		require.Len(t, volts, 1)
		require.Nil(t, Answer(&r.p, &r.s, []byte{0x01, scan.PIDLambdaB1S1}))
		results := r.ask(0x06, 0x71).Results
		require.Equal(t, scan.TIDAirLean, results[0].TID)
	}
	// Worked out: half-way through the judging, 11 s into this rig's 37 s of air, the mixture stands at 0.78 + 0.12 x 11/37; what turns it lean is the
	// oxygen that is missing to 1 of 28.8 kg/h of engine air, over 15 kg/h expected.
	mixture := 0.78 + 0.12*11/37
	require.InDelta(t, (1/mixture-1)*28.8/15, failsBelow, 0.04)

	r := newRig(t)
	r.p.NarrowBand, r.p.Active.OnS = true, 0
	r.stay = 0.05
	r.start()
	r.run(150)
	require.True(t, r.s.closed)
	require.InDelta(t, 1, r.in.Lambda, 0.03, "it swings about 1")
	require.Empty(t, r.codes(Pending))
	require.InDelta(t, 0.85, sensorVolts(0.95), 0.01)
	require.InDelta(t, 0.1, sensorVolts(1.05), 0.01)
}

// The pressure sensor in the pipe tells pump and valves apart.
func TestPipeSensor(t *testing.T) {
	sound := func(pump, valve bool) float64 {
		switch {
		case pump && valve:
			return 8600
		case pump:
			return 14800
		}
		return 0
	}
	for _, c := range []struct {
		name string
		pipe func(pump, valve bool) float64
		want []string
	}{
		{"sound", sound, []string{}},
		{"pump dead", func(bool, bool) float64 { return 0 }, []string{"P2445"}},
		{"valve stands open", func(pump, _ bool) float64 { return sound(pump, true) }, []string{"P2440"}},
		{"valve stays shut", func(pump, _ bool) float64 { return sound(pump, false) }, []string{"P2441"}},
		{"pump goes on", func(_, valve bool) float64 { return sound(true, valve) }, []string{"P2444"}},
		{"sensor out of range", func(bool, bool) float64 { return -60000 }, []string{"P2431"}},
	} {
		r := newRig(t)
		r.p.Pipe = Pipe{TestS: 3, OffPa: 4000, ShutPa: 11500, OpenPart: 0.8, SettleS: 3, RestPa: 4000, RangePa: 25000}
		r.p.Codes.Pipe = PipeCodes{ValveOpen: "P2440", ValveShut: "P2441", PumpOn: "P2444", PumpOff: "P2445", Range: "P2431"}
		require.NoError(t, r.p.Check())
		r.pipe = c.pipe
		r.start()
		alone := 0
		for range 500 {
			r.run(0.1)
			if r.s.Pump && !r.s.Sol {
				alone++
			}
		}
		require.InDelta(t, 30, alone, 1)
		require.Equal(t, c.want, r.codes(Pending), c.name)
		if c.name == "sound" {
			for _, one := range r.ask(0x06, 0x71).Results {
				if one.TID == scan.TIDPipeShut || one.TID == scan.TIDPipeOpen {
					m, err := one.Measured()
					require.NoError(t, err)
					require.True(t, m.Pass)
					require.Equal(t, "kPa", m.Unit)
				}
			}
		}
	}
	// In thin air the head is smaller, and so are the limits.
	r := newRig(t)
	r.p.Pipe = Pipe{TestS: 3, OffPa: 4000, ShutPa: 11500, OpenPart: 0.8, SettleS: 3, RestPa: 4000}
	r.p.Codes.Pipe = PipeCodes{ValveOpen: "P2440", ValveShut: "P2441", PumpOn: "P2444", PumpOff: "P2445"}
	r.in.BaroPa = 76000
	r.pipe = func(pump, valve bool) float64 { return sound(pump, valve) * 0.75 }
	r.start()
	r.run(45)
	require.Empty(t, r.codes(Pending))
	require.Equal(t, pipeRestJudged, r.s.piped)
}
