package synth

import (
	"encoding/binary"
	"flag"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

var wav = flag.String("wav", "", "write the sounds one after another to this file")

// tour is a round through all sounds, two seconds each unless said otherwise.
func tour() []float32 {
	s := New(5)
	base := Params{Master: 1, Once: once()}
	s.Publish(base)
	out := play(s, 0.2)
	add := func(secs float64, change func(p *Params)) {
		p := base
		change(&p)
		base.Once = p.Once
		s.Publish(p)
		out = append(out, play(s, secs)...)
	}
	add(2, func(p *Params) { p.Pump = Pump{Speed: 640, Clear: 1, Path: beside} })
	add(2, func(p *Params) { p.Pump = Pump{Speed: 1080, Clear: 1, Path: beside} })
	add(2, func(p *Params) { p.Pump = Pump{Speed: 1560, Clear: 1, Path: beside} })
	add(2, func(p *Params) { p.Pump = Pump{Speed: 1080, Clear: 1, Rough: 0.45, Path: beside} })
	add(2, func(p *Params) { p.Pump = Pump{Speed: 1080, Clear: 1, Rough: 1, Path: beside} })
	add(2, func(p *Params) { p.Pump = Pump{Speed: 1080, Path: beside} })
	add(2, func(p *Params) { p.Pump = Pump{Speed: 1080, Clear: 1, Path: Path{Gain: 0.4, Cutoff: 900}} })
	add(2, func(*Params) {})
	add(1, func(p *Params) { p.Once[Relay].Count++ })
	add(1, func(p *Params) { p.Once[Solenoid].Count++ })
	for _, flow := range []float64{0.18, 0.5, 1} {
		add(1.5, func(p *Params) { p.Hiss = Hiss{Flow: flow, Path: beside} })
	}
	add(3, func(p *Params) { p.Once[CrankInVain].Count++ })
	add(4, func(p *Params) { p.Once[Crank].Count++; p.Engine = Engine{Rpm: 750, Hunt: 8, Path: beside} })
	add(4, func(p *Params) { p.Engine = Engine{Rpm: 750, Hunt: 70, Path: beside} })
	add(3, func(p *Params) { p.Engine = Engine{Rpm: 2500, Path: beside} })
	add(2, func(p *Params) { p.Engine = Engine{Rpm: 800, Open: 1, Path: beside} })
	add(1, func(*Params) {})
	add(0.5, func(p *Params) { p.Once[Beep].Count++ })
	add(0.5, func(p *Params) { p.Once[Arc].Count++ })
	return append(out, play(s, 0.5)...)
}

// TestTour hears every sound in a row; with -wav it writes them to be listened to.
func TestTour(t *testing.T) {
	out := tour()
	require.Less(t, peak(out), 0.97)
	require.Zero(t, peak(out[len(out)-200:]), "it ends silent")
	if *wav == "" {
		return
	}
	f, err := os.Create(*wav)
	require.NoError(t, err)
	n := uint32(4 * len(out))
	head := []any{[]byte("RIFF"), 38 + n, []byte("WAVEfmt "), uint32(18), uint16(3), uint16(2), uint32(Rate), uint32(8 * Rate), uint16(8),
		uint16(32), uint16(0), []byte("data"), n, out}
	for _, v := range head {
		require.NoError(t, binary.Write(f, binary.LittleEndian, v))
	}
	require.NoError(t, f.Close())
}
