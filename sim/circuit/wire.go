package circuit

import "coldbay/sim/units"

const (
	copperAlpha = 0.00393 // per K at 20 degC, power-engineering handbook property table
	refK        = 293.15  // K, the temperature that wire tables and coil resistances refer to
)

// warmOhm is the resistance at k kelvin of a copper winding of ohm at 20 degC.
func warmOhm(ohm, k float64) float64 { return float64(ohm * (1 + float64(copperAlpha*(k-refK)))) }

// wireOhmPerMetre is the resistance of copper wire at 20 degC by the geometry of ASTM B258.
func wireOhmPerMetre(awg int) (float64, error) {
	g := units.Gauge(awg)
	if err := g.Check(); err != nil {
		return 0, err
	}
	return g.OhmPerMetre(refK), nil
}

func wireArea(awg int) float64 { return units.Gauge(awg).Area() }
