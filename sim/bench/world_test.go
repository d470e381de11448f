package bench_test

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"coldbay/scenarios"
	"coldbay/sim/bench"
	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// edited is cfg with its car read from the file after replacing old by new in it.
func edited(t testing.TB, cfg bench.Config, replace ...string) bench.Config {
	t.Helper()
	data, err := os.ReadFile("../../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	cfg.Car, err = car.Parse("car_a.yaml", []byte(strings.NewReplacer(replace...).Replace(string(data))))
	require.NoError(t, err)
	cfg.Layout, err = bench.NewLayout(cfg.Car)
	require.NoError(t, err)
	return cfg
}

// A fault's name carries no reading: with every id turned into another word, a long attempt gives the same percepts.
func TestReadingsDoNotDependOnFaultNames(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	c, err := lib.Car("car_a")
	require.NoError(t, err)
	list := c.Layout.SuspectIDs()
	rename := []string{}
	for i := range list {
		// Shuffled among themselves through a neutral word, so that even another fault's name would mislead whoever looked at it.
		rename = append(rename, "id: "+list[i]+",", "id: "+list[(i+5)%len(list)]+",", "id: "+list[i]+"}", "id: "+list[(i+5)%len(list)]+"}")
	}
	for i, id := range list {
		if i%4 != 0 {
			continue // each of them is a long attempt twice over
		}
		cfg := config(t, "cold_whisper", id, 0.8)
		o := *cfg.Order
		o.Shifts = nil
		cfg.Order = &o
		a, err := bench.NewLocal(cfg)
		require.NoError(t, err)
		other := edited(t, cfg, rename...)
		other.Truth = &bench.Truth{Fault: list[(i+5)%len(list)], Severity: 0.8, Draw: cfg.Truth.Draw}
		b, err := bench.NewLocal(other)
		require.NoError(t, err)
		tryPlay(t, a, someWork)
		tryPlay(t, b, someWork)
		require.Equal(t, a.Ledger(), b.Ledger(), id)
	}
}

// tryPlay does what can be done: a car that will not start or a flat battery refuses some of it.
func tryPlay(t *testing.T, s *bench.Local, lines string) {
	t.Helper()
	for line := range strings.Lines(lines) {
		a, err := bench.ParseLine(line)
		require.NoError(t, err)
		if a.Verb == "" {
			continue
		}
		_, err = s.Do(t.Context(), a)
		var no *bench.Refusal
		if !errors.As(err, &no) {
			require.NoError(t, err, line)
		}
	}
}

// Random actions, in every suspect's car: nothing panics, no number is not a number, clocks run forward, refusals change nothing, and
// the attempt never breaks.
func TestRandomActions(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	c, err := lib.Car("car_a")
	require.NoError(t, err)
	for i, id := range c.Layout.SuspectIDs() {
		s := session(t, "second_pump", id, 1)
		wander(t, s, uint64(i), 60)
	}
}

func wander(t *testing.T, s *bench.Local, seed uint64, steps int) {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 7))
	gen := newActor(s.Catalogue(), rng)
	done := 0
	for range steps {
		a := gen.next()
		view, hash := s.View(), s.World().Hash()
		f, err := s.Do(context.Background(), a)
		var no *bench.Refusal
		if errors.As(err, &no) {
			require.NotEmpty(t, no.Missing)
			require.Equal(t, view, s.View(), "%+v", a)
			require.Equal(t, hash, s.World().Hash(), "%+v", a)
			continue
		}
		require.NoError(t, err, "%+v", a)
		done++
		require.Equal(t, done, f.Seq)
		require.GreaterOrEqual(t, f.Seconds, 0.0)
		require.GreaterOrEqual(t, f.Cost, 0)
		for _, p := range f.Percepts {
			require.False(t, math.IsNaN(p.Value) || math.IsInf(p.Value, 0), "%+v", p)
			require.NotEmpty(t, p.Sense)
			require.NotEmpty(t, p.Key)
			require.NotEmpty(t, p.Of)
			require.NotEmpty(t, p.Class().String())
		}
		_, err = json.Marshal(f)
		require.NoError(t, err)
	}
	require.Greater(t, done, steps/10, "most of what is tried can't be refused")
}

