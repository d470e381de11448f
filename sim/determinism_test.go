//go:build !js

package sim

import (
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// stepped are the packages that a step runs through, each after those that it imports.
var stepped = []string{"dmath", "units", "sparse", "circuit", "air", "engine", "exhaust", "scan", "ecm", "car/strict", "car", "fault", ""}

// A step gives the same bits on every architecture. Go may join a product and a sum into one rounding (specification, "Floating-point
// operators"), which arm64 does and amd64 does not, unless the product is converted first; and the order of a map differs from run to run.
func TestStepIsWrittenForTheSameBits(t *testing.T) {
	l := loader{files: token.NewFileSet(), done: map[string]*types.Package{}}
	l.library = importer.ForCompiler(l.files, "source", nil)
	products := 0
	for _, dir := range stepped {
		if dir == "car/strict" {
			continue // reads files, computes nothing
		}
		found, n := l.check(t, dir)
		products += n
		for _, f := range found {
			t.Error(f)
		}
	}
	require.Greater(t, products, 300, "the check must have seen the step's arithmetic")
	for _, p := range l.imports {
		if dir, ours := strings.CutPrefix(p, "coldbay/sim/"); ours {
			require.Contains(t, stepped, dir, "a step reaches it, so it belongs on the list")
		}
	}
}

// The rules bite.
func TestFusibleProductsAreFound(t *testing.T) {
	const source = `package p

import "math"

const two = 2.0

func f(a, b, c float64, m map[int]float64, k int) float64 {
	c += a * b
	c -= float64(a * b)
	x := a*b + c
	x = c - (a * b)
	x = a*b/c + a/b*c
	x = -(a * b) - c
	x = two*3 + c + float64(k*k)
	x = a * (b + c) * math.FMA(a, b, c)
	for _, v := range m {
		x += v
	}
	return x
}
`
	l := loader{files: token.NewFileSet(), library: importer.ForCompiler(token.NewFileSet(), "source", nil)}
	file, err := parser.ParseFile(l.files, "p.go", source, parser.SkipObjectResolution)
	require.NoError(t, err)
	info, _, err := l.typed("p", []*ast.File{file})
	require.NoError(t, err)
	found, products := uneven(l.files, info, file)
	lines := []string{}
	for _, f := range found {
		lines = append(lines, strings.Split(f, ":")[1])
	}
	require.Equal(t, []string{"8", "10", "11", "12", "13", "15", "16"}, lines, strings.Join(found, "\n"))
	require.Greater(t, products, 8)
}

// The rule above reads one expression at a time; that nothing joins across statements or calls is read off the compiled code.
func TestNoFusedInstructionIsCompiled(t *testing.T) {
	if testing.Short() {
		t.Skip("skipped in short tests: compiles for another architecture")
	}
	cmd := exec.Command("go", "build", "-gcflags=coldbay/sim/...=-S", ".")
	cmd.Env = append(os.Environ(), "GOOS=linux", "GOARCH=arm64", "CGO_ENABLED=0")
	out, err := cmd.CombinedOutput()
	text := string(out)
	require.NoError(t, err, text[:min(len(text), 2000)])
	require.Regexp(t, `FMULD\s`, text, "the listing must hold the step's arithmetic")
	fused := regexp.MustCompile(`\((\S+\.go:\d+)\)\s+(FN?M(?:ADD|SUB)[DS])\s`)
	seen := map[string]bool{}
	for _, m := range fused.FindAllStringSubmatch(text, -1) {
		at := m[1]
		for _, dir := range []string{"sim/bench/", "sim/scan/", "sim/car/"} {
			if strings.Contains(at, dir) {
				at = "" // not reached by a step
			}
		}
		if at != "" && !seen[at] && strings.Contains(at, "/sim/") {
			seen[at] = true
			t.Errorf("%s: compiled to %s", at[strings.Index(at, "/sim/")+1:], m[2])
		}
	}
}

// loader type-checks the packages of this tree without the help of a build.
type loader struct {
	files   *token.FileSet
	library types.Importer
	done    map[string]*types.Package
	imports []string
}

// Import gives a package that was checked before, or one of the standard library.
func (l *loader) Import(path string) (*types.Package, error) {
	l.imports = append(l.imports, path)
	if p, ok := l.done[path]; ok {
		return p, nil
	}
	if strings.HasPrefix(path, "coldbay/") || strings.Contains(path, ".") {
		return types.NewPackage(path, filepath.Base(path)), nil // what it declares is of no interest here
	}
	return l.library.Import(path)
}

func (l *loader) typed(path string, files []*ast.File) (*types.Info, *types.Package, error) {
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	conf := types.Config{Importer: l, Error: func(error) {}}
	pkg, err := conf.Check(path, l.files, files, info)
	return info, pkg, err
}

func (l *loader) check(t *testing.T, dir string) (found []string, products int) {
	names, err := filepath.Glob(filepath.Join(dir, "*.go"))
	require.NoError(t, err)
	var files []*ast.File
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(l.files, name, nil, parser.SkipObjectResolution)
		require.NoError(t, err)
		files = append(files, f)
	}
	require.NotEmpty(t, files, dir)
	path := strings.TrimSuffix("coldbay/sim/"+dir, "/")
	info, pkg, err := l.typed(path, files)
	if dir != "car" { // its reader of files is not loaded
		require.NoError(t, err)
	}
	l.done[path] = pkg
	for _, f := range files {
		more, n := uneven(l.files, info, f)
		found, products = append(found, more...), products+n
	}
	return found, products
}

