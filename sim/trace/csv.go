package trace

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteCSV writes one record, or several of the same scenario beside each other; names head the columns of all but the first:
// "pump_current [pump_worn] (A)".
func WriteCSV(out io.Writer, names []string, records ...*Record) error {
	if len(records) == 0 || len(names) != len(records) {
		return fmt.Errorf("%d records with %d names", len(records), len(names))
	}
	head := []string{"time (s)"}
	rows := len(records[0].Time)
	for k, r := range records {
		rows = min(rows, len(r.Time))
		for _, c := range r.Channels {
			if k > 0 {
				c.ID += " [" + names[k] + "]"
			}
			head = append(head, c.Head())
		}
	}
	w := csv.NewWriter(out)
	if err := w.Write(head); err != nil {
		return err
	}
	line := make([]string, len(head))
	for i := range rows {
		line[0] = strconv.FormatFloat(records[0].Time[i], 'f', -1, 64)
		at := 1
		for _, r := range records {
			for _, v := range r.Values {
				line[at] = number(v[i])
				at++
			}
		}
		if err := w.Write(line); err != nil {
			return err
		}
	}
	w.Flush()
	return w.Error()
}

// number has six significant digits; what is not there is empty.
func number(v float64) string {
	switch {
	case math.IsNaN(v):
		return ""
	case math.Abs(v) < 1e-6:
		return "0"
	}
	text := strconv.FormatFloat(v, 'g', 6, 64)
	if strings.ContainsRune(text, 'e') {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return text
}
