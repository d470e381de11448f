package bench_test

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// config is an order of the built-in library with another truth, "" its own.
func config(t testing.TB, order, fault string, severity float64) bench.Config {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load(order)
	require.NoError(t, err)
	cfg := lib.Config(o, "test")
	if fault != "" {
		cfg.Truth = &bench.Truth{Fault: fault, Severity: severity, Draw: o.Order.Truth.Draw}
	}
	return cfg
}

func session(t testing.TB, order, fault string, severity float64) *bench.Local {
	t.Helper()
	s, err := bench.NewLocal(config(t, order, fault, severity))
	require.NoError(t, err)
	return s
}

// do plays one line and expects it to be done.
func do(t testing.TB, s bench.Session, line string) bench.Finding {
	t.Helper()
	a, err := bench.ParseLine(line)
	require.NoError(t, err, line)
	f, err := s.Do(context.Background(), a)
	require.NoError(t, err, line)
	return f
}

// play plays lines and gives the last finding.
func play(t testing.TB, s bench.Session, lines string) (last bench.Finding) {
	t.Helper()
	for line := range strings.Lines(lines) {
		if line = strings.TrimSpace(line); line != "" {
			last = do(t, s, line)
		}
	}
	return last
}

// percept finds a percept of a key in a finding.
func percept(t testing.TB, f bench.Finding, key string) bench.Percept {
	t.Helper()
	for _, p := range f.Percepts {
		if p.Key == key {
			return p
		}
	}
	require.Failf(t, "no such percept", "%s in %+v", key, f.Percepts)
	return bench.Percept{}
}

func kinds(f bench.Finding) []string {
	out := []string{}
	for _, h := range f.Hazards {
		out = append(out, h.Kind)
	}
	return out
}

// Every order leaves the codes that its complaint speaks of. A lamp in the complaint means a stored code.
func TestOrdersProduceTheirComplaint(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	code := map[string]string{"left_bank": "P0492"} // where it is not P0491
	for _, id := range lib.OrderIDs() {
		s := session(t, id, "", 0)
		if id == "burnt_hose" { // a car without a socket for a scan tool: it hisses
			require.Equal(t, "strong", percept(t, play(t, s, "extract on\nstart\nwatch 5\nlisten valve"), "hiss").Word)
			continue
		}
		want := code[id]
		if want == "" {
			want = "P0491"
		}
		f := play(t, s, "scan on\nkey on\ncodes stored")
		require.Equal(t, want, percept(t, f, "code").Word, id)
	}
}

// The trade's own order of work finds the split line: whine, no air, chamber holds, air when pulled by hand, line does not hold.
func TestVacuumLineByTheTradesOrder(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	play(t, s, "scan on\nkey on")
	f := do(t, s, "actuator both")
	require.Equal(t, "whines", percept(t, f, "pump").Word)
	f = do(t, s, "feel tailpipe")
	require.Equal(t, "none", percept(t, f, "flow").Word)
	play(t, s, "actuator off\npull line_valve.a\nhandpump valve_nipple")
	f = do(t, s, "stroke 4")
	require.Greater(t, percept(t, f, "vacuum").Value, 40.0)
	f = do(t, s, "holdvac 30")
	require.LessOrEqual(t, percept(t, f, "drop").Value, 1.0)
	play(t, s, "actuator pump")
	f = do(t, s, "feel tailpipe")
	require.Equal(t, "clear", percept(t, f, "flow").Word, "1.8 m/s at a 50 mm pipe")
	play(t, s, "actuator off\nhandpump off\nkey off\npull line_valve.b\nplug line_valve.b\nhandpump line_valve.a")
	f = do(t, s, "stroke 10")
	require.Less(t, percept(t, f, "vacuum").Value, 5.0, "a split line draws nothing")
	play(t, s, "handpump off\nrepair line_valve\ndrive")
	f = s.Ledger()[len(s.Ledger())-1]
	require.Equal(t, 1500, f.Cost)
	f = do(t, s, "finish valve_line_split unit line_valve proof 13")
	require.True(t, s.View().Closed)
	require.Zero(t, f.Seconds)
	require.Equal(t, 900+1500, s.View().Bill)
}

// Voltage drop under load: 1 ohm in the ground at about 7.5 A; a perfect battery voltage with nothing running.
func TestGroundShowsOnlyUnderLoad(t *testing.T) {
	s := session(t, "quiet_pump", "", 0)
	play(t, s, "open pump_plug\nscan on\nkey on")
	f := do(t, s, "meter volts pump_2h bat_neg")
	require.Less(t, percept(t, f, "volts").Value, 0.01)
	play(t, s, "close pump_plug")
	f = do(t, s, "actuator pump")
	require.InDelta(t, 7.5, percept(t, f, "volts").Value, 0.7)
	play(t, s, "actuator off\nmeter off\nkey off\nrepair pump_ground\nkey on\nmeter volts pump_2h bat_neg")
	f = do(t, s, "actuator pump")
	require.Less(t, percept(t, f, "volts").Value, 0.25)
}

