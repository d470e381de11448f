package sim

import (
	"math"
	"os"
	"regexp"
	"testing"

	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// number finds what a car file says after a colon, in a line of its own or between braces.
var number = regexp.MustCompile(`: [^ ,{}\[\]\n][^,{}\n]*`)

// bounded holds what a world that has not ended must keep to, however odd the car and whatever hands do to it: finite numbers, no
// pressure below nothing, and energy within what a car can hold. Rpm, kPa, V, A, K; far beyond anything real.
func bounded(t *testing.T, w *World) {
	t.Helper()
	within := func(what string, v, low, high float64) {
		if !(v >= low && v <= high) {
			t.Fatalf("at %.1f s: %s = %g, bounds are %g to %g", w.Time(), what, v, low, high)
		}
	}
	c := w.Car()
	for _, v := range c.Pneumatic.Volumes {
		vacuum, err := w.Vacuum(v.ID)
		require.NoError(t, err)
		within(v.ID+" Pa", w.AmbientPa()-vacuum, 0, 1e6)
	}
	for _, h := range c.Pneumatic.Hoses {
		vacuum, err := w.Vacuum(h.ID)
		require.NoError(t, err)
		within(h.ID+" Pa", w.AmbientPa()-vacuum, 0, 1e6)
	}
	for _, x := range c.Bay.Terminals {
		v, err := w.Volts(x.ID, c.Electrical.Reference)
		require.NoError(t, err)
		within(x.ID+" V", v, -100, 100)
	}
	for _, m := range c.Circuit.Motors() {
		within(m+" rad/s", w.PumpSpeed(m), 0, 1e5)
		within(m+" A", math.Abs(w.MotorAmps(m)), 0, 1e5)
		within(m+" K", w.MotorK(m), 150, 1e5)
	}
	within("1/min", w.Rpm(), 0, 1e5)
	within("coolant K", w.CoolantK(), 150, 2000)
	within("exhaust K", w.ExhaustPartK(), 150, 1e4)
	within("catalyst K", w.CatalystK(0), 150, 1e4)
	within("charge", w.Charge(), 0, 1)
	within("air kg/s", math.Abs(w.AirFlow()), 0, 10)
}

// FuzzCarValue puts any text in the place of any value of any car that comes with the program. The car is refused, or its world ends with an
// error, or it runs within bounds.
func FuzzCarValue(f *testing.F) {
	var texts []string
	for i, id := range []string{"car_a", "car_b", "car_c", "car_d"} {
		data, err := os.ReadFile("../scenarios/cars/" + id + ".yaml")
		require.NoError(f, err)
		texts = append(texts, string(data))
		for k, text := range []string{"0", "-1", "1e-9", "1e9", ".nan", "bat_neg", "\"\"", "[]"} {
			f.Add(uint8(i), uint16(40+97*k), text)
		}
	}
	f.Fuzz(func(t *testing.T, which uint8, at uint16, text string) {
		whole := texts[int(which)%len(texts)]
		places := number.FindAllStringIndex(whole, -1)
		p := places[int(at)%len(places)]
		c, err := car.Parse("f", []byte(whole[:p[0]]+": "+text+whole[p[1]:]))
		if (c == nil) == (err == nil) {
			t.Fatal("a car or an error, not both and not neither")
		}
		if err != nil {
			return
		}
		w, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325})
		if err != nil {
			return
		}
		w.SetKey(true)
		w.Step(10)
		w.SetStarter(true)
		for range 60 {
			w.Step(1)
			if w.Running() {
				w.SetStarter(false)
			}
			if w.Err() != nil {
				return
			}
			bounded(t, w)
		}
	})
}
