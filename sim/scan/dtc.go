package scan

import (
	"fmt"
	"strings"
)

// DTC is a diagnostic trouble code as its two bytes, first byte high. Zero is
// no code: messages are padded with it.
type DTC uint16

const dtcSystems = "PCBU"

// ParseDTC reads a code such as "P0411": a letter P, C, B or U, a digit 0 to 3,
// three hexadecimal digits; small letters are accepted.
func ParseDTC(text string) (DTC, error) {
	bad := func() (DTC, error) {
		return 0, fmt.Errorf("trouble code %q: write a letter P, C, B or U, a digit 0 to 3 and three hexadecimal digits", text)
	}
	if len(text) != 5 {
		return bad()
	}
	upper := strings.ToUpper(text)
	system := strings.IndexByte(dtcSystems, upper[0])
	if system < 0 || upper[1] < '0' || upper[1] > '3' {
		return bad()
	}
	n := uint16(system)<<2 | uint16(upper[1]-'0')
	for _, c := range []byte(upper[2:]) {
		digit := strings.IndexByte("0123456789ABCDEF", c)
		if digit < 0 {
			return bad()
		}
		n = n<<4 | uint16(digit)
	}
	return DTC(n), nil
}

// DTCOf joins the two bytes of a message.
func DTCOf(high, low byte) DTC { return DTC(high)<<8 | DTC(low) }

// String is the code's text: bits 15-14 the letter, 13-12 the first digit, then
// three hexadecimal digits (SAE J2012 as in an open decoder's unit tests).
func (d DTC) String() string {
	return fmt.Sprintf("%c%d%03X", dtcSystems[d>>14], d>>12&3, uint16(d&0xFFF))
}

// Bytes are the two bytes as sent.
func (d DTC) Bytes() [2]byte { return [2]byte{byte(d >> 8), byte(d)} }

// Name is the standard's name of a generic code, and whether the table has it.
func (d DTC) Name() (string, bool) {
	e, ok := d.entry()
	return e.name, ok
}

// NameSource says where the table's name was taken from; empty for a code that
// the table does not have.
func (d DTC) NameSource() string {
	e, _ := d.entry()
	return e.source
}

// MarshalText writes the code as text.
func (d DTC) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the code as [ParseDTC] does.
func (d *DTC) UnmarshalText(text []byte) error {
	v, err := ParseDTC(string(text))
	if err == nil {
		*d = v
	}
	return err
}
