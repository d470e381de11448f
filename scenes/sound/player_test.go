package sound

import (
	"encoding/binary"
	"errors"
	"math"
	"runtime"
	"testing"
	"time"

	"github.com/hajimehoshi/ebiten/v2/audio"
	"github.com/stretchr/testify/require"

	"coldbay/sim/bench"
)

// dummy is a device that only remembers.
type dummy struct{ calls []string }

func (d *dummy) Play()        { d.calls = append(d.calls, "play") }
func (d *dummy) Pause()       { d.calls = append(d.calls, "pause") }
func (d *dummy) Close() error { d.calls = append(d.calls, "close"); return nil }

// stand is a player on a dummy, at a time of its own.
type stand struct {
	*Player
	dev *dummy
	at  time.Time
}

func newStand(off bool) *stand {
	s := &stand{Player: New(Settings{Volume: 1}, off), dev: &dummy{}, at: time.Unix(1000, 0)}
	s.probe = func() error { return nil }
	s.open = func() (sink, error) { return s.dev, nil }
	return s
}

func (s *stand) tick(focused, gesture bool) {
	s.at = s.at.Add(time.Second / 60)
	s.Tick(s.at, focused, gesture)
}

// until ticks until the state is reached; the probe answers from another goroutine.
func (s *stand) until(t *testing.T, want State) {
	for range 1 << 20 {
		if s.state == want {
			return
		}
		s.tick(true, false)
		runtime.Gosched()
	}
	require.Equal(t, want, s.state)
}

// loudness reads a stretch of the stream while the window lives, and gives the highest sample.
func (s *stand) loudness(t *testing.T, seconds float64) float64 {
	m := 0.0
	for range int(seconds * 60) {
		s.out.alive.Add(1)
		m = max(m, highest(t, s.out, 800))
	}
	return m
}

func highest(t *testing.T, s *stream, frames int) float64 {
	b := make([]byte, frames*frameBytes)
	n, err := s.Read(b)
	require.NoError(t, err)
	require.Equal(t, len(b), n)
	m := 0.0
	for i := 0; i < len(b); i += 4 {
		m = max(m, math.Abs(float64(math.Float32frombits(binary.LittleEndian.Uint32(b[i:])))))
	}
	return m
}

var (
	car    = bench.Catalogue{Order: bench.OrderInfo{ID: "one"}}
	turns  = bench.View{Bench: 10, Place: "pump", Engine: "off", PumpTurning: true}
	stands = bench.View{Bench: 20, Place: "pump", Engine: "off"}
)

func TestWaitsForTheFirstGesture(t *testing.T) {
	s := newStand(false)
	opened := false
	s.open = func() (sink, error) { opened = true; return s.dev, nil }
	for range 10 {
		s.tick(true, false)
	}
	require.Equal(t, Waiting, s.state)
	require.False(t, opened)
	s.tick(true, true)
	s.until(t, Playing)
	require.Equal(t, []string{"play"}, s.dev.calls)
	require.NoError(t, s.Close())
	require.Equal(t, []string{"play", "close"}, s.dev.calls)
}

func TestNoDeviceIsSilentForGood(t *testing.T) {
	s := newStand(false)
	none := errors.New("none")
	s.probe = func() error { return none }
	s.tick(true, true)
	s.until(t, Absent)
	s.Hear(&car, &turns, nil)
	s.tick(false, true)
	s.tick(true, true)
	state, why := s.State()
	require.Equal(t, Absent, state)
	require.ErrorIs(t, why, none)
	require.Empty(t, s.dev.calls)
	require.NoError(t, s.Close())
}

func TestOffNeverProbes(t *testing.T) {
	s := newStand(true)
	s.probe = func() error { t.Error("probed"); return nil }
	s.tick(true, true)
	require.Equal(t, Off, s.state)
}

func TestANilPlayerIsSilent(t *testing.T) {
	var p *Player
	p.Set(Usual)
	p.Hear(&car, &turns, nil)
	p.Leave()
	p.Update(time.Unix(0, 0))
	p.Tick(time.Unix(0, 0), true, true)
	require.NoError(t, p.Close())
	require.Equal(t, Usual, p.Settings())
	state, _ := p.State()
	require.Equal(t, Off, state)
}

