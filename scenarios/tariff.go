package scenarios

import (
	"reflect"

	"coldbay/sim/bench"
	"coldbay/sim/car/strict"
)

// ParseTariff reads and checks a tariff: durations 0 to 7200 s, prices 0 to 10 million cents, a night of 1 to 48 h.
func ParseTariff(file string, data []byte) (*bench.Tariff, error) {
	var t bench.Tariff
	doc, err := strict.Decode(file, data, &t)
	if err != nil {
		return nil, err
	}
	if t.Format != bench.TariffFormat {
		return nil, doc.Errorf(strict.Path("format"), "found %q; allowed is %q", t.Format, bench.TariffFormat)
	}
	if err := limits(doc, "seconds", reflect.ValueOf(t.Seconds), 7200); err != nil {
		return nil, err
	}
	if err := limits(doc, "prices", reflect.ValueOf(t.Prices), 1e7); err != nil {
		return nil, err
	}
	if h := t.Prices.NightHours; h < 1 || h > 48 {
		return nil, doc.Errorf(strict.Path("prices", "night_hours"), "found %g; allowed are 1 to 48", h)
	}
	if c := t.Seconds.CrankMax; c < 1 || c > 30 {
		return nil, doc.Errorf(strict.Path("seconds", "crank_max"), "found %g; allowed are 1 to 30", c)
	}
	return &t, nil
}

// limits holds every number of a section between 0 and most.
func limits(doc *strict.Doc, section string, v reflect.Value, most float64) error {
	for i := range v.NumField() {
		key := v.Type().Field(i).Tag.Get("yaml")
		n := 0.0
		if f := v.Field(i); f.CanFloat() {
			n = f.Float()
		} else {
			n = float64(f.Int())
		}
		if n < 0 || n > most {
			return doc.Errorf(strict.Path(section, key), "found %g; allowed are 0 to %g", n, most)
		}
	}
	return nil
}
