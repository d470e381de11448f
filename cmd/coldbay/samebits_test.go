package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"coldbay/cmd/samebitsvet/samebits"

	"github.com/stretchr/testify/require"
)

// The analyser looks at what the architecture says that a step runs through: the leaves and the package that wires them.
func TestAnalyserKnowsTheLayers(t *testing.T) {
	for _, p := range listPackages(t, []string{"CGO_ENABLED=0"}, "./sim/...", "./grading/...", "./scenarios/...", "./assets/...", "./cmd/...") {
		if p.DepOnly || !p.local() {
			continue
		}
		layer, _ := layerOf(p.ImportPath)
		require.Equal(t, layer == leafLayer || p.ImportPath == "coldbay/sim", samebits.Stepped(p.ImportPath), p.ImportPath)
	}
}

// fusing are the instructions of arm64 that round a product and a sum once.
var fusing = regexp.MustCompile(`(?m)^.*\t(FN?M(?:ADD|SUB)[SD])\t.*$`)

// assembled is what the compiler makes of packages of a module for arm64.
func assembled(t *testing.T, dir, match string, packages ...string) string {
	t.Helper()
	cmd := exec.Command("go", append([]string{"build", "-gcflags=" + match + "=-S"}, packages...)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOARCH=arm64", "GOOS=linux", "CGO_ENABLED=0", "GOFLAGS=-buildvcs=false")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out[max(0, len(out)-2000):]))
	return string(out)
}

// What the analyser says of the source holds of the machine's code: the compiler, which inlines and moves things about as it likes, fuses
// no product in what a step runs through, for an architecture on which it would.
func TestCompilerFusesNothing(t *testing.T) {
	var stepped []string
	for _, p := range listPackages(t, []string{"CGO_ENABLED=0"}, "./sim/...") {
		if !p.DepOnly && samebits.Stepped(p.ImportPath) {
			stepped = append(stepped, p.ImportPath)
		}
	}
	code := assembled(t, "../..", "coldbay/sim/...", stepped...)
	require.Contains(t, code, "\tFMULD\t", "the listing has products")
	for _, line := range fusing.FindAllString(code, 5) {
		t.Error(strings.TrimSpace(line))
	}

	dir := t.TempDir()
	for name, text := range map[string]string{
		"go.mod": "module fused\n\ngo 1.26\n",
		"p.go":   "package fused\n\nfunc square(x float64) float64 { return x * x }\n\nfunc Sum(x, y float64) float64 { return square(x) - y }\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	require.Regexp(t, fusing, assembled(t, dir, "fused", "."), "the listing shows what is fused, also across a call")
}
