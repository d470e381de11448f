package report

import (
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/score"
)

// Account is what an attempt is held against, as one sum that adds up to the tenth as it is written: "Counted 58.8 = par 71.0 +
// choices 13.7 - good luck 25.9."
func Account(msg *messages.Catalogue, d *score.Debrief) string {
	a := d.Account()
	parts := []string{msg.T("report.text.counted", "n", minutes(msg, a.Counted))}
	if a.ToDo > 0 {
		parts = append(parts, msg.T("report.text.todo", "n", minutes(msg, a.ToDo)))
	}
	luck := choose(a.Luck < 0, "report.text.sum.good", "report.text.sum.bad")
	parts = append(parts, msg.T(luck, "par", minutes(msg, a.Par), "cs", sign(a.Choices), "choices", minutes(msg, size(a.Choices)),
		"ls", sign(a.Luck), "luck", minutes(msg, size(a.Luck))))
	return strings.Join(parts, " ")
}

func sign(v float64) string { return choose(v < 0, "−", "+") }

func size(v float64) float64 { return max(v, -v) }
