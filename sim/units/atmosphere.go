package units

import (
	"fmt"

	"coldbay/sim/dmath"
)

// Constants of the standard atmosphere (ISO 2533:1975, the same as the US
// Standard Atmosphere 1976 in the troposphere).
const (
	SeaLevelPressure    = 101325.0 // Pa
	SeaLevelTemperature = 288.15   // K
	AirGasConstant      = 287.05287

	lapseRate     = 0.0065  // K/m
	standardG     = 9.80665 // m/s2
	lowestHeight  = -2000.0
	highestHeight = 11000.0
)

// Atmosphere is the air at one height.
type Atmosphere struct {
	Pressure    float64 // Pa
	Temperature float64 // K
	Density     float64 // kg/m3
}

// StandardAtmosphere is the standard air at a geopotential altitude in metres,
// from -2000 to 11000 (the troposphere).
func StandardAtmosphere(altitude float64) (Atmosphere, error) {
	if !(altitude >= lowestHeight && altitude <= highestHeight) {
		return Atmosphere{}, fmt.Errorf("standard atmosphere: altitude %g m: allowed are %g to %g", altitude, lowestHeight, highestHeight)
	}
	t := SeaLevelTemperature - float64(lapseRate*altitude)
	// ISO 2533: p = p0 (T/T0)^(g/(R·lapse)), exponent 5.25588.
	p := SeaLevelPressure * dmath.Pow(t/SeaLevelTemperature, standardG/(AirGasConstant*lapseRate))
	return Atmosphere{Pressure: p, Temperature: t, Density: p / (AirGasConstant * t)}, nil
}
