package validate

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

// Summary counts rows.
type Summary struct {
	Rows    int            `json:"rows"`
	Red     int            `json:"red"`
	Known   int            `json:"known_differences"`
	Bench   int            `json:"bench"`
	Marks   map[Mark]int   `json:"marks"`
	Hows    map[string]int `json:"hows"`
	Changes int            `json:"changes,omitempty"`
	Unseen  []string       `json:"unseen,omitempty"` // changes that turned no row red
}

// Summarise counts.
func Summarise(rows []Row, turned []Turned) Summary {
	s := Summary{Rows: len(rows), Marks: map[Mark]int{}, Hows: map[string]int{}, Changes: len(turned)}
	for _, r := range rows {
		s.Marks[r.Mark]++
		s.Hows[r.How]++
		if r.Red() {
			s.Red++
		}
		if r.Known != "" {
			s.Known++
		}
	}
	s.Bench = s.Hows[ByBench]
	for _, t := range turned {
		if len(t.Red) == 0 && t.Lost == "" {
			s.Unseen = append(s.Unseen, t.What)
		}
	}
	return s
}

// allMarks in the order in which the page counts them.
var allMarks = []Mark{Standard, Handbook, Program, Worked, Note, Practice, Memory, Property}

// Page writes the validation as Markdown. The same rows give the same bytes.
func Page(rows []Row, turned []Turned) []byte {
	var b bytes.Buffer
	sum := Summarise(rows, turned)
	fmt.Fprintf(&b, "# Validation\n\nWritten by `coldbay validate --write testdata/VALIDATION.md`; a test compares it with a fresh run. The cars, which are\n"+
		"invented, are the nominal ones at 20 °C and sea level, and car A where a row does not name another, unless a row says otherwise. Expected values come from outside the program; beside each stands from\n"+
		"where, and a mark:\n\n| mark | meaning | rows |\n|---|---|---|\n")
	for _, m := range allMarks {
		fmt.Fprintf(&b, "| %s | %s | %d |\n", m, meanings[m], sum.Marks[m])
	}
	fmt.Fprintf(&b, "\n%d rows: %d of formulas, %d of whole cars, %d read at the bench as a trainee would, by meter, clamp, lamp, gauge, hand pump, scan tool, eyes,\n"+
		"ears and hands. %d red, %d known differences. \"Used\" is the share of the tolerance that a deviation takes.\n", sum.Rows, sum.Hows[ByFormula], sum.Hows[ByWorld], sum.Bench, sum.Red, sum.Known)
	b.WriteString("\n## Known differences\n\nRows that the model does not meet. They turn red as soon as it does.\n\n| row | what | expected | computed | why |\n|---|---|---|---|---|\n")
	for _, r := range rows {
		if r.Known != "" {
			fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", r.ID, cell(r.What), withUnit(r.Expected, r.Unit), withUnit(r.Computed, r.Unit), cell(r.Known))
		}
	}
	b.WriteString("\nNo rows are there for reference tables to which the model has no counterpart: gas properties by temperature, temperature of adiabatic\nmixing, viscosity and laminar tubes.\n")
	group := ""
	for _, r := range rows {
		if r.Group != group {
			group = r.Group
			fmt.Fprintf(&b, "\n## %s\n\n| | row | what | expected | computed | deviation | used | mark | source |\n|---|---|---|---|---|---|---|---|---|\n", group)
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s | %s | %s | %s |\n", state(r), r.ID, cell(r.What), withUnit(r.Expected, r.Unit), withUnit(r.Computed, r.Unit), r.Dev, used(r), r.Mark, cell(r.Source))
	}
	b.WriteString("\n## Close to the edge\n\nRows of numbers that take more than 80 % of their tolerance:")
	for _, r := range rows {
		if r.Used > 0.8 && r.Pass && r.Low != 0 && r.Mark != Memory {
			fmt.Fprintf(&b, " %s (%.0f %%)", r.ID, r.Used*100)
		}
	}
	b.WriteString(".\n")
	pageChanges(&b, turned)
	return b.Bytes()
}

var meanings = map[Mark]string{
	Standard: "a standard's or regulation's clause that was read, at first or second hand",
	Handbook: "a published table or text that was read",
	Program:  "the same equations or the same netlist solved by another program, kept as a table",
	Worked:   "from the formula named, apart from the program",
	Note:     "the project's own specification; its independent solution was made with another program",
	Practice: "common practice, no source",
	Memory:   "a standard or handbook, not read for this",
	Property: "must hold by itself: conservation, convergence, monotony",
}

func state(r Row) string {
	switch {
	case r.Known != "" && !r.Pass:
		return "known"
	case r.Red():
		return "**RED**"
	}
	return "ok"
}

func used(r Row) string {
	if r.Low == 0 && r.High == 0 {
		return ""
	}
	return fmt.Sprintf("%.0f %%", r.Used*100)
}

func withUnit(text, unit string) string {
	if unit == "" || text == "no reading" {
		return cell(text)
	}
	return cell(text + " " + unit)
}

func cell(text string) string { return strings.ReplaceAll(text, "|", "\\|") }

func pageChanges(b *bytes.Buffer, turned []Turned) {
	if len(turned) == 0 {
		return
	}
	b.WriteString("\n## What a wrong number would show\n\nOne number of the car file at a time is made wrong, and the rows that look at the car are run again. A row that no change turns red says\n" +
		"nothing about the car; a parameter that turns none is not watched.\n\n| parameter | is | made | red | which |\n|---|---|---|---|---|\n")
	for _, t := range turned {
		which := strings.Join(t.Red[:min(len(t.Red), 6)], ", ")
		if len(t.Red) > 6 {
			which += " …"
		}
		if t.Blind != "" && len(t.Red) == 0 {
			which = "none: " + t.Blind
		}
		if t.Lost != "" {
			which += " (a station could not end: " + cell(t.Lost) + ")"
		}
		fmt.Fprintf(b, "| %s (`%s`) | %s | %s | %d | %s |\n", t.What, t.Path, digits(t.From, 6), digits(t.To, 6), len(t.Red), which)
	}
	fmt.Fprintf(b, "\n%d changes, %d rows turned red by at least one of them.\n", len(turned), turnedRows(turned))
}

func turnedRows(turned []Turned) int {
	var seen []string
	for _, t := range turned {
		for _, id := range t.Red {
			if !slices.Contains(seen, id) {
				seen = append(seen, id)
			}
		}
	}
	return len(seen)
}
