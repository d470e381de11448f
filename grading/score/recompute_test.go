package score

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"coldbay/grading/belief"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// relive plays a log's actions in a world of its own and gives what each line would have shown there, and the pump's current after it.
func relive(t *testing.T, cfg bench.Config, log []bench.Finding) (shown [][]bench.Percept, amps []float64) {
	t.Helper()
	l, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	for _, f := range log {
		got, err := l.Do(context.Background(), f.Action)
		var no *bench.Refusal
		if !errors.As(err, &no) {
			require.NoError(t, err)
		}
		a, err := l.World().Amps("pump_motor")
		require.NoError(t, err)
		shown, amps = append(shown, got.Percepts), append(amps, math.Abs(a))
	}
	return shown, amps
}

// throughLog writes findings to an attempt file and reads them back: nothing but the log is used below.
func throughLog(t *testing.T, cfg bench.Config, lines []string) []bench.Finding {
	t.Helper()
	var file bytes.Buffer
	cfg.Log = bench.NewLogWriter(&file, nil)
	perform(t, cfg, lines...)
	a, err := bench.ReadAttempt("log", &file)
	require.NoError(t, err)
	return a.Findings
}

var (
	dropLine  = regexp.MustCompile(`^With the pump running at ([\d.]+) A, ([\d.]+) V were lost between .*: ([\d.]+) ohm\.$`)
	loadLine  = regexp.MustCompile(`^That is what reaches the pump under load, at ([\d.]+) A\.$`)
	lossLine  = regexp.MustCompile(`^It lost ([\d.]+) kPa in ([\d.]+) seconds: air gets in\.$`)
	codeLine  = regexp.MustCompile(`^(P\d{4}) says that`)
	meterOhms = "only the meter's 10 Mohm" // the input resistance that the service information gives
	anyNumber = regexp.MustCompile(`\d+(\.\d+)?`)
	halfTenth = 0.05 + 1e-9
	halfMilli = 0.0005 + 1e-9
)

func num(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// Every number in the debrief can be computed again from the log: minutes and seconds, what was shown, the physics, and what a suspect
// that fell would have shown.
func TestEveryNumberComesFromTheLog(t *testing.T) {
	for _, name := range []string{"quiet_pump_good", "quiet_pump_unsafe", "trade_scan_cold_whisper"} {
		t.Run(name, func(t *testing.T) {
			p := script(t, name)
			log := throughLog(t, p.c.Config, lines(t, name))
			shown, amps := relive(t, p.c.Config, log)
			suspects := map[string][][]bench.Percept{}
			physics, first, bill := 0, 0, 0
			for _, s := range p.d.Steps {
				last := log[s.Seq-1]
				require.InDelta(t, (last.Start+last.Seconds)/60, s.Minute, 1e-9)
				require.InDelta(t, last.Start+last.Seconds-log[first].Start, s.Seconds, 1e-9)
				var want []string
				var seen []bench.Percept
				for i := first; i < s.Seq; i++ {
					require.Equal(t, log[i].Percepts, append([]bench.Percept{}, shown[i]...), "the replay gives what was logged")
					for _, q := range log[i].Percepts {
						want = append(want, p.c.Speaker.Percept(q))
						seen = append(seen, q)
					}
					for _, h := range log[i].Hazards {
						want = append(want, p.c.Speaker.Hazard(h))
					}
				}
				require.Equal(t, want, append([]string(nil), s.Showed...))
				if anyNumber.MatchString(s.Physics) {
					physics++
					checkPhysics(t, s.Physics, seen, log[first:s.Seq], amps[first:s.Seq])
				}
				for _, r := range s.Ruled {
					key := fmt.Sprint(r.Suspect, r.Severity, r.Draw)
					if suspects[key] == nil {
						cfg := p.c.Config
						cfg.Truth = &bench.Truth{Fault: r.Suspect, Severity: r.Severity, Draw: belief.Seed(&cfg, r.Draw)}
						suspects[key], _ = relive(t, cfg, log)
					}
					var would []bench.Percept
					for i := first; i < s.Seq; i++ {
						would = append(would, suspects[key][i]...)
					}
					if r.Seen.Key != "" {
						require.Contains(t, seen, r.Seen)
					}
					if r.Predicted.Key != "" {
						require.Contains(t, would, r.Predicted, "%s in line %d", r.Suspect, s.Seq)
					}
					said := p.c.Speaker.Percept(r.Seen) + " " + p.c.Speaker.Percept(r.Predicted) + " " + short(r.Seen) + " " + short(r.Predicted)
					for _, n := range anyNumber.FindAllString(r.Says, -1) {
						require.Contains(t, said, n)
					}
				}
				first = s.Seq
			}
			for _, f := range log {
				bill += f.Cost
			}
			require.Equal(t, bill, p.d.BillCents)
			end := log[len(log)-1]
			require.InDelta(t, end.Start+end.Seconds, p.d.Seconds, 1e-9)
			if name == "quiet_pump_good" {
				require.Positive(t, physics)
			}
		})
	}
}

// checkPhysics holds a line of physics with numbers in it against the readings and currents of its stretch.
func checkPhysics(t *testing.T, line string, seen []bench.Percept, log []bench.Finding, amps []float64) {
	t.Helper()
	isReading := func(key string, v float64) bool {
		return slices.ContainsFunc(seen, func(p bench.Percept) bool { return p.Key == key && math.Abs(math.Abs(p.Value)-v) < 1e-4 })
	}
	isCurrent := func(v float64) float64 {
		for _, a := range amps {
			if math.Abs(a-v) <= halfTenth {
				return a
			}
		}
		require.Fail(t, "no such current", "%g A in %q; there were %v", v, line, amps)
		return 0
	}
	switch {
	case dropLine.MatchString(line):
		m := dropLine.FindStringSubmatch(line)
		a := isCurrent(num(t, m[1]))
		require.True(t, isReading("volts", num(t, m[2])), line)
		require.InDelta(t, num(t, m[2])/a, num(t, m[3]), halfMilli, line)
	case loadLine.MatchString(line):
		isCurrent(num(t, loadLine.FindStringSubmatch(line)[1]))
	case lossLine.MatchString(line):
		m := lossLine.FindStringSubmatch(line)
		require.True(t, isReading("drop", num(t, m[1])), line)
		require.True(t, slices.ContainsFunc(log, func(f bench.Finding) bool { return f.Action.N == num(t, m[2]) }), line)
	case codeLine.MatchString(line):
		code := codeLine.FindStringSubmatch(line)[1]
		require.True(t, slices.ContainsFunc(seen, func(p bench.Percept) bool { return p.Word == code }), line)
	default:
		require.Contains(t, line, meterOhms, "a number that nobody knows how to compute")
	}
}
