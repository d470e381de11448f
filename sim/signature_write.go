package sim

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// sheetWidth is how many columns a sheet for people has.
const sheetWidth = 120

// head says in lines what the table is and in what conditions it was read.
func (t *SignatureTable) head() []string {
	draw := "the nominal car"
	if t.Cond.Draw != 0 {
		draw = fmt.Sprintf("draw %d", t.Cond.Draw)
	}
	lines := []string{
		fmt.Sprintf("Signatures of %s (%s): the usual readings with one fault at a time.", t.Car.Name, t.Car.ID),
		fmt.Sprintf("Conditions: surroundings %.2f K and %.0f Pa, a cold start after a night, %s.", t.Cond.AmbientK, t.Cond.AmbientPa, draw),
		"An invented car: training figures, of no use on a real one.",
	}
	if lacks := t.lacks(); len(lacks) > 0 {
		lines = append(lines, "Not in this car, so not read: "+strings.Join(lacks, ", ")+".")
	}
	return lines
}

// legend explains a column in a line.
func (t *SignatureTable) legend(k SignatureColumn, name string) string {
	text := k.Text
	if k.ID == "codes" && !t.Car.ScanPort {
		text += "; no tool reads them on this car, they light the lamp"
	}
	if strings.HasPrefix(k.ID, "trim") && !t.Car.ScanPort {
		text += "; inside the controller, no tool reads it on this car"
	}
	if k.Unit != "" && k.Unit != "-" && !strings.HasSuffix(name, " "+k.Unit) {
		text = "[" + k.Unit + "] " + text
	}
	return fmt.Sprintf("%-14s %s", name, text)
}

// wrapped breaks a line of the legend between words where the sheet ends, and hangs what follows under the explanation.
func wrapped(line string) string {
	const indent = 17
	var b strings.Builder
	for room := sheetWidth - 2; utf8.RuneCountInString(line) > room; room = sheetWidth - indent {
		cut := strings.LastIndex(line[:room+1], " ")
		b.WriteString(line[:cut] + "\n" + strings.Repeat(" ", indent))
		line = line[cut+1:]
	}
	return b.String() + line
}

// besides tells the readings that have no column of their own: all of the sound car, of another those that differ from it.
func (t *SignatureTable) besides(s Signature, all bool) string {
	var out []string
	for _, k := range t.columns() {
		if k.aside && (all || k.Felt(t.Sound, s)) {
			if text := k.Cell(s); text != "" {
				out = append(out, k.Head+" "+text)
			}
		}
	}
	return strings.Join(out, ", ")
}

