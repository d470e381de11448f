package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A school sets its own rubric and times: an attempt is marked by what is named, which its debrief says, one that was played with other times
// is refused with what to do, and the starting files are good as they are written and never overwrite another.
func TestSchoolsOwnFiles(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	run := func(code int, args ...string) (out, errs string) {
		t.Helper()
		var o, e strings.Builder
		p := &Program{Stdin: strings.NewReader(""), Stdout: &o, Stderr: &e}
		require.Equal(t, code, p.Run(t.Context(), args), "%s%s", o.String(), e.String())
		return o.String(), e.String()
	}
	for _, kind := range []string{"rubric", "tariff"} {
		run(exitOK, "new", kind, at(kind+".yaml"))
		_, errs := run(exitFail, "new", kind, at(kind+".yaml"))
		require.Contains(t, errs, "exists")
	}
	change := func(name, old, now string) {
		t.Helper()
		data, err := os.ReadFile(at(name))
		require.NoError(t, err)
		require.Contains(t, string(data), old)
		require.NoError(t, os.WriteFile(at(name), []byte(strings.Replace(string(data), old, now, 1)), 0o644))
	}
	require.NoError(t, os.WriteFile(at("script"), []byte("look valve bend\nfinish supply_line_off\n"), 0o644))
	run(exitOK, "play", "cold_whisper", "--script", at("script"), "--log", at("log"), "--no-debrief", "--rubric", at("rubric.yaml"), "--tariff", at("tariff.yaml"))

	change("rubric.yaml", "pass: 60", "pass: 61")
	out, _ := run(exitOK, "grade", at("log"), "--rubric", at("rubric.yaml"))
	require.Contains(t, out, "a school's own rubric")
	require.Contains(t, out, "another rubric than the one it was played under")
	change("rubric.yaml", "pass: 61", "pass: 161")
	_, errs := run(exitFail, "grade", at("log"), "--rubric", at("rubric.yaml"))
	require.Contains(t, errs, `rubric.yaml:3: key "pass"`)

	change("tariff.yaml", "look: 15 ", "look: 25 ")
	_, errs = run(exitFail, "grade", at("log"), "--tariff", at("tariff.yaml"))
	require.Contains(t, errs, "the program's own times and prices")
	require.Contains(t, errs, "hint: --tariff FILE")
	run(exitOK, "play", "cold_whisper", "--script", at("script"), "--log", at("log2"), "--no-debrief", "--tariff", at("tariff.yaml"))
	log, err := os.ReadFile(at("log2"))
	require.NoError(t, err)
	require.Contains(t, string(log), `"tariff_digest"`)
	require.Contains(t, string(log), `"seconds":`)
	_, errs = run(exitUsage, "check", "--write", dir, "--tariff", at("tariff.yaml"))
	require.Contains(t, errs, "--write")
}
