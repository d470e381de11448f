package phrase

import (
	"strconv"
	"strings"

	"coldbay/sim/bench"
	"coldbay/sim/units"
)

// Resolutions of values that were turned into another unit: those of the gauges and tools that show them.
const (
	inchStep   = 0.5 // inHg on a vacuum gauge
	inchScan   = 0.1 // inHg on a scan tool
	degreeStep = 1   // degF
)

// Shown writes a value and its unit as somebody wants to see it. What is measured in kPa or degC may be turned into inHg or degF; a
// difference of temperatures never comes here.
func (b *Book) Shown(sense bench.Sense, key string, v float64, unit string) (value, shown string) {
	switch {
	case unit == "kPa" && b.Units.Vacuum == units.InHg:
		step := inchStep
		if sense == bench.Scan || strings.HasPrefix(key, "pid.") {
			step = inchScan
		}
		if x, err := units.Convert(v, units.Kilopascal, units.InHg); err == nil {
			return b.msg.Decimal(units.Number(x, step)), "inHg"
		}
	case unit == "degC" && b.Units.Temperature == units.Fahrenheit:
		if x, err := units.Convert(v, units.Celsius, units.Fahrenheit); err == nil {
			return b.msg.Decimal(units.Number(x, degreeStep)), "degF"
		}
	}
	return b.msg.Decimal(Number(v)), unit
}

// Vacuum writes what a vacuum gauge shows.
func (b *Book) Vacuum(kPa float64) string {
	value, unit := b.Shown(bench.Gauge, "vacuum", kPa, "kPa")
	return value + " " + unit
}

// Screen writes a line of the scan tool's screen, which ends in a value and its unit, in the units that are wanted.
func (b *Book) Screen(line string) string {
	head, unit, ok := cutLast(line)
	if unit == "°C" {
		unit = "degC"
	}
	if !ok || unit != "kPa" && unit != "degC" {
		return line
	}
	head, number, ok := cutLast(head)
	v, err := strconv.ParseFloat(number, 64)
	if !ok || err != nil {
		return line
	}
	value, shown := b.Shown(bench.Scan, "", v, unit)
	return head + " " + value + " " + b.msg.Or("unit."+shown, "phrase.id", "id", shown)
}

func cutLast(s string) (before, last string, ok bool) {
	i := strings.LastIndexByte(s, ' ')
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+1:], true
}
