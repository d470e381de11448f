package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// listed is what `go list -json` tells about a package.
type listed struct {
	ImportPath string
	Standard   bool
	Imports    []string // directly, without those of its tests
	Deps       []string // all of them
	Error      *struct{ Err string }
	DepOnly    bool // only reached from the packages asked for
}

func (p listed) local() bool { return within(p.ImportPath, "coldbay") }

// within reports whether a package is the named one or below it.
func within(path string, tree ...string) bool {
	return slices.ContainsFunc(tree, func(t string) bool { return path == t || strings.HasPrefix(path, t+"/") })
}

// listPackages asks the go command, for the given system, about packages of this
// module and everything they reach.
func listPackages(t *testing.T, system []string, patterns ...string) []listed {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-e", "-deps", "-json=ImportPath,Standard,Imports,Deps,Error,DepOnly"}, patterns...)...)
	cmd.Dir = "../.."
	cmd.Env = append(os.Environ(), system...)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	var packages []listed
	for dec := json.NewDecoder(out); ; {
		var p listed
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		packages = append(packages, p)
	}
	require.NoError(t, cmd.Wait())
	return packages
}

// graphicsEngine is the module that only what is drawn may reach. Starting a
// program that reaches it fails where there is no display.
const graphicsEngine = "github.com/hajimehoshi/ebiten/v2"

// layers are the trees of this module from the bottom up. A package may import its
// own layer and those below. The deepest tree that holds a package decides, and
// "coldbay/sim" stands for what no other row names below it: the leaves, which hold
// values, formulas, bytes and the physics of one subsystem each. None of them knows
// who puts them together.
var layers = [][]string{
	{"coldbay/assets"},
	{"coldbay/sim"},
	{"coldbay/sim/car"},
	{"coldbay/sim/fault"}, // and sim itself, see layerOf
	{"coldbay/sim/bench", "coldbay/sim/trace", "coldbay/sim/cutaway"},
	{"coldbay/sim/validate"},
	{"coldbay/scenarios"},
	{"coldbay/grading"},
	{"coldbay/scenes"},
	{"coldbay/cmd"},
}

// Places in layers.
const leafLayer, worldLayer = 1, 3

// layerOf returns a package's place from the bottom, or false for one that has none.
func layerOf(path string) (int, bool) {
	if path == "coldbay/sim" {
		return worldLayer, true // wires the leaves into a world, as a car describes it
	}
	layer, deepest := 0, ""
	for i, trees := range layers {
		for _, tree := range trees {
			if within(path, tree) && len(tree) > len(deepest) {
				layer, deepest = i, tree
			}
		}
	}
	return layer, deepest != ""
}

// arrows finds what breaks the architecture in a package of this module, in words.
// The package is as the host builds it.
func arrows(p listed) []string {
	var broken []string
	breaks := func(to, why string) {
		broken = append(broken, fmt.Sprintf("%s imports %s: %s", p.ImportPath, to, why))
	}
	from, known := layerOf(p.ImportPath)
	if !known {
		return []string{p.ImportPath + " is in no layer: give its tree a place in this test"}
	}
	stepped := from == leafLayer || p.ImportPath == "coldbay/sim"
	for _, to := range p.Imports {
		if !within(to, "coldbay") {
			if stepped && (to == "C" || dotted(to)) {
				breaks(to, "what a step reaches uses the standard library and this module's own numerics")
			}
			continue
		}
		if at, _ := layerOf(to); at > from {
			breaks(to, "imports run downwards")
		}
		if within(p.ImportPath, "coldbay/scenes") && within(to, "coldbay/sim/circuit", "coldbay/sim/air",
			"coldbay/sim/engine", "coldbay/sim/exhaust", "coldbay/sim/ecm", "coldbay/grading/belief", "coldbay/grading/plan") {
			breaks(to, "a scene draws; it computes neither physics nor grades")
		}
	}
	if !within(p.ImportPath, "coldbay/scenes", "coldbay/cmd/bay") {
		for _, to := range p.Deps {
			if within(to, graphicsEngine) || within(to, "coldbay/scenes", "coldbay/cmd/bay") {
				breaks(to, "only scenes and cmd/bay may reach the graphics engine (this may be through another package)")
			}
		}
	}
	return broken
}

// dotted tells a package from outside: its path starts with a host's name.
func dotted(path string) bool {
	first, _, _ := strings.Cut(path, "/")
	return strings.Contains(first, ".")
}

