// Command proved writes the page of `make prove` from what its stages left in a directory: a JSON object of counts from testlines for
// each run of tests, and one line for each fuzz target.
//
//	go run ./.ci/proved bin/prove testdata/PROVE.md
//
// TestPageIsFresh holds the page against the source as it stands.
package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"coldbay/sim"
)

// stages are the runs of tests of the long campaign, in the order of the Makefile.
var stages = []struct{ name, about string }{
	{"long", "everything without a display, every test in its long form, in random order"},
	{"race", "everything that runs things side by side, in its daily form, with the race detector"},
	{"arm64", "the same bits on arm64, emulated, as recorded on amd64"},
	{"screen", "everything with a screen, in random order"},
}

type counts struct {
	Passed, Failed, Skipped int
	Seconds                 float64
	Skips                   []string
}

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "proved: wants the directory that make prove filled, and the page to write")
		os.Exit(2)
	}
	text, err := page(os.Args[1], time.Now())
	if err == nil {
		err = os.WriteFile(os.Args[2], []byte(text), 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "proved:", err)
		os.Exit(1)
	}
}

func page(dir string, now time.Time) (string, error) {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	p("# The long campaign")
	p("")
	p("Written by `make prove`; not edited. The pages that the long forms of the tests hold fresh are `VALIDATION.md`, `plan/COMPARISON.md`,")
	p("`ladder/RESULT.md` and `ladder/WHOLE_BOARD.md`. Seconds are those of one machine on one day and promise nothing.")
	p("")
	commit, err := exec.Command("git", "rev-parse", "--short=12", "HEAD").Output()
	if err != nil {
		commit = []byte("not known")
	}
	p("- run on %s at commit %s", now.UTC().Format(time.DateOnly), strings.TrimSpace(string(commit)))
	p("- model %d, %s, %s/%s, %d processors", sim.ModelVersion, runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU())
	p("")
	p("| stage | what | passed | failed | skipped | seconds |")
	p("| --- | --- | --- | --- | --- | --- |")
	var skips []string
	for _, stage := range stages {
		raw, err := os.ReadFile(filepath.Join(dir, stage.name+".json"))
		if err != nil {
			return "", fmt.Errorf("stage %s left nothing: %w", stage.name, err)
		}
		var c counts
		if err := json.Unmarshal(raw, &c); err != nil {
			return "", fmt.Errorf("stage %s: %w", stage.name, err)
		}
		p("| %s | %s | %d | %d | %d | %.0f |", stage.name, stage.about, c.Passed, c.Failed, c.Skipped, c.Seconds)
		for _, s := range c.Skips {
			skips = append(skips, stage.name+": "+s)
		}
	}
	p("")
	p("Skipped:")
	p("")
	for _, s := range skips {
		p("- %s", s)
	}
	if len(skips) == 0 {
		p("- nothing")
	}
	p("")
	p("| package | fuzz target | time | executions |")
	p("| --- | --- | --- | --- |")
	raw, err := os.ReadFile(filepath.Join(dir, "fuzz.txt"))
	if err != nil {
		return "", fmt.Errorf("stage fuzz left nothing: %w", err)
	}
	for line := range strings.Lines(string(raw)) {
		p("| %s |", strings.Join(strings.Fields(line), " | "))
	}
	return b.String(), nil
}
