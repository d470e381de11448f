package tongue_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/grading/dictionary"
	"coldbay/scenarios"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// thing is something with a name that the program ships.
type thing struct{ car, kind, id, text string }

func things(t *testing.T) (list []thing, signs map[string]bool) {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	signs = map[string]bool{}
	for _, id := range lib.CarIDs() {
		k, err := lib.Car(id)
		require.NoError(t, err)
		c := k.Car
		add := func(kind, id, text string) { list = append(list, thing{c.ID, kind, id, text}) }
		add("car", c.ID, c.Name)
		for _, x := range c.Bay.Places {
			add("place", x.ID, x.Name)
		}
		for _, x := range c.Bay.Terminals {
			add("terminal", x.ID, x.Name)
		}
		for _, x := range c.Bay.Ports {
			add("port", x.ID, x.Name)
		}
		for _, x := range c.Bay.Hoses {
			add("hose", x.ID, x.Name)
		}
		for _, x := range c.Bay.Connectors {
			add("connector", x.ID, x.Name)
		}
		for _, x := range c.Bay.Parts {
			add("part", x.ID, x.Name)
		}
		for _, x := range c.Bay.Clamps {
			add("clamp", x.ID, x.Name)
		}
		for _, x := range c.Units {
			add("unit", x.ID, x.Name)
		}
		for _, x := range c.Faults {
			add("fault", x.ID, x.Name)
		}
		for _, x := range c.Sets {
			add("fault", x.ID, x.Name)
		}
		add("fault", c.NoFault.ID, c.NoFault.Name)
		for _, x := range c.Bay.Signs {
			signs[x.See] = true
		}
		file, data, err := scenarios.ProceduresFile(c.ID)
		require.NoError(t, err)
		procs, err := dictionary.Parse(file, data)
		require.NoError(t, err)
		for _, p := range procs.List {
			add("test", p.ID, p.Name)
		}
	}
	require.Greater(t, len(list), 600)
	return list, signs
}

// Everything that ships has a name in every language, and no name is left without a thing. Where two cars call different things by one
// id, each has a name of its own.
func TestEveryNameIsThere(t *testing.T) {
	list, signs := things(t)
	for _, lang := range messages.Languages()[1:] {
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		have := map[string]bool{}
		for _, k := range msg.Names() {
			have[k] = true
		}
		used, english := map[string]bool{}, map[string]string{}
		for _, x := range list {
			key := x.car + " " + x.kind + "." + x.id
			if !have[key] {
				key = x.kind + "." + x.id
			}
			require.True(t, have[key], "%s: no name for the %s %s of %s, %q", lang, x.kind, x.id, x.car, x.text)
			used[key] = true
			if e, ok := english[key]; ok {
				require.Equal(t, e, x.text, "%s: %s needs a name of its own under cars: %s", lang, key, x.car)
			}
			english[key] = x.text
			name := msg.Name(x.car, x.kind, x.id, x.text)
			require.NotEmpty(t, strings.TrimSpace(name), key)
			require.Equal(t, strings.TrimSpace(name), name, key)
			if x.kind != "test" {
				require.NotContains(t, name, "; ", "%s: it divides readings", key)
			}
		}
		for see := range signs {
			key := "sign." + strings.ReplaceAll(see, " ", "_")
			require.True(t, have[key], "%s: no words for the sign %q", lang, see)
			used[key] = true
		}
		for k := range have {
			require.True(t, used[k], "%s: nothing is called %s any more", lang, k)
		}
	}
}

// Two things of one kind in one car are never called alike where English tells them apart.
func TestNamesTellApart(t *testing.T) {
	list, _ := things(t)
	for _, lang := range messages.Languages()[1:] {
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		english := map[string]string{}
		for _, x := range list {
			key := x.car + " " + x.kind + " " + msg.Name(x.car, x.kind, x.id, x.text)
			if e, ok := english[key]; ok {
				require.Equal(t, e, x.text, "%s: %s", lang, key)
			}
			english[key] = x.text
		}
	}
}

// A car that is somebody's own is called what its file calls it, and English is the data's.
func TestOwnCarKeepsItsNames(t *testing.T) {
	de, err := messages.Load("de")
	require.NoError(t, err)
	require.Equal(t, "Sekundärluftpumpe", de.Name("car_a", "part", "pump", "air pump"))
	require.Equal(t, "Sekundärluftpumpe mit ihrem Riemen", de.Name("car_d", "part", "pump", "air pump with its belt"))
	require.Equal(t, "blower", de.Name("my_car", "part", "pump", "blower"))
	require.Equal(t, "horn", de.Name("car_a", "part", "horn", "horn"))
	en, err := messages.Load("en")
	require.NoError(t, err)
	require.Empty(t, en.Names())
	require.Equal(t, "air pump", en.Name("car_a", "part", "pump", "air pump"))
}

// No English is left in the names of a bench, and the catalogue that was given stays English.
func TestBenchIsNamed(t *testing.T) {
	de, err := messages.Load("de")
	require.NoError(t, err)
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		l, err := bench.NewLocal(lib.Config(o, "test"))
		require.NoError(t, err)
		c := l.Catalogue()
		got := phrase.Named(de, o.Order.Car, c)
		require.Equal(t, l.Catalogue(), c)
		for i, x := range got.Places {
			require.NotEqual(t, c.Places[i].Name, x.Name)
		}
		for i, x := range got.Devices {
			require.NotEqual(t, c.Devices[i].Name, x.Name, x.ID)
		}
		for i, x := range got.Suspects {
			require.NotEqual(t, c.Suspects[i].Name, x.Name)
		}
		for i, x := range got.Hoses {
			require.NotEqual(t, c.Hoses[i].Name, x.Name)
			require.Equal(t, c.Hoses[i].PortA, x.PortA)
		}
	}
}
