package score

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"coldbay/grading/belief"
	"coldbay/grading/dictionary"
	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// played is an attempt from a script, with its debrief.
type played struct {
	c        *Case
	findings []bench.Finding
	d        *Debrief
}

var scripts struct {
	sync.Mutex
	done map[string]*played
}

// open makes a case of a shipped order.
func open(t testing.TB, order string) *Case {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load(order)
	require.NoError(t, err)
	c, err := Open(lib, o, "test")
	require.NoError(t, err)
	l, err := bench.NewLocal(c.Config)
	require.NoError(t, err)
	c.Speaker = Plain{bench.NewSayer(l.Catalogue())}
	c.Workers = 2
	bases.Lock()
	defer bases.Unlock()
	if bases.of[order] == nil {
		if bases.of == nil {
			bases.of = map[string]*belief.Belief{}
		}
		bases.of[order], err = dictionary.Belief(context.Background(), c.Config, c.Dictionary, 2)
		require.NoError(t, err)
	}
	c.Belief = bases.of[order].Clone()
	return c
}

// bases are the beliefs as the orders' cars come in, shared by all tests.
var bases struct {
	sync.Mutex
	of map[string]*belief.Belief
}

// perform plays lines on a case's true car. Refusals are errors.
func perform(t testing.TB, cfg bench.Config, lines ...string) []bench.Finding {
	t.Helper()
	l, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	for _, line := range lines {
		a, err := bench.ParseLine(line)
		require.NoError(t, err, line)
		if a.Verb == "" {
			continue
		}
		_, err = l.Do(context.Background(), a)
		require.NoError(t, err, line)
	}
	return l.Ledger()
}

func grade(t testing.TB, c *Case, findings []bench.Finding) *Debrief {
	t.Helper()
	again := *c
	again.Belief = c.Belief.Clone()
	d, err := Grade(context.Background(), again, findings)
	require.NoError(t, err)
	return d
}

// orderOf is the order that a script's name speaks of.
func orderOf(script string) string {
	for _, id := range []string{"cold_whisper", "quiet_pump", "second_pump"} {
		if strings.Contains(script, id) {
			return id
		}
	}
	return ""
}

func lines(t testing.TB, script string) []string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/scripts/" + script + ".txt")
	require.NoError(t, err)
	return strings.Split(string(data), "\n")
}

// script plays and grades one of the recorded scripts; each is done once for all tests.
func script(t testing.TB, name string) *played {
	t.Helper()
	scripts.Lock()
	defer scripts.Unlock()
	if p, ok := scripts.done[name]; ok {
		return p
	}
	p := &played{c: open(t, orderOf(name))}
	p.findings = perform(t, p.c.Config, lines(t, name)...)
	p.d = grade(t, p.c, p.findings)
	if scripts.done == nil {
		scripts.done = map[string]*played{}
	}
	scripts.done[name] = p
	return p
}

func mark(t testing.TB, d *Debrief, id string) Mark {
	t.Helper()
	for _, m := range d.Marks {
		if m.ID == id {
			return m
		}
	}
	require.Fail(t, "no mark "+id)
	return Mark{}
}

// A good attempt, a part-swapper and an unsafe trainee get marks in that order, each for its own reason.
func TestMarksInOrder(t *testing.T) {
	good, swapper, unsafe := script(t, "quiet_pump_good").d, script(t, "quiet_pump_swapper").d, script(t, "quiet_pump_unsafe").d
	require.Greater(t, good.Total, swapper.Total)
	require.Greater(t, swapper.Total, unsafe.Total)
	require.True(t, good.Passed)
	require.False(t, swapper.Passed)
	require.False(t, unsafe.Passed)
	require.Contains(t, unsafe.Verdict, "unsafe")
	require.GreaterOrEqual(t, good.Total, 90)
	require.Equal(t, 100, mark(t, good, "economy").Score)
	require.Zero(t, mark(t, swapper, "evidence").Score)
	require.Equal(t, 100, mark(t, swapper, "safety").Score)
	require.Zero(t, mark(t, unsafe, "safety").Score)
	require.Contains(t, strings.Join(unsafe.Hazards, "; "), "exhaust gas in the bay")
	require.Contains(t, mark(t, unsafe, "safety").Reason, "no longer works")
	// The design's ladder has part-swappers at least half below.
	require.LessOrEqual(t, mark(t, swapper, "economy").Score, 50)
	needed := 0
	for _, b := range swapper.Bill {
		if b.Needed {
			needed++
		}
		require.False(t, b.Proven)
	}
	require.Equal(t, 1, needed)
}

