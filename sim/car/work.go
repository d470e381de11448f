package car

import (
	"fmt"
	"slices"
	"strings"

	"coldbay/sim/car/strict"
)

// checkWork validates what repairs, long use and sensors name.
func (c *Car) checkWork(doc *strict.Doc) error {
	unit := func(path []any, id string) error {
		if _, ok := c.Unit(id); !ok {
			return doc.Errorf(path, "found %q, allowed is one of the units of this car", id)
		}
		return nil
	}
	kinds := map[string]bool{}
	for i, s := range c.Sensors {
		if !slices.Contains(SensorKinds(), s.Kind) || kinds[s.Kind] {
			return doc.Errorf([]any{"sensors", i, "kind"}, "found %q, allowed is each once: %s", s.Kind, strings.Join(SensorKinds(), ", "))
		}
		if s.Kind == "oxygen_2" && c.Banks != 2 {
			return doc.Errorf([]any{"sensors", i, "kind"}, "found oxygen_2, allowed in a car with two banks (banks: 2)")
		}
		kinds[s.Kind] = true
		if err := unit([]any{"sensors", i, "unit"}, s.Unit); err != nil {
			return err
		}
	}
	for i, b := range c.Belongs {
		if err := c.known(b.Param); err != nil {
			return doc.Errorf([]any{"belongs", i, "param"}, "%v", err)
		}
		if err := unit([]any{"belongs", i, "unit"}, b.Unit); err != nil {
			return err
		}
	}
	for i, u := range c.Units {
		for j, id := range u.Includes {
			if err := unit([]any{"units", i, "includes", j}, id); err != nil {
				return err
			}
		}
		for j, e := range u.Eases {
			if err := c.known(e.Set); err != nil {
				return doc.Errorf([]any{"units", i, "eases", j, "set"}, "%v", err)
			}
			if !(e.Share > 0 && e.Share < 1) {
				return doc.Errorf([]any{"units", i, "eases", j, "share"}, "found %g, allowed is between 0 and 1", e.Share)
			}
		}
	}
	for i, w := range c.Wear {
		if w.From != WetInlet && w.From != Backflow {
			return doc.Errorf([]any{"wear", i, "from"}, "found %q, allowed is %s, %s", w.From, WetInlet, Backflow)
		}
		if c.Air.Part(w.Of) < 0 {
			return doc.Errorf([]any{"wear", i, "of"}, "%q is no part of the pneumatic network", w.Of)
		}
		if err := c.known(w.Set); err != nil {
			return doc.Errorf([]any{"wear", i, "set"}, "%v", err)
		}
		if w.Rate <= 0 {
			return doc.Errorf([]any{"wear", i, "rate"}, "found %g, must be above 0", w.Rate)
		}
	}
	return nil
}

// What long use is counted by.
const (
	WetInlet = "wet_inlet"
	Backflow = "backflow"
)

// checkOnset validates when a change is there.
func (c *Car) checkOnset(o *Onset) error {
	switch o.When {
	case "", "start":
	case "time":
		if o.AfterS <= 0 {
			return fmt.Errorf("after_s = %g, must be above 0", o.AfterS)
		}
	case "hot", "cold":
		if o.K < 200 || o.K > 1500 {
			return fmt.Errorf("k = %g, allowed is 200 to 1500", o.K)
		}
		if o.BackK < 0 || o.BackK > 300 {
			return fmt.Errorf("back_k = %g, allowed is 0 to 300", o.BackK)
		}
		if o.Of != "" && !c.Circuit.Wound(o.Of) {
			return fmt.Errorf("of %q, allowed is a motor, a relay, a coil, or nothing for the coolant", o.Of)
		}
	case "vibration":
		if o.Rpm <= 0 {
			return fmt.Errorf("rpm = %g, must be above 0", o.Rpm)
		}
	case "random":
		if o.Duty <= 0 || o.Duty >= 1 || o.PeriodS < 0.1 {
			return fmt.Errorf("duty = %g and period_s = %g, allowed is a duty between 0 and 1 and at least 0.1 s", o.Duty, o.PeriodS)
		}
	default:
		return fmt.Errorf("when %q, allowed is start, time, hot, cold, vibration, random", o.When)
	}
	return nil
}
