package units

import "fmt"

// System is a family of units to start a [Preference] from.
type System uint8

// The systems.
const (
	SI System = iota
	US
)

// String is "si" or "us".
func (s System) String() string {
	if s == US {
		return "us"
	}
	return "si"
}

// MarshalText writes the system as "si" or "us".
func (s System) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads "si" or "us".
func (s *System) UnmarshalText(text []byte) error {
	switch string(text) {
	case "si":
		*s = SI
	case "us":
		*s = US
	default:
		return fmt.Errorf("unit system %q: write \"si\" or \"us\"", text)
	}
	return nil
}

// Preference says which unit somebody wants to see for what. Vacuum and
// pressure are separate because a US shop reads inches of mercury on one gauge
// and pounds per square inch on the other.
type Preference struct {
	Vacuum      Unit
	Pressure    Unit // gauge pressure above the barometer
	Barometer   Unit
	Temperature Unit
	MassFlow    Unit
	Speed       Unit
	Altitude    Unit
}

// Preference is the system's usual choice; any field may be changed after.
func (s System) Preference() Preference {
	p := Preference{
		Vacuum: Kilopascal, Pressure: Kilopascal, Barometer: Kilopascal, Temperature: Celsius,
		MassFlow: KgPerHour, Speed: KmPerHour, Altitude: Metre,
	}
	if s == US {
		p.Vacuum, p.Pressure, p.Barometer = InHg, Psi, InHg
		p.Temperature, p.Speed, p.Altitude = Fahrenheit, MilePerHour, Foot
	}
	return p
}

// Check reports a field whose unit measures something else.
func (p Preference) Check() error {
	for _, f := range []struct {
		name string
		unit Unit
		want Quantity
	}{
		{"vacuum", p.Vacuum, Pressure},
		{"pressure", p.Pressure, Pressure},
		{"barometer", p.Barometer, Pressure},
		{"temperature", p.Temperature, Temperature},
		{"mass flow", p.MassFlow, MassFlow},
		{"speed", p.Speed, Speed},
		{"altitude", p.Altitude, Length},
	} {
		if f.unit.Quantity() != f.want {
			return fmt.Errorf("unit preference: %q is no unit of %s", f.unit.Symbol(), f.name)
		}
	}
	return nil
}
