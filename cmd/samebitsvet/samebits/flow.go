package samebits

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"slices"

	"golang.org/x/tools/go/analysis"
	"golang.org/x/tools/go/ssa"
)

// flow is what is known of a function's numbers: where products can come out of it unrounded, and where they can get into a sum.
type flow struct {
	Product []int   // results that may be products which nothing has rounded
	Passes  [][]int // for each result, the parameters that it may be
	Sums    []int   // parameters that are summed as they come in
}

func (*flow) AFact() {}

func (f *flow) String() string {
	return fmt.Sprintf("product %v passes %v sums %v", f.Product, f.Passes, f.Sums)
}

func (f *flow) equal(g *flow) bool {
	return slices.Equal(f.Product, g.Product) && slices.Equal(f.Sums, g.Sums) && slices.EqualFunc(f.Passes, g.Passes, slices.Equal)
}

func (f *flow) empty() bool {
	return len(f.Product) == 0 && len(f.Sums) == 0 && !slices.ContainsFunc(f.Passes, func(p []int) bool { return len(p) > 0 })
}

// tracer follows products through the functions of one package.
type tracer struct {
	pass    *analysis.Pass
	rounded map[token.Pos]bool // products and calls, by the place of operator or bracket, that a conversion rounds at once
	parts   map[operand]bool   // what a conversion rounds just before it is summed or handed over
	flows   map[*types.Func]*flow
}

// flowing finds products that may be fused into sums, and makes known what other packages need for the same.
func flowing(pass *analysis.Pass) []finding {
	t := &tracer{pass: pass, flows: map[*types.Func]*flow{}}
	t.rounded, t.parts = roundings(pass)

	funcs := t.functions()
	for again := true; again; {
		again = false
		for _, fn := range funcs {
			obj, ok := fn.Object().(*types.Func)
			if !ok {
				continue
			}
			if now := t.flowOf(fn); t.flows[obj] == nil || !now.equal(t.flows[obj]) {
				t.flows[obj], again = now, true
			}
		}
	}
	var found []finding
	for _, fn := range funcs {
		if obj, ok := fn.Object().(*types.Func); ok && !t.flows[obj].empty() {
			pass.ExportObjectFact(obj, t.flows[obj])
		}
		found = append(found, t.fused(fn)...)
	}
	return found
}

// functions are those of the package in static single assignment, with the literals in them, in the order of the source.
func (t *tracer) functions() []*ssa.Function {
	prog := ssa.NewProgram(t.pass.Fset, 0)
	for _, p := range t.pass.Pkg.Imports() {
		prog.CreatePackage(p, nil, nil, true)
	}
	pkg := prog.CreatePackage(t.pass.Pkg, t.pass.Files, t.pass.TypesInfo, false)
	pkg.Build()
	var all []*ssa.Function
	var add func(f *ssa.Function)
	add = func(f *ssa.Function) {
		all = append(all, f)
		for _, literal := range f.AnonFuncs {
			add(literal)
		}
	}
	for _, file := range t.pass.Files {
		for _, d := range file.Decls {
			if decl, ok := d.(*ast.FuncDecl); ok {
				if obj, ok := t.pass.TypesInfo.Defs[decl.Name].(*types.Func); ok {
					if f := prog.FuncValue(obj); f != nil {
						add(f)
					}
				}
			}
		}
	}
	if init := pkg.Func("init"); init != nil {
		add(init) // the values of package variables
	}
	return all
}

// operand is one side of an operation or one argument of a call, which are known by the place of their operator or bracket; of an
// operation with an assignment by where it begins.
type operand struct {
	at    token.Pos
	which int
}