func TestHearsVolumeMuteAndLeave(t *testing.T) {
	s := newStand(false)
	s.Hear(&car, &turns, nil)
	full := s.loudness(t, 2)
	require.Greater(t, full, 0.05)
	s.Set(Settings{Volume: 0.5})
	s.loudness(t, 1)
	require.InDelta(t, full/4, s.loudness(t, 1), full/8)
	s.Set(Settings{Volume: 1, Muted: true})
	s.loudness(t, 1)
	require.Zero(t, s.loudness(t, 0.5))
	s.Set(Settings{Volume: 1})
	require.Greater(t, s.loudness(t, 1), full/2)
	s.Leave()
	s.loudness(t, 5)
	require.Zero(t, s.loudness(t, 0.5))
	s.Set(Settings{Volume: 7})
	require.Equal(t, 1.0, s.Settings().Volume)
}

func TestWhatSoundedBeforeIsNotRepeated(t *testing.T) {
	s := newStand(false)
	click := func(seq int) bench.Finding {
		return bench.Finding{Seq: seq, Percepts: []bench.Percept{{Sense: bench.Ear, Key: "click", Of: "pump_relay", Word: "clicks"}}}
	}
	ledger := []bench.Finding{click(1), click(2)}
	s.Hear(&car, &stands, ledger)
	require.Zero(t, s.loudness(t, 0.5), "taken up again")
	ledger = append(ledger, click(3))
	s.Hear(&car, &stands, ledger)
	require.Greater(t, s.loudness(t, 0.1), 0.02)
	s.loudness(t, 1)
	s.Hear(&car, &stands, ledger)
	require.Zero(t, s.loudness(t, 0.5), "once only")
	s.Leave()
	s.loudness(t, 0.1)
	s.Hear(&bench.Catalogue{Order: bench.OrderInfo{ID: "two"}}, &stands, append(ledger, click(9)))
	require.Zero(t, s.loudness(t, 0.5), "another order")
}

func TestSleepsWithoutFocus(t *testing.T) {
	s := newStand(false)
	s.Hear(&car, &turns, nil)
	s.tick(true, true)
	s.until(t, Playing)
	require.Greater(t, s.loudness(t, 1), 0.05)
	s.tick(false, false)
	require.Equal(t, []string{"play"}, s.dev.calls, "first it fades")
	s.loudness(t, 0.4)
	require.Zero(t, s.loudness(t, 0.2))
	for range 60 {
		s.tick(false, false)
	}
	require.Equal(t, []string{"play", "pause"}, s.dev.calls)
	s.tick(true, false)
	require.Equal(t, []string{"play", "pause", "play"}, s.dev.calls)
	require.Greater(t, s.loudness(t, 1), 0.05)
}

// A hidden tab draws no frames, and the device reads on.
func TestFallsSilentWhenTheWindowIsStuck(t *testing.T) {
	s := newStand(false)
	s.Hear(&car, &turns, nil)
	require.Greater(t, s.loudness(t, 1), 0.05)
	highest(t, s.out, stuck+48000/2)
	require.Zero(t, highest(t, s.out, 4800))
	require.Greater(t, s.loudness(t, 1), 0.05)
}

func TestStreamGivesWholeFrames(t *testing.T) {
	s := newStand(false)
	n, err := s.out.Read(make([]byte, 4099))
	require.NoError(t, err)
	require.Equal(t, 4096, n)
	_, err = s.out.Read(make([]byte, 5))
	require.Error(t, err)
	n, err = s.out.Read(nil)
	require.NoError(t, err)
	require.Zero(t, n)
}

func TestHearingAnewCostsNothing(t *testing.T) {
	s := newStand(false)
	s.Hear(&car, &turns, nil)
	require.Zero(t, testing.AllocsPerRun(10, func() { s.Hear(&car, &turns, nil) }))
}

// With a device, or a null device in its place, the engine pulls the stream.
func TestRealDevice(t *testing.T) {
	if err := probe(); err != nil {
		t.Skipf("skipped: %v", err)
	}
	p := New(Settings{Volume: 0}, false)
	now := time.Now()
	p.Tick(now, true, true)
	require.Eventually(t, func() bool { p.Tick(now, true, false); return p.state != Probing }, 20*time.Second, time.Millisecond)
	require.Equal(t, Playing, p.state, "%v", p.why)
	require.Eventually(t, func() bool { return p.sink.(*audio.Player).Position() > 0 }, 20*time.Second, 5*time.Millisecond)
	require.NoError(t, p.Close())
}
