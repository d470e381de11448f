package strict_test

import (
	"strings"
	"testing"

	"coldbay/sim/car/strict"

	"github.com/stretchr/testify/require"
)

type wheel struct {
	Size  int     `yaml:"size" strict:"required"`
	Share float64 `yaml:"share"`
	On    bool    `yaml:"on"`
}

type cart struct {
	Name   string             `yaml:"name"`
	Wheels []wheel            `yaml:"wheels"`
	Load   map[string]float64 `yaml:"load"`
	Pair   [2]string          `yaml:"pair"`
	Spare  *wheel             `yaml:"spare"`
	wheelExtra
}

type wheelExtra struct{ hidden int }

func decode(text string) (cart, *strict.Doc, error) {
	var c cart
	d, err := strict.Decode("cart.yaml", []byte(text), &c)
	return c, d, err
}

func TestDecodeGood(t *testing.T) {
	c, d, err := decode("name: red\nwheels:\n  - {size: 3, share: 1e-3}\n  - {size: 4,\n     on: true}\nload: {hay: 2}\n")
	require.NoError(t, err)
	require.Equal(t, []wheel{{Size: 3, Share: 1e-3}, {Size: 4, On: true}}, c.Wheels)
	require.Equal(t, 0, c.hidden)
	require.Equal(t, 4, d.Line("wheels", 1))
	require.Equal(t, 5, d.Line("wheels", 1, "on"))
	require.Equal(t, 4, d.Line("wheels", 1, "share"), "an absent key is told at its parent")
	require.True(t, d.Has("load", "hay"))
	require.False(t, d.Has("load", "oats"))
	err = d.Errorf(strict.Path("wheels", 1, "size"), "found %d; at most 3", 4)
	require.EqualError(t, err, `cart.yaml:4: key "wheels[1].size": found 4; at most 3`)
}

func TestDecodeBad(t *testing.T) {
	bomb := "name: &a x\nload: {hay: 1}\npair: [*a, *a]\n"
	for _, c := range []struct{ name, in, want string }{
		{"unknown key", "name: x\nwheels:\n  - {sise: 3}\n", `cart.yaml:3: key "wheels[0].sise": unknown key; did you mean "size"? allowed: size, share, on`},
		{"far from any", "zebra: 1\n", `cart.yaml:1: key "zebra": unknown key; allowed: name, wheels, load, pair, spare`},
		{"twice", "name: x\nname: y\n", `cart.yaml:2: key "name": given twice (first on line 1); a key is allowed once`},
		{"alias", bomb, `cart.yaml:1: key "name": anchors (&) and aliases (*) are not allowed; write the value out`},
		{"missing", "wheels:\n  - {on: true}\n", `cart.yaml:2: key "wheels[0].size": missing; it must be given`},
		{"text for number", "wheels:\n  - {size: big}\n", `cart.yaml:2: key "wheels[0].size": found "big"; a whole number is allowed`},
		{"fraction for whole", "wheels:\n  - {size: 3.5}\n", `cart.yaml:2: key "wheels[0].size": found "3.5"; a whole number is allowed`},
		{"not a number", "load: {hay: .nan}\n", `cart.yaml:1: key "load.hay": found ".nan"; a finite number is allowed`},
		{"too big", "wheels: [{size: 99999999999999999999}]\n", `cart.yaml:1: key "wheels[0].size": found "99999999999999999999"; a whole number is allowed`},
		{"list for map", "load: [1]\n", `cart.yaml:1: key "load": found a list; a mapping of names to values is allowed`},
		{"map for list", "wheels: {size: 1}\n", `cart.yaml:1: key "wheels": found a mapping; a list is allowed`},
		{"short pair", "pair: [a]\n", `cart.yaml:1: key "pair": found a list of 1; exactly 2 entries are allowed`},
		{"nothing", "name:\n", `cart.yaml:1: key "name": found nothing after the key; text is allowed`},
		{"bool", "wheels: [{size: 1, on: perhaps}]\n", `cart.yaml:1: key "wheels[0].on": found "perhaps"; true or false is allowed`},
		{"scalar", "just text", `cart.yaml:1: found "just text"; a mapping with these keys is allowed: name, wheels, load, pair, spare`},
		{"empty", "", `cart.yaml: the file is empty`},
		{"comment only", "# nothing\n", `cart.yaml: the file is empty`},
		{"second document", "name: a\n---\nname: b\n", `cart.yaml:2: a second document begins here; one file holds one document`},
		{"tag", "name: !!binary aGk=\n", `cart.yaml:1: key "name": found the tag !!binary; tags (!) are not allowed`},
		{"merge", "load: {<<: {hay: 1}}\n", `cart.yaml:1: key "load": merge keys (<<) are not allowed; write the values out`},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, _, err := decode(c.in)
			require.EqualError(t, err, c.want)
		})
	}
}

func TestDecodeSyntaxNamesLine(t *testing.T) {
	_, _, err := decode("name: x\nwheels: [1, 2\nload: }\n")
	require.ErrorContains(t, err, "cart.yaml:")
	require.ErrorContains(t, err, "not valid YAML")
	require.NotContains(t, err.Error(), "yaml:  ")
}

func TestDecodeBounds(t *testing.T) {
	_, _, err := decode("name: " + strings.Repeat("x", strict.MaxBytes))
	require.ErrorContains(t, err, "at most 1048576 are allowed")
	_, _, err = decode("name: " + strings.Repeat("[", 60) + strings.Repeat("]", 60))
	require.ErrorContains(t, err, "nested more than 40 levels")
}

// An inline map takes the keys that no field names, and holds them to its own kind of value.
func TestOpenKeys(t *testing.T) {
	type part struct {
		ID  string             `yaml:"id"`
		Num map[string]float64 `yaml:",inline"`
	}
	var p part
	_, err := strict.Decode("p.yaml", []byte("id: x\nohm: 3\namps: 1.5\n"), &p)
	require.NoError(t, err)
	require.Equal(t, part{ID: "x", Num: map[string]float64{"ohm": 3, "amps": 1.5}}, p)
	_, err = strict.Decode("p.yaml", []byte("id: x\nohm: big\n"), &p)
	require.EqualError(t, err, `p.yaml:2: key "ohm": found "big"; a finite number is allowed`)
	_, err = strict.Decode("p.yaml", []byte("ohm: .inf\n"), &p)
	require.ErrorContains(t, err, "a finite number is allowed")
}

func TestNearest(t *testing.T) {
	ids := []string{"pump_relay", "pump_motor", "sol_coil"}
	require.Equal(t, "pump_relay", strict.Nearest("pump_realy", ids))
	require.Equal(t, "sol_coil", strict.Nearest("sol_col", ids))
	require.Empty(t, strict.Nearest("alternator", ids))
	require.Equal(t, "none is allowed here", strict.OneOf("x", nil))
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte("name: x\nwheels: [{size: 1}]\n"))
	f.Add([]byte("&a [*a]"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var c cart
		d, err := strict.Decode("f", data, &c)
		if err == nil && d == nil {
			t.Fatal("neither document nor error")
		}
		if err != nil && strings.Contains(err.Error(), "strict_test") {
			t.Fatalf("a Go type name reached the reader: %v", err)
		}
	})
}