// roundings finds the explicit conversions to a floating-point type, because the static single assignment form leaves out a
// conversion to the type that a value already has, which is the one that matters here: the products and calls that stand in one,
// and the operands and arguments that are one.
func roundings(pass *analysis.Pass) (rounded map[token.Pos]bool, parts map[operand]bool) {
	rounded, parts = map[token.Pos]bool{}, map[operand]bool{}
	conversion := func(e ast.Expr) (of ast.Expr, ok bool) {
		call, isCall := bare(e).(*ast.CallExpr)
		if !isCall || len(call.Args) != 1 {
			return nil, false
		}
		tv, known := pass.TypesInfo.Types[call.Fun]
		return call.Args[0], known && tv.IsType() && floating(tv.Type)
	}
	part := func(at token.Pos, list ...ast.Expr) {
		for i, e := range list {
			if _, ok := conversion(e); ok {
				parts[operand{at, i}] = true
			}
		}
	}
	for _, file := range pass.Files {
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BinaryExpr:
				part(n.OpPos, n.X, n.Y)
			case *ast.AssignStmt:
				if n.Tok != token.ASSIGN && n.Tok != token.DEFINE {
					part(n.Pos(), n.Lhs[0], n.Rhs[0])
				}
			case *ast.CallExpr:
				part(n.Lparen, n.Args...)
				of, ok := conversion(n)
				if !ok {
					break
				}
				switch of := bare(of).(type) {
				case *ast.BinaryExpr:
					rounded[of.OpPos] = true
				case *ast.CallExpr:
					rounded[of.Lparen] = true
				}
			}
			return true
		})
	}
	return rounded, parts
}

// bare is an expression without brackets and signs.
func bare(e ast.Expr) ast.Expr {
	for {
		e = ast.Unparen(e)
		u, ok := e.(*ast.UnaryExpr)
		if !ok || u.Op != token.SUB && u.Op != token.ADD {
			return e
		}
		e = u.X
	}
}

// floating tells the types of floating-point numbers; a type parameter counts when one of its types does.
func floating(t types.Type) bool {
	if p, ok := types.Unalias(t).(*types.TypeParam); ok {
		for term := range terms(p) {
			if floating(term) {
				return true
			}
		}
		return false
	}
	b, ok := t.Underlying().(*types.Basic)
	return ok && b.Info()&types.IsFloat != 0
}

// exact says that a product with this constant is exact: a power of two, as long as the result is a normal number.
func exact(v ssa.Value) bool {
	c, ok := v.(*ssa.Const)
	if !ok || c.Value == nil {
		return false
	}
	f, _ := constant.Float64Val(constant.ToFloat(c.Value))
	m, _ := math.Frexp(f)
	return f == 0 || math.Abs(m) == 0.5
}

// source is a product that a value may be, or a parameter.
type source struct {
	product *ssa.BinOp
	call    *ssa.Call // of a function that gives a product
	param   int       // of the function around, when the others are nil
}

// sources finds the unrounded products and the parameters that a value may be.
func (t *tracer) sources(v ssa.Value, seen map[ssa.Value]bool) []source {
	if seen[v] || !floating(v.Type()) {
		return nil
	}
	seen[v] = true
	switch v := v.(type) {
	case *ssa.BinOp:
		if v.Op == token.MUL && !t.rounded[v.Pos()] && !exact(v.X) && !exact(v.Y) {
			return []source{{product: v}}
		}
	case *ssa.UnOp:
		switch v.Op {
		case token.SUB:
			return t.sources(v.X, seen)
		case token.MUL:
			return t.stored(v, seen)
		}
	case *ssa.Phi:
		var all []source
		for _, e := range v.Edges {
			all = append(all, t.sources(e, seen)...)
		}
		return all
	case *ssa.Parameter:
		if i := slices.Index(v.Parent().Params, v); i >= 0 {
			return []source{{param: i}}
		}
	case *ssa.Call:
		return t.results(v, 0, seen)
	case *ssa.Extract:
		if call, ok := v.Tuple.(*ssa.Call); ok {
			return t.results(call, v.Index, seen)
		}
	}
	return nil
}

