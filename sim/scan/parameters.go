package scan

import "fmt"

// Sources of the rows. "Decoder A" is an open Python scan library with unit
// tests, "decoder B" the vehicle-bus layer of an open packet library; both were
// read, and where they disagree the row says which was followed.
const (
	fromA      = "SAE J1979 as in decoder A and its unit tests"
	fromB      = "SAE J1979 as in decoder B"
	fromAB     = "SAE J1979 as in decoders A and B"
	fromMemory = "SAE J1979, from memory"
)

func number(name, unit string, size int, num, den, offset float64) Field {
	return Field{Name: name, Unit: unit, Size: size, Form: Number, Num: num, Den: den, Offset: offset}
}

func one(pid byte, source string, f Field) Parameter {
	return Parameter{PID: pid, Name: f.Name, Fields: []Field{f}, Source: source}
}

func trim(pid byte, name string) Parameter {
	return one(pid, fromA, number(name, "%", 1, 100, 128, -100))
}

// Secondary air status, PID $12. Decoder B numbers the first state 00, decoder A
// and its unit tests 01, as the standard does from memory: exactly one bit.
const (
	AirUpstream   byte = 0x01
	AirDownstream byte = 0x02
	AirOff        byte = 0x04
	AirDiagnostic byte = 0x08
)

var airStates = []State{
	{AirUpstream, "Upstream of catalyst"},
	{AirDownstream, "Downstream of catalyst"},
	{AirOff, "From outside atmosphere or off"},
	{AirDiagnostic, "Pump commanded on for diagnostics"},
}

// Fuel system status, PID $03.
const (
	FuelOpenCold    byte = 0x01
	FuelClosed      byte = 0x02
	FuelOpenLoad    byte = 0x04
	FuelOpenFault   byte = 0x08
	FuelClosedFault byte = 0x10
)

var fuelStates = []State{
	{FuelOpenCold, "Open loop, not yet warm"},
	{FuelClosed, "Closed loop"},
	{FuelOpenLoad, "Open loop, load or deceleration"},
	{FuelOpenFault, "Open loop, system fault"},
	{FuelClosedFault, "Closed loop, sensor fault"},
}

var sensorStates = []State{
	{0x01, "B1S1"}, {0x02, "B1S2"}, {0x04, "B1S3"}, {0x08, "B1S4"},
	{0x10, "B2S1"}, {0x20, "B2S2"}, {0x40, "B2S3"}, {0x80, "B2S4"},
}

var parameters = buildParameters()

