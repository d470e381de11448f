package lessons_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios"
	"coldbay/scenarios/lessons"
	"coldbay/sim/cutaway"
)

func shelf(t testing.TB) *lessons.Shelf {
	t.Helper()
	s, err := lessons.Builtin()
	require.NoError(t, err)
	return s
}

// films makes each film once.
type films struct {
	t     *testing.T
	sheet *cutaway.Schematic
	made  map[string]*cutaway.Film
}

func (f *films) of(set cutaway.Setup) *cutaway.Film {
	f.t.Helper()
	key := fmt.Sprintf("%+v", set)
	if f.made[key] == nil {
		film, err := cutaway.Shoot(context.Background(), f.sheet, set, nil)
		require.NoError(f.t, err)
		f.made[key] = film
	}
	return f.made[key]
}

// Whatever a lesson claims, and every right answer, is so in the simulated car.
func TestLessonsAreTrue(t *testing.T) {
	s := shelf(t)
	require.GreaterOrEqual(t, len(s.Lessons), 6)
	claims, asked := 0, 0
	cars := map[string]*films{}
	for _, l := range s.Lessons {
		f := cars[l.Car]
		if f == nil {
			sheet, ok := s.Sheet(l.Car)
			require.True(t, ok, l.File)
			f = &films{t, sheet, map[string]*cutaway.Film{}}
			cars[l.Car] = f
		}
		for _, st := range l.Steps {
			at := l.File + ", step " + st.ID
			for i, c := range st.Claims {
				who, run := st.Show.Who(), st.Show.Run
				if c.Who != nil {
					who = *c.Who
				}
				if c.Run != "" {
					run = c.Run
				}
				got := f.of(who.Setup(run)).Read(c.Read.Cutaway())
				claims++
				if c.Never {
					if !math.IsNaN(got) {
						t.Errorf("%s, claim %d, %s: %g, and should never come", at, i+1, c.Read.Of, got)
					}
					continue
				}
				if !(got >= c.Between[0] && got <= c.Between[1]) {
					t.Errorf("%s, claim %d, %s: %g is not between %g and %g", at, i+1, c.Read.Of, got, c.Between[0], c.Between[1])
				}
			}
			if st.Ask == nil {
				continue
			}
			asked++
			switch a := st.Ask; a.Kind {
			case lessons.Number:
				who := st.Show.Who()
				if a.Who != nil {
					who = *a.Who
				}
				got := f.of(who.Setup(st.Show.Run)).Read(a.Read.Cutaway())
				if v := a.Grade(lessons.Answer{Typed: fmt.Sprint(*a.About)}, got); !v.Right {
					t.Errorf("%s: the author expects %g, the car gives %g", at, *a.About, got)
				}
			case lessons.Strike:
				for _, x := range a.Suspects {
					got := f.of(lessons.Who{Fault: x.Fault, Severity: x.Severity}.Setup(st.Show.Run)).Read(a.Read.Cutaway())
					off := math.Abs(got - a.Found)
					if (off > a.Apart) != x.Struck {
						t.Errorf("%s: %s reads %g, found is %g, and struck is %t", at, x.Fault, got, a.Found, x.Struck)
					}
					if off > 0.75*a.Apart && off < 1.25*a.Apart {
						t.Errorf("%s: %s reads %g, too near the limit of %g from %g to be asked", at, x.Fault, got, a.Apart, a.Found)
					}
				}
			}
		}
	}
	require.Greater(t, claims, 90)
	require.Greater(t, asked, 25)
}

// Each lesson asks something, says its cautions nowhere less than the last lesson does, and shows what it speaks of.
func TestLessonsAreWhole(t *testing.T) {
	s := shelf(t)
	kinds := map[lessons.Kind]int{}
	for i, l := range s.Lessons {
		require.Equal(t, i+1, l.Number)
		require.Len(t, l.Digest, 64)
		asks := 0
		for _, st := range l.Steps {
			if st.Ask != nil {
				asks++
				kinds[st.Ask.Kind]++
			}
			require.NotContains(t, st.Text, "  ", "%s %s", l.ID, st.ID)
		}
		require.GreaterOrEqual(t, asks, 4, l.ID)
		got, err := s.Find(l.ID)
		require.NoError(t, err)
		require.Same(t, l, got)
	}
	for _, k := range []lessons.Kind{lessons.Choice, lessons.Number, lessons.Strike} {
		require.Greater(t, kinds[k], 4, k)
	}
	_, err := s.Find("why_it_rums")
	require.ErrorContains(t, err, `did you mean "why_it_runs"?`)
}

