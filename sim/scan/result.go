package scan

import "fmt"

// Monitor identifiers of service $06 (SAE J1979; the secondary air and
// catalyst, heater and oxygen sensor groups as several public command tables
// agree, the places within a group from memory).
const (
	MIDOxygenB1S1    byte = 0x01
	MIDOxygenB1S2    byte = 0x02
	MIDOxygenB2S1    byte = 0x05
	MIDOxygenB2S2    byte = 0x06
	MIDCatalystB1    byte = 0x21
	MIDCatalystB2    byte = 0x22
	MIDHeaterB1S1    byte = 0x41
	MIDHeaterB1S2    byte = 0x42
	MIDHeaterB2S1    byte = 0x45
	MIDHeaterB2S2    byte = 0x46
	MIDSecondaryAir1 byte = 0x71
	MIDSecondaryAir2 byte = 0x72
	MIDSecondaryAir3 byte = 0x73
	MIDSecondaryAir4 byte = 0x74
)

// FirstMakerTID is the first test identifier that the vehicle maker defines
// (range $80 to $FE from memory).
const FirstMakerTID byte = 0x80

// The tests of the secondary air monitor, identifiers of our own.
const (
	TIDAirFlow   byte = 0x81 // air flow inferred while the air runs
	TIDAirAfter  byte = 0x82 // air flow inferred after it should have stopped
	TIDAirAnswer byte = 0x83 // answer of the short trim to air at warm idle
	TIDPipeShut  byte = 0x84 // pipe pressure against the shut valve
	TIDPipeOpen  byte = 0x85 // pipe pressure with the valve open
	TIDAirLean   byte = 0x86 // share of the time that the exhaust was lean while the air ran
)

// TestName is the name of a test of the secondary air monitor, and whether the table has it.
func TestName(mid, tid byte) (string, bool) {
	if mid < MIDSecondaryAir1 || mid > MIDSecondaryAir4 {
		return "", false
	}
	name, ok := map[byte]string{
		TIDAirFlow:   "Air flow while commanded on",
		TIDAirAfter:  "Air flow after commanded off",
		TIDAirAnswer: "Fuel trim answer to air at idle",
		TIDPipeShut:  "Pipe pressure, valve shut",
		TIDPipeOpen:  "Pipe pressure, valve open",
		TIDAirLean:   "Lean while air commanded on",
	}[tid]
	return name, ok
}

// resultSize is the number of bytes of one record: MID, TID, scaling, and two
// each of value, minimum and maximum.
const resultSize = 9

// MonitorName is the name of a monitor identifier, and whether the table has
// it.
func MonitorName(mid byte) (string, bool) {
	sensor := func(base byte) string { return fmt.Sprintf("B%dS%d", 1+(mid-base)/4, 1+(mid-base)%4) }
	switch {
	case mid >= 0x01 && mid <= 0x08:
		return "Oxygen sensor monitor " + sensor(0x01), true
	case mid == MIDCatalystB1 || mid == MIDCatalystB2:
		return fmt.Sprintf("Catalyst monitor bank %d", mid-MIDCatalystB1+1), true
	case mid >= 0x41 && mid <= 0x48:
		return "Oxygen sensor heater monitor " + sensor(0x41), true
	case mid >= MIDSecondaryAir1 && mid <= MIDSecondaryAir4:
		return fmt.Sprintf("Secondary air monitor %d", mid-MIDSecondaryAir1+1), true
	}
	return "", false
}

// Result is one test result with its limits, raw as sent.
type Result struct {
	MID, TID, Scaling byte
	Value, Min, Max   uint16
}

// Measured is a result in physical units.
type Measured struct {
	Value, Min, Max float64
	Unit            string
	Resolution      float64
	Pass            bool // Min <= Value <= Max
}

// NewResult encodes a test value and its limits.
func NewResult(mid, tid, scaling byte, value, low, high float64) (Result, error) {
	s, ok := LookupScaling(scaling)
	if !ok {
		return Result{}, &UnknownError{"scaling", scaling}
	}
	if isSupportMID(mid) {
		return Result{}, fmt.Errorf("monitor $%02X is a bit map of supported monitors", mid)
	}
	r := Result{MID: mid, TID: tid, Scaling: scaling}
	for _, part := range []struct {
		raw *uint16
		x   float64
	}{{&r.Value, value}, {&r.Min, low}, {&r.Max, high}} {
		raw, err := s.Raw(part.x)
		if err != nil {
			return Result{}, fmt.Errorf("monitor $%02X test $%02X: %w", mid, tid, err)
		}
		*part.raw = raw
	}
	return r, nil
}

// Measured decodes the result.
func (r Result) Measured() (Measured, error) {
	s, ok := LookupScaling(r.Scaling)
	if !ok {
		return Measured{}, &UnknownError{"scaling", r.Scaling}
	}
	m := Measured{Value: s.Value(r.Value), Min: s.Value(r.Min), Max: s.Value(r.Max), Unit: s.Unit, Resolution: s.Factor}
	m.Pass = m.Min <= m.Value && m.Value <= m.Max
	return m, nil
}

// isSupportMID: $00, $20, $40 ... are answered with a bit map.
func isSupportMID(mid byte) bool { return mid%0x20 == 0 }

func (r Response) appendResults(b []byte) ([]byte, error) {
	if len(r.Items)+len(r.Results) == 0 {
		return nil, malformed("response without a monitor")
	}
	for _, item := range r.Items {
		if !isSupportMID(item.ID) || len(item.Data) != 4 {
			return nil, malformed("monitor $%02X with %d data bytes is no bit map", item.ID, len(item.Data))
		}
		b = append(b, item.ID)
		b = append(b, item.Data...)
	}
	for _, t := range r.Results {
		if isSupportMID(t.MID) {
			return nil, malformed("monitor $%02X is a bit map", t.MID)
		}
		b = append(b, t.MID, t.TID, t.Scaling)
		for _, v := range []uint16{t.Value, t.Min, t.Max} {
			b = append(b, byte(v>>8), byte(v))
		}
	}
	return b, nil
}

func (r *Response) parseResults(b []byte) error {
	word := func(at int) uint16 { return uint16(b[at])<<8 | uint16(b[at+1]) }
	for len(b) > 0 {
		if isSupportMID(b[0]) && len(b) >= 5 {
			r.Items = append(r.Items, Item{ID: b[0], Data: append([]byte(nil), b[1:5]...)})
			b = b[5:]
			continue
		}
		if isSupportMID(b[0]) || len(b) < resultSize {
			break
		}
		r.Results = append(r.Results, Result{
			MID: b[0], TID: b[1], Scaling: b[2],
			Value: word(3), Min: word(5), Max: word(7),
		})
		b = b[resultSize:]
	}
	if len(r.Items)+len(r.Results) == 0 {
		return malformed("response without a whole monitor record")
	}
	return nil
}
