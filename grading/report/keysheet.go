package report

import (
	"fmt"
	"io"

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
// words. The root is what plan.Planner.Policy returned for the dictionary, par its value in weight times seconds over all
// suspects, as plan.Planner.Par returns it. Errors: ErrPlan, a dictionary that does not hold, and those of w.
func KeySheet(w io.Writer, title string, dict *plan.Dictionary, root *plan.Node, par plan.Bounds) error {
	c, err := deal(dict, root)
	if err != nil {
		return err
	}
	r, err := newRuler()
	if err != nil {
		return err
	}
	return write(w, "keysheet.html", keyPage{Head: newHead("Key sheet: "+title, styles+keyStyles), Title: title, Par: parSays(dict, par), Begins: configSays(dict, root),
		Suspects: len(namesOf(dict, dict.All())), Cards: c.size, Sheets: lay(r, c), Root: c, Width: paperWidth})
}

// parSays is par in minutes, or what it lies between.
func parSays(d *plan.Dictionary, par plan.Bounds) string {
	weight := float64(d.Weight(d.All())) * 60
	if par.Exact() {
		return minutes(float64(par.Hi)/weight) + " minutes"
	}
	return fmt.Sprintf("%s minutes by the best plan known, at least %s", minutes(float64(par.Hi)/weight), minutes(float64(par.Lo)/weight))
}

func configSays(d *plan.Dictionary, n *plan.Node) string {
	if n.Config < 0 || n.Config >= len(d.Configs) {
		return ""
	}
	return d.Configs[n.Config].Name
}