func TestBadLessons(t *testing.T) {
	s := shelf(t)
	good, err := os.ReadFile("2_electrics.yaml")
	require.NoError(t, err)
	find := func(car string) (*cutaway.Schematic, []string) { sheet, _ := s.Sheet(car); return sheet, s.Cars() }
	_, err = lessons.Parse("l.yaml", good, find)
	require.NoError(t, err)
	for _, x := range []struct{ name, from, to, want string }{
		{"format", "coldbay-lesson/1", "coldbay-lesson/2", `l.yaml:2: key "format": found "coldbay-lesson/2"; allowed is "coldbay-lesson/1"`},
		{"unknown key", "minutes: 15", "minuets: 15", `l.yaml:8: key "minuets": unknown key; did you mean "minutes"?`},
		{"car", "car: car_a", "car: car_q", `l.yaml:7: key "car": found "car_q"`},
		{"id twice", "id: share", "id: path", `key "steps[1].id": found "path"`},
		{"view", "view: electric, channels: [pump_current, pump_speed, battery", "view: eletric, channels: [pump_current, pump_speed, battery", `key "steps[0].show.view": found "eletric"; did you mean "electric"?`},
		{"channel", "[pump_current, pump_speed, battery_voltage]", "[pump_amps, pump_speed, battery_voltage]", `key "steps[0].show.channels[0]": found "pump_amps"`},
		{"fault", "fault: pump_ground_corroded, severity: 0.7, beside", "fault: pump_ground_corrodde, severity: 0.7, beside", `did you mean "pump_ground_corroded"?`},
		{"severity", "severity: 0.7, beside", "severity: 7, beside", "found 7; allowed is above 0 to 1"},
		{"beside", "beside: healthy, at: 2, until: 30, play: true, speed: 2", "beside: sick, at: 2, until: 30, play: true, speed: 2", `key "steps[2].show.beside": found "sick"; allowed: healthy, without_air`},
		{"time", "at: 2.6, until: 6", "at: 260, until: 6", "found 260; allowed are 0 to 130"},
		{"part", "part: pump_motor}\n    claims:\n      - {read: {of: pump_current, take", "part: pump_mtor}\n    claims:\n      - {read: {of: pump_current, take", `key "steps[0].show.part"`},
		{"claim", "{of: pump_current, take: max}, between", "{of: pump_curent, take: max}, between", `key "steps[0].claims[0].read": found "pump_curent"`},
		{"claim without limits", "take: max}, between: [80, 120]}", "take: max}}", "a claim has either between or never: true"},
		{"claim upside down", "between: [80, 120]", "between: [120, 80]", "found 120 above 80"},
		{"kind", "kind: number", "kind: guess", `found "guess"`},
		{"no tolerance", "      within: 1\n", "", `key "steps[0].ask.within": missing; a question of kind number needs it`},
		{"foreign key", "      within: 1\n", "      within: 1\n      found: 3\n", `key "steps[0].ask.found": a question of kind number has none`},
		{"two right", `{text: "Another pump fitted on trial"}`, `{text: "Another pump fitted on trial", right: true}`, "2 of them are right; want one"},
		{"nobody struck", "severity: 1, struck: true}\n        - {fault: water_in_pump, severity: 1}\n        - {fault: pump_ground_corroded, severity: 0.7, struck: true}",
			"severity: 1}\n        - {fault: water_in_pump, severity: 1}\n        - {fault: pump_ground_corroded, severity: 0.7}", "a reading worth taking splits them"},
		{"long", "title: One current, one path", "title: " + strings.Repeat("long ", 12), "found 59 letters; allowed are 1 to 48"},
		{"wrong type", "minutes: 15", "minutes: soon", `key "minutes": found "soon"; a whole number is allowed`},
	} {
		t.Run(x.name, func(t *testing.T) {
			require.Contains(t, string(good), x.from)
			_, err := lessons.Parse("l.yaml", []byte(strings.Replace(string(good), x.from, x.to, 1)), find)
			require.ErrorContains(t, err, x.want)
			require.Regexp(t, `^l.yaml:\d+: `, err.Error())
		})
	}
}

// A lesson names its car, which has to be laid open, and shows nothing of it that the car has not.
func TestLessonsNameTheirCar(t *testing.T) {
	s := shelf(t)
	find := func(car string) (*cutaway.Schematic, []string) { sheet, _ := s.Sheet(car); return sheet, s.Cars() }
	const text = `format: coldbay-lesson/1
id: belt
number: 50
title: The belt
aim: Say what turns the pump.
car: car_d
minutes: 5
steps:
  - id: runs
    title: It always runs
    text: The engine turns the pump.
    show: {view: airside, channels: [air_flow, dump_flow], part: belt_pump, fault: belt_slack, severity: 0.5}
    claims:
      - {read: {of: dump_flow, at: 128}, between: [5, 40]}
`
	_, err := lessons.Parse("l.yaml", []byte(text), find)
	require.NoError(t, err)
	for _, x := range []struct{ from, to, want string }{
		{"car: car_d", "car: car_e", `l.yaml:6: key "car": found "car_e"; did you mean "car_a"? allowed: car_a, car_b, car_c, car_d`},
		{"car: car_d", "car: car_b", `l.yaml:12: key "steps[0].show.channels[1]": found "dump_flow"`},
		{"view: airside", "run: actuator, view: airside", `key "steps[0].show.run": found "actuator"; allowed: cold_start, two_trips`},
		{"at: 128}, between", "at: 28}, run: actuator, between", `key "steps[0].claims[0].run": found "actuator"; allowed: cold_start, two_trips`},
		{"fault: belt_slack", "fault: pump_ground_corroded", `key "steps[0].show.fault": found "pump_ground_corroded"`},
	} {
		require.Contains(t, text, x.from)
		_, err := lessons.Parse("l.yaml", []byte(strings.Replace(text, x.from, x.to, 1)), find)
		require.ErrorContains(t, err, x.want)
	}
}

