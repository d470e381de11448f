package ecm

import (
	"strings"
	"testing"

	"coldbay/sim/scan"

	"github.com/stretchr/testify/require"
)

func (r *rig) ask(request ...byte) scan.Response {
	r.t.Helper()
	b := Answer(&r.p, &r.s, request)
	require.NotNil(r.t, b, "% X", request)
	a, err := scan.ParseResponse(b)
	require.NoError(r.t, err, "% X", b)
	return a
}

// What is not there is left unanswered; asleep, everything is. Erasing with the engine running is refused (7F 04 22) [memory].
func TestSilenceAndRefusal(t *testing.T) {
	r := newRig(t)
	require.Nil(t, Answer(&r.p, &r.s, []byte{0x01, 0x05}), "asleep")
	r.start()
	for _, q := range [][]byte{nil, {}, {0x01}, {0x01, 0x0D}, {0x05}, {0x08, 0x01}, {0x22, 0xF1, 0x90}, {0x02, 0x05, 0x01}, {0x06, 0x01}, {0x09, 0x0B}, {0x03, 0x00},
		{0x02, 0x05, 0x00}, {0x01, 1, 2, 3, 4, 5, 6, 7}} {
		require.Nil(t, Answer(&r.p, &r.s, q), "% X", q)
	}
	require.Equal(t, []byte{0x7F, 0x04, 0x22}, Answer(&r.p, &r.s, []byte{0x04}))
	require.Equal(t, []byte{0x7F, 0x31, 0x22}, Answer(&r.p, &r.s, scan.RoutineRequest{Do: scan.StartRoutine, ID: scan.RoutinePump}.Bytes()))
	require.Equal(t, []byte{0x7F, 0x31, 0x31}, Answer(&r.p, &r.s, []byte{0x31, 1, 0xFF, 0xFF}))
	require.Equal(t, []byte{0x7F, 0x31, 0x12}, Answer(&r.p, &r.s, []byte{0x31, 1}))
	require.Equal(t, []byte{0x7F, 0x31, 0x24}, Answer(&r.p, &r.s, scan.RoutineRequest{Do: scan.StopRoutine, ID: scan.RoutinePump}.Bytes()))
	r.stop()
	require.Nil(t, Answer(&r.p, &r.s, []byte{0x03}))
}

// Every parameter that the bit maps announce is answered, and no other.
func TestSupportedParameters(t *testing.T) {
	r := newRig(t)
	r.start()
	r.run(30)
	announced := map[byte]bool{}
	for base := byte(0); ; base += 0x20 {
		announced[base] = true
		a := r.ask(0x01, base)
		ids := scan.Supported(base, [4]byte(a.Items[0].Data))
		for _, id := range ids {
			announced[id] = true
		}
		if !announced[base+0x20] {
			break
		}
	}
	for pid := range 256 {
		got := Answer(&r.p, &r.s, []byte{0x01, byte(pid)})
		require.Equal(t, announced[byte(pid)], got != nil, "%02X", pid)
	}
	for _, pid := range PIDs(&r.p, 1) {
		require.True(t, announced[pid], "%02X", pid)
	}
	a := r.ask(0x01, 0x05, 0x0C, 0x0D, 0x12)
	require.Len(t, a.Items, 3, "what is not supported is left out")
	require.Equal(t, []byte{0x01}, a.Items[2].Data, "air upstream of the catalyst")
}

// Codes, frame, results and counters by their services, before and after an erasure.
func TestServices(t *testing.T) {
	r := newRig(t)
	r.p.Active.OnS = 0
	r.cycle('F')
	r.in.Key = true
	r.run(1)
	require.Empty(t, r.ask(0x03).Codes)
	require.Equal(t, []scan.DTC{0x0491}, r.ask(0x07).Codes)
	require.Empty(t, r.ask(0x0A).Codes)
	require.Equal(t, []byte{0x00}, r.ask(0x01, 0x01).Items[0].Data[:1])
	r.stop()
	r.cycle('F')
	r.in.Key = true
	r.run(1)
	for _, service := range []byte{0x03, 0x07, 0x0A} {
		require.Equal(t, []scan.DTC{0x0491}, r.ask(service).Codes)
	}
	require.Equal(t, byte(0x81), r.ask(0x01, 0x01).Items[0].Data[0], "lamp on, one code")
	frame := r.ask(0x02, 0x02, 0, 0x05, 0, 0x1F, 0)
	require.Equal(t, []byte{0x04, 0x91}, frame.Items[0].Data)
	require.Equal(t, []byte{60}, frame.Items[1].Data, "20 degC")
	require.InDelta(t, 1+5+10, int(frame.Items[2].Data[1]), 1, "s after the start: delay, settling, judging")

	results := r.ask(0x06, 0x71).Results
	require.Len(t, results, 2)
	m, err := results[0].Measured()
	require.NoError(t, err)
	require.Equal(t, "kg/h", m.Unit)
	require.InDelta(t, 4.5, m.Value, 0.2, "0.3 of 15")
	require.InDelta(t, 9, m.Min, 0.01)
	require.InDelta(t, 21, m.Max, 0.01)
	require.False(t, m.Pass)
	chain := []byte{}
	for base := byte(0); base < 0x80; base += 0x20 {
		chain = append(chain, scan.Supported(base, [4]byte(r.ask(0x06, base).Items[0].Data))...)
	}
	require.Equal(t, []byte{0x20, 0x40, 0x60, 0x71}, chain)

	text := func(kind byte) string {
		list, err := r.ask(0x09, kind).Info.Texts()
		require.NoError(t, err)
		return strings.Join(list, ",")
	}
	require.Equal(t, "CBTRA1N0ACAR00001", text(0x02))
	require.Equal(t, "CBA-ECM-0001", text(0x04))
	require.Equal(t, []byte{0x02, 0x04, 0x08, 0x0A}, scan.Supported(0, [4]byte(r.ask(0x09, 0).Info.Data)))
	use, err := r.ask(0x09, 0x08).Info.InUse()
	require.NoError(t, err)
	require.Equal(t, r.s.InUse(), use)
	require.EqualValues(t, 2, use.Air.Completed)

	require.Equal(t, []byte{0x44}, Answer(&r.p, &r.s, []byte{0x04}))
	require.Empty(t, r.ask(0x03).Codes)
	require.Empty(t, r.ask(0x07).Codes)
	require.Equal(t, []scan.DTC{0x0491}, r.ask(0x0A).Codes)
	require.Equal(t, []byte{0, 0}, r.ask(0x02, 0x02, 0).Items[0].Data)
	for _, one := range r.ask(0x06, 0x71).Results {
		require.Zero(t, one.Value+one.Min+one.Max, "not run")
	}
}

