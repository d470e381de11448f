package samebits

import (
	"go/ast"
	"go/types"
	"strings"

	"golang.org/x/tools/go/analysis"
)

// packagePath is the path of a package without the name of the test that it is compiled for.
func packagePath(p *types.Package) string {
	path, _, _ := strings.Cut(p.Path(), " ")
	return path
}

// spread makes known which functions of this package do what was found or call, within it or outside, such a function. Findings of a
// package that a step runs through are reported where they are, so its functions are never unfit for their callers.
func spread(pass *analysis.Pass, found []finding) {
	if Stepped(packagePath(pass.Pkg)) {
		return
	}
	why := map[*types.Func]string{}
	calls := map[*types.Func][]*types.Func{}
	var order []*types.Func
	for _, file := range pass.Files {
		for _, d := range file.Decls {
			decl, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			f, ok := pass.TypesInfo.Defs[decl.Name].(*types.Func)
			if !ok {
				continue
			}
			order = append(order, f)
			for _, x := range found {
				if why[f] == "" && decl.Pos() <= x.pos && x.pos < decl.End() {
					why[f] = x.why
				}
			}
			ast.Inspect(decl, func(n ast.Node) bool {
				if call, ok := n.(*ast.CallExpr); ok {
					if g := called(pass, call); g != nil {
						calls[f] = append(calls[f], g.Origin())
					}
				}
				return true
			})
		}
	}
	for again := true; again; {
		again = false
		for _, f := range order {
			for _, g := range calls[f] {
				reason := why[g]
				if known := new(unfit); reason == "" && g.Pkg() != pass.Pkg && pass.ImportObjectFact(g, known) {
					reason = known.Why
				}
				if why[f] == "" && reason != "" {
					why[f], again = "calls "+g.Name()+", which "+reason, true
				}
			}
		}
	}
	for _, f := range order {
		if why[f] != "" {
			pass.ExportObjectFact(f, &unfit{why[f]})
		}
	}
}

// unfitCalls finds calls of functions in packages that are not themselves looked at, and that do what a step must not do.
func unfitCalls(pass *analysis.Pass) []finding {
	var found []finding
	for _, file := range pass.Files {
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if f := called(pass, call); f != nil && f.Pkg() != pass.Pkg {
				if known := new(unfit); pass.ImportObjectFact(f.Origin(), known) {
					found = append(found, finding{call.Pos(), "calls " + f.Pkg().Name() + "." + f.Name() + ", which " + known.Why})
				}
			}
			return true
		})
	}
	return found
}
