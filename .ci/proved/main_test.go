package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"coldbay/sim"
)

const root = "../.."

// The page has to be of this model and of the fuzz targets that there are, with nothing failed; otherwise `make prove` is due.
func TestPageIsFresh(t *testing.T) {
	if os.Getenv("COLDBAY_PROVE") != "" {
		t.Skip("make prove is about to write the page")
	}
	raw, err := os.ReadFile(filepath.Join(root, "testdata", "PROVE.md"))
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("make prove has not been run whole on this tree")
	}
	require.NoError(t, err)
	text := string(raw)
	require.Contains(t, text, fmt.Sprintf("\n- model %d, ", sim.ModelVersion), "the model has changed since: run make prove")
	for _, stage := range stages {
		row := regexp.MustCompile(`(?m)^\| ` + stage.name + ` \| .* \| (\d+) \| (\d+) \| (\d+) \| \d+ \|$`).FindStringSubmatch(text)
		require.NotNil(t, row, stage.name)
		require.NotEqual(t, "0", row[1], stage.name)
		require.Equal(t, "0", row[2], stage.name)
	}
	targets, told := 0, regexp.MustCompile(`(?m)^\| coldbay/(\S+) \| (Fuzz\w+) \| \S+ \| [1-9]\d* \|$`).FindAllStringSubmatch(text, -1)
	declared := regexp.MustCompile(`(?m)^func (Fuzz\w+)\(`)
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		pkg, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			return err
		}
		for _, m := range declared.FindAllStringSubmatch(string(src), -1) {
			targets++
			require.Contains(t, text, fmt.Sprintf("| coldbay/%s | %s |", filepath.ToSlash(pkg), m[1]), "run make prove")
		}
		return nil
	})
	require.NoError(t, err)
	require.Len(t, told, targets)
}

func TestPageTellsEveryStage(t *testing.T) {
	dir := t.TempDir()
	_, err := page(dir, time.Time{})
	require.ErrorContains(t, err, "stage long left nothing")
	for i, stage := range stages {
		text := fmt.Sprintf(`{"Passed":%d,"Failed":0,"Skipped":1,"Seconds":1.4,"Skips":["p TestAway: no browser here"]}`, 7+i)
		require.NoError(t, os.WriteFile(filepath.Join(dir, stage.name+".json"), []byte(text), 0o644))
	}
	require.NoError(t, os.WriteFile(filepath.Join(dir, "fuzz.txt"), []byte("coldbay/sim FuzzWorld 60s 812\n"), 0o644))
	text, err := page(dir, time.Time{})
	require.NoError(t, err)
	require.Contains(t, text, "with the race detector | 8 | 0 | 1 | 1 |\n")
	require.Contains(t, text, "- screen: p TestAway: no browser here\n")
	require.Contains(t, text, "| coldbay/sim | FuzzWorld | 60s | 812 |\n")
}