// uneven lists, in the order of the file, what may differ between architectures or runs, and counts floating-point products.
func uneven(files *token.FileSet, info *types.Info, file *ast.File) (found []string, products int) {
	report := func(n ast.Node, why string) {
		found = append(found, fmt.Sprintf("%s: %s", files.Position(n.Pos()), why))
	}
	const unrounded = "this product may be joined with the sum: write float64(...) around it"
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BinaryExpr:
			if isProduct(info, n) {
				products++
			}
			if n.Op != token.ADD && n.Op != token.SUB {
				return true
			}
			for _, side := range []ast.Expr{n.X, n.Y} {
				if p := bare(side); isProduct(info, p) {
					report(p, unrounded)
				}
			}
		case *ast.AssignStmt:
			if n.Tok == token.ADD_ASSIGN || n.Tok == token.SUB_ASSIGN {
				if p := bare(n.Rhs[0]); isProduct(info, p) {
					report(p, unrounded)
				}
			}
		case *ast.RangeStmt:
			if tv, ok := info.Types[n.X]; ok && tv.Type != nil {
				if _, isMap := tv.Type.Underlying().(*types.Map); isMap {
					report(n.X, "the order of a map differs from run to run")
				}
			}
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok && x.Name == "math" && n.Sel.Name == "FMA" {
				report(n, "a fused product has other bits than a product and a sum")
			}
		}
		return true
	})
	return found, products
}

// bare takes parentheses and signs off an expression.
func bare(e ast.Expr) ast.Expr {
	for {
		switch x := e.(type) {
		case *ast.ParenExpr:
			e = x.X
		case *ast.UnaryExpr:
			if x.Op != token.SUB && x.Op != token.ADD {
				return e
			}
			e = x.X
		default:
			return e
		}
	}
}

// isProduct tells a floating-point product that is no constant.
func isProduct(info *types.Info, e ast.Expr) bool {
	b, ok := e.(*ast.BinaryExpr)
	if !ok || b.Op != token.MUL {
		return false
	}
	tv := info.Types[e]
	if tv.Value != nil || tv.Type == nil {
		return false
	}
	basic, ok := tv.Type.Underlying().(*types.Basic)
	return ok && basic.Info()&types.IsFloat != 0
}