// Who renews only the pump leaves the hose hanging; the world still knows.
func TestRepeatFailureNeedsTheHose(t *testing.T) {
	s := session(t, "second_pump", "", 0)
	play(t, s, "scan on\nkey on\nactuator pump")
	f := do(t, s, "listen pump")
	require.Equal(t, "rough", percept(t, f, "bearing").Word)
	play(t, s, "actuator off\nkey off\nrepair air_pump")
	require.Equal(t, []string{"inlet_hose"}, s.World().UnitsAtFault())
	play(t, s, "repair inlet_hose")
	require.Empty(t, s.World().UnitsAtFault())
	f = do(t, s, "drive")
	require.Equal(t, "complete", percept(t, f, "monitor").Word)
}

// A refusal costs nothing, changes nothing, is not logged, and says what is missing.
func TestRefusals(t *testing.T) {
	var log bytes.Buffer
	cfg := config(t, "cold_whisper", "", 0)
	cfg.Log = bench.NewLogWriter(&log, nil)
	s, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	play(t, s, "pull line_valve.a")
	for _, c := range []struct{ line, want string }{
		{"look cellar", `there is no place "cellar"`},
		{"look pump sideways", "bend"},
		{"pull line_valve.a", "hangs free already"},
		{"pull hose9.a", "there is no hose end"},
		{"fit line_check.a", "is on a port; pull it first"},
		{"fit line_valve.a pump_inlet", "pull it first"},
		{"fit line_valve.a sol_out", "pull line_valve.b"},
		{"unplug valve_nipple", "no plug"},
		{"plug res_in", "pull it first"},
		{"close pump_plug", "already closed"},
		{"open ecm_plug", "there is no connector"},
		{"remove pump", "open pump_plug first"},
		{"remove valve", "first pull: pressure_pipe.b"},
		{"refit relay", "in its place"},
		{"meter volts pump_1 bat_neg", "open pump_plug first"},
		{"meter volts rel_30 bat_neg", "remove relay first"},
		{"meter volts bat_pos bat_pos", "two different ones"},
		{"meter watts bat_pos bat_neg", "volts, ohms or amps"},
		{"meter off", "not connected"},
		{"clamp off", "on nothing"},
		{"lamp bat_pos bat_neg 60", "21 and 5 watts"},
		{"unjump", "no jumper lead"},
		{"read gauge", "not connected"},
		{"read tea", "There are: meter"},
		{"stroke 3", "on nothing"},
		{"handpump sol_out", "pull it first"},
		{"handpump pressure_pipe.a", "on a port"},
		{"blow sol_supply", "pull it first"},
		{"helper off", "already"},
		{"extract off", "already"},
		{"codes", "not plugged in"},
		{"actuator pump", "not plugged in"},
		{"stop", "not running"},
		{"hold 2000", "not running"},
		{"hold idle", "not running"},
		{"watch 0", "0.1 to 3600"},
		{"listen pump 9999", "0.1 to 600"},
		{"feel ghost", "feel what"},
		{"feel valve_inlet", "pull it first"},
		{"repair engine", "there is no unit to repair"},
		{"repair solenoid mend", "only replace"},
		{"drive", "fit it first"},
		{"strike ghost", "there is no suspect"},
		{"unstrike solenoid_open", "on the board"},
		{"finish proof 3", "name the cause"},
		{"finish solenoid_open proof 30", "number of a line"},
		{"finish solenoid_open unit motor", "there is no unit"},
	} {
		t.Run(c.line, func(t *testing.T) {
			view, hash, size := s.View(), s.World().Hash(), log.Len()
			a, err := bench.ParseLine(c.line)
			require.NoError(t, err)
			f, err := s.Do(context.Background(), a)
			var no *bench.Refusal
			require.ErrorAs(t, err, &no)
			require.Contains(t, no.Missing, c.want)
			require.Equal(t, a, no.Action)
			require.Zero(t, f.Seq)
			require.Equal(t, view, s.View())
			require.Equal(t, hash, s.World().Hash())
			require.Equal(t, size, log.Len())
		})
	}
}

func TestWithheldTools(t *testing.T) {
	cfg := config(t, "cold_whisper", "", 0)
	o := *cfg.Order
	o.Withheld = []string{bench.ToolScan, bench.ToolClamp}
	o.Tools = []string{bench.ToolScan, bench.ToolClamp, bench.ToolMeter, bench.ToolJumper}
	cfg.Order = &o
	s, err := bench.NewLocal(cfg)
	require.NoError(t, err)
	require.Equal(t, []string{"meter", "jumper"}, s.Catalogue().Tools)
	for _, line := range []string{"scan on", "clamp w_feed", "handpump valve_nipple", "lamp bat_pos bat_neg", "blow sol_out", "helper on"} {
		a, err := bench.ParseLine(line)
		require.NoError(t, err)
		_, err = s.Do(context.Background(), a)
		require.ErrorContains(t, err, "is to be done without", line)
	}
	do(t, s, "meter volts bat_pos bat_neg")
}

