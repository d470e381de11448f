package phrase

import (
	"regexp"
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

// gap divides what a line of the scan tool's screen is about from what it shows.
const gap = "  "

// Screen writes a line of the scan tool's screen in the language and in the units that are wanted.
func (b *Book) Screen(line string) string {
	if s := b.msg.Said("screen", line); s != line {
		return s
	}
	if what, shown, ok := strings.Cut(line, gap); ok {
		if name := b.msg.Said("code", shown); name != shown {
			return what + gap + name
		}
		return b.msg.Said("data", what) + gap + b.screenValue(shown)
	}
	if what, shown, ok := strings.Cut(line, ": "); ok {
		return b.msg.Or("mode."+what, "phrase.id", "id", what) + ": " + b.word(shown)
	}
	return b.screenValue(line)
}

// limits is what the screen shows of a monitor's test: a value, its limits, and whether it passed.
var limits = regexp.MustCompile(`^(.+), limits (\S+) to (\S+): (.+)$`)

// screenValue is a number with its unit, a word, or the result of a monitor's test.
func (b *Book) screenValue(s string) string {
	if m := limits.FindStringSubmatch(s); m != nil {
		return b.T("scan.limits", "value", b.screenValue(m[1]), "low", b.msg.Decimal(m[2]), "high", b.msg.Decimal(m[3]), "word", b.word(m[4]))
	}
	number, unit, _ := strings.Cut(s, " ")
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return b.word(s)
	}
	if unit == "°C" {
		unit = "degC"
	}
	value, shown := b.Shown(bench.Scan, "", v, unit)
	return strings.TrimSpace(value + " " + b.msg.Or("unit."+shown, "phrase.id", "id", shown))
}
