package score

import (
	"context"
	"flag"
	"os"
	"testing"

	"coldbay/grading/dictionary"
	"coldbay/scenarios"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the candidates for practice again")

// The candidates that are shipped are those that the shipped dictionaries give. -update writes them; so does coldbay check --write.
func TestShippedCandidates(t *testing.T) {
	ctx := context.Background()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	var file []byte
	for _, id := range lib.OrderIDs() {
		o, err := lib.Load(id)
		require.NoError(t, err)
		cfg, procs, err := frame(lib, o, "")
		require.NoError(t, err)
		name, packed, err := scenarios.DictionaryFile(id)
		require.NoError(t, err)
		d, err := dictionary.Unpack(name, packed, dictionary.Name(cfg.Config, procs.Source()))
		require.NoError(t, err)
		file, err = Reckon(ctx, file, id, d, packed, procs)
		require.NoError(t, err)
	}
	if *update {
		require.NoError(t, os.WriteFile("../../scenarios/dictionaries/practise.json", file, 0o644))
		return
	}
	_, shipped, err := scenarios.PractiseFile()
	require.NoError(t, err)
	require.Equal(t, string(shipped), string(file), "not what the dictionaries give today: go test ./grading/score -run ShippedCandidates -update")
	list, err := Candidates(ctx, lib)
	require.NoError(t, err)
	require.Len(t, list, len(lib.OrderIDs()))
	for i, c := range list {
		require.Equal(t, lib.OrderIDs()[i], c.Order)
		require.NotEmpty(t, c.Title)
		require.Positive(t, c.Minutes)
	}
}

// A file that was made from other dictionaries is not believed: the candidate is reckoned again.
func TestStaleCandidatesAreReckonedAgain(t *testing.T) {
	list, err := parseCandidates("x", []byte(`[{"Order":"quiet_pump","Minutes":1,"Kinds":{},"Dictionary":"other"}]`))
	require.NoError(t, err)
	_, packed, err := scenarios.DictionaryFile("quiet_pump")
	require.NoError(t, err)
	require.NotEqual(t, digest(packed), list[0].Dictionary)
	_, err = parseCandidates("x", []byte(`{`))
	require.ErrorContains(t, err, "x: ")
}
