package bench_test

import (
	"os"
	"strings"
	"testing"

	"coldbay/sim/bench"
	"coldbay/sim/car"
	"coldbay/sim/scan"

	"github.com/stretchr/testify/require"
)

// words are the words of all percepts with a key, by what they are of.
func words(f bench.Finding, key string) map[string]string {
	out := map[string]string{}
	for _, p := range f.Percepts {
		if p.Key == key {
			out[p.Of] = p.Word
		}
	}
	return out
}

// What the tool shows is what the bytes say.
func TestScanToolShowsTheBytes(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	play(t, s, "scan on\nextract on\nstart\nwatch 20")
	f := do(t, s, "data")
	shown := map[string]float64{}
	for _, p := range f.Percepts {
		shown[p.Key+p.Of] = p.Value
	}
	require.Greater(t, len(shown), 15)
	n := 0
	for _, pid := range s.World().PIDs() {
		answer := s.World().Scan([]byte{0x01, pid})
		r, err := scan.ParseResponse(answer)
		require.NoError(t, err)
		readings, err := r.Items[0].Readings()
		require.NoError(t, err)
		for _, reading := range readings {
			v, ok := shown["pid."+strings.ToUpper(hex(pid))+reading.Name]
			require.True(t, ok, reading.Name)
			if reading.Text == "" {
				require.InDelta(t, reading.Value, v, 0.51*max(reading.Resolution, 0.001), reading.Name)
				n++
			}
		}
	}
	require.Greater(t, n, 12)
}

func hex(b byte) string { const d = "0123456789abcdef"; return string([]byte{d[b>>4], d[b&15]}) }

// Codes of all three kinds, freeze frame, readiness and results after two cold starts with a fault; after erasing, the permanent code stays.
func TestScanToolAfterTwoColdStarts(t *testing.T) {
	s := session(t, "cold_whisper", "pump_fuse_blown", 1)
	play(t, s, "scan on\nkey on")
	for _, of := range []string{"stored", "permanent"} {
		require.Equal(t, "P0491", percept(t, do(t, s, "codes "+of), "code").Word, of)
	}
	f := do(t, s, "freeze")
	require.Equal(t, "P0491", percept(t, f, "freeze.02").Word)
	require.Equal(t, "Upstream of catalyst", percept(t, f, "freeze.12").Word)
	require.Equal(t, map[string]string{"secondary air": "complete", "catalyst": "complete", "oxygen sensor": "complete", "oxygen sensor heater": "complete"},
		words(do(t, s, "readiness"), "monitor"))
	f = do(t, s, "results")
	require.Equal(t, "fail", words(f, "result")["Air flow while commanded on"])
	require.Less(t, percept(t, f, "result.81").Value, 2.0)
	require.Equal(t, "kg/h", percept(t, f, "result.81").Unit)
	require.Equal(t, "not run", words(f, "result")["Fuel trim answer to air at idle"])

	play(t, s, "erase")
	require.Equal(t, "none", percept(t, do(t, s, "codes stored"), "code").Word)
	require.Equal(t, "P0491", percept(t, do(t, s, "codes permanent"), "code").Word)
	require.Equal(t, "none", percept(t, do(t, s, "freeze"), "freeze").Word)
	require.Equal(t, "not run", words(do(t, s, "results"), "result")["Air flow while commanded on"])

	// Mended and driven, the monitor passes and takes the permanent code away.
	play(t, s, "key off\nrepair pump_fuse\ndrive\nscan on\nkey on")
	require.Equal(t, "none", percept(t, do(t, s, "codes permanent"), "code").Word)
	f = do(t, s, "results")
	require.Equal(t, "pass", words(f, "result")["Air flow while commanded on"])
	require.InDelta(t, 15.6, percept(t, f, "result.81").Value, 1)
}

// An output test is refused until it is armed again, and the tool says no more than the controller did.
func TestScanToolRearm(t *testing.T) {
	data, err := os.ReadFile("../../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	for _, c := range []struct {
		rearm string
		want  []string // at once, after a key cycle, after an engine run
	}{
		{"at_once", []string{"accepted", "accepted", "accepted"}},
		{"key_cycle", []string{"conditions not correct", "accepted", "accepted"}},
		{"engine_run", []string{"conditions not correct", "conditions not correct", "accepted"}},
	} {
		cfg := config(t, "cold_whisper", "no_fault_found", 1)
		cfg.Car, err = car.Parse("car.yaml", []byte(strings.Replace(string(data), "rearm: at_once", "rearm: "+c.rearm, 1)))
		require.NoError(t, err)
		s, err := bench.NewLocal(cfg)
		require.NoError(t, err)
		play(t, s, "scan on\nkey on\nactuator solenoid\nactuator off")
		for i, before := range []string{"", "key off\nkey on", "key off\nextract on\nstart\nwatch 5\nstop\nkey on"} {
			play(t, s, before)
			f := do(t, s, "actuator both")
			require.Equal(t, c.want[i], percept(t, f, "actuator").Word, "%s, %d", c.rearm, i)
			if c.want[i] == "accepted" {
				play(t, s, "actuator off")
			}
		}
	}
}

// An output that has too much to carry shuts down, and the controller says so when the tool asks how the test goes.
func TestScanToolTellsOverCurrent(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	f := play(t, s, "scan on\nkey on\nactuator solenoid")
	require.Empty(t, words(f, "actuator")["output"])
	data, err := os.ReadFile("../../scenarios/cars/car_a.yaml")
	require.NoError(t, err)
	const sound = "kind: coil, a: sol_1, b: sol_2, ohm: 30,"
	require.Contains(t, string(data), sound)
	cfg := config(t, "cold_whisper", "no_fault_found", 1)
	cfg.Car, err = car.Parse("car.yaml", []byte(strings.Replace(string(data), sound, strings.Replace(sound, "30", "2.5", 1), 1)))
	require.NoError(t, err)
	s, err = bench.NewLocal(cfg)
	require.NoError(t, err)
	f = play(t, s, "scan on\nkey on\nactuator solenoid")
	require.Equal(t, map[string]string{"solenoid": "accepted", "output": "over-current"}, words(f, "actuator"))
	require.Empty(t, words(play(t, s, "actuator off\nactuator pump"), "actuator")["output"])
}
