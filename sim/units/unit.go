package units

import (
	"fmt"
	"math"
)

// Pressure units in pascal. The conventional columns of mercury and water are
// those of NIST Special Publication 811, appendix B.8 (from memory; the inch of
// mercury was also read in two conversion tables).
const (
	PaPerInHg  = 3386.389 // conventional inch of mercury
	PaPerMmHg  = 133.3224 // conventional millimetre of mercury
	PaPerInH2O = 249.0889 // conventional inch of water
	PaPerPsi   = 6894.757
	PaPerMbar  = 100 // exact
	PaPerAtm   = 101325
)

// ZeroCelsius is 0 degC in kelvin, exact.
const ZeroCelsius = 273.15

// Quantity is what a unit measures. Values of one quantity can be converted
// into each other.
type Quantity uint8

// The quantities with units here.
const (
	Pressure Quantity = iota + 1
	Temperature
	MassFlow
	AngularSpeed
	Voltage
	Current
	Resistance
	Time
	Length
	Speed
	Ratio
)

// Unit is one unit of one quantity. The zero Unit is none: it has no symbol
// and leaves values alone.
type Unit uint8

// The units. The first of each quantity is the SI unit used inside.
const (
	None Unit = iota
	Pascal
	Kilopascal
	Millibar
	InHg
	MmHg
	InH2O
	Psi
	Kelvin
	Celsius
	Fahrenheit
	KgPerSecond
	KgPerHour
	GramPerSecond
	RadPerSecond
	Rpm
	Volt
	Millivolt
	Ampere
	Milliampere
	Ohm
	Milliohm
	Kiloohm
	Megohm
	Second
	Millisecond
	Minute
	Metre
	Millimetre
	Foot
	Inch
	MetrePerSecond
	KmPerHour
	MilePerHour
	Fraction
	Percent
	unitCount
)

// row says si = shown·factor + offset.
type row struct {
	symbol         string
	quantity       Quantity
	factor, offset float64
}

var rows = [unitCount]row{
	None:           {"", 0, 1, 0},
	Pascal:         {"Pa", Pressure, 1, 0},
	Kilopascal:     {"kPa", Pressure, 1000, 0},
	Millibar:       {"mbar", Pressure, PaPerMbar, 0},
	InHg:           {"inHg", Pressure, PaPerInHg, 0},
	MmHg:           {"mmHg", Pressure, PaPerMmHg, 0},
	InH2O:          {"inH2O", Pressure, PaPerInH2O, 0},
	Psi:            {"psi", Pressure, PaPerPsi, 0},
	Kelvin:         {"K", Temperature, 1, 0},
	Celsius:        {"°C", Temperature, 1, ZeroCelsius},
	Fahrenheit:     {"°F", Temperature, 5.0 / 9, 459.67 * 5 / 9},
	KgPerSecond:    {"kg/s", MassFlow, 1, 0},
	KgPerHour:      {"kg/h", MassFlow, 1.0 / 3600, 0},
	GramPerSecond:  {"g/s", MassFlow, 1e-3, 0},
	RadPerSecond:   {"rad/s", AngularSpeed, 1, 0},
	Rpm:            {"rpm", AngularSpeed, math.Pi / 30, 0},
	Volt:           {"V", Voltage, 1, 0},
	Millivolt:      {"mV", Voltage, 1e-3, 0},
	Ampere:         {"A", Current, 1, 0},
	Milliampere:    {"mA", Current, 1e-3, 0},
	Ohm:            {"Ω", Resistance, 1, 0},
	Milliohm:       {"mΩ", Resistance, 1e-3, 0},
	Kiloohm:        {"kΩ", Resistance, 1e3, 0},
	Megohm:         {"MΩ", Resistance, 1e6, 0},
	Second:         {"s", Time, 1, 0},
	Millisecond:    {"ms", Time, 1e-3, 0},
	Minute:         {"min", Time, 60, 0},
	Metre:          {"m", Length, 1, 0},
	Millimetre:     {"mm", Length, 1e-3, 0},
	Foot:           {"ft", Length, 0.3048, 0},
	Inch:           {"in", Length, 0.0254, 0},
	MetrePerSecond: {"m/s", Speed, 1, 0},
	KmPerHour:      {"km/h", Speed, 1 / 3.6, 0},
	MilePerHour:    {"mph", Speed, 0.44704, 0},
	Fraction:       {"", Ratio, 1, 0},
	Percent:        {"%", Ratio, 0.01, 0},
}

func (u Unit) row() *row {
	if u >= unitCount {
		return &rows[None]
	}
	return &rows[u]
}

// Symbol is the unit's symbol, such as "inHg"; empty for None and Fraction.
func (u Unit) Symbol() string { return u.row().symbol }

// String is the unit's symbol.
func (u Unit) String() string { return u.Symbol() }

// Quantity is what the unit measures; 0 for None.
func (u Unit) Quantity() Quantity { return u.row().quantity }

// ToSI converts a value shown in u to the SI unit.
func (u Unit) ToSI(shown float64) float64 {
	r := u.row()
	return float64(shown*r.factor) + r.offset
}

// FromSI converts an SI value to u.
func (u Unit) FromSI(si float64) float64 {
	r := u.row()
	return (si - r.offset) / r.factor
}

// Convert takes a value from one unit into another of the same quantity.
func Convert(x float64, from, to Unit) (float64, error) {
	if from.Quantity() != to.Quantity() {
		return 0, fmt.Errorf("convert %q to %q: different quantities", from.Symbol(), to.Symbol())
	}
	return to.FromSI(from.ToSI(x)), nil
}

// ParseUnit finds a unit by its symbol, as car and scenario files write it.
// Besides the symbols it knows "degC", "degF" and "ohm", "mohm", "kohm",
// "Mohm" for keyboards.
func ParseUnit(symbol string) (Unit, error) {
	for u := None + 1; u < unitCount; u++ {
		if s := rows[u].symbol; s != "" && s == symbol {
			return u, nil
		}
	}
	switch symbol {
	case "degC":
		return Celsius, nil
	case "degF":
		return Fahrenheit, nil
	case "ohm":
		return Ohm, nil
	case "mohm":
		return Milliohm, nil
	case "kohm":
		return Kiloohm, nil
	case "Mohm":
		return Megohm, nil
	}
	return None, fmt.Errorf("unit %q is not known", symbol)
}

// Vacuum is the depression of an absolute pressure below the barometer, both in
// the same unit: what a vacuum gauge shows. It is negative above the barometer.
func Vacuum(absolute, barometer float64) float64 { return barometer - absolute }

// Absolute is the absolute pressure at which a gauge shows this vacuum.
func Absolute(vacuum, barometer float64) float64 { return barometer - vacuum }
