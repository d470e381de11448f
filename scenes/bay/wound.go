package bay

import (
	"strings"

	"coldbay/scenes/paint"
	"coldbay/sim/bench"
)

// foundOn is what a look found on a hose, until the hose is renewed: "line split on its underside".
func (s *Scene) foundOn(hose string) string {
	word := s.wounds[hose]
	for _, f := range s.desk.Ledger {
		if f.Action.Verb == bench.Repair && f.Action.On == hose {
			word = ""
		}
		for _, p := range f.Percepts {
			if p.Sense == bench.Eye && p.Key == "sign" && p.Of == hose {
				word = p.Word
			}
		}
	}
	return word
}

// wound paints what was found in the middle of a hose's run: a gash that gapes, or a pinch. Other words leave no mark.
func wound(m *paint.Mesh, line []paint.Pt, width float64, word string) {
	if len(line) < 3 {
		return
	}
	i := len(line) / 2
	c, along := line[i], line[i+1].Sub(line[i-1]).Unit()
	n := paint.Pt{X: -along.Y, Y: along.X}
	at := func(x, y float64) paint.Pt { return c.Add(along.Mul(x * width)).Add(n.Mul(y * width)) }
	switch {
	case strings.Contains(word, "split"), strings.Contains(word, "crack"):
		m.Poly([]paint.Pt{at(-0.9, 0.05), at(-0.3, -0.34), at(0.25, -0.3), at(0.9, 0), at(0.3, 0.34), at(-0.35, 0.3)}, paint.RGB(0xd8cdb4))
		m.Poly([]paint.Pt{at(-0.75, 0.04), at(-0.25, -0.2), at(0.2, -0.16), at(0.75, 0), at(0.25, 0.2), at(-0.3, 0.16)}, paint.Black)
	case strings.Contains(word, "kink"), strings.Contains(word, "flat"):
		for _, y := range []float64{-0.5, 0.5} {
			m.Poly([]paint.Pt{at(-0.6, y), at(0, y*0.35), at(0.6, y), at(0.6, y*1.3), at(-0.6, y*1.3)}, paint.Fade(paint.Black, 0.75))
		}
		m.Line([]paint.Pt{at(0, -0.3), at(0, 0.3)}, width*0.12, paint.Fade(paint.White, 0.6))
	}
}
