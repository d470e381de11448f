package sim

import (
	"runtime"
	"testing"
)

// BenchmarkWorldStep steps a running engine with the air system on and then off: the whole 120 s of a cold start.
func BenchmarkWorldStep(b *testing.B) {
	w := newWorld(b)
	start(b, w)
	base := w.Clone()
	b.ReportAllocs()
	for b.Loop() {
		c := base.Clone()
		c.Step(1200)
	}
	b.ReportMetric(120*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
}

// BenchmarkWorldQuiet steps a standing car with the key off: one that was never run, and one in the hour after a run, with vacuum
// creeping out of the reservoir and metal cooling.
func BenchmarkWorldQuiet(b *testing.B) {
	b.Run("cold", func(b *testing.B) {
		w := newWorld(b)
		w.Step(100)
		for b.Loop() {
			w.Step(600)
		}
		b.ReportMetric(60*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
	})
	b.Run("after-a-run", func(b *testing.B) {
		w := parked(b)
		for b.Loop() {
			w.Clone().Step(36000)
		}
		b.ReportMetric(3600*float64(b.N)/b.Elapsed().Seconds(), "x-realtime")
	})
}

// Alone the collector runs after every thousand clones, for there is nothing else to keep; beside 300 worlds, as in a belief, it runs
// as it does in use.
func BenchmarkClone(b *testing.B) {
	clone := func(b *testing.B, w *World) {
		b.ReportAllocs()
		var keep *World
		for b.Loop() {
			keep = w.Clone()
		}
		_ = keep
	}
	b.Run("alone", func(b *testing.B) { clone(b, newWorld(b)) })
	b.Run("beside-300", func(b *testing.B) {
		w := newWorld(b)
		others := make([]*World, 300)
		for i := range others {
			others[i] = w.Clone()
			others[i].Step(1)
		}
		clone(b, w)
		runtime.KeepAlive(others)
	})
}