// Who mends only the pump of the repeat failure has left the cause: the finish mark is not earned.
func TestHalfTheJob(t *testing.T) {
	half, good := script(t, "second_pump_half").d, script(t, "second_pump_good").d
	require.False(t, mark(t, half, "finish").Passed)
	require.Contains(t, mark(t, half, "finish").Reason, "inlet hose")
	require.False(t, half.Passed)
	require.NotEmpty(t, half.Caps)
	require.True(t, mark(t, good, "finish").Passed)
	require.True(t, good.Passed)
}

// The order of work that the trade teaches ends, in all three orders and with or without a scan tool, at the true unit and with a pass.
func TestTheTradesOrderOfWork(t *testing.T) {
	for _, tool := range []string{"scan", "noscan"} {
		for _, order := range []string{"cold_whisper", "quiet_pump", "second_pump"} {
			name := "trade_" + tool + "_" + order
			t.Run(name, func(t *testing.T) {
				p := script(t, name)
				require.True(t, p.d.Passed, p.d.Verdict)
				require.Equal(t, 100, mark(t, p.d, "finish").Score, mark(t, p.d, "finish").Reason)
				require.Equal(t, 100, mark(t, p.d, "evidence").Score)
				proven := ""
				for i, s := range p.d.Steps {
					if strings.Contains(s.Did, "repair ") {
						require.Positive(t, i)
						proven = strings.Join(p.d.Steps[i-1].Left, "; ")
						break
					}
				}
				require.Equal(t, p.d.TruthSays, "The fault was: "+proven+".", "left when the first part went on")
				if tool == "noscan" {
					// It can be done with the scan tool locked away, and shows the same up to the verification.
					o := *p.c.Config.Order
					o.Withheld = []string{bench.ToolScan}
					cfg := p.c.Config
					cfg.Order = &o
					again := perform(t, cfg, lines(t, name)...)
					for i, f := range again {
						if f.Action.Verb == bench.Drive {
							break
						}
						require.Equal(t, p.findings[i], f)
					}
				}
			})
		}
	}
}

// A debrief names, for each reading that ruled a suspect out, the reading, the suspect and what it would have shown instead.
func TestDebriefSaysWhy(t *testing.T) {
	for _, name := range []string{"quiet_pump_good", "quiet_pump_unsafe", "second_pump_good", "trade_scan_cold_whisper"} {
		d := script(t, name).d
		fell := map[string]bool{}
		for _, s := range d.Steps {
			for _, r := range s.Ruled {
				require.NotEmpty(t, r.Says)
				require.NotEmpty(t, r.Name)
				require.False(t, fell[r.Suspect], "%s fell twice", r.Suspect)
				fell[r.Suspect] = true
				require.NotEqual(t, r.Seen.Class(), r.Predicted.Class())
				require.NotEmpty(t, s.Showed)
			}
			require.NotContains(t, s.Left, "")
		}
		for _, l := range d.Board {
			require.Equal(t, fell[l.Suspect], l.Out, l.Suspect)
			require.False(t, l.Truth && l.Out)
		}
	}
	d := script(t, "quiet_pump_good").d
	drop := ""
	for _, s := range d.Steps {
		if strings.Contains(s.Physics, "were lost between") {
			drop = s.Physics
		}
	}
	require.Regexp(t, `^With the pump running at \d+\.\d A, \d+\.\d+ V were lost between pump plug 2 \(ground\).* and battery negative post: \d\.\d+ ohm\.$`, drop)
}

