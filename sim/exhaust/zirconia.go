package exhaust

import "coldbay/sim/dmath"

const (
	nernstVK   = 8.314462618 / (4 * 96485.33212) // R/4F, V/K
	airAtm     = 0.2095                          // oxygen on the outer side, atm
	leastRich  = 1e-6                            // share of carbon monoxide below which a mixture counts as neither rich nor lean
	biasVolts  = 0.45                            // what the controller's bias holds a cold sensor at [practice]
	conductsK  = 620.0                           // half of the voltage comes through at this temperature [invented]
	conductsBy = 25.0                            // K
	loaded     = 0.9                             // share of the cell's voltage that its own resistance leaves when hot [practice: a real one tops out near 0.8 to 0.95 V]
)

// Nernst is the voltage of a zirconia cell at tK against outside air, for an oxygen pressure in atm on its inner side: R T / 4F ln(0.2095 / p).
func Nernst(tK, oxygenAtm float64) float64 {
	return float64(nernstVK * tK * dmath.Log(airAtm/oxygenAtm))
}

// EquilibriumOxygen is the oxygen pressure in atm at the cell's catalysing electrode for burnt gas of a relative air-fuel ratio: what is
// left over in a lean one; in a rich one what carbon monoxide and dioxide in equilibrium let stand, with log10 K(CO + 1/2 O2 = CO2) through
// 11.857 at 900 K and 10.216 at 1000 K (evaluated from the NASA CEA data) and the share of carbon monoxide by the water-gas balance.
func EquilibriumOxygen(lambda, tK float64) float64 {
	if lambda >= 1 {
		spare := float64((lambda - 1) * perCarbon)
		wet := 1 + hydrogen/2 + spare + float64(lambda*perCarbon*(1-airOxygen)/airOxygen)
		return max(spare/wet, 1e-7)
	}
	co, _ := splitWater(max(lambda, 0.5))
	co = min(max(co, leastRich), 0.98)
	logK := 14769/tK - 4.553
	root := (1 - co) / co * dmath.Exp(float64(-logK*2.302585092994046)) // 1 / (K CO/CO2)
	return min(max(root*root, 1e-30), 1e-7)
}

// SensorVolts is what a narrow-band sensor gives the controller at tK: the cell's voltage as far as it conducts, the controller's bias for the rest.
func SensorVolts(lambda, tK float64) float64 {
	conducts := 1 / (1 + dmath.Exp(-(tK-conductsK)/conductsBy))
	return biasVolts + float64((float64(loaded*Nernst(tK, EquilibriumOxygen(lambda, tK)))-biasVolts)*conducts)
}
