package samebits

import (
	"go/ast"
	"go/token"
	"go/types"
	"slices"
	"strconv"

	"golang.org/x/tools/go/analysis"
)

// inexact are the functions of package math whose last bits depend on the architecture, by assembly or by fused products; measured
// over 200,000 values on amd64, arm64 and WebAssembly, and those built from the measured ones.
var inexact = []string{
	"Acos", "Acosh", "Asin", "Asinh", "Atan", "Atan2", "Atanh", "Cos", "Cosh", "Erf", "Erfc", "Erfcinv", "Erfinv",
	"Exp", "Exp2", "Expm1", "Gamma", "Hypot", "J0", "J1", "Jn", "Lgamma", "Log", "Log10", "Log1p", "Log2", "Pow",
	"Sin", "Sincos", "Sinh", "Tan", "Tanh", "Y0", "Y1", "Yn",
}

// refused are packages that a step has no business with.
var refused = map[string]string{
	"math/rand":    "randomness comes from the world's seed",
	"math/rand/v2": "randomness comes from the world's seed",
	"crypto/rand":  "randomness comes from the world's seed",
	"hash/maphash": "its hashes differ from run to run",
	"time":         "time is the world's own",
	"math/cmplx":   "its last bits depend on the architecture",
	"math/big":     "sim/dmath has what a step needs",
	"sync":         "a step runs alone",
	"sync/atomic":  "a step runs alone",
	"os":           "a step does not ask the machine",
	"runtime":      "a step does not ask the machine",
	"unsafe":       "what it shows depends on the machine",
}

// ordered are the functions that take what a map yields in any order and give it one, or need none.
var ordered = map[string][]string{
	"slices": {"Sorted", "SortedFunc"},
	"maps":   {"Collect", "Insert"},
}

// written finds what can be seen in the source as it stands.
func written(pass *analysis.Pass) []finding {
	var found []finding
	add := func(pos token.Pos, why string) { found = append(found, finding{pos, why}) }
	stepped := Stepped(packagePath(pass.Pkg))
	for _, file := range pass.Files {
		for _, spec := range file.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			if why := refused[path]; err == nil && why != "" {
				add(spec.Pos(), "imports "+path+": "+why)
			}
		}
		sound := map[ast.Expr]bool{} // calls whose order does not matter
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.GoStmt:
				add(n.Pos(), "a goroutine: what runs first depends on the moment")
			case *ast.SelectStmt:
				add(n.Pos(), "select: what runs first depends on the moment")
			case *ast.SendStmt:
				add(n.Pos(), "a channel: what runs first depends on the moment")
			case *ast.UnaryExpr:
				if n.Op == token.ARROW {
					add(n.Pos(), "a channel: what runs first depends on the moment")
				}
			case *ast.RangeStmt:
				switch over(pass.TypesInfo.TypeOf(n.X)) {
				case "map":
					add(n.Pos(), "loops over a map, in the order of the moment")
				case "channel":
					add(n.Pos(), "a channel: what runs first depends on the moment")
				}
			case *ast.CallExpr:
				if f := called(pass, n); f != nil && f.Pkg() != nil && slices.Contains(ordered[f.Pkg().Path()], f.Name()) {
					for _, arg := range n.Args {
						sound[ast.Unparen(arg)] = true
					}
				}
				if f := called(pass, n); f != nil && f.Pkg() != nil && f.Pkg().Path() == "maps" && slices.Contains([]string{"All", "Keys", "Values"}, f.Name()) && !sound[n] {
					add(n.Pos(), "maps."+f.Name()+" gives the order of the moment")
				}
			case *ast.Ident:
				obj, ok := pass.TypesInfo.Uses[n].(*types.Func)
				if !ok || obj.Pkg() == nil || obj.Signature().Recv() != nil {
					break
				}
				switch path := obj.Pkg().Path(); {
				case path == "math" && slices.Contains(inexact, obj.Name()):
					add(n.Pos(), "math."+obj.Name()+": its last bits depend on the architecture, sim/dmath has its own")
				case refused[path] != "" && !stepped: // elsewhere the import is reported
					add(n.Pos(), path+"."+obj.Name()+": "+refused[path])
				}
			}
			return true
		})
	}
	return found
}

// over names what a loop over a value of that type goes through, as far as it matters.
func over(t types.Type) string {
	if t == nil {
		return ""
	}
	if p, ok := types.Unalias(t).(*types.TypeParam); ok {
		kind := ""
		for term := range terms(p) {
			if k := over(term); k != "" {
				kind = k
			}
		}
		return kind
	}
	switch t.Underlying().(type) {
	case *types.Map:
		return "map"
	case *types.Chan:
		return "channel"
	}
	return ""
}

// terms yields the types that a type parameter's constraint lists.
func terms(p *types.TypeParam) func(yield func(types.Type) bool) {
	return func(yield func(types.Type) bool) {
		i, ok := p.Constraint().Underlying().(*types.Interface)
		if !ok {
			return
		}
		for e := range i.EmbeddedTypes() {
			switch e := types.Unalias(e).(type) {
			case *types.Union:
				for t := range e.Terms() {
					if !yield(t.Type()) {
						return
					}
				}
			default:
				if _, nested := e.Underlying().(*types.Interface); !nested && !yield(e) {
					return
				}
			}
		}
	}
}

// called is the function that a call names, nil for a conversion, a built-in or a value.
func called(pass *analysis.Pass, call *ast.CallExpr) *types.Func {
	fun := ast.Unparen(call.Fun)
	switch f := fun.(type) {
	case *ast.IndexExpr:
		fun = f.X
	case *ast.IndexListExpr:
		fun = f.X
	}
	var name *ast.Ident
	switch f := fun.(type) {
	case *ast.Ident:
		name = f
	case *ast.SelectorExpr:
		name = f.Sel
	default:
		return nil
	}
	f, _ := pass.TypesInfo.Uses[name].(*types.Func)
	return f
}
