package report

import (
	"coldbay/assets/messages"
	"coldbay/grading/score"
)

// thoughtTable is a suspect's car beside the true one.
type thoughtTable struct {
	score.Thought
	Heading string
}

func thoughts(msg *messages.Catalogue, list []score.Thought) []thoughtTable {
	out := make([]thoughtTable, len(list))
	for i, t := range list {
		out[i] = thoughtTable{Thought: t, Heading: msg.T("report.thought.asked")}
		switch t.Why {
		case score.ThoughtNamed:
			out[i].Heading = msg.T("report.thought.named")
		case score.ThoughtKept:
			out[i].Heading = msg.T("report.thought.kept")
		}
	}
	return out
}

// kindRow is what one kind of decision cost, as a bar.
type kindRow struct {
	score.KindCost
	Fill string
	Bar  float64
}

func kinds(list []score.KindCost) []kindRow {
	most := 0.0
	for _, k := range list {
		most = max(most, k.Minutes)
	}
	out := make([]kindRow, len(list))
	for i, k := range list {
		out[i] = kindRow{KindCost: k, Fill: "bad"}
		if most > 0 {
			out[i].Bar = max(0, k.Minutes) / most * barRoom
		}
	}
	return out
}
