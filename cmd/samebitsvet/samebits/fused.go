package samebits

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/format"
	"go/token"
	"go/types"
	"slices"

	"golang.org/x/tools/go/ssa"
)

// sum says whether an operation is one that a product can be fused into.
func sum(v *ssa.BinOp) bool { return (v.Op == token.ADD || v.Op == token.SUB) && floating(v.Type()) }

// flowOf works out what is known of a function, from what is known so far of those that it calls.
func (t *tracer) flowOf(fn *ssa.Function) *flow {
	f := &flow{Passes: make([][]int, fn.Signature.Results().Len())}
	addTo := func(list *[]int, i int) {
		if !slices.Contains(*list, i) {
			*list = append(*list, i)
			slices.Sort(*list)
		}
	}
	for _, b := range fn.Blocks {
		for _, in := range b.Instrs {
			switch in := in.(type) {
			case *ssa.Return:
				for i, v := range in.Results {
					for _, s := range t.sources(v, map[ssa.Value]bool{}) {
						if s.product != nil || s.call != nil {
							addTo(&f.Product, i)
						} else {
							addTo(&f.Passes[i], s.param)
						}
					}
				}
			case *ssa.BinOp:
				for _, v := range t.summands(in) {
					for _, s := range t.sources(v, map[ssa.Value]bool{}) {
						if s.product == nil && s.call == nil {
							addTo(&f.Sums, s.param)
						}
					}
				}
			case *ssa.Call:
				if g := t.known(in); g != nil {
					for _, p := range g.Sums {
						v := t.argument(in, p)
						if v == nil {
							continue
						}
						for _, s := range t.sources(v, map[ssa.Value]bool{}) {
							if s.product == nil && s.call == nil {
								addTo(&f.Sums, s.param)
							}
						}
					}
				}
			}
		}
	}
	return f
}

// fused finds the products that may be fused in a function, each once.
func (t *tracer) fused(fn *ssa.Function) []finding {
	var found []finding
	told := map[token.Pos]bool{}
	add := func(s source, into string) {
		switch {
		case s.product != nil && !told[s.product.Pos()]:
			told[s.product.Pos()] = true
			text := t.text(s.product.Pos())
			found = append(found, finding{s.product.Pos(), fmt.Sprintf("%s may be fused into %s: write %s", text, into, "float64("+text+")")})
		case s.call != nil && !told[s.call.Pos()]:
			told[s.call.Pos()] = true
			name := s.call.Call.StaticCallee().Name()
			found = append(found, finding{s.call.Pos(), fmt.Sprintf("%s gives a product, which may be fused into %s: have %s round it by a conversion", name, into, name)})
		}
	}
	for _, b := range fn.Blocks {
		for _, in := range b.Instrs {
			switch in := in.(type) {
			case *ssa.BinOp:
				if t.complexProduct(in) {
					found = append(found, finding{in.Pos(), "a product of complex numbers is fused within"})
				}
				for _, v := range t.summands(in) {
					for _, s := range t.sources(v, map[ssa.Value]bool{}) {
						add(s, "the sum in line "+t.line(in.Pos()))
					}
				}
			case *ssa.Call:
				g := t.known(in)
				if g == nil {
					continue
				}
				for _, p := range g.Sums {
					v := t.argument(in, p)
					if v == nil {
						continue
					}
					for _, s := range t.sources(v, map[ssa.Value]bool{}) {
						add(s, "a sum in "+in.Call.StaticCallee().Name())
					}
				}
			}
		}
	}
	return found
}

func (t *tracer) complexProduct(v *ssa.BinOp) bool {
	b, ok := v.Type().Underlying().(*types.Basic)
	return ok && b.Info()&types.IsComplex != 0 && (v.Op == token.MUL || v.Op == token.QUO)
}

func (t *tracer) line(pos token.Pos) string {
	if !pos.IsValid() {
		return "of its own"
	}
	return fmt.Sprint(t.pass.Fset.Position(pos).Line)
}

// text is the product as the source has it.
func (t *tracer) text(op token.Pos) string {
	text := "the product"
	for _, file := range t.pass.Files {
		if op < file.FileStart || op >= file.FileEnd {
			continue
		}
		ast.Inspect(file, func(n ast.Node) bool {
			var b bytes.Buffer
			switch e := n.(type) {
			case *ast.BinaryExpr:
				if e.OpPos == op && format.Node(&b, t.pass.Fset, e) == nil {
					text = b.String()
				}
			case *ast.AssignStmt:
				if e.Pos() == op && e.Tok == token.MUL_ASSIGN && format.Node(&b, t.pass.Fset, &ast.BinaryExpr{X: e.Lhs[0], Op: token.MUL, Y: e.Rhs[0]}) == nil {
					text = b.String()
				}
			}
			return true
		})
	}
	return text
}