// Output tests as routines.
func TestRoutines(t *testing.T) {
	r := newRig(t)
	r.in.Key = true
	r.run(1)
	do := func(what scan.RoutineDo, id uint16) scan.RoutineReply {
		t.Helper()
		a, refused, err := scan.ParseRoutineReply(Answer(&r.p, &r.s, scan.RoutineRequest{Do: what, ID: id}.Bytes()))
		require.NoError(t, err)
		require.Zero(t, refused)
		return a
	}
	require.False(t, do(scan.RoutineResults, scan.RoutineBoth).Running)
	require.True(t, do(scan.StartRoutine, scan.RoutineBoth).Running)
	r.run(1)
	require.True(t, r.s.Pump && r.s.Sol)
	require.Equal(t, []byte{0x08}, r.ask(0x01, 0x12).Items[0].Data, "pump on for diagnostics")
	require.True(t, do(scan.RoutineResults, scan.RoutineBoth).Running)
	require.False(t, do(scan.RoutineResults, scan.RoutinePump).Running)
	require.False(t, do(scan.StopRoutine, scan.RoutineBoth).Running)
	r.run(1)
	require.False(t, r.s.Pump || r.s.Sol)
	do(scan.StartRoutine, scan.RoutineSolenoid)
	r.run(1)
	require.True(t, !r.s.Pump && r.s.Sol)
	require.False(t, do(scan.RoutineResults, scan.RoutineSolenoid).Shut)
	r.sol = atBattery
	r.run(1)
	require.True(t, do(scan.RoutineResults, scan.RoutineSolenoid).Shut, "over-current is told")
	require.Empty(t, r.ask(0x07).Codes, "a code needs a driving cycle")
	r.sol = sound
	do(scan.StartRoutine, scan.RoutineSolenoid)
	r.run(1)
	require.False(t, do(scan.RoutineResults, scan.RoutineSolenoid).Shut)
}

// Copies share what the controller has written down until one of them writes: what a drive or an erasure makes of the one, the other does
// not see.
func TestCopiesKeepTheirOwnFile(t *testing.T) {
	r := newRig(t)
	r.p.Active.OnS = 0
	r.cycle('F')
	r.stop()
	r.in.Key = true
	r.run(1)
	tell := func(s State) (code string, values []float64, results []scan.Result) {
		code, _, values = FrameCode(&r.p, &s)
		results, err := Results(&r.p, &s, scan.MIDSecondaryAir1)
		require.NoError(t, err)
		return code, values, results
	}
	code, values, results := tell(r.s)
	require.NotEmpty(t, code)
	r.s.Share()
	before := r.s
	require.NoError(t, Erase(&r.s))
	require.Equal(t, "", first(FrameCode(&r.p, &r.s)))
	r.s = before
	r.stop()
	r.cycle('P')
	_, _, now := tell(r.s)
	require.NotEqual(t, results, now, "a drive with air enough")
	again, same, old := tell(before)
	require.Equal(t, code, again)
	require.Equal(t, values, same)
	require.Equal(t, results, old)
}

func first(code string, _ []byte, _ []float64) string { return code }

// No request makes the controller stumble.
func FuzzAnswer(f *testing.F) {
	for _, q := range [][]byte{{0x01, 0x00}, {0x02, 0x02, 0x00}, {0x03}, {0x04}, {0x06, 0x71}, {0x09, 0x02}, {0x31, 1, 0x0A, 0x01}} {
		f.Add(q)
	}
	r := newRig(f)
	r.cycles("FF")
	r.in.Key = true
	r.run(1)
	f.Fuzz(func(t *testing.T, request []byte) {
		r.s.Share()
		s := r.s
		answer := Answer(&r.p, &s, request)
		if answer == nil {
			return
		}
		switch {
		case answer[0] == 0x7F:
			require.Len(t, answer, 3)
			require.Equal(t, request[0], answer[1])
		default:
			require.Equal(t, request[0]+0x40, answer[0])
		}
	})
}
