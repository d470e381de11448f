package bench_test

import (
	"context"
	"encoding/binary"
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"coldbay/scenarios"
	"coldbay/sim"
	"coldbay/sim/bench"

	"github.com/stretchr/testify/require"
)

// drawn is chance that comes from data, so that what is drawn can be varied piece by piece; after its end it is all the same.
type drawn struct {
	data []byte
	rest *rand.PCG
}

func (d *drawn) Uint64() uint64 {
	if len(d.data) < 2 {
		return d.rest.Uint64()
	}
	n := binary.LittleEndian.Uint16(d.data)
	d.data = d.data[2:]
	return uint64(n) * 0x0001000100010001
}

// FuzzPhysics does what chance says in any order's car, with any suspect at fault: whatever hands do, numbers stay finite, no pressure falls
// below nothing, voltages, currents and stored energy stay within what a car can hold.
func FuzzPhysics(f *testing.F) {
	lib, err := scenarios.Builtin()
	require.NoError(f, err)
	orders := lib.OrderIDs()
	for i := range orders {
		f.Add(uint8(i), uint8(3*i), []byte{byte(i), 1, 77, 40, 200, 13, 5, 90, 33, 7, 250, 61})
		f.Add(uint8(i), uint8(40+i), []byte("a key, a starter and a lead in the wrong place"))
	}
	f.Fuzz(func(t *testing.T, order, suspect uint8, data []byte) {
		id := orders[int(order)%len(orders)]
		o, err := lib.Load(id)
		require.NoError(t, err)
		cfg := lib.Config(o, "test")
		suspects := o.Car.Layout.SuspectIDs()
		cfg.Truth = &bench.Truth{Fault: suspects[int(suspect)%len(suspects)], Severity: 1, Draw: uint64(suspect)}
		s, err := bench.NewLocal(cfg)
		if err != nil {
			return // a fault that this order's other settings do not allow
		}
		gen := newActor(s.Catalogue(), rand.New(&drawn{data, rand.NewPCG(1, 2)}))
		var done []string
		for range 30 {
			a := gen.next()
			finding, err := s.Do(context.Background(), a)
			var no *bench.Refusal
			if errors.As(err, &no) {
				continue
			}
			done = append(done, bench.FormatLine(a))
			if err != nil {
				t.Fatalf("%s, %s: after %q: %v", id, cfg.Truth.Fault, done, err)
			}
			for _, p := range finding.Percepts {
				if math.IsNaN(p.Value) || math.IsInf(p.Value, 0) {
					t.Fatalf("%s, %s: after %q: %+v", id, cfg.Truth.Fault, done, p)
				}
			}
			if what := unbounded(s.World()); what != "" {
				t.Fatalf("%s, %s: after %q: %s", id, cfg.Truth.Fault, done, what)
			}
		}
	})
}

// unbounded names the first quantity that no car could have.
func unbounded(w *sim.World) (what string) {
	within := func(name string, v, low, high float64) {
		if what == "" && !(v >= low && v <= high) {
			what = name
		}
	}
	c := w.Car()
	for _, v := range c.Pneumatic.Volumes {
		vacuum, err := w.Vacuum(v.ID)
		within(v.ID+": pressure", w.AmbientPa()-vacuum, 1, 4e5)
		if err != nil {
			return err.Error()
		}
	}
	for _, h := range c.Pneumatic.Hoses {
		vacuum, err := w.Vacuum(h.ID)
		within(h.ID+": pressure", w.AmbientPa()-vacuum, 1, 4e5)
		if err != nil {
			return err.Error()
		}
	}
	for _, x := range c.Bay.Terminals {
		v, err := w.Volts(x.ID, c.Electrical.Reference)
		within(x.ID+": volts", v, -16, 16)
		if err != nil {
			return err.Error()
		}
	}
	for _, m := range c.Circuit.Motors() {
		within(m+": speed", w.PumpSpeed(m), 0, 3000)
		within(m+": current", math.Abs(w.MotorAmps(m)), 0, 400)
		within(m+": winding", w.MotorK(m), 200, 3000)
	}
	within("engine speed", w.Rpm(), 0, 8000)
	within("coolant", w.CoolantK(), 200, 450)
	within("exhaust manifold", w.ExhaustPartK(), 200, 1500)
	within("catalyst", w.CatalystK(0), 200, 1700)
	within("charge", w.Charge(), 0, 1)
	within("secondary air", math.Abs(w.AirFlow()), 0, 0.1)
	return what
}
