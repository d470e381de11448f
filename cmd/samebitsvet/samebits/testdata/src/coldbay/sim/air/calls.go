package air

import "coldbay/sim/car"

func ask(c *car.Car) float64 {
	x := c.Mass() + car.First(map[string]float64{}) // want `calls car.First, which loops over a map`
	return x + c.Any() + car.Of(1)                  // want `calls car.Any, which calls First, which loops over a map` `calls car.Of, which math.Exp`
}
