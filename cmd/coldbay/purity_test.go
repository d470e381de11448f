package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// clocks are the ways in which package time reads or waits for the wall clock.
var clocks = []string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTicker", "NewTimer"}

// impure finds, in one parsed file, what would let a run depend on the moment. What a
// step runs through is held to more by cmd/samebitsvet, in the lint step.
func impure(files *token.FileSet, file *ast.File) []string {
	names := map[string]string{} // how the file calls the packages that matter
	var found []string
	for _, spec := range file.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			continue
		}
		name := path[strings.LastIndex(path, "/")+1:]
		if spec.Name != nil {
			name = spec.Name.Name
		}
		names[name] = path
		if slices.Contains([]string{"math/rand", "math/rand/v2", "crypto/rand"}, path) {
			found = append(found, files.Position(spec.Pos()).String()+": imports "+path+"; randomness is passed in")
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		call, ok := n.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		pkg, ok := call.X.(*ast.Ident)
		if !ok {
			return true
		}
		if names[pkg.Name] == "time" && slices.Contains(clocks, call.Sel.Name) {
			found = append(found, files.Position(call.Pos()).String()+": time."+call.Sel.Name+"; time is passed in")
		}
		return true
	})
	return found
}

func TestNothingBelowReadsTheMachine(t *testing.T) {
	var read int
	for _, tree := range []string{"sim", "grading", "scenarios"} {
		err := filepath.WalkDir(filepath.Join("..", "..", tree), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			files := token.NewFileSet()
			file, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			read++
			for _, f := range impure(files, file) {
				t.Error(f)
			}
			return nil
		})
		require.NoError(t, err)
	}
	require.Positive(t, read)
}

// The rules above bite.
func TestImpureFindsWhatDepends(t *testing.T) {
	const source = `package p

import (
	"math"
	mr "math/rand"
	wall "time"
)

const limit = wall.Second

func f(x float64) (float64, int, wall.Time) {
	return math.Sqrt(x) + math.Exp(x), mr.Int(), wall.Now()
}
`
	files := token.NewFileSet()
	file, err := parser.ParseFile(files, "p.go", source, parser.SkipObjectResolution)
	require.NoError(t, err)
	require.Equal(t, []string{
		"p.go:5:2: imports math/rand; randomness is passed in",
		"p.go:12:47: time.Now; time is passed in",
	}, impure(files, file))
}
