package hearing

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios"
	"coldbay/scenes/sound/synth"
	"coldbay/sim/bench"
)

func ear(key, of, word string) bench.Percept {
	return bench.Percept{Sense: bench.Ear, Key: key, Of: of, Word: word}
}

func did(seq int, v bench.Verb, p ...bench.Percept) bench.Finding {
	return bench.Finding{Seq: seq, Action: bench.Action{Verb: v}, Percepts: p}
}

var atPump = bench.View{Place: "pump", Engine: "off", PumpTurning: true}

func TestNothingIsSilent(t *testing.T) {
	p := FromView(bench.View{Place: "front", Engine: "off"}, nil)
	require.Zero(t, p.Pump.Speed)
	require.Zero(t, p.Engine.Rpm)
	require.Zero(t, p.Hiss.Flow)
	for _, e := range p.Once {
		require.Zero(t, e.Count)
	}
}

// A pump that nobody listened to has no pitch; the word gives it one; hands that alter something take it away again.
func TestPitchComesFromTheWord(t *testing.T) {
	ledger := []bench.Finding{did(1, bench.Actuator, ear("pump", "pump_motor", "whines"))}
	require.Zero(t, FromView(atPump, ledger).Pump.Clear)
	require.Positive(t, FromView(atPump, ledger).Pump.Speed)
	speeds := map[string]float64{}
	for _, w := range []string{"slow", "normal", "fast"} {
		p := FromView(atPump, append(ledger, did(2, bench.Listen, ear("whine", "pump_motor", w))))
		require.Equal(t, 1.0, p.Pump.Clear)
		speeds[w] = p.Pump.Speed
	}
	fourth := math.Pow(2, 5.0/12) // equal temperament: five semitones
	require.Greater(t, speeds["normal"]/speeds["slow"], fourth)
	require.Greater(t, speeds["fast"]/speeds["normal"], fourth)
	ledger = append(ledger, did(2, bench.Listen, ear("whine", "pump_motor", "slow")), did(3, bench.MeterOn))
	require.Equal(t, speeds["slow"], FromView(atPump, ledger).Pump.Speed)
	ledger = append(ledger, did(4, bench.Pull))
	require.Zero(t, FromView(atPump, ledger).Pump.Clear)
}

func TestRoughness(t *testing.T) {
	v := atPump
	require.Zero(t, FromView(v, nil).Pump.Rough)
	v.PumpRough = true
	seen := FromView(v, nil).Pump.Rough
	require.Positive(t, seen)
	require.Greater(t, FromView(v, []bench.Finding{did(1, bench.Listen, ear("bearing", "m", "grinding"))}).Pump.Rough, seen)
}

// The same rule as for listening: outside of the engine compartment a running engine covers the pump.
func TestEngineCoversThePumpOutside(t *testing.T) {
	for _, place := range []string{"dash", "tailpipe"} {
		v := atPump
		v.Place, v.Engine = place, "running"
		p := FromView(v, nil)
		require.Zero(t, p.Pump.Gain)
		require.Positive(t, p.Engine.Gain)
		v.Engine = "off"
		require.Positive(t, FromView(v, nil).Pump.Gain)
	}
	far := atPump
	far.Place = "valve"
	require.Less(t, FromView(far, nil).Pump.Gain, FromView(atPump, nil).Pump.Gain)
}

func TestHissStaysWhereItWasHeard(t *testing.T) {
	ledger := []bench.Finding{did(1, bench.Listen, ear("hiss", "valve", "clear"))}
	v := bench.View{Place: "valve", Engine: "running"}
	require.Positive(t, FromView(v, ledger).Hiss.Flow)
	v.Place = "pump"
	require.Zero(t, FromView(v, ledger).Hiss.Flow)
	v.Place = "valve"
	require.Zero(t, FromView(v, append(ledger, did(2, bench.Fit))).Hiss.Flow)
}

func TestEventsFollowTheFindings(t *testing.T) {
	cat := bench.Catalogue{Order: bench.OrderInfo{ID: "x"}, Devices: []bench.Spot{{ID: "pump_relay", Place: "box"}}}
	e := New(cat)
	v := bench.View{Place: "box", Engine: "running", Rpm: 800}
	ledger := []bench.Finding{
		did(1, bench.ScanOn),
		did(2, bench.Listen, ear("click", "pump_relay", "clicks"), ear("click", "sol_coil", "no click")),
		did(3, bench.Start, ear("start", "engine", "starts"), ear("engine", "engine", "running")),
	}
	p := e.Listen(v, ledger).Params()
	require.EqualValues(t, 1, p.Once[synth.Beep].Count)
	require.EqualValues(t, 2, p.Once[synth.Relay].Count)
	require.Equal(t, 1.0, p.Once[synth.Relay].Gain, "the car's data say that the relay is here")
	require.Zero(t, p.Once[synth.Solenoid].Count)
	require.EqualValues(t, 3, p.Once[synth.Crank].Count)
	require.Zero(t, p.Once[synth.CrankInVain].Count)
	require.Equal(t, 800.0, p.Engine.Rpm)
	vain := e.Listen(v, []bench.Finding{did(1, bench.Start, ear("start", "engine", "does not start"))}).Params()
	require.EqualValues(t, 1, vain.Once[synth.CrankInVain].Count)
	require.NotEqual(t, p.Scene, New(bench.Catalogue{Order: bench.OrderInfo{ID: "y"}}).Listen(v, ledger).Params().Scene)
}

