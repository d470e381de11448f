package dmath

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestNoProductCanFuse reads this package's source: a product may stand only
// inside float64(...), another product, a constant or integer arithmetic
// (marked here by name). Anything else could be fused into a later sum, even
// across statements.
func TestNoProductCanFuse(t *testing.T) {
	integers := map[string]bool{"m*w2": true}
	files := token.NewFileSet()
	names, err := filepath.Glob("*.go")
	require.NoError(t, err)
	checked := 0
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(files, name, nil, 0)
		require.NoError(t, err)
		safe := map[ast.Node]bool{}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				// Exp's argument here is doubled, which is exact.
				if f, ok := n.Fun.(*ast.Ident); ok && (f.Name == "float64" || f.Name == "Exp") {
					safe[n.Args[0]] = true
				}
			case *ast.ReturnStmt:
				// A bare power-of-two scaling as the result is exact, or the
				// last rounding below the normal numbers.
				if len(n.Results) == 1 && scalesByPowerOfTwo(n.Results[0]) {
					safe[n.Results[0]] = true
				}
			case *ast.BinaryExpr:
				if n.Op != token.MUL {
					return true
				}
				checked++
				for _, side := range []ast.Expr{n.X, n.Y} {
					if inner, ok := side.(*ast.BinaryExpr); ok && inner.Op == token.MUL {
						safe[inner] = true
					}
				}
				name := exprText(n.X) + "*" + exprText(n.Y)
				ok := safe[n] || integers[name] || scalesByPowerOfTwo(n)
				require.True(t, ok, "%s: product %s is not inside float64(...)", files.Position(n.Pos()), name)
			}
			return true
		})
	}
	require.Greater(t, checked, 50)
}

func scalesByPowerOfTwo(e ast.Expr) bool {
	b, ok := e.(*ast.BinaryExpr)
	if !ok || b.Op != token.MUL {
		return false
	}
	lit, ok := b.Y.(*ast.BasicLit)
	return ok && strings.HasPrefix(lit.Value, "0x1p")
}

func exprText(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return exprText(e.X) + "." + e.Sel.Name
	}
	return "(…)"
}
