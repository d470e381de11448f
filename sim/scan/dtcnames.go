package scan

import "sort"

// Sources of the names.
const (
	namesA    = "SAE J2012 as in an open decoder's code list"
	namesBank = "SAE J2012 as in an open decoder's code list; bank and sensor from memory"
	names24   = "SAE J2012 as in an open table of P24xx codes"
	names24M  = "SAE J2012, from memory; neighbours as in an open table of P24xx codes"
	namesM    = "SAE J2012, from memory"

	air = "Secondary Air Injection System"
)

type dtcEntry struct {
	code         DTC
	name, source string
}

// dtcNames is in ascending order.
var dtcNames = []dtcEntry{
	{0x0111, "Intake Air Temperature Sensor 1 Circuit Range/Performance", namesM},
	{0x0112, "Intake Air Temperature Sensor 1 Circuit Low", namesM},
	{0x0113, "Intake Air Temperature Sensor 1 Circuit High", namesM},
	{0x0116, "Engine Coolant Temperature Sensor 1 Circuit Range/Performance", namesM},
	{0x0117, "Engine Coolant Temperature Sensor 1 Circuit Low", namesM},
	{0x0118, "Engine Coolant Temperature Sensor 1 Circuit High", namesM},
	{0x0130, "O2 Sensor Circuit (Bank 1 Sensor 1)", namesBank},
	{0x0131, "O2 Sensor Circuit Low Voltage (Bank 1 Sensor 1)", namesBank},
	{0x0132, "O2 Sensor Circuit High Voltage (Bank 1 Sensor 1)", namesBank},
	{0x0133, "O2 Sensor Circuit Slow Response (Bank 1 Sensor 1)", namesBank},
	{0x0134, "O2 Sensor Circuit No Activity Detected (Bank 1 Sensor 1)", namesBank},
	{0x0135, "O2 Sensor Heater Circuit (Bank 1 Sensor 1)", namesA},
	{0x0171, "System Too Lean (Bank 1)", namesA},
	{0x0172, "System Too Rich (Bank 1)", namesA},
	{0x0410, air, namesA},
	{0x0411, air + " Incorrect Flow Detected", namesA},
	{0x0412, air + ` Switching Valve "A" Circuit`, namesA},
	{0x0413, air + ` Switching Valve "A" Circuit Open`, namesA},
	{0x0414, air + ` Switching Valve "A" Circuit Shorted`, namesA},
	{0x0415, air + ` Switching Valve "B" Circuit`, namesA},
	{0x0416, air + ` Switching Valve "B" Circuit Open`, namesA},
	{0x0417, air + ` Switching Valve "B" Circuit Shorted`, namesA},
	{0x0418, air + ` Control "A" Circuit`, namesA + `; older lists say Relay "A" Circuit`},
	{0x0419, air + ` Control "B" Circuit`, namesA + `; older lists say Relay "B" Circuit`},
	{0x0420, "Catalyst System Efficiency Below Threshold (Bank 1)", namesA},
	{0x0491, air + " Insufficient Flow (Bank 1)", namesBank},
	{0x0492, air + " Insufficient Flow (Bank 2)", namesBank},
	{0x0562, "System Voltage Low", namesM},
	{0x2257, air + ` Control "A" Circuit Low`, namesM},
	{0x2258, air + ` Control "A" Circuit High`, namesM},
	{0x2259, air + ` Control "B" Circuit Low`, namesM},
	{0x2260, air + ` Control "B" Circuit High`, namesM},
	{0x2430, air + " Air Flow/Pressure Sensor Circuit Bank 1", namesM},
	{0x2431, air + " Air Flow/Pressure Sensor Circuit Range/Performance Bank 1", namesM},
	{0x2432, air + " Air Flow/Pressure Sensor Circuit Low Bank 1", namesM},
	{0x2433, air + " Air Flow/Pressure Sensor Circuit High Bank 1", namesM},
	{0x2434, air + " Air Flow/Pressure Sensor Circuit Intermittent Bank 1", names24},
	{0x2435, air + " Air Flow/Pressure Sensor Circuit Bank 2", names24},
	{0x2436, air + " Air Flow/Pressure Sensor Circuit Range/Performance Bank 2", names24},
	{0x2437, air + " Air Flow/Pressure Sensor Circuit Low Bank 2", names24},
	{0x2438, air + " Air Flow/Pressure Sensor Circuit High Bank 2", names24},
	{0x2439, air + " Air Flow/Pressure Sensor Circuit Intermittent Bank 2", names24},
	{0x2440, air + " Switching Valve Stuck Open Bank 1", names24},
	{0x2441, air + " Switching Valve Stuck Closed Bank 1", names24},
	{0x2442, air + " Switching Valve Stuck Open Bank 2", names24},
	{0x2443, air + " Switching Valve Stuck Closed Bank 2", names24},
	{0x2444, air + " Pump Stuck On Bank 1", names24},
	{0x2445, air + " Pump Stuck Off Bank 1", names24},
	{0x2446, air + " Pump Stuck On Bank 2", names24},
	{0x2447, air + " Pump Stuck Off Bank 2", names24},
	{0x2448, air + " High Airflow Bank 1", names24},
	{0x2449, air + " High Airflow Bank 2", names24M},
}

func (d DTC) entry() (dtcEntry, bool) {
	i := sort.Search(len(dtcNames), func(i int) bool { return dtcNames[i].code >= d })
	if i == len(dtcNames) || dtcNames[i].code != d {
		return dtcEntry{}, false
	}
	return dtcNames[i], true
}

// NamedDTCs lists the codes that have a name, in ascending order.
func NamedDTCs() []DTC {
	codes := make([]DTC, len(dtcNames))
	for i, e := range dtcNames {
		codes[i] = e.code
	}
	return codes
}