// The shown identity: what was counted and what is still to do is par, choices and luck.
func TestMinutesAddUp(t *testing.T) {
	for _, name := range []string{"quiet_pump_good", "quiet_pump_swapper", "quiet_pump_unsafe", "second_pump_half", "second_pump_good"} {
		d := script(t, name).d
		require.InDelta(t, d.Counted+d.ToDo, d.Par.Minutes+d.Choices+d.Luck, 1e-9, name)
		require.LessOrEqual(t, d.ProofLine.Least, d.FaultPar.Minutes+1e-9)
		sum, cost := 0.0, 0.0
		for _, s := range d.Steps {
			sum += s.Regret
			require.GreaterOrEqual(t, s.Charged, 0.0)
			require.LessOrEqual(t, s.Charged, max(0, s.Cost)+1e-9)
			cost += s.Cost
		}
		require.InDelta(t, d.Choices, sum, 1e-9)
		require.InDelta(t, d.Choices, cost, 1e-9)
		weights, total := 0, 0
		for _, m := range d.Marks {
			weights += m.Weight
			total += m.Weight * m.Score
		}
		require.Equal(t, 100, weights)
		require.LessOrEqual(t, d.Total, (total+50)/100)
	}
}

// What is written of the account adds up to the tenth, whatever its parts are rounded to.
func TestAccountAddsUpAsWritten(t *testing.T) {
	d := &Debrief{Counted: 181.76, Par: Reference{Minutes: 68.94}, Choices: 164.64, Luck: 181.76 - 68.94 - 164.64}
	a := d.Account()
	require.Equal(t, Account{Counted: 181.8, Par: 68.9, Choices: 164.6, Luck: -51.7}, a, "rounded by itself, luck would be -51.8")
	dice := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		d := &Debrief{Counted: dice.Float64() * 200, ToDo: dice.Float64() * 10, Par: Reference{Minutes: dice.Float64() * 90}, Choices: dice.Float64()*90 - 10}
		d.Luck = d.Counted + d.ToDo - d.Par.Minutes - d.Choices
		a := d.Account()
		sum := 0
		for _, v := range []float64{a.Counted, a.ToDo, -a.Par, -a.Choices, -a.Luck} {
			n, err := strconv.Atoi(strings.Replace(strconv.FormatFloat(v, 'f', 1, 64), ".", "", 1))
			require.NoError(t, err)
			sum += n
		}
		require.Zero(t, sum)
		require.InDelta(t, d.Luck, a.Luck, 0.2)
	}
}

// Equally good work in another order, or with a useless look in between, changes economy by what it cost and nothing else.
func TestUselessStepsCostTheirMinutes(t *testing.T) {
	c := open(t, "quiet_pump")
	rest := lines(t, "quiet_pump_good")
	plain := script(t, "quiet_pump_good").d
	idle := grade(t, c, perform(t, c.Config, append([]string{"watch 900"}, rest...)...))
	// Fifteen minutes of watching nothing touch no car, and end with no reading: they count with the next step.
	require.InDelta(t, plain.Choices+15, idle.Choices, 1e-6)
	require.InDelta(t, plain.Luck, idle.Luck, 1e-6)
	require.Less(t, mark(t, idle, "economy").Score, mark(t, plain, "economy").Score)
}

