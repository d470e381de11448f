package rooms_test

import (
	"testing"
	"time"

	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/scenes/ui"
)

// BenchmarkFrame is one frame of each scene on the processor's side: an update without input and the drawing calls. The
// sub-benchmarks named rebuild are frames after something changed.
func BenchmarkFrame(b *testing.B) {
	b.Run("cars", benchCars)
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

// benchCars is the overview and the pump of every drawn car with its engine running, as it stands and after something changed.
func benchCars(b *testing.B) {
	for _, car := range []string{"car_a", "car_b", "car_c", "car_d"} {
		x := openWith(b, 1280, 720, "en", &standin.Orders{Car: car})
		x.press("board.open.first", "order.read", "order.go", "engine.start")
		for _, place := range []string{"front", "pump"} {
			x.press("go." + place)
			x.Draw(x.screen)
			for _, change := range []bool{false, true} {
				name := car + "/" + place
				if change {
					name += "/rebuild"
				}
				b.Run(name, func(b *testing.B) {
					b.ReportAllocs()
					for b.Loop() {
						x.now = x.now.Add(16 * time.Millisecond)
						if change {
							x.Desk.Touch()
						}
						x.Tick(ui.Input{})
						x.Draw(x.screen)
					}
					b.ReportMetric(float64(x.LiveTriangles()), "live-triangles")
				})
			}
		}
	}
}
