package bench

import (
	"math"

	"coldbay/sim/exhaust"
)

// What the exhaust gas analyser can show: the upper ends of its ranges and its errors, as shares of the reading (class I of OIML R 99,
// from memory; half of its tolerance).
const (
	gasMostO2, gasMostCO, gasMostCO2, gasMostHC = 22.0, 10.0, 20.0, 9999.0 // %, %, %, ppm hexane
	gasError                                    = 0.02
	lambdaLeast, lambdaMost                     = 0.5, 2.0
)

// doAnalyse puts the probe into the tailpipe, beside the extraction hose where that is on, waits for the gas to reach the bench, and
// reads (a helper holds the probe while the trainee sits at the key) oxygen, carbon monoxide and dioxide, hydrocarbons, and the lambda that the analyser computes from them.
func (l *Local) doAnalyse(j *job) error {
	if err := l.tool(j); err != nil {
		return err
	}
	l.byHelper(j, placeTailpipe)
	l.spend(j, l.tar.Seconds.Analyse)
	g := l.w.TailGas()
	off := func(n uint64) float64 { return 1 + float64(gasError*l.calibration(n)) }
	show := func(key, unit string, v, most, inverse float64) {
		p := Percept{Sense: Analyser, Key: key, Of: openTailpipe, Value: round(min(v, most), inverse), Unit: unit}
		if v > most {
			p.Flag = "over range"
		}
		j.see(p)
	}
	shown := exhaust.Gas{O2: g.O2 * off(11), CO: g.CO * off(12), CO2: g.CO2 * off(13), HC: g.HC * off(14)}
	show("gas.o2", "%", 100*shown.O2, gasMostO2, 10)
	show("gas.co", "%", 100*shown.CO, gasMostCO, 100)
	show("gas.co2", "%", 100*shown.CO2, gasMostCO2, 10)
	show("gas.hc", "ppm", 1e6*shown.HC, gasMostHC, 0.1)
	lambda := exhaust.Brettschneider(shown)
	p := Percept{Sense: Analyser, Key: "gas.lambda", Of: openTailpipe, Value: round(lambda, 100)}
	if math.IsInf(lambda, 0) || lambda < lambdaLeast || lambda > lambdaMost || g.CO2+g.CO < 0.01 {
		p.Value, p.Word = 0, "out of range"
	}
	j.see(p)
	return nil
}