// What is not closed, or closed badly, earns no mark it should not.
func TestWhatIsNotEarned(t *testing.T) {
	ctx := context.Background()
	c := open(t, "cold_whisper")
	_, err := Grade(ctx, *c, nil)
	require.ErrorIs(t, err, ErrOpen)
	_, err = Grade(ctx, *c, perform(t, c.Config, "look valve bend"))
	require.ErrorIs(t, err, ErrOpen)

	d := grade(t, c, perform(t, c.Config, "look valve bend", "finish valve_line_split unit line_valve proof 1"))
	require.False(t, d.Passed)
	require.Zero(t, mark(t, d, "evidence").Score)
	require.Contains(t, mark(t, d, "finish").Reason, "till at fault: vacuum line, solenoid to air valve")
	require.LessOrEqual(t, d.Total, c.Rubric.Caps.Unrepaired)
	require.Positive(t, d.ToDo)

	d = grade(t, c, perform(t, c.Config, "look valve bend", "repair line_valve", "drive", "finish diaphragm_torn unit air_valve proof 1"))
	require.Contains(t, mark(t, d, "finish").Reason, "not named rightly")
	require.False(t, mark(t, d, "finish").Score == 100)

	d = grade(t, c, perform(t, c.Config, "look valve bend", "repair line_valve", "finish valve_line_split unit line_valve proof 1"))
	require.LessOrEqual(t, d.Total, c.Rubric.Caps.Unverified)
	require.Contains(t, strings.Join(d.Caps, " "), "not verified")

	d = grade(t, c, perform(t, c.Config, "finish valve_line_split unit line_valve"))
	require.Zero(t, mark(t, d, "evidence").Score)
	require.Contains(t, mark(t, d, "finish").Reason, "o ledger line with a reading was named as proof")

	// The right words with a line that proves nothing: seen on every healthy car, or with others still standing.
	for line, why := range map[int]string{1: "suspects still fitted", 3: "a healthy car would have shown the same"} {
		d = grade(t, c, perform(t, c.Config, "look front", "look valve bend", "look dash", "repair line_valve", "drive",
			fmt.Sprintf("finish valve_line_split unit line_valve proof %d", line)))
		require.Contains(t, mark(t, d, "finish").Reason, why)
		require.Equal(t, 100-c.Rubric.Points.Proof, mark(t, d, "finish").Score)
	}
}

// Striking the true fault, or others without a reading, shows on the board and nowhere else.
func TestReasoning(t *testing.T) {
	c := open(t, "cold_whisper")
	d := grade(t, c, perform(t, c.Config, "strike valve_line_split", "strike pump_worn", "look valve bend", "repair line_valve", "drive",
		"finish valve_line_split unit line_valve proof 3"))
	m := mark(t, d, "reasoning")
	require.LessOrEqual(t, m.Score, c.Rubric.Points.StruckTrue)
	require.Contains(t, m.Reason, "the fault itself was struck")
	for _, l := range d.Board {
		switch l.Suspect {
		case "valve_line_split":
			require.Equal(t, "struck, yet it was the fault", l.Why)
		case "pump_worn":
			require.Empty(t, l.Why, "a reading has ruled it out since")
		default:
			require.Contains(t, l.Why, "line 3")
		}
	}
	require.Equal(t, 100, mark(t, d, "economy").Score)
}

// Marks are earned: whoever reads nothing has no economy, no reasoning and no safety to speak of, however right the guess, and who mends
// blindly but rightly has no economy. Doing nothing stays far below the part swapper, who mended the car after all.
func TestMarksAreEarned(t *testing.T) {
	c := open(t, "quiet_pump")
	nothing := grade(t, c, perform(t, c.Config, "finish no_fault_found"))
	glance := grade(t, c, perform(t, c.Config, "look dash", "finish no_fault_found"))
	guess := grade(t, c, perform(t, c.Config, "finish pump_ground_corroded unit pump_ground"))
	blind := grade(t, c, perform(t, c.Config, "repair pump_ground", "drive", "finish pump_ground_corroded unit pump_ground"))
	swapper := script(t, "quiet_pump_swapper").d
	require.Equal(t, []int{2, 2, 8, 45, 36}, []int{nothing.Total, glance.Total, guess.Total, blind.Total, swapper.Total})
	require.Less(t, swapper.Total, script(t, "quiet_pump_good").d.Total)
	for _, d := range []*Debrief{nothing, guess} {
		for _, m := range []string{"economy", "evidence", "reasoning", "safety"} {
			require.Zero(t, mark(t, d, m).Score, mark(t, d, m).Reason)
		}
	}
	for _, m := range []string{"economy", "reasoning", "safety"} {
		require.LessOrEqual(t, mark(t, glance, m).Score, 10, mark(t, glance, m).Reason)
	}
	require.Zero(t, mark(t, blind, "economy").Score)
	require.Zero(t, mark(t, blind, "reasoning").Score)
}
