package drawing_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gopkg.in/yaml.v3"

	"coldbay/scenarios/drawing"
)

type placed struct {
	ID, Place   string
	WhenOpen    string `yaml:"when_open"`
	WhenRemoved string `yaml:"when_removed"`
}

type carFile struct {
	Bay struct {
		Places                                      []placed
		Terminals, Ports, Connectors, Parts, Clamps []placed
		Hoses                                       []placed
	}
	Air struct {
		Hoses []struct{ ID, A, B string }
	}
}

func readCar(t *testing.T, id string) carFile {
	t.Helper()
	raw, err := os.ReadFile("../cars/" + id + ".yaml")
	require.NoError(t, err)
	var c carFile
	require.NoError(t, yaml.Unmarshal(raw, &c))
	require.NotEmpty(t, c.Bay.Terminals)
	return c
}

// Each thing of the car has a position in the view of the place where the car says it is.
func TestEveryThingHasAPosition(t *testing.T) {
	for _, id := range drawn(t) {
		t.Run(id, func(t *testing.T) { everyThing(t, id) })
	}
}

// drawn are the cars that have a drawing of their own.
func drawn(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("*.yaml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for i := range files {
		files[i] = strings.TrimSuffix(files[i], ".yaml")
	}
	return files
}

func everyThing(t *testing.T, id string) {
	d, err := drawing.Load(id)
	require.NoError(t, err)
	c := readCar(t, id)
	has := func(spots []drawing.Spot, id string) bool {
		return slices.ContainsFunc(spots, func(s drawing.Spot) bool { return s.ID == id })
	}
	front, ok := d.View("front")
	require.True(t, ok)
	for _, p := range c.Bay.Places {
		_, ok := d.View(p.ID)
		require.True(t, ok, "place %s has no view", p.ID)
		if p.ID != "front" {
			require.True(t, has(front.Regions, p.ID), "place %s has no region in the front view", p.ID)
		}
	}
	for _, g := range []struct {
		name  string
		want  []placed
		spots func(*drawing.View) []drawing.Spot
	}{
		{"terminal", c.Bay.Terminals, func(v *drawing.View) []drawing.Spot { return v.Terminals }},
		{"port", c.Bay.Ports, func(v *drawing.View) []drawing.Spot { return v.Ports }},
		{"connector", c.Bay.Connectors, func(v *drawing.View) []drawing.Spot { return v.Connectors }},
		{"part", c.Bay.Parts, func(v *drawing.View) []drawing.Spot { return v.Parts }},
		{"clamp", c.Bay.Clamps, func(v *drawing.View) []drawing.Spot { return v.Clamps }},
	} {
		for _, p := range g.want {
			v, ok := d.View(p.Place)
			require.True(t, ok)
			require.True(t, has(g.spots(v), p.ID), "%s %s has no position in view %s", g.name, p.ID, p.Place)
		}
	}
}

// Each hose is drawn where one of its ports is, and an end whose port is elsewhere has a point where it leaves.
func TestHosesReachTheirPorts(t *testing.T) {
	for _, id := range drawn(t) {
		t.Run(id, func(t *testing.T) { hosesReach(t, id) })
	}
}

func hosesReach(t *testing.T, id string) {
	d, err := drawing.Load(id)
	require.NoError(t, err)
	c := readCar(t, id)
	at := map[string]string{}
	for _, p := range c.Bay.Ports {
		at[p.ID] = p.Place
	}
	for _, h := range c.Air.Hoses {
		for _, view := range []string{"front", at[h.A], at[h.B]} {
			v, _ := d.View(view)
			i := slices.IndexFunc(v.Hoses, func(x drawing.Hose) bool { return x.ID == h.ID })
			require.GreaterOrEqual(t, i, 0, "hose %s is not drawn in view %s", h.ID, view)
			for _, e := range []struct {
				port       string
				exit, hang drawing.Point
			}{{h.A, v.Hoses[i].ExitA, v.Hoses[i].HangA}, {h.B, v.Hoses[i].ExitB, v.Hoses[i].HangB}} {
				if at[e.port] == view || view == "front" {
					require.NotZero(t, e.hang, "hose %s has no hanging place for its end at %s in %s", h.ID, e.port, view)
				}
				if at[e.port] != view {
					require.NotZero(t, e.exit, "hose %s has no way out towards %s in %s", h.ID, e.port, view)
				}
			}
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for name, raw := range map[string]string{
		"unknown key":  "format: coldbay-drawing/1\ncar: x\nviews: [{id: a, colour: red}]",
		"wrong format": "format: coldbay-drawing/9\ncar: x\nviews: [{id: a}]",
		"no views":     "format: coldbay-drawing/1\ncar: x",
		"off picture":  "format: coldbay-drawing/1\ncar: x\nviews: [{id: a, ports: [{id: p, at: [1300, 5]}]}]",
		"doubled id":   "format: coldbay-drawing/1\ncar: x\nviews: [{id: a, ports: [{id: p, at: [3, 5]}, {id: p, at: [9, 9]}]}]",
	} {
		_, err := drawing.Parse([]byte(raw))
		require.Error(t, err, name)
	}
	_, err := drawing.Load("no_such_car")
	require.ErrorContains(t, err, "no_such_car")
}

func TestSheets(t *testing.T) {
	for _, car := range drawn(t) {
		d, err := drawing.Load(car)
		require.NoError(t, err)
		for _, id := range []string{"air", "wiring"} {
			s, ok := d.Sheet(id)
			require.True(t, ok)
			require.NotEmpty(t, s.Items)
			require.NotEmpty(t, s.Lines)
		}
		// Each terminal that is free to a probe as the car stands can be probed from the wiring diagram, and no other.
		s, _ := d.Sheet("wiring")
		var want, got []string
		for _, x := range readCar(t, car).Bay.Terminals {
			if x.WhenOpen == "" && x.WhenRemoved == "" && x.ID != "eng_gnd" {
				want = append(want, x.ID)
			}
		}
		for _, x := range s.Terminals {
			if x.ID != "eng_gnd" {
				got = append(got, x.ID)
			}
		}
		require.ElementsMatch(t, want, got, car)
	}
}
