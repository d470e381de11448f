package rooms_test

import (
	"testing"
	"time"

	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
)

// BenchmarkFrame is one frame of each scene on the processor's side: an update without input and the drawing calls. The
// sub-benchmarks named rebuild are frames after something changed.
func BenchmarkFrame(b *testing.B) {
	x := open(b, 1280, 720)
	x.press("board.open.first", "order.read", "order.go")
	x.press("engine.start")
	x.Desk.LoadDebrief()
	x.settle()
	for _, scene := range []string{stage.Board, stage.Sheet, stage.Bay, stage.Info, stage.ScanTool, stage.Notebook, stage.Debrief} {
		x.Desk.Go(scene)
		x.settle()
		x.Draw(x.screen)
		for _, change := range []bool{false, true} {
			name := scene
			if change {
				name += "/rebuild"
			}
			b.Run(name, func(b *testing.B) {
				b.ReportAllocs()
				tri := 0
				for b.Loop() {
					x.now = x.now.Add(16 * time.Millisecond)
					if change {
						x.Desk.Touch()
					}
					x.Tick(ui.Input{})
					x.Draw(x.screen)
					tri = x.LiveTriangles()
				}
				b.ReportMetric(float64(tri), "live-triangles")
			})
		}
	}
}