// heavy lists what must stay out of the browser's download; style and measured
// sizes are in DEVELOPERS.md.
var heavy = []string{"net/http", "html/template", "gonum.org"}

func TestImportsRunDownwards(t *testing.T) {
	var ours int
	for _, p := range listPackages(t, []string{"CGO_ENABLED=1"}, "./...") {
		if p.DepOnly || !p.local() {
			continue
		}
		ours++
		for _, broken := range arrows(p) {
			t.Error(broken)
		}
	}
	require.Positive(t, ours)
}

func TestBrowserBayStaysLight(t *testing.T) {
	for _, p := range listPackages(t, []string{"GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0"}, "./scenes/...", "./cmd/bay/...") {
		if within(p.ImportPath, heavy...) {
			t.Errorf("the browser bay reaches %s", p.ImportPath)
		}
		if p.local() && p.Error != nil {
			t.Errorf("%s is not fit for the browser: %s", p.ImportPath, p.Error.Err)
		}
	}
}

// The rules above bite: each row is a package that breaks one.
func TestArrowsFindWhatIsBroken(t *testing.T) {
	tests := []struct {
		name string
		p    listed
		want string // "" for nothing broken
	}{
		{"leaf on leaf", listed{ImportPath: "coldbay/sim/exhaust", Imports: []string{"coldbay/sim/dmath", "math"}}, ""},
		{"leaf on sim", listed{ImportPath: "coldbay/sim/circuit", Imports: []string{"coldbay/sim"}}, "downwards"},
		{"leaf on library", listed{ImportPath: "coldbay/sim/air", Imports: []string{"gonum.org/v1/gonum/mat"}}, "standard library"},
		{"sim on library", listed{ImportPath: "coldbay/sim", Imports: []string{"gopkg.in/yaml.v3"}}, "standard library"},
		{"car on library", listed{ImportPath: "coldbay/sim/car", Imports: []string{"gopkg.in/yaml.v3", "coldbay/sim/units"}}, ""},
		{"car on sim", listed{ImportPath: "coldbay/sim/car", Imports: []string{"coldbay/sim"}}, "downwards"},
		{"sim on bench", listed{ImportPath: "coldbay/sim", Imports: []string{"coldbay/sim/bench"}}, "downwards"},
		{"leaf on car", listed{ImportPath: "coldbay/sim/ecm", Imports: []string{"coldbay/sim/car"}}, "downwards"},
		{"leaf on cgo", listed{ImportPath: "coldbay/sim/ecm", Imports: []string{"C"}}, "standard library"},
		{"assets on sim", listed{ImportPath: "coldbay/assets/messages", Imports: []string{"coldbay/sim/units"}}, "downwards"},
		{"new tree", listed{ImportPath: "coldbay/misc"}, "no layer"},
		{"car on bench", listed{ImportPath: "coldbay/sim/car", Imports: []string{"coldbay/sim/bench"}}, "downwards"},
		{"bench on scenarios", listed{ImportPath: "coldbay/sim/bench", Imports: []string{"coldbay/scenarios"}}, "downwards"},
		{"scenarios on grading", listed{ImportPath: "coldbay/scenarios", Imports: []string{"coldbay/grading/score"}}, "downwards"},
		{"grading on scenarios", listed{ImportPath: "coldbay/grading/score", Imports: []string{"coldbay/scenarios"}}, ""},
		{"grading on scenes", listed{ImportPath: "coldbay/grading/score", Imports: []string{"coldbay/scenes/ui"}}, "downwards"},
		{"sim reaching the engine", listed{ImportPath: "coldbay/sim/car", Deps: []string{graphicsEngine + "/vector"}}, "only scenes"},
		{"command line reaching the engine", listed{ImportPath: "coldbay/cmd/coldbay", Deps: []string{graphicsEngine}}, "only scenes"},
		{"scene reaching the engine", listed{ImportPath: "coldbay/scenes/bay", Deps: []string{graphicsEngine}}, ""},
		{"scene computing air", listed{ImportPath: "coldbay/scenes/bay", Imports: []string{"coldbay/sim/air"}}, "draws"},
		{"scene on bench", listed{ImportPath: "coldbay/scenes/bay", Imports: []string{"coldbay/sim/bench"}}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			broken := strings.Join(arrows(tt.p), "\n")
			if tt.want == "" {
				require.Empty(t, broken)
				return
			}
			require.Contains(t, broken, tt.want)
		})
	}
}