// actor makes up actions from a catalogue, sensible and not.
type actor struct {
	rng   *rand.Rand
	verbs []string
	cat   bench.Catalogue
}

func newActor(c bench.Catalogue, rng *rand.Rand) *actor {
	a := &actor{rng: rng, cat: c}
	for _, v := range bench.VerbWords() {
		n := 4
		switch bench.Verb(v) {
		case bench.Finish:
			n = 0
		case bench.Drive, bench.Soak, bench.Repair:
			n = 1
		case bench.MeterOn, bench.Jump, bench.Pull, bench.Open, bench.Remove:
			n = 8
		}
		for range n {
			a.verbs = append(a.verbs, v)
		}
	}
	return a
}

func pick[T any](a *actor, list []T) T { return list[a.rng.IntN(len(list))] }

func (g *actor) end() string { return pick(g, g.cat.Hoses).ID + pick(g, []string{".a", ".b"}) }

func (g *actor) opening() string {
	if g.rng.IntN(2) == 0 {
		return g.end()
	}
	return pick(g, g.cat.Ports).ID
}

func (g *actor) next() bench.Action {
	a := bench.Action{Verb: bench.Verb(pick(g, g.verbs)), N: float64(g.rng.IntN(40))}
	a.Mode = pick(g, []string{"", "on", "off", "bend"})
	switch a.Verb {
	case bench.Look, bench.Listen:
		a.On = pick(g, g.cat.Places).ID
	case bench.Feel:
		a.On = pick(g, []string{"tailpipe", g.opening(), pick(g, g.cat.Parts).ID, pick(g, g.cat.Places).ID})
	case bench.Hold:
		a.N *= 100
	case bench.Open, bench.Close:
		a.On = pick(g, g.cat.Connectors).ID
	case bench.Pull:
		a.On = g.end()
	case bench.Fit:
		a.On = g.end()
		if g.rng.IntN(2) == 0 {
			a.To = pick(g, g.cat.Ports).ID
		}
	case bench.Plug, bench.Unplug, bench.HandPump, bench.Blow:
		a.On = g.opening()
	case bench.Remove, bench.Refit:
		a.On = pick(g, g.cat.Parts).ID
	case bench.MeterOn, bench.LampOn, bench.Jump, bench.Unjump:
		a.On, a.To = pick(g, g.cat.Terminals).ID, pick(g, g.cat.Terminals).ID
		switch a.Verb {
		case bench.MeterOn:
			a.Mode = pick(g, []string{"volts", "ohms", "amps"})
		case bench.LampOn:
			a.Mode = pick(g, []string{"21", "5"})
		case bench.Jump:
			a.Mode = pick(g, []string{"18awg none", "10awg none", "12awg 30A", "14awg 5A"})
		case bench.Unjump:
			a.On, a.To = "", ""
		}
	case bench.ClampOn:
		a.On = pick(g, g.cat.Clamps).ID
	case bench.Read:
		a.On = pick(g, []string{"meter", "clamp", "lamp", "gauge", "tea"})
	case bench.Codes:
		a.Mode = pick(g, []string{"stored", "pending"})
	case bench.Actuator:
		a.Mode = pick(g, []string{"pump", "solenoid", "both", "off"})
	case bench.Repair:
		a.On, a.Mode = pick(g, g.cat.Units).ID, ""
	case bench.Note, bench.Predict:
		a.Text = "thought"
	case bench.Strike, bench.Unstrike:
		a.On = pick(g, g.cat.Suspects).ID
	}
	return a
}

func FuzzActions(f *testing.F) {
	f.Add(uint64(1))
	f.Fuzz(func(t *testing.T, seed uint64) {
		s := session(t, "cold_whisper", "lines_swapped", 1)
		wander(t, s, seed, 60)
	})
}

func BenchmarkNewLocal(b *testing.B) {
	cfg := config(b, "cold_whisper", "", 0)
	for b.Loop() {
		if _, err := bench.NewLocal(cfg); err != nil {
			b.Fatal(err)
		}
	}
}