// WriteText writes the table for people: a line a severity under each fault's name.
func (t *SignatureTable) WriteText(out io.Writer) error {
	var b strings.Builder
	for _, line := range t.head() {
		fmt.Fprintln(&b, line)
	}
	var main []SignatureColumn
	b.WriteString("\nColumns\n")
	fmt.Fprintf(&b, "  %-14s %s\n", "sev", "severity, above 0 to 1; - where the fault is there or not")
	var aside []string
	for _, k := range t.columns() {
		if k.aside {
			aside = append(aside, wrapped(t.legend(k, k.Head)))
			continue
		}
		main = append(main, k)
		fmt.Fprintf(&b, "  %s\n", wrapped(t.legend(k, k.Head)))
	}
	b.WriteString("After the bar, only where a mechanic would notice that it is not as on a sound car\n")
	for _, line := range aside {
		fmt.Fprintf(&b, "  %s\n", line)
	}
	fmt.Fprintf(&b, "  %s\n", wrapped("A sound car:   "+t.besides(t.Sound, true)+"."))

	width := make([]int, len(main))
	for i, k := range main {
		width[i] = max(len(k.Head), len(k.Unit))
		for _, s := range append([]Signature{t.Sound}, t.Rows...) {
			width[i] = max(width[i], utf8.RuneCountInString(k.Cell(s)))
		}
	}
	line := func(first string, cell func(SignatureColumn) string, last string) {
		row := fmt.Sprintf("%3s", first)
		for i, k := range main {
			if k.say != nil {
				row += fmt.Sprintf("  %-*s", width[i], cell(k))
			} else {
				row += fmt.Sprintf(" %*s", width[i]+1, cell(k))
			}
		}
		if last != "" && utf8.RuneCountInString(row)+3+utf8.RuneCountInString(last) <= sheetWidth {
			row, last = row+" | "+last, ""
		}
		b.WriteString(strings.TrimRight(row, " ") + "\n")
		for last != "" {
			head := last
			if utf8.RuneCountInString(last) > sheetWidth-8 {
				cut := strings.LastIndex(last[:sheetWidth-8], ", ")
				head = last[:cut+1]
			}
			fmt.Fprintf(&b, "      | %s\n", head)
			last = strings.TrimSpace(strings.TrimPrefix(last, head))
		}
	}
	b.WriteString("\n")
	line("sev", func(k SignatureColumn) string { return k.Head }, "")
	line("", func(k SignatureColumn) string { return k.Unit }, "besides")
	b.WriteString("sound car\n")
	line("-", func(k SignatureColumn) string { return k.Cell(t.Sound) }, "")
	for i, s := range t.Rows {
		if i == 0 || t.Rows[i-1].Fault != s.Fault {
			fmt.Fprintf(&b, "%s: %s\n", s.Fault, FaultName(t.Car, s.Fault))
		}
		severity := "-"
		if graded, err := Graded(t.Car, s.Fault); err != nil {
			return err
		} else if graded {
			severity = strconv.FormatFloat(s.Severity, 'g', 3, 64)
		}
		line(severity, func(k SignatureColumn) string { return k.Cell(s) }, t.besides(s, false))
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// WriteCSV writes the table for a spreadsheet, explained in lines that begin with "#". It has every column of every car, blank where this
// car has nothing to read; the sound car is the row without a fault. What has no number is called open, never or -.
func (t *SignatureTable) WriteCSV(out io.Writer) error {
	var b strings.Builder
	for _, line := range t.head() {
		fmt.Fprintln(&b, "# "+line)
	}
	header := []string{"car", "fault", "name", "severity"}
	for _, k := range SignatureColumns() {
		fmt.Fprintln(&b, "# "+t.legend(k, k.ID))
		header = append(header, k.ID)
	}
	w := csv.NewWriter(&b)
	if err := w.Write(header); err != nil {
		return err
	}
	for _, s := range append([]Signature{t.Sound}, t.Rows...) {
		row := []string{t.Car.ID, s.Fault, FaultName(t.Car, s.Fault), strconv.FormatFloat(s.Severity, 'g', 3, 64)}
		for _, k := range SignatureColumns() {
			cell := ""
			if k.On(t.Car, t.Probes) {
				cell = k.Cell(s)
			}
			row = append(row, cell)
		}
		if err := w.Write(row); err != nil {
			return err
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return err
	}
	_, err := io.WriteString(out, b.String())
	return err
}

// JSON is the table as a value that encodes as JSON: a reading is a number, null where there is none to give (an open coil, a
// valve that never opens, a catalyst that does not light), and absent where the car has nothing to read.
func (t *SignatureTable) JSON() any {
	type table struct {
		Car        string            `json:"car"`
		Name       string            `json:"name"`
		AmbientK   float64           `json:"ambient_k"`
		AmbientPa  float64           `json:"ambient_pa"`
		Draw       uint64            `json:"draw"`
		Columns    []SignatureColumn `json:"columns"`
		Sound      signatureRow      `json:"sound"`
		Signatures []signatureRow    `json:"signatures"`
	}
	columns := t.columns()
	row := func(s Signature) signatureRow {
		return signatureRow{s, FaultName(t.Car, s.Fault), columns}
	}
	out := table{Car: t.Car.ID, Name: t.Car.Name, AmbientK: t.Cond.AmbientK, AmbientPa: t.Cond.AmbientPa, Draw: t.Cond.Draw, Columns: columns, Sound: row(t.Sound), Signatures: []signatureRow{}}
	for _, s := range t.Rows {
		out.Signatures = append(out.Signatures, row(s))
	}
	return out
}

type signatureRow struct {
	s       Signature
	name    string
	columns []SignatureColumn
}

// MarshalJSON writes the readings under their columns' names, in their order.
func (r signatureRow) MarshalJSON() ([]byte, error) {
	b, err := json.Marshal(struct {
		Fault    string  `json:"fault"`
		Name     string  `json:"name"`
		Severity float64 `json:"severity"`
	}{r.s.Fault, r.name, r.s.Severity})
	if err != nil {
		return nil, err
	}
	b = b[:len(b)-1] // the readings follow
	for _, k := range r.columns {
		b = fmt.Appendf(b, `,%q:`, k.ID)
		switch v, ok := k.Number(r.s); {
		case k.ID == "codes":
			b = append(b, codesJSON(r.s.Codes)...)
		case k.say != nil && k.Cell(r.s) != "":
			b = strconv.AppendQuote(b, k.Cell(r.s))
		case !ok:
			b = append(b, "null"...)
		default:
			b = strconv.AppendFloat(b, v, 'f', -1, 64)
		}
	}
	return append(b, '}'), nil
}

// codesJSON makes a list of the codes.
func codesJSON(codes string) string {
	var quoted []string
	for _, code := range strings.Fields(codes) {
		quoted = append(quoted, strconv.Quote(code))
	}
	return "[" + strings.Join(quoted, ",") + "]"
}