// Walking costs what the car's file says: out to the middle of the bay and on. Tailpipe 20 s, dash 15 s, pump 8 s.
func TestWalkingTakesTime(t *testing.T) {
	s := session(t, "cold_whisper", "no_fault_found", 1)
	require.Equal(t, 8+15.0, do(t, s, "look pump").Seconds)
	require.Equal(t, 15.0, do(t, s, "look pump").Seconds)
	require.Equal(t, 8+20+8.0, do(t, s, "feel tailpipe").Seconds)
	require.Equal(t, 20+15+2.0, do(t, s, "key on").Seconds)
	require.Equal(t, 2.0, do(t, s, "key off").Seconds)
	do(t, s, "look pump")
	do(t, s, "helper on")
	require.Equal(t, 2.0, do(t, s, "key on").Seconds, "the helper sits at the dash")
	sum := 0.0
	for i, f := range s.Ledger() {
		require.Equal(t, i+1, f.Seq)
		require.InDelta(t, sum, f.Start, 1e-9)
		sum += f.Seconds
	}
	require.InDelta(t, s.View().Bench, sum, 1e-9)
}

// What a person can't know yet does not show: whatever is wrong, catalogue and view are the same when the car comes in.
func TestNothingLeaksBeforeTheFirstLook(t *testing.T) {
	ref := session(t, "cold_whisper", "no_fault_found", 1)
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	car, err := lib.Car("car_a")
	require.NoError(t, err)
	for _, id := range car.Layout.SuspectIDs() {
		s := session(t, "cold_whisper", id, 1)
		require.Equal(t, ref.View(), s.View(), id)
		require.Equal(t, ref.Catalogue(), s.Catalogue(), id)
	}
}

// That a hose is off is found by going there, at a cost, and only then shows in the view.
func TestHangingHoseIsFoundNotTold(t *testing.T) {
	at := func(s *bench.Local) string {
		for _, e := range s.View().HoseEnds {
			if e.ID == "line_supply.b" {
				return e.At
			}
		}
		return "?"
	}
	s := session(t, "cold_whisper", "supply_line_off", 1)
	require.Equal(t, "sol_supply", at(s))
	f := do(t, s, "pull line_supply.b")
	require.Equal(t, bench.Percept{Sense: bench.Eye, Key: "sign", Of: "line_supply.b", Word: "hangs free"}, percept(t, f, "sign"))
	require.Equal(t, 5.0, f.Seconds, "only the walk")
	require.Empty(t, at(s))

	s = session(t, "cold_whisper", "lines_swapped", 1)
	f = do(t, s, "look solenoid")
	require.Len(t, f.Percepts, 2)
	require.Equal(t, "sits on sol_out", percept(t, f, "sign").Word)
	do(t, s, "repair line_routing")
	require.Equal(t, "sol_supply", at(s))
	f = do(t, s, "look solenoid")
	require.Equal(t, "nothing unusual", percept(t, f, "sign").Word)
}

func TestCloseEndsEverythingButReading(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	play(t, s, "strike solenoid_open\nnote a thought # with a hash\nfinish valve_line_split")
	_, err := s.Do(context.Background(), bench.Action{Verb: bench.Note, Text: "more"})
	require.ErrorContains(t, err, "closed")
	require.Equal(t, []string{"solenoid_open"}, s.View().Struck)
	require.Equal(t, []string{"a thought # with a hash"}, s.View().Notes)
	require.Len(t, s.Ledger(), 3)
}

// A clone goes on by itself and gives the same percepts for the same actions.
func TestCloneIsIndependent(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	play(t, s, "scan on\nkey on\npull line_valve.a")
	c := s.Clone()
	a := play(t, s, "actuator pump\nlisten pump")
	require.Len(t, c.Ledger(), 3)
	b := play(t, c, "actuator pump\nlisten pump")
	require.Equal(t, a, b)
	require.Equal(t, s.World().Hash(), c.World().Hash())
	do(t, c, "fit line_valve.a")
	require.NotEqual(t, s.View().HoseEnds, c.View().HoseEnds)
}

// With the key off and nothing attached, and with everything on, a watch that is cut short logs the time it took.
func TestWatchStopsAtATick(t *testing.T) {
	s := session(t, "cold_whisper", "", 0)
	play(t, s, "key on")
	ctx, cancel := context.WithCancel(context.Background())
	cut := &cutAfter{Context: ctx, n: 40, cancel: cancel}
	f, err := s.Do(cut, bench.Action{Verb: bench.Watch, N: 600})
	require.NoError(t, err)
	require.InDelta(t, 4, f.Seconds, 0.2)
	require.Equal(t, f.Seconds, f.Action.N)
	_, err = s.Do(ctx, bench.Action{Verb: bench.Watch, N: 1})
	require.ErrorIs(t, err, context.Canceled)
}

// cutAfter ends after it was asked n times.
type cutAfter struct {
	context.Context
	n      int
	cancel func()
}

func (c *cutAfter) Err() error {
	if c.n--; c.n < 0 {
		c.cancel()
	}
	return c.Context.Err()
}
