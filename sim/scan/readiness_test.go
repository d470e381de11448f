package scan

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestReadinessExamples(t *testing.T) {
	all := MonitorsOf(Monitors()...)
	tests := []struct {
		name  string
		bytes string
		want  Readiness
	}{
		// Worked out here from decoder A's bit order.
		{"secondary air incomplete", "81 07 6D 08", Readiness{Lamp: true, Count: 1,
			Supported: MonitorsOf(Misfire, FuelSystem, Components, Catalyst, Evaporative, SecondaryAir, OxygenSensor, OxygenHeater),
			// D carries the only incomplete monitor, bit 3.
			Incomplete: MonitorsOf(SecondaryAir)}},
		// Unit test of decoder A.
		{"three codes, all complete", "83 07 FF 00", Readiness{Lamp: true, Count: 3, Supported: all}},
		{"compression ignition, continuous incomplete", "00 7F 00 00", Readiness{Compression: true,
			Supported: MonitorsOf(Misfire, FuelSystem, Components), Incomplete: MonitorsOf(Misfire, FuelSystem, Components)}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			data := bytesOf(t, test.bytes)
			require.Equal(t, test.want, ParseReadiness([4]byte(data)))
			b := test.want.Bytes()
			require.Equal(t, data, b[:])
		})
	}
	require.False(t, tests[0].want.Complete())
	require.True(t, tests[1].want.Complete())
	require.Equal(t, byte(0x7F), Readiness{Count: 200}.Bytes()[0])
}

// Secondary air is bit 3 of C and D (decoder A); decoder B's reversed list would
// put it at bit 4.
func TestSecondaryAirBit(t *testing.T) {
	r := Readiness{Supported: MonitorsOf(SecondaryAir), Incomplete: MonitorsOf(SecondaryAir)}
	require.Equal(t, [4]byte{0, 0, 0x08, 0x08}, r.Bytes())
	require.Equal(t, "Secondary air system", SecondaryAir.String())
	require.Equal(t, "monitor 99", Monitor(99).String())
}

func TestReadinessReadings(t *testing.T) {
	readings, err := Decode(PIDReadiness, bytesOf(t, "81 07 6D 08"))
	require.NoError(t, err)
	text := map[string]string{}
	for _, r := range readings {
		text[r.Name] = r.Text
	}
	require.Equal(t, "on", text["Malfunction indicator lamp"])
	require.Equal(t, "incomplete", text["Secondary air system"])
	require.Equal(t, "complete", text["Catalyst"])
	require.Equal(t, "not supported", text["Heated catalyst"])
	require.Equal(t, 1.0, readings[1].Value)
	readings, err = Decode(PIDMonitorCycle, make([]byte, 4))
	require.NoError(t, err)
	require.Equal(t, "off", readings[0].Text)
}
