package samebits

import (
	"fmt"
	"go/token"
	"strings"

	"golang.org/x/tools/go/analysis"
)

// Analyzer is the check for go vet.
var Analyzer = &analysis.Analyzer{
	Name:      "samebits",
	Doc:       "refuse what may give a world's step other bits on another machine\n\nThe packages that a step runs through may not use inexact mathematics, products that can be fused into sums,\nloops over maps, goroutines, clocks or randomness.",
	FactTypes: []analysis.Fact{new(unfit), new(flow)},
	Run:       run,
}

// module is the path of the packages that are looked at.
const module = "coldbay"

// aside are the packages below sim that prepare a world or look at one. The test of the layers in cmd/coldbay holds this list against
// the architecture's.
var aside = []string{"car", "fault", "bench", "trace", "cutaway", "validate"}

// Stepped says whether a world's step runs through the package of that path.
func Stepped(path string) bool {
	if path == module+"/sim" {
		return true
	}
	below, ok := strings.CutPrefix(path, module+"/sim/")
	if !ok {
		return false
	}
	for _, a := range aside {
		if below == a || strings.HasPrefix(below, a+"/") {
			return false
		}
	}
	return true
}

// unfit is known of a function that a step must not call, and why.
type unfit struct{ Why string }

func (*unfit) AFact() {}

func (u *unfit) String() string { return "unfit: " + u.Why }

// finding is something to report at a place, or a reason why the function around it is unfit.
type finding struct {
	pos token.Pos
	why string
}

func run(pass *analysis.Pass) (any, error) {
	// The test variant of a package is called "path [path.test]".
	path, _, _ := strings.Cut(pass.Pkg.Path(), " ")
	if pass.Pkg.Name() == "main" || path != module && !strings.HasPrefix(path, module+"/") {
		return nil, nil
	}
	ex := excuses(pass)
	found := append(written(pass), flowing(pass)...)
	kept := found[:0]
	for _, f := range found {
		if !strings.HasSuffix(pass.Fset.Position(f.pos).Filename, "_test.go") && !ex.take(pass, f.pos) {
			kept = append(kept, f)
		}
	}
	spread(pass, kept)
	if !Stepped(path) {
		return nil, nil
	}
	for _, f := range unfitCalls(pass) {
		if !strings.HasSuffix(pass.Fset.Position(f.pos).Filename, "_test.go") && !ex.take(pass, f.pos) {
			kept = append(kept, f)
		}
	}
	for _, f := range append(kept, ex.wrong(pass)...) {
		pass.Report(analysis.Diagnostic{Pos: f.pos, Message: f.why})
	}
	return nil, nil
}

// excuse is a comment that makes an exception.
type excuse struct {
	pos    token.Pos
	reason string
	used   bool
}

// excused holds the exceptions by file and line.
type excused map[string]*excuse

const mark = "//samebits:ok"

func excuses(pass *analysis.Pass) excused {
	ex := excused{}
	for _, file := range pass.Files {
		for _, group := range file.Comments {
			for _, c := range group.List {
				if reason, ok := strings.CutPrefix(c.Text, mark); ok {
					reason, _, _ = strings.Cut(reason, "//")
					ex[at(pass, c.Pos(), 0)] = &excuse{pos: c.Pos(), reason: strings.TrimSpace(reason)}
				}
			}
		}
	}
	return ex
}

func at(pass *analysis.Pass, pos token.Pos, lines int) string {
	p := pass.Fset.Position(pos)
	return fmt.Sprintf("%s:%d", p.Filename, p.Line+lines)
}

// take says whether a comment on the line or the one before excuses what stands at pos.
func (ex excused) take(pass *analysis.Pass, pos token.Pos) bool {
	for _, lines := range []int{0, -1} {
		if e := ex[at(pass, pos, lines)]; e != nil && e.reason != "" {
			e.used = true
			return true
		}
	}
	return false
}

// wrong are the comments that give no reason or excuse nothing. In the order of the source, because reports are.
func (ex excused) wrong(pass *analysis.Pass) []finding {
	var out []finding
	for _, file := range pass.Files {
		for _, group := range file.Comments {
			for _, c := range group.List {
				e := ex[at(pass, c.Pos(), 0)]
				switch {
				case e == nil || e.pos != c.Pos():
				case e.reason == "":
					out = append(out, finding{e.pos, "an exception needs its reason: " + mark + " WHY"})
				case !e.used:
					out = append(out, finding{e.pos, "this exception excuses nothing"})
				}
			}
		}
	}
	return out
}