func TestCaptionsSayWhatIsHeard(t *testing.T) {
	name := func(id string) string { return "<" + id + ">" }
	keys := func(h Heard) (out []string) {
		for _, c := range h.Captions(name) {
			out = append(out, c.Key)
			require.Contains(t, Keys, c.Key)
		}
		return out
	}
	v := bench.View{Place: "pump", Engine: "running", Rpm: 750, PumpTurning: true, PumpRough: true}
	ledger := []bench.Finding{
		did(1, bench.Start, ear("start", "engine", "starts"), ear("exhaust", "check_valve", "hot exhaust blows out of the open port")),
		did(2, bench.Listen, ear("whine", "m", "slow"), ear("bearing", "m", "grinding"), ear("hiss", "pump", "strong"), ear("idle", "engine", "hunts"),
			ear("click", "sol_coil", "clicks")),
	}
	e := &Ear{}
	require.Equal(t, []string{"caption.pump.slow", "caption.bearing.grinding", "caption.engine.hunts", "caption.engine.blows",
		"caption.hiss.strong", "caption.start.starts", "caption.click.solenoid"}, keys(e.Listen(v, ledger)))
	require.Equal(t, []string{"place", "<pump>"}, e.Listen(v, ledger).Captions(name)[4].Args)
	v.Engine, v.PumpTurning, v.Rpm = "off", false, 0
	ledger = append(ledger, did(3, bench.Stop, ear("engine", "engine", "off"), ear("pump", "m", "falls silent")))
	require.Equal(t, []string{"caption.start.starts", "caption.click.solenoid", "caption.pump.stops", "caption.engine.stops"}, keys(e.Listen(v, ledger)))
	v.Closed = true
	require.Empty(t, keys(e.Listen(v, ledger)))
}

// Every sound has its caption: what the numbers make audible, the captions say, and the other way round, over a played attempt on a built-in
// order.
func TestRealAttempt(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	const id = "cold_whisper" // its car has a diagnostic socket and a solenoid
	o, err := lib.Load(id)
	require.NoError(t, err)
	s, err := bench.NewLocal(lib.Config(o, "test"))
	require.NoError(t, err)
	e := New(s.Catalogue())
	seen := map[string]bool{}
	for _, a := range []bench.Action{
		{Verb: bench.ScanOn}, {Verb: bench.Key, Mode: "on"}, {Verb: bench.Actuator, Mode: "both"}, {Verb: bench.Listen, On: "pump"},
		{Verb: bench.Listen, On: "fusebox"}, {Verb: bench.Listen, On: "solenoid"},
		{Verb: bench.Start}, {Verb: bench.Listen, On: "pump"}, {Verb: bench.Listen, On: "dash"}, {Verb: bench.Hold, N: 2500}, {Verb: bench.Stop},
	} {
		_, err := s.Do(context.Background(), a)
		require.NoError(t, err)
		h := e.Listen(s.View(), s.Ledger())
		p := h.Params()
		said := map[string]bool{}
		for _, c := range h.Captions(func(id string) string { return id }) {
			said[c.Key] = true
			seen[c.Key] = true
		}
		anyOf := func(keys ...string) bool {
			for _, k := range keys {
				if said[k] {
					return true
				}
			}
			return false
		}
		require.Equal(t, p.Pump.Speed > 0 && p.Pump.Gain > 0, anyOf("caption.pump.whines", "caption.pump.slow", "caption.pump.normal", "caption.pump.fast"))
		require.Equal(t, p.Engine.Rpm > 0, anyOf("caption.engine.idles", "caption.engine.even", "caption.engine.hunts", "caption.engine.held"))
		require.Equal(t, p.Hiss.Flow > 0, anyOf("caption.hiss.faint", "caption.hiss.clear", "caption.hiss.strong"))
		require.Equal(t, p.Once[synth.Relay].Count > 0, anyOf("caption.click.relay"))
		require.Equal(t, p.Once[synth.Solenoid].Count > 0, anyOf("caption.click.solenoid"))
	}
	require.True(t, seen["caption.start.starts"])
	require.True(t, seen["caption.engine.held"])
}
