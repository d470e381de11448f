package units

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestToSI(t *testing.T) {
	tests := []struct {
		name  string
		unit  Unit
		shown float64
		si    float64
		tol   float64
	}{
		// Read in two unit-conversion tables; NIST SP 811 app. B.8 rounds the
		// same (from memory).
		{"conventional inch of mercury", InHg, 1, 3386.389, 0},
		// NIST SP 811 appendix B.8, from memory.
		{"millimetre of mercury", MmHg, 1, 133.3224, 0},
		{"inch of water", InH2O, 1, 249.0889, 1e-9},
		{"psi", Psi, 1, 6894.757, 0},
		// Exact by definition.
		{"mbar", Millibar, 1, 100, 0},
		{"kPa", Kilopascal, 101.325, 101325, 1e-9},
		{"0 degC", Celsius, 0, 273.15, 0},
		{"32 degF", Fahrenheit, 32, 273.15, 1e-12},
		{"212 degF", Fahrenheit, 212, 373.15, 1e-12},
		{"-40 degF is -40 degC", Fahrenheit, -40, 233.15, 1e-12},
		// One atmosphere is 29.921 inHg and 14.696 psi (US Standard
		// Atmosphere 1976 as given by a university's outreach page).
		{"atmosphere in inHg", InHg, 29.921, 101325, 2},
		{"atmosphere in psi", Psi, 14.696, 101325, 4},
		// Worked out here: 3600 s in an hour, 2 pi/60 to a turn a minute.
		{"kg/h", KgPerHour, 3600, 1, 1e-15},
		{"g/s", GramPerSecond, 7.29, 0.00729, 1e-15},
		{"rpm", Rpm, 60, 6.283185307179586, 1e-14},
		{"mph", MilePerHour, 1, 0.44704, 0},
		{"km/h", KmPerHour, 36, 10, 1e-14},
		{"ft", Foot, 5000, 1524, 1e-9},
		{"percent", Percent, 50, 0.5, 0},
		{"none", None, 7, 7, 0},
		{"out of the table", unitCount + 9, 7, 7, 0},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			require.InDelta(t, test.si, test.unit.ToSI(test.shown), test.tol)
			require.InDelta(t, test.shown, test.unit.FromSI(test.unit.ToSI(test.shown)), 1e-9)
		})
	}
}

// Worked out here with the conventional inch of mercury: 101325 - 20·3386.389.
func TestVacuum(t *testing.T) {
	p := Absolute(InHg.ToSI(20), SeaLevelPressure)
	require.InDelta(t, 33597, p, 1)
	require.InDelta(t, 20, InHg.FromSI(Vacuum(p, SeaLevelPressure)), 1e-12)
}

func TestConvert(t *testing.T) {
	got, err := Convert(20, InHg, Kilopascal)
	require.NoError(t, err)
	require.InDelta(t, 67.72778, got, 1e-9)
	_, err = Convert(20, InHg, Celsius)
	require.EqualError(t, err, `convert "inHg" to "°C": different quantities`)
}

func TestParseUnit(t *testing.T) {
	for u := None + 1; u < unitCount; u++ {
		if u == Fraction {
			continue
		}
		got, err := ParseUnit(u.Symbol())
		require.NoError(t, err)
		require.Equal(t, u, got)
	}
	for text, want := range map[string]Unit{"degC": Celsius, "degF": Fahrenheit, "ohm": Ohm, "mohm": Milliohm, "kohm": Kiloohm, "Mohm": Megohm} {
		got, err := ParseUnit(text)
		require.NoError(t, err)
		require.Equal(t, want, got)
	}
	for _, text := range []string{"", "furlong", "inhg"} {
		_, err := ParseUnit(text)
		require.Error(t, err)
	}
}

func TestPreference(t *testing.T) {
	require.Equal(t, Kilopascal, SI.Preference().Vacuum)
	require.Equal(t, InHg, US.Preference().Vacuum)
	require.Equal(t, Psi, US.Preference().Pressure)
	require.NoError(t, SI.Preference().Check())
	p := US.Preference()
	require.NoError(t, p.Check())
	p.Vacuum = Celsius
	require.EqualError(t, p.Check(), `unit preference: "°C" is no unit of vacuum`)

	for _, s := range []System{SI, US} {
		text, err := s.MarshalText()
		require.NoError(t, err)
		var back System
		require.NoError(t, back.UnmarshalText(text))
		require.Equal(t, s, back)
	}
	var s System
	require.Error(t, s.UnmarshalText([]byte("metric")))
}
