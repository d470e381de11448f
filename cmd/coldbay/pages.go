package main

import (
	"bytes"
	"fmt"
	"io"
	"os"

	"coldbay/assets/messages"
	"coldbay/grading/plan"
	"coldbay/grading/report"
	"coldbay/grading/score"
)

// writePage makes a page in memory and writes it to a file only when it is whole, so that an error leaves no half page.
func writePage(p *Program, name string, make func(io.Writer) error) error {
	var b bytes.Buffer
	if err := make(&b); err != nil {
		return err
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		return err
	}
	_, err := fmt.Fprintf(p.Stdout, "wrote %s\n", name)
	return err
}

// writeDebrief writes a debrief as a printable page, its timeline as a table, or both; done is false when neither is asked for.
func writeDebrief(p *Program, msg *messages.Catalogue, d *score.Debrief, html, csv string) (done bool, err error) {
	if html != "" {
		if err := writePage(p, html, func(w io.Writer) error { return report.Debrief(w, msg, d) }); err != nil {
			return true, err
		}
	}
	if csv != "" {
		if err := writePage(p, csv, func(w io.Writer) error { return report.Timeline(w, msg, d) }); err != nil {
			return true, err
		}
	}
	return html != "" || csv != "", nil
}

// writeKey writes a plan as a printable key sheet.
func writeKey(p *Program, msg *messages.Catalogue, name, title string, d *plan.Dictionary, root *plan.Node) error {
	return writePage(p, name, func(w io.Writer) error { return report.KeySheet(w, msg, title, d, root, root.Value) })
}
