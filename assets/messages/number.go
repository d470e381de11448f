package messages

// Decimal writes the numbers of a text with the decimal mark of the language: "12.64 V" is "12,64 V" in German and in Spanish. Numbers
// come with a point, as Go writes them; a point that stands between two digits is taken for a decimal point, every other one is left.
// What machines read, tables in CSV and JSON, is not passed through it. The marks are the message number.mark (Unicode CLDR, symbols
// of de and es: decimal comma).
func (c *Catalogue) Decimal(s string) string {
	mark := c.m["number.mark"]
	if mark == "" || mark == "." {
		return s
	}
	digit := func(i int) bool { return i >= 0 && i < len(s) && s[i] >= '0' && s[i] <= '9' }
	var out []byte
	last := 0
	for i := range len(s) {
		if s[i] == '.' && digit(i-1) && digit(i+1) {
			out = append(append(out, s[last:i]...), mark...)
			last = i + 1
		}
	}
	if last == 0 {
		return s
	}
	return string(append(out, s[last:]...))
}
