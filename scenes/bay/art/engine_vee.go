package art

import "coldbay/scenes/paint"

// veeWheel is a wheel of the belt drive in front of the engine with two banks.
type veeWheel struct {
	at   paint.Pt // by shares of the engine's box
	size float64  // radius by shares of its height
}

func veeWheels() []veeWheel {
	return []veeWheel{{paint.Pt{X: 0.50, Y: 0.905}, 0.075}, {paint.Pt{X: 0.29, Y: 0.835}, 0.055}, {paint.Pt{X: 0.71, Y: 0.835}, 0.055}, {paint.Pt{X: 0.50, Y: 0.755}, 0.045}}
}
