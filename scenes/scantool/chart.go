package scantool

import (
	"math"
	"strings"

	"coldbay/scenes/paint"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// maxTraces is how many parameters the chart shows; maxPoints how many readings of each, the latest ones.
const (
	maxTraces = 3
	maxPoints = 90
)

// trace is one parameter's readings in the ledger.
type trace struct {
	name, unit string
	at, value  []float64 // bench seconds, unit
}

// traces collects the chosen parameters that were read at least twice as numbers.
func (s *Scene) traces() []trace {
	var out []trace
	for _, pid := range s.pids {
		if len(out) == maxTraces {
			break
		}
		t := trace{}
		for _, p := range s.desk.Cat.PIDs {
			if p.PID == pid {
				t.name, t.unit = p.Name, p.Unit
			}
		}
		for _, f := range s.desk.Ledger {
			for _, p := range f.Percepts {
				if p.Sense == bench.Scan && p.Key == "pid."+pid && p.Word == "" {
					t.at, t.value = append(t.at, f.Start+f.Seconds), append(t.value, p.Value)
					break
				}
			}
		}
		if n := len(t.at); n > maxPoints {
			t.at, t.value = t.at[n-maxPoints:], t.value[n-maxPoints:]
		}
		if len(t.at) > 1 {
			out = append(out, t)
		}
	}
	return out
}

// chart draws the traces over bench time, each on its own scale, told apart by ink and by the mark at their end.
func (s *Scene) chart(b *ui.Build, r paint.Rect) {
	l := b.Front
	ts := s.traces()
	names, field := r.CutTop(18*float64(len(ts)), 4)
	grid := paint.Fade(paint.RGB(0xbfe8cf), 0.18)
	for i := range 5 {
		l.Box(paint.Rect{X: field.X, Y: field.Y + field.H*float64(i)/4, W: field.W, H: 1}, 0, grid)
	}
	from, to := math.Inf(1), math.Inf(-1)
	for _, t := range ts {
		from, to = math.Min(from, t.at[0]), math.Max(to, t.at[len(t.at)-1])
	}
	to = math.Max(to, from+1)
	for i, t := range ts {
		ink := []paint.Ink{paint.Yellow, paint.Sky, paint.Pink}[i]
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, v := range t.value {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
		low, _ := s.desk.Phrase.Shown(bench.Scan, "", lo, t.unit)
		high, unit := s.desk.Phrase.Shown(bench.Scan, "", hi, t.unit)
		words := b.T("scan.trace", "name", t.name, "low", low, "high", high, "unit", b.Msg.Or("unit."+unit, "phrase.id", "id", unit))
		span := hi - lo
		if span < 1e-9 {
			lo, span = lo-0.5, 1
		}
		pts := make([]paint.Pt, len(t.at))
		for k := range t.at {
			pts[k] = paint.Pt{X: field.X + (field.W-10)*(t.at[k]-from)/(to-from), Y: field.Bottom() - 4 - (field.H-8)*(t.value[k]-lo)/span}
		}
		l.Line(pts, 2, ink)
		y := names.Y + 18*float64(i)
		mark(l, i, pts[len(pts)-1], ink)
		mark(l, i, paint.Pt{X: names.X + 6, Y: y + 8}, ink)
		l.TextIn(strings.TrimSpace(words), paint.Label, paint.Rect{X: names.X + 18, Y: y, W: names.W - 18, H: 17}, paint.Left, ink)
		b.Read(words)
	}
}

func mark(l *paint.List, i int, c paint.Pt, ink paint.Ink) {
	switch i {
	case 0:
		l.Disc(c, 4, ink)
	case 1:
		l.Box(paint.Rect{X: c.X - 4, Y: c.Y - 4, W: 8, H: 8}, 0, ink)
	default:
		l.Fill([]paint.Pt{{X: c.X, Y: c.Y - 5}, {X: c.X + 5, Y: c.Y + 4}, {X: c.X - 5, Y: c.Y + 4}}, ink)
	}
}
