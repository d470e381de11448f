package scenarios_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios"
)

func keep(t *testing.T, dir, name, text string) string {
	t.Helper()
	file := filepath.Join(dir, name)
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	return file
}

func start(t *testing.T, kind string) string {
	t.Helper()
	data, err := scenarios.StartFile(kind)
	require.NoError(t, err)
	require.Contains(t, string(data), "# ", "a starting file has its comments")
	return string(data)
}

// A school's folder gives its own times, rubric and orders; what was built for the program's tariff holds no more, and the library that it
// was made from is left as it was.
func TestSchool(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	good := func(string, []byte) error { return nil }
	dir := t.TempDir()
	tariff := start(t, "tariff")
	file := keep(t, dir, "tariff.yaml", tariff)
	same, err := lib.WithTariff(file)
	require.NoError(t, err)
	require.Nil(t, same.OwnTariff(), "the program's own, word for word")

	keep(t, dir, "tariff.yaml", strings.Replace(tariff, "look: 15 ", "look: 16 ", 1))
	keep(t, dir, "rubric.yaml", start(t, "rubric")+"# ours\n")
	order, err := os.ReadFile("orders/cold_whisper.yaml")
	require.NoError(t, err)
	keep(t, dir, "orders/a.yaml", strings.Replace(string(order), "id: cold_whisper", "id: our_own", 1))
	keep(t, dir, "notes.txt", "anything")
	own, err := lib.WithSchool(dir, good)
	require.NoError(t, err)
	require.EqualValues(t, 16, own.Tariff().Seconds.Look)
	require.EqualValues(t, 15, lib.Tariff().Seconds.Look)
	o, err := own.Load("our_own")
	require.NoError(t, err)
	_, err = lib.Load("our_own")
	require.Error(t, err)
	cfg := own.Config(o, "test")
	require.Equal(t, own.OwnTariff().Digest, cfg.TariffDigest)
	require.Equal(t, own.OwnRubric().Digest, cfg.RubricDigest)
	require.NotEqual(t, cfg.TariffDigest, cfg.RubricDigest)
	_, data, err := own.Rubric()
	require.NoError(t, err)
	require.Contains(t, string(data), "# ours")
	shipped, err := own.Load("cold_whisper")
	require.NoError(t, err)
	require.True(t, lib.Shipped(shipped))
	require.False(t, own.Shipped(shipped))
	require.Empty(t, lib.Config(shipped, "test").TariffDigest)
}

// A slip in a school's folder is refused with file and key, and nothing is half taken.
func TestSchoolRefused(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	bad := errors.New("a bad rubric")
	for name, x := range map[string]struct{ file, text, says string }{
		"nothing there":  {"notes.txt", "", "here is none of them"},
		"misspelt":       {"rubrik.yaml", "", "this is none of them"},
		"unknown key":    {"tariff.yaml", strings.Replace(start(t, "tariff"), "look: 15", "lok: 15", 1), `tariff.yaml:5: key "seconds.lok"`},
		"out of bounds":  {"tariff.yaml", strings.Replace(start(t, "tariff"), "look: 15", "look: -1", 1), `tariff.yaml:5: key "seconds.look"`},
		"a bad rubric":   {"rubric.yaml", start(t, "rubric"), "a bad rubric"},
		"a broken order": {"orders/x.yaml", "id: x\n", "x.yaml"},
	} {
		dir := t.TempDir()
		keep(t, dir, x.file, x.text)
		_, err := lib.WithSchool(dir, func(string, []byte) error { return bad })
		require.ErrorContains(t, err, x.says, name)
	}
}