func TestOpenRefusesTwins(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	sheet, err := os.ReadFile("schematics/car_a.yaml")
	require.NoError(t, err)
	one, err := os.ReadFile("2_electrics.yaml")
	require.NoError(t, err)
	fsys := fstest.MapFS{"schematics/car_a.yaml": {Data: sheet}, "a.yaml": {Data: one}, "b.yaml": {Data: one}}
	_, err = lessons.Open(fsys, lib)
	require.ErrorContains(t, err, "a.yaml has that id or number already")
	delete(fsys, "b.yaml")
	s, err := lessons.Open(fsys, lib)
	require.NoError(t, err)
	require.Equal(t, []string{"electrics"}, s.IDs())
	fsys["schematics/car_z.yaml"] = fsys["schematics/car_a.yaml"]
	_, err = lessons.Open(fsys, lib)
	require.ErrorContains(t, err, `there is no car "car_z"`)
}

func TestGrade(t *testing.T) {
	choice := &lessons.Ask{Kind: lessons.Choice, Options: []lessons.Option{{Text: "a"}, {Text: "b", Right: true}}}
	require.True(t, choice.Grade(lessons.Answer{Chosen: []int{1}}, math.NaN()).Right)
	for _, x := range [][]int{nil, {0}, {0, 1}, {7}, {-1}} {
		require.False(t, choice.Grade(lessons.Answer{Chosen: x}, math.NaN()).Right)
	}
	number := &lessons.Ask{Kind: lessons.Number, Within: 0.5}
	for typed, right := range map[string]bool{"27": true, "26,6": true, " 27.4 ": true, "27.6": false, "": false, "x": false, "NaN": false} {
		require.Equal(t, right, number.Grade(lessons.Answer{Typed: typed}, 27).Right, typed)
	}
	require.False(t, number.Grade(lessons.Answer{Typed: "27"}, math.NaN()).Right, "what the car never showed can't be read")
	strike := &lessons.Ask{Kind: lessons.Strike, Suspects: []lessons.Suspect{{Struck: true}, {}, {Struck: true}, {}}}
	require.Equal(t, 1.0, strike.Grade(lessons.Answer{Chosen: []int{0, 2}}, 0).Share)
	v := strike.Grade(lessons.Answer{Chosen: []int{0, 1}}, 0)
	require.False(t, v.Right)
	require.Equal(t, 0.5, v.Share)
}

func TestRecord(t *testing.T) {
	l, err := shelf(t).Find("electrics")
	require.NoError(t, err)
	marks := []lessons.Mark{l.Header(), {Step: "path", Seen: true}, {Step: "path", Answer: &lessons.Answer{Typed: "3"}}, {Step: "path", Answer: &lessons.Answer{Typed: "27"}, Right: true, Share: 1},
		{Step: "joint", Answer: &lessons.Answer{Chosen: []int{0}}, Share: 0.5}, {Step: "same", Answer: &lessons.Answer{Chosen: []int{1}}, Right: true, Share: 1}, {Step: "gone", Seen: true}}
	var kept []byte
	for _, m := range marks {
		line, err := m.Line()
		require.NoError(t, err)
		kept = append(kept, line...)
	}
	got, err := l.ReadRecord(append(kept, `{"step":"pa`...))
	require.NoError(t, err, "a torn last line is dropped")
	require.Len(t, got, 5, "marks of steps that are no longer there are dropped")
	st := l.Stand(got)
	require.Equal(t, lessons.Standing{Begun: true, Asked: 6, Right: 2, First: 1, Points: 2.5, Seen: 3}, st)
	head, err := l.Header().Line()
	require.NoError(t, err)
	rest := bytes.TrimPrefix(kept, head)
	for _, other := range [][]byte{append(slices.Clone(kept), head...), append(slices.Clone(rest), head...), append([]byte("{\"st\n"), kept...)} {
		again, err := l.ReadRecord(other)
		require.NoError(t, err, "a header stands anywhere, and as often as it likes")
		require.Equal(t, st, l.Stand(again))
	}
	_, err = l.ReadRecord(rest)
	require.ErrorIs(t, err, lessons.ErrNotLesson, "no header")
	_, err = l.ReadRecord([]byte(`{"format":"coldbay-attempt/1"}` + "\n"))
	require.ErrorIs(t, err, lessons.ErrNotLesson)
	_, err = l.ReadRecord([]byte("rubbish"))
	require.ErrorIs(t, err, lessons.ErrNotLesson)
	got, err = l.ReadRecord(nil)
	require.NoError(t, err)
	require.Empty(t, got)
}