func buildParameters() []Parameter {
	p := []Parameter{
		{0x00, "Supported parameters $01 to $20", []Field{{Name: "Supported", Size: 4, Form: Support}}, fromA},
		{0x01, "Monitor status since codes cleared", []Field{{Name: "Monitor status", Size: 4, Form: Status}},
			fromA + "; decoder B lists the readiness flags in the opposite order and was not followed"},
		{0x02, "Code that stored the freeze frame", []Field{{Name: "Freeze frame code", Size: 2, Form: Code}}, fromA},
		{0x03, "Fuel system status", []Field{
			{Name: "Fuel system 1 status", Size: 1, Form: OneHotOrNone, States: fuelStates},
			{Name: "Fuel system 2 status", Size: 1, Form: OneHotOrNone, States: fuelStates}},
			fromA + "; decoder B numbers the first state 00 and was not followed"},
		one(0x04, fromMemory, number("Calculated load", "%", 1, 100, 255, 0)),
		one(0x05, fromA, number("Engine coolant temperature", "°C", 1, 1, 1, -40)),
		trim(0x06, "Short term fuel trim bank 1"),
		trim(0x07, "Long term fuel trim bank 1"),
		trim(0x08, "Short term fuel trim bank 2"),
		trim(0x09, "Long term fuel trim bank 2"),
		one(0x0B, fromB, number("Intake manifold absolute pressure", "kPa", 1, 1, 1, 0)),
		one(0x0C, fromB, number("Engine speed", "rpm", 2, 1, 4, 0)),
		one(0x0D, fromB, number("Vehicle speed", "km/h", 1, 1, 1, 0)),
		one(0x0E, fromMemory, number("Ignition timing advance", "°", 1, 1, 2, -64)),
		one(0x0F, fromB, number("Intake air temperature", "°C", 1, 1, 1, -40)),
		one(0x10, fromB, number("Air flow rate", "g/s", 2, 1, 100, 0)),
		one(0x11, fromB, number("Absolute throttle position", "%", 1, 100, 255, 0)),
		{0x12, "Commanded secondary air status",
			[]Field{{Name: "Commanded secondary air status", Size: 1, Form: OneHot, States: airStates}},
			fromA + "; decoder B numbers the first state 00 and was not followed"},
		{0x13, "Oxygen sensors present",
			[]Field{{Name: "Oxygen sensors present", Size: 1, Form: Bits, States: sensorStates}}, fromMemory},
	}
	for i := range byte(8) {
		where := fmt.Sprintf("B%dS%d", 1+i/4, 1+i%4)
		fuel := number("Short term fuel trim "+where, "%", 1, 100, 128, -100)
		fuel.NotUsed = true
		p = append(p, Parameter{0x14 + i, "Oxygen sensor " + where,
			[]Field{number("Oxygen sensor voltage "+where, "V", 1, 1, 200, 0), fuel}, fromAB})
	}
	p = append(p,
		one(0x1F, fromB, number("Time since engine start", "s", 2, 1, 1, 0)),
		Parameter{0x20, "Supported parameters $21 to $40", []Field{{Name: "Supported", Size: 4, Form: Support}}, fromA},
		one(0x21, fromMemory, number("Distance with lamp on", "km", 2, 1, 1, 0)),
	)
	for i := range byte(8) {
		where := fmt.Sprintf("B%dS%d", 1+i/4, 1+i%4)
		p = append(p, Parameter{0x24 + i, "Wide range oxygen sensor " + where, []Field{
			number("Equivalence ratio "+where, "", 2, 2, 65536, 0),
			number("Oxygen sensor voltage "+where, "V", 2, 8, 65536, 0)},
			fromB + "; full scale 8 V in decoder A; ratio factor 2/65536 (others write 0.0000305 or 2/65535)"})
	}
	p = append(p,
		one(0x30, fromMemory, number("Warm-ups since codes cleared", "", 1, 1, 1, 0)),
		one(0x31, fromMemory, number("Distance since codes cleared", "km", 2, 1, 1, 0)),
		one(0x33, fromB, number("Barometric pressure", "kPa", 1, 1, 1, 0)),
	)
	for i := range byte(8) {
		where := fmt.Sprintf("B%dS%d", 1+i/4, 1+i%4)
		p = append(p, Parameter{0x34 + i, "Wide range oxygen sensor current " + where, []Field{
			number("Equivalence ratio "+where, "", 2, 2, 65536, 0),
			number("Oxygen sensor current "+where, "mA", 2, 1, 256, -128)},
			"SAE J1979: ratio as in decoder B, current with its -128 mA offset as in decoder A (decoder B leaves the offset out)"})
	}
	for i, where := range []string{"B1S1", "B2S1", "B1S2", "B2S2"} {
		p = append(p, one(0x3C+byte(i), fromB, number("Catalyst temperature "+where, "°C", 2, 1, 10, -40)))
	}
	return append(p,
		Parameter{0x40, "Supported parameters $41 to $60", []Field{{Name: "Supported", Size: 4, Form: Support}}, fromA},
		Parameter{0x41, "Monitor status this driving cycle", []Field{{Name: "Monitor status", Size: 4, Form: Status}}, fromMemory},
		one(0x42, fromB, number("Control module voltage", "V", 2, 1, 1000, 0)),
		one(0x43, fromMemory, number("Absolute load", "%", 2, 100, 255, 0)),
		one(0x44, fromB, number("Commanded equivalence ratio", "", 2, 2, 65536, 0)),
		one(0x45, fromMemory, number("Relative throttle position", "%", 1, 100, 255, 0)),
		one(0x46, fromMemory, number("Ambient air temperature", "°C", 1, 1, 1, -40)),
	)
}
