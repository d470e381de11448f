package report

import (
	"io"

	"coldbay/assets/messages"
	"coldbay/grading/plan"
)

// keyPage is what the key sheet's template is filled in with.
type keyPage struct {
	Head     head
	Title    string
	Par      string
	Begins   string // the configuration that the job begins in
	Suspects int
	Cards    int
	Sheets   []*sheet
	Root     *card
	Width    float64
}

// KeySheet writes the instructor's key sheet: the whole plan as a tree on printable sheets, A4 or Letter across, and after it in
// words. Its own words are the catalogue's, English where that is nil; names and readings are the dictionary's. The root is what plan.Planner.Policy returned for the dictionary, par its value in weight times seconds over all
// suspects, as plan.Planner.Par returns it. Errors: ErrPlan, a dictionary that does not hold, and those of w.
func KeySheet(w io.Writer, msg *messages.Catalogue, title string, dict *plan.Dictionary, root *plan.Node, par plan.Bounds) error {
	msg, err := spoken(msg)
	if err != nil {
		return err
	}
	c, err := deal(msg, dict, root)
	if err != nil {
		return err
	}
	r, err := newRuler()
	if err != nil {
		return err
	}
	return write(w, msg, "keysheet.html", keyPage{Head: newHead(msg.Lang(), msg.T("report.key.title", "title", title), styles+keyStyles), Title: title, Par: parSays(msg, dict, par), Begins: configSays(dict, root),
		Suspects: len(namesOf(dict, dict.All())), Cards: c.size, Sheets: lay(r, msg, c), Root: c, Width: paperWidth})
}

// parSays is par in minutes, or what it lies between.
func parSays(msg *messages.Catalogue, d *plan.Dictionary, par plan.Bounds) string {
	weight := float64(d.Weight(d.All())) * 60
	if par.Exact() {
		return msg.T("report.key.exact", "n", minutes(msg, float64(par.Hi)/weight))
	}
	return msg.T("report.key.bound", "n", minutes(msg, float64(par.Hi)/weight), "least", minutes(msg, float64(par.Lo)/weight))
}

func configSays(d *plan.Dictionary, n *plan.Node) string {
	if n.Config < 0 || n.Config >= len(d.Configs) {
		return ""
	}
	return d.Configs[n.Config].Name
}
