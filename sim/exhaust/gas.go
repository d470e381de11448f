package exhaust

import "math"

// Gas is what an analyser's probe draws from the tailpipe, in volume shares of the dry gas (0 to 1).
type Gas struct {
	O2, CO, CO2, H2 float64
	HC              float64 // as hexane
}

// Constants of the composition.
const (
	hydrogen   = 1.85     // H:C of petrol (US default for test calculations, 40 CFR 90.426(c))
	perCarbon  = 1.4625   // mol O2 for each mol of carbon burnt fully: 1 + H:C / 4
	airOxygen  = 0.209476 // shares of dry air (Gordon 1982, as in the NASA CEA data)
	airCarbon  = 0.000319 // carbon dioxide
	waterGas   = 3.5      // CO H2O / (CO2 H2) (40 CFR 86.345-79, symbol list)
	hexaneSize = 6
)

// Compose is the dry composition of exhaust gas by the balances of carbon, hydrogen, oxygen and nitrogen: engine and total are the
// relative air-fuel ratios in the cylinder and after secondary air, missed is the share of the fuel that escapes the flame
// altogether, and left the share of what was combustible after the cylinder that has not burnt since.
func Compose(engine, total, missed, left float64) Gas {
	missed = min(max(missed, 0), 0.9)
	total = max(total, engine)
	burnt := 1 - missed
	co, h2 := 0.0, 0.0
	if rich := (engine - float64(missed*min(engine, 1))) / burnt; rich < 1 {
		co, h2 = splitWater(max(rich, 0.35))
		co, h2 = float64(co*burnt), float64(h2*burnt)
	}
	need := float64((co+h2)/2) + float64(missed*perCarbon)
	left = min(max(left, 0), 1)
	oxygen := max(float64((total-1)*perCarbon)+float64(need*left), 0)
	co, h2, missed = float64(co*left), float64(h2*left), float64(missed*left)
	air := total * perCarbon / airOxygen
	co2 := max(1-co-missed, 0) + float64(air*airCarbon)
	hc := missed / hexaneSize
	dry := co + h2 + hc + co2 + oxygen + float64(air*(1-airOxygen-airCarbon))
	return Gas{O2: oxygen / dry, CO: co / dry, CO2: co2 / dry, H2: h2 / dry, HC: hc / dry}
}

// splitWater gives CO and H2 for each mol of carbon of a rich mixture whose water-gas reaction stands still.
func splitWater(lambda float64) (co, h2 float64) {
	// H2O = water + co, H2 = dry - co, CO2 = 1 - co; co (water + co) = K (1 - co) (dry - co).
	water := float64(2*lambda*perCarbon) - 2
	dry := hydrogen/2 - water
	a, b, c := 1-waterGas, water+float64(waterGas*(1+dry)), -waterGas*dry
	co = (-b + math.Sqrt(max(float64(b*b)-float64(4*a*c), 0))) / (2 * a)
	co = min(max(co, 0), 1, dry)
	return co, dry - co
}

// TailGas is the gas at the tailpipe now; air when nothing burns.
func (s *State) TailGas() Gas {
	if s.Engine <= 0 {
		return Gas{O2: airOxygen, CO2: airCarbon}
	}
	return Compose(s.Engine, s.Lambda, s.Missed, s.Left)
}

// Brettschneider is the relative air-fuel ratio that an analyser computes from dry volume shares (J. Brettschneider 1979, by a gas
// analyser maker's white paper of 2003; fuel constants 1.7261 and 0.0176 from memory). HC as hexane.
func Brettschneider(g Gas) float64 {
	const hcv, ocv = 1.7261, 0.0176
	return brettschneider(g, hcv, ocv)
}

func brettschneider(g Gas, hcv, ocv float64) float64 {
	carbon := g.CO2 + g.CO
	if carbon <= 0 {
		return math.Inf(1)
	}
	shift := 0.0
	if g.CO2 > 0 {
		shift = hcv / 4 * waterGas / (waterGas + g.CO/g.CO2)
	}
	top := g.CO2 + float64(g.CO/2) + g.O2 + float64((shift-float64(ocv/2))*carbon)
	return top / ((1 + float64(hcv/4) - float64(ocv/2)) * (carbon + float64(hexaneSize*g.HC)))
}
