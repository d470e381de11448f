package report

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/score"
)

// timelineColumns are the columns of a timeline in CSV; their names in English and their order are stable.
var timelineColumns = [...]string{"line", "minute", "seconds", "did", "showed", "physics", "ruled_out", "left_count", "left", "graded", "cost_minutes", "counted_minutes", "better", "plan_left"}

// Timeline writes a debrief's timeline as comma-separated values (RFC 4180), one row a step, with a heading. Several things in
// one cell are divided by " | ". Minutes have three decimals with a point; the two costs, and how many suspects
// the plan would have left, are empty where a step was not judged. A cost is that of the step and those joined to it, on the first. The
// heading is in the catalogue's language, English where that is nil. Errors: those of w.
func Timeline(w io.Writer, msg *messages.Catalogue, d *score.Debrief) error {
	msg, err := spoken(msg)
	if err != nil {
		return err
	}
	c := csv.NewWriter(w)
	c.UseCRLF = true
	heading := make([]string, len(timelineColumns))
	for i, name := range timelineColumns {
		heading[i] = msg.T("report.csv." + name)
	}
	rows := [][]string{heading}
	for _, s := range d.Steps {
		var ruled []string
		for _, g := range byReason(s.Ruled) {
			ruled = append(ruled, strings.Join(g.Names, ", ")+": "+g.Says)
		}
		cost, counted, plan := "", "", ""
		if s.Graded {
			cost, counted = decimal(s.Cost), decimal(s.Charged)
			if s.ParLeft >= 0 {
				plan = strconv.Itoa(s.ParLeft)
			}
		}
		rows = append(rows, []string{strconv.Itoa(s.Seq), decimal(s.Minute), decimal(s.Seconds), cell(s.Did), cells(s.Showed), cell(s.Physics), cells(ruled),
			strconv.Itoa(len(s.Left)), cells(s.Left), strconv.FormatBool(s.Graded), cost, counted, cell(s.Better), plan})
	}
	if err := c.WriteAll(rows); err != nil {
		return fmt.Errorf("timeline: %w", err)
	}
	return nil
}

func decimal(v float64) string {
	s := strconv.FormatFloat(v, 'f', 3, 64)
	if s == "-0.000" {
		return "0.000"
	}
	return s
}

func cells(list []string) string { return cell(strings.Join(list, " | ")) }

// cell keeps a text from being taken for a formula by a spreadsheet.
func cell(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return "'" + s
	}
	return s
}
