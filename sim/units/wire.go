package units

import (
	"fmt"
	"math"

	"coldbay/sim/dmath"
)

// Copper at 20 degC.
const (
	// CopperResistivity is that of the International Annealed Copper Standard,
	// 0.017241 ohm mm2/m = 58 MS/m at 20 degC (NBS Handbook 100 and Circular
	// 31, as quoted), in ohm metre.
	CopperResistivity = 0.017241e-6
	// CopperAlpha is the temperature coefficient on a 20 degC base, per kelvin
	// (a power-engineering handbook's table of copper and aluminium properties).
	CopperAlpha = 0.00393

	copperBase = ZeroCelsius + 20
)

// CopperFactor is the resistance of copper at a temperature in kelvin over that
// at 20 degC. The linear rule is good from about -50 to 200 degC.
func CopperFactor(kelvin float64) float64 {
	return 1 + float64(CopperAlpha*(kelvin-copperBase))
}

// CopperResistance is the resistance in ohm of length metres of copper with a
// cross-section in square metres, at a temperature in kelvin.
func CopperResistance(length, area, kelvin float64) float64 {
	return CopperResistivity * length / area * CopperFactor(kelvin)
}

// Gauge is an American wire gauge number: 12 for 12 AWG, 0 for 1/0, -3 for 4/0.
type Gauge int

// The range of the standard's table, 4/0 to 56 (ASTM B258, from memory).
const (
	ThickestGauge Gauge = -3
	ThinnestGauge Gauge = 56
)

// Check reports a gauge outside the standard's table.
func (g Gauge) Check() error {
	if g < ThickestGauge || g > ThinnestGauge {
		return fmt.Errorf("wire gauge %d: allowed are %d (4/0) to %d", int(g), int(ThickestGauge), int(ThinnestGauge))
	}
	return nil
}

// String is the gauge as written on a reel: "12 AWG", "4/0 AWG".
func (g Gauge) String() string {
	if g < 0 {
		return fmt.Sprintf("%d/0 AWG", 1-int(g))
	}
	return fmt.Sprintf("%d AWG", int(g))
}

// Diameter of the solid round wire in metres: 0.127 mm at gauge 36 and 92 times
// as much over 39 steps (ASTM B258).
func (g Gauge) Diameter() float64 {
	return 0.127e-3 * dmath.Pow(92, float64(36-int(g))/39)
}

// Area is the cross-section in square metres.
func (g Gauge) Area() float64 {
	d := g.Diameter()
	return math.Pi / 4 * d * d
}

// OhmPerMetre is the resistance of one metre of solid copper at a temperature in
// kelvin.
func (g Gauge) OhmPerMetre(kelvin float64) float64 {
	return CopperResistance(1, g.Area(), kelvin)
}
