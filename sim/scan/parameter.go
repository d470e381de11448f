package scan

import "fmt"

// Parameters named elsewhere in the program.
const (
	PIDReadiness       byte = 0x01
	PIDFreezeCode      byte = 0x02
	PIDFuelSystem      byte = 0x03
	PIDLoad            byte = 0x04
	PIDCoolant         byte = 0x05
	PIDShortTrim1      byte = 0x06
	PIDLongTrim1       byte = 0x07
	PIDShortTrim2      byte = 0x08
	PIDLongTrim2       byte = 0x09
	PIDManifold        byte = 0x0B
	PIDEngineSpeed     byte = 0x0C
	PIDVehicleSpeed    byte = 0x0D
	PIDTiming          byte = 0x0E
	PIDIntakeAir       byte = 0x0F
	PIDAirFlow         byte = 0x10
	PIDThrottle        byte = 0x11
	PIDSecondaryAir    byte = 0x12
	PIDSensors         byte = 0x13
	PIDOxygenB1S1      byte = 0x14
	PIDOxygenB1S2      byte = 0x15
	PIDOxygenB2S1      byte = 0x18
	PIDOxygenB2S2      byte = 0x19
	PIDRunTime         byte = 0x1F
	PIDDistanceLamp    byte = 0x21
	PIDLambdaVoltB1S1  byte = 0x24
	PIDLambdaVoltB2S1  byte = 0x28
	PIDWarmUps         byte = 0x30
	PIDDistanceClear   byte = 0x31
	PIDBarometer       byte = 0x33
	PIDLambdaB1S1      byte = 0x34
	PIDLambdaB2S1      byte = 0x38
	PIDCatalystB1S1    byte = 0x3C
	PIDCatalystB2S1    byte = 0x3D
	PIDMonitorCycle    byte = 0x41
	PIDModuleVoltage   byte = 0x42
	PIDCommandedLambda byte = 0x44
	PIDAmbient         byte = 0x46
)

// Form is how the bytes of a field are read.
type Form uint8

// The forms.
const (
	Number       Form = iota + 1 // raw·Num/Den + Offset
	OneHot                       // exactly one bit of the listed states
	OneHotOrNone                 // one bit of the listed states, or none
	Bits                         // any of the listed bits
	Code                         // a trouble code
	Support                      // bit map of supported identifiers
	Status                       // monitor status, see Readiness
)

// Field is one value in a parameter's data.
type Field struct {
	Name string
	Unit string // as the standard shows it: "°C", "kPa", "rpm", "%", "g/s", "V", "mA", "s", "km", "km/h"; empty for ratios and states
	Size int    // bytes, most significant first
	Form Form

	// For numbers: value = raw·Num/Den + Offset.
	Num, Den, Offset float64
	// NotUsed says that the largest raw value stands for "not used".
	NotUsed bool

	States []State // for OneHot, OneHotOrNone and Bits
}

// State is one bit of a status byte.
type State struct {
	Bit  byte // the byte's value with only this bit set
	Text string
}

// Parameter is one row of the scaling table.
type Parameter struct {
	PID    byte
	Name   string
	Fields []Field
	Source string // where the scaling was taken from
}

// Size is the number of data bytes.
func (p Parameter) Size() int {
	n := 0
	for _, f := range p.Fields {
		n += f.Size
	}
	return n
}

// Resolution is the step of one raw count in the field's unit; 0 when the
// field is not a number.
func (f Field) Resolution() float64 {
	if f.Form != Number {
		return 0
	}
	return f.Num / f.Den
}

// Limits are the smallest and the largest value that the field can carry.
func (f Field) Limits() (lowest, highest float64) {
	if f.Form != Number {
		return 0, 0
	}
	return f.value(0), f.value(f.largest())
}

func (f Field) largest() uint32 {
	n := uint32(1)<<(8*f.Size) - 1
	if f.NotUsed {
		n--
	}
	return n
}

func (f Field) value(raw uint32) float64 {
	return float64(float64(raw)*f.Num)/f.Den + f.Offset
}

// Lookup finds a parameter of the table. The returned fields are shared: do not
// change them.
func Lookup(pid byte) (Parameter, bool) {
	i := int(parameterIndex[pid]) - 1
	if i < 0 {
		return Parameter{}, false
	}
	return parameters[i], true
}

// Parameters is a copy of the scaling table in ascending order.
func Parameters() []Parameter { return append([]Parameter(nil), parameters...) }

// parameterIndex is one more than the table index of each PID, 0 for unknown.
var parameterIndex = func() (index [256]byte) {
	for i, p := range parameters {
		index[p.PID] = byte(i + 1)
	}
	return index
}()

// UnknownError is the error for an identifier that has no row in a table.
type UnknownError struct {
	What string // "parameter", "scaling"
	ID   byte
}

func (e *UnknownError) Error() string {
	return fmt.Sprintf("%s $%02X is not in the table", e.What, e.ID)
}
