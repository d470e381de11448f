package scan

import (
	"fmt"
	"strings"
)

// Information types of service $09 (SAE J1979, from memory).
const (
	InfoSupported   byte = 0x00
	InfoVIN         byte = 0x02
	InfoCalibration byte = 0x04
	InfoInUse       byte = 0x08
	InfoController  byte = 0x0A
)

// Info is the content of a response to service $09: the type, the number of
// data items, and their bytes.
type Info struct {
	Type, Count byte
	Data        []byte
}

// infoWidth is the width of one text item.
func infoWidth(kind byte) int {
	switch kind {
	case InfoVIN:
		return 17
	case InfoCalibration:
		return 16
	case InfoController:
		return 20
	}
	return 0
}

// NewInfoText makes the vehicle number, calibration identifiers or the
// controller's name, in printable ASCII, filled up with zero bytes.
func NewInfoText(kind byte, texts ...string) (Info, error) {
	width := infoWidth(kind)
	if width == 0 {
		return Info{}, fmt.Errorf("information type $%02X is not text", kind)
	}
	if len(texts) == 0 || len(texts) > 255 {
		return Info{}, fmt.Errorf("information type $%02X: %d texts", kind, len(texts))
	}
	info := Info{Type: kind, Count: byte(len(texts))}
	for _, text := range texts {
		if len(text) > width {
			return Info{}, fmt.Errorf("information type $%02X: %q is longer than %d", kind, text, width)
		}
		for _, c := range []byte(text) {
			if c < 0x20 || c > 0x7E {
				return Info{}, fmt.Errorf("information type $%02X: %q is not printable ASCII", kind, text)
			}
		}
		info.Data = append(info.Data, text...)
		info.Data = append(info.Data, make([]byte, width-len(text))...)
	}
	return info, nil
}

// Texts reads the text items. Bytes that are not printable ASCII show as "?".
func (i Info) Texts() ([]string, error) {
	width := infoWidth(i.Type)
	if width == 0 {
		return nil, fmt.Errorf("information type $%02X is not text", i.Type)
	}
	if len(i.Data) != width*int(i.Count) {
		return nil, malformed("information type $%02X: %d bytes for %d items of %d", i.Type, len(i.Data), i.Count, width)
	}
	texts := make([]string, i.Count)
	for n := range texts {
		part := strings.Trim(string(i.Data[n*width:(n+1)*width]), "\x00")
		texts[n] = strings.Map(func(c rune) rune {
			if c < 0x20 || c > 0x7E {
				return '?'
			}
			return c
		}, part)
	}
	return texts, nil
}

// InUse is the in-use performance tracking of a spark-ignition engine: how
// often the conditions of each monitor were met and how often it completed
// (order and size of the sixteen counters from memory of SAE J1979).
type InUse struct {
	Conditions, Ignitions uint16 // driving cycles with general conditions, ignition cycles
	Catalyst              [2]InUseCount
	OxygenSensor          [2]InUseCount
	EGR, Air, Evaporative InUseCount
}

// InUseCount is one monitor's numerator and denominator.
type InUseCount struct{ Completed, Encountered uint16 }

// Ratio is completed over encountered; 0 while nothing was encountered.
func (c InUseCount) Ratio() float64 {
	if c.Encountered == 0 {
		return 0
	}
	return float64(c.Completed) / float64(c.Encountered)
}

const inUseCounters = 16

func (u *InUse) fields() [inUseCounters]*uint16 {
	return [inUseCounters]*uint16{
		&u.Conditions, &u.Ignitions,
		&u.Catalyst[0].Completed, &u.Catalyst[0].Encountered,
		&u.Catalyst[1].Completed, &u.Catalyst[1].Encountered,
		&u.OxygenSensor[0].Completed, &u.OxygenSensor[0].Encountered,
		&u.OxygenSensor[1].Completed, &u.OxygenSensor[1].Encountered,
		&u.EGR.Completed, &u.EGR.Encountered,
		&u.Air.Completed, &u.Air.Encountered,
		&u.Evaporative.Completed, &u.Evaporative.Encountered,
	}
}

// Info writes the counters.
func (u InUse) Info() Info {
	info := Info{Type: InfoInUse, Count: inUseCounters}
	for _, f := range u.fields() {
		info.Data = append(info.Data, byte(*f>>8), byte(*f))
	}
	return info
}

// InUse reads the counters; later ones than the sixteen are ignored.
func (i Info) InUse() (InUse, error) {
	var u InUse
	if i.Type != InfoInUse || i.Count < inUseCounters || len(i.Data) != 2*int(i.Count) {
		return u, malformed("information type $%02X with %d items in %d bytes is no in-use tracking", i.Type, i.Count, len(i.Data))
	}
	for n, f := range u.fields() {
		*f = uint16(i.Data[2*n])<<8 | uint16(i.Data[2*n+1])
	}
	return u, nil
}
