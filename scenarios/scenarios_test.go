package scenarios_test

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"coldbay/scenarios"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

func builtin(t testing.TB) *scenarios.Library {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	return lib
}

func TestBuiltin(t *testing.T) {
	lib := builtin(t)
	require.Contains(t, lib.CarIDs(), "car_a")
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		require.Equal(t, id, o.Order.ID)
		data, err := os.ReadFile(o.File)
		require.NoError(t, err)
		sum := sha256.Sum256(data)
		require.Equal(t, hex.EncodeToString(sum[:]), o.Digest, "a digest is that of the file's bytes")
		require.Contains(t, o.Order.Customer, "(invented)")
		require.Contains(t, strings.Join(o.Order.Cautions, " "), "Local rules")
		cfg := lib.Config(o, "9.9")
		require.Equal(t, "9.9", cfg.Header().Program)
		require.NotEmpty(t, cfg.Header().CarDigest)
		s, err := bench.NewLocal(cfg)
		require.NoError(t, err)
		shares := 0
		for _, c := range s.Catalogue().Suspects {
			shares += c.Share
		}
		// Rounded, and none under 1.
		require.InDelta(t, 100, shares, max(8, float64(len(s.Catalogue().Suspects))/8))
	}
	_, err := lib.Load("cold_whispr")
	require.ErrorContains(t, err, `there is no order "cold_whispr"; did you mean "cold_whisper"? allowed: burnt_hose, cold_whisper, half_a_breath, left_bank, `)
	_, err = lib.Car("car_z")
	require.ErrorContains(t, err, `there is no car "car_z"`)
}

// Each fault in an order file is one error with file, line, key and what is allowed.
func TestBadOrders(t *testing.T) {
	lib := builtin(t)
	good, err := os.ReadFile("orders/cold_whisper.yaml")
	require.NoError(t, err)
	_, err = lib.ParseOrder("o.yaml", good)
	require.NoError(t, err)
	_, rest, _ := strings.Cut(string(good), "suspects: ")
	list, _, _ := strings.Cut(rest, "]")
	board := "suspects: " + list + "]\n"
	for _, c := range []struct{ name, old, new, want string }{
		{"wet", "do: cold_start, times: 2", "do: cold_start, wet: true", `key "history[0].wet": only "wear" takes wet`},
		{"worn for ever", "do: drive, minutes: 3", "do: wear, hours: 9000", `key "history[1].hours": found 9000; allowed are 0.1 to 2000`},
		{"format", "coldbay-order/1", "coldbay-order/2", `o.yaml:2: key "format": found "coldbay-order/2"; allowed is "coldbay-order/1"`},
		{"id", "id: cold_whisper", "id: Cold Whisper", `o.yaml:3: key "id": found "Cold Whisper"; an id is made of`},
		{"car", "car: car_a", "car: car_x", `key "car": found "car_x"; did you mean "car_a"? allowed: `},
		{"unknown key", "minutes: 60", "minuets: 60", `key "minuets": unknown key; did you mean "minutes"? allowed: format, id,`},
		{"missing key", "minutes: 60\n", "", `key "minutes": missing; it must be given`},
		{"minutes", "minutes: 60", "minutes: 0", `key "minutes": found 0; allowed are 1 to 600`},
		{"weather", "ambient_c: 20", "ambient_c: 200", `key "conditions.ambient_c": found 200; allowed are -40 to 50`},
		{"height", "altitude_m: 0", "altitude_m: -5", `key "conditions.altitude_m": found -5; allowed are 0 to 3000`},
		{"event", "do: drive", "do: drvie", `key "history[1].do": found "drvie"; did you mean "drive"? allowed: cold_start, drive, key_on, erase, repair, wait`},
		{"times", "times: 2", "times: 99", `key "history[0].times": found 99; allowed are 1 to 20`},
		{"minutes of a start", "times: 2", "minutes: 2", `key "history[0].minutes": only "drive" takes minutes`},
		{"drive without minutes", ", minutes: 3", "", `key "history[1].minutes": found 0; allowed are 0.5 to 60`},
		{"repair of nothing", "do: drive, minutes: 3", "do: repair", `key "history[1].unit": found ""; allowed: line_manifold,`},
		{"told with times", "do: cold_start, times: 2", "times: 2", `key "history[0]": an event that is only told takes no times`},
		{"fault", "fault: valve_line_split", "fault: valve_line_spilt", `key "truth.fault": found "valve_line_spilt"; did you mean "valve_line_split"? allowed: supply_line_off,`},
		{"severity", "severity: 0.9", "severity: 1.5", `key "truth.severity": found 1.5; allowed is more than 0 and at most 1`},
		{"no severity", "severity: 0.9", "severity: 0", `key "truth.severity": found 0; allowed is more than 0`},
		{"severity of nothing", "fault: valve_line_split", "fault: no_fault_found", `key "truth.severity": "no_fault_found" has no severity`},
		{"board", "supply_line_off, valve_line_split, lines_swapped", "supply_line_off, lines_swapped", `key "truth.fault": "valve_line_split" is not among the order's suspects`},
		{"short board", board, "suspects: [valve_line_split]\n", `key "suspects": found one; a board needs two at least`},
		{"board twice", "supply_line_off, valve_line_split, lines", "valve_line_split, valve_line_split, lines", `key "suspects[1]": "valve_line_split" stands in the list twice`},
		{"shift", "suspect: supply_line_off", "suspect: ghost", `key "shifts[1].suspect": found "ghost"; allowed: `},
		{"shift size", "times: 1.2", "times: -1", `key "shifts[1].times": found -1; allowed are 0.01 to 100`},
		{"tool", "truth:", "withheld: [scanner]\ntruth:", `key "withheld[0]": found "scanner"; allowed: meter, clamp, lamp, jumper, handpump, blow, scan, helper`},
		{"draw", "draw: 11", "draw: -1", `key "truth.draw": found "-1"; a whole number from 0 is allowed`},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.Contains(t, string(good), c.old)
			o, err := lib.ParseOrder("o.yaml", []byte(strings.Replace(string(good), c.old, c.new, 1)))
			require.Nil(t, o)
			require.ErrorContains(t, err, c.want)
			require.Regexp(t, `^o\.yaml:\d+: key "`, err.Error())
		})
	}
	_, err = lib.ParseOrder("o.yaml", []byte(strings.SplitAfter(string(good), "cautions:")[0]+" []\n"))
	require.ErrorContains(t, err, "every order opens with the cautions")
}

