// Package car prepares worlds: what is found here matters only where a step calls it.
package car

import "math"

// Car is a car.
type Car struct{ parts map[string]float64 }

// Mass of it.
func (c *Car) Mass() float64 { return c.parts["mass"] }

// First of them, as it happens.
func First(m map[string]float64) float64 { // want First:`unfit: loops over a map`
	for _, v := range m {
		return v
	}
	return 0
}

// Any of them.
func (c *Car) Any() float64 { return First(c.parts) } // want Any:`unfit: calls First, which loops over a map`

// Of is inexact.
func Of(x float64) float64 { return math.Exp(x) } // want Of:`unfit: math.Exp`