// results finds what a call's result may be.
func (t *tracer) results(call *ssa.Call, i int, seen map[ssa.Value]bool) []source {
	if t.rounded[call.Pos()] {
		return nil
	}
	f := t.known(call)
	if f == nil {
		return nil
	}
	var all []source
	if slices.Contains(f.Product, i) {
		all = append(all, source{call: call})
	}
	if i < len(f.Passes) {
		for _, p := range f.Passes[i] {
			if v := t.argument(call, p); v != nil {
				all = append(all, t.sources(v, seen)...)
			}
		}
	}
	return all
}

// argument is what a call hands to a parameter (a receiver is the first), nil when there is nothing or a conversion rounds it.
func (t *tracer) argument(call *ssa.Call, i int) ssa.Value {
	inBrackets := i
	if call.Call.Signature().Recv() != nil {
		inBrackets--
	}
	if i >= len(call.Call.Args) || t.parts[operand{call.Pos(), inBrackets}] {
		return nil
	}
	return call.Call.Args[i]
}

// summands are the sides of a sum that no conversion rounds.
func (t *tracer) summands(v *ssa.BinOp) []ssa.Value {
	if !sum(v) {
		return nil
	}
	var out []ssa.Value
	for i, x := range []ssa.Value{v.X, v.Y} {
		if !t.parts[operand{v.Pos(), i}] {
			out = append(out, x)
		}
	}
	return out
}

// known is what is known of the function that is called, nil for nothing.
func (t *tracer) known(call *ssa.Call) *flow {
	callee := call.Call.StaticCallee()
	if callee == nil {
		return nil
	}
	if origin := callee.Origin(); origin != nil {
		callee = origin
	}
	obj, ok := callee.Object().(*types.Func)
	if !ok {
		return nil
	}
	if f := t.flows[obj]; f != nil {
		return f
	}
	if f := new(flow); obj.Pkg() != t.pass.Pkg && t.pass.ImportObjectFact(obj, f) {
		return f
	}
	return nil
}

// stored finds what was stored, earlier on every way to a load, at the place that is loaded.
func (t *tracer) stored(load *ssa.UnOp, seen map[ssa.Value]bool) []source {
	place, ok := placeOf(load.X)
	if !ok {
		return nil
	}
	var all []source
	for _, b := range load.Parent().Blocks {
		for _, in := range b.Instrs {
			s, ok := in.(*ssa.Store)
			if !ok || !before(s, load) {
				continue
			}
			if p, ok := placeOf(s.Addr); ok && p == place {
				for _, x := range t.sources(s.Val, seen) {
					if x.product != nil || x.call != nil {
						all = append(all, x)
					}
				}
			}
		}
	}
	return all
}

// before says that a store is passed on every way to a load.
func before(s *ssa.Store, load *ssa.UnOp) bool {
	if s.Block() != load.Block() {
		return s.Block().Dominates(load.Block())
	}
	for _, in := range s.Block().Instrs {
		switch in {
		case ssa.Instruction(s):
			return true
		case ssa.Instruction(load):
			return false
		}
	}
	return false
}

// placeOf names a place in memory by how it is reached, so that two ways of writing the same way have the same name.
func placeOf(v ssa.Value) (name string, ok bool) {
	switch v := v.(type) {
	case *ssa.FieldAddr:
		base, ok := placeOf(v.X)
		return fmt.Sprintf("%s.%d", base, v.Field), ok
	case *ssa.IndexAddr:
		base, ok := placeOf(v.X)
		if c, isConst := v.Index.(*ssa.Const); isConst {
			return fmt.Sprintf("%s[%s]", base, c.Value), ok
		}
		return fmt.Sprintf("%s[%s]", base, v.Index.Name()), ok
	case *ssa.UnOp:
		if v.Op == token.MUL {
			base, ok := placeOf(v.X)
			return "*" + base, ok
		}
	case *ssa.Alloc, *ssa.Parameter, *ssa.FreeVar, *ssa.Global:
		return v.Name(), true
	}
	return v.Name(), v.Name() != ""
}