func TestBadTariff(t *testing.T) {
	good, err := os.ReadFile("tariff.yaml")
	require.NoError(t, err)
	for _, c := range []struct{ old, new, want string }{
		{"coldbay-tariff/1", "x", `t.yaml:3: key "format": found "x"; allowed is "coldbay-tariff/1"`},
		{"look: 15", "look: -1", `key "seconds.look": found -1; allowed are 0 to 7200`},
		{"look: 15", "loook: 15", `key "seconds.loook": unknown key; did you mean "look"?`},
		{"night_hours: 12", "night_hours: 100", `key "prices.night_hours": found 100; allowed are 1 to 48`},
		{"crank_max: 5", "crank_max: 0", `key "seconds.crank_max": found 0; allowed are 1 to 30`},
		{"meter_fuse_cents: 600", "meter_fuse_cents: 6.5", `key "prices.meter_fuse_cents": found "6.5"; a whole number is allowed`},
	} {
		require.Contains(t, string(good), c.old)
		_, err := scenarios.ParseTariff("t.yaml", []byte(strings.Replace(string(good), c.old, c.new, 1)))
		require.ErrorContains(t, err, c.want)
	}
}

// A folder of a school's own: all of it is good, or nothing is loaded.
func TestOpen(t *testing.T) {
	file := func(name string) *fstest.MapFile {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		return &fstest.MapFile{Data: data}
	}
	fsys := fstest.MapFS{"tariff.yaml": file("tariff.yaml"), "cars/a.yaml": file("cars/car_a.yaml"), "orders/o.yaml": file("orders/quiet_pump.yaml")}
	lib, err := scenarios.Open(fsys)
	require.NoError(t, err)
	require.Equal(t, []string{"quiet_pump"}, lib.OrderIDs())

	fsys["orders/p.yaml"] = file("orders/quiet_pump.yaml")
	_, err = scenarios.Open(fsys)
	require.EqualError(t, err, `orders/p.yaml: key "id": found "quiet_pump", which orders/o.yaml has already`)
	delete(fsys, "orders/p.yaml")

	fsys["cars/b.yaml"] = file("cars/car_a.yaml")
	_, err = scenarios.Open(fsys)
	require.EqualError(t, err, `cars/b.yaml: key "id": found "car_a", which cars/a.yaml has already`)
	fsys["cars/b.yaml"] = &fstest.MapFile{Data: []byte("format: coldbay-car/1\nbayy: 1\n")}
	_, err = scenarios.Open(fsys)
	require.ErrorContains(t, err, `cars/b.yaml:2: key "bayy": unknown key`)
	delete(fsys, "cars/b.yaml")

	delete(fsys, "tariff.yaml")
	_, err = scenarios.Open(fsys)
	require.Error(t, err)
}

func TestLoadFiles(t *testing.T) {
	lib := builtin(t)
	o, err := lib.LoadFile("orders/quiet_pump.yaml")
	require.NoError(t, err)
	require.Equal(t, "quiet_pump", o.Order.ID)
	_, err = lib.LoadFile("orders/none.yaml")
	require.ErrorIs(t, err, os.ErrNotExist)
	big := filepath.Join(t.TempDir(), "big.yaml")
	require.NoError(t, os.WriteFile(big, make([]byte, 2<<20), 0o600))
	_, err = lib.LoadFile(big)
	require.ErrorContains(t, err, "at most 1048576 are allowed")

	data, err := os.ReadFile("cars/car_a.yaml")
	require.NoError(t, err)
	mine := filepath.Join(t.TempDir(), "mine.yaml")
	require.NoError(t, os.WriteFile(mine, []byte(strings.Replace(string(data), "id: car_a", "id: car_m", 1)), 0o600))
	more, c, err := lib.LoadCarFile(mine)
	require.NoError(t, err)
	require.Equal(t, "car_m", c.Car.ID)
	require.Contains(t, more.CarIDs(), "car_m")
	require.NotContains(t, lib.CarIDs(), "car_m")
}

func FuzzParseOrder(f *testing.F) {
	lib := builtin(f)
	data, err := os.ReadFile("orders/cold_whisper.yaml")
	require.NoError(f, err)
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		o, err := lib.ParseOrder("f", data)
		if (o == nil) == (err == nil) {
			t.Fatal("an order or an error, not both and not neither")
		}
	})
}
