package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/plan"
	"coldbay/grading/score"
	"coldbay/grading/tongue"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

const keyUsage = `Usage: coldbay key ORDER [--school DIR] [--tariff FILE] [--lang CODE] [--json]

The instructor's key sheet: the shortest diagnostic sequence of an order, as a
tree. Under each test stand its outcomes and what to do next after each; a
branch ends with the repair that the readings have proven. It holds for every
suspect of the order, so it does not say which one is in the car.

ORDER is the id of an order that comes with the program (see: coldbay list) or a
YAML file.

Options:
` + schoolOptions + `  --lang CODE
           the language of the sheet: en (English, unless given), de (German) or
           es (Spanish)
  --html FILE
           write it as printable pages with the plan drawn as a tree
  --json   the tree as a JSON object: order, title, parMinutes, exact, and plan
           with left, minutes, do (kind, says, seconds) and branches (shows, left,
           next: a plan again)

Examples:
  coldbay key cold_whisper
  coldbay key cold_whisper --html key.html
  coldbay key cold_whisper --lang es --html hoja.html
  coldbay key cold_whisper --json
  coldbay key my_order.yaml
`

func keyCommand() command {
	return command{name: "key", summary: "the instructor's key sheet of an order", usage: keyUsage, run: runKey}
}

// keySheet is a whole plan. Its JSON keys are stable.
type keySheet struct {
	Order      string  `json:"order"`
	Title      string  `json:"title"`
	ParMinutes float64 `json:"parMinutes"`
	Exact      bool    `json:"exact"`
	Plan       keyNode `json:"plan"`
}

// keyNode is what to do at one point of the plan, and what may come of it.
type keyNode struct {
	Left     []string    `json:"left"`    // names of the suspects that fit here
	Minutes  float64     `json:"minutes"` // expected from here on
	Do       []keyStep   `json:"do"`
	Branches []keyBranch `json:"branches,omitempty"`
}

type keyStep struct {
	Kind    string `json:"kind"` // set-up, move, test, repair, verify
	Says    string `json:"says"`
	Seconds int64  `json:"seconds"`
}

type keyBranch struct {
	Shows string   `json:"shows"`
	Left  []string `json:"left"`
	Next  *keyNode `json:"next,omitempty"`
}

func runKey(ctx context.Context, p *Program, args []string) error {
	flags := newFlags("key")
	asJSON := flags.Bool("json", false, "")
	html := flags.String("html", "", "")
	lang := flags.String("lang", english, "")
	own := flags.school()
	rest, err := flags.parse(args)
	if err != nil {
		return err
	}
	msg, err := language(*lang)
	if err != nil {
		return flags.wrong(err)
	}
	if len(rest) != 1 {
		return flags.wrong(usagef("name one order, found %d", len(rest)))
	}
	sheet, dict, root, err := planOf(ctx, p, msg, own, rest[0])
	if err != nil {
		return err
	}
	if *html != "" {
		return writeKey(p, msg, *html, sheet.Title, dict, root)
	}
	if *asJSON {
		return p.writeJSON(sheet)
	}
	return printKey(p.Stdout, msg, sheet)
}

func planOf(ctx context.Context, p *Program, msg *messages.Catalogue, own school, name string) (*keySheet, *plan.Dictionary, *plan.Node, error) {
	lib, o, err := own.order(name)
	if err != nil {
		return nil, nil, nil, err
	}
	defer p.progress("planning")()
	c, err := score.OpenOrBuild(ctx, lib, o, versionOf(buildVersion).Version, runtime.NumCPU())
	if err != nil {
		return nil, nil, nil, err
	}
	l, err := bench.NewLocal(c.Config)
	if err != nil {
		return nil, nil, nil, err
	}
	if c.Dictionary, err = tongue.Dictionary(msg, o.Order.Car, l.Catalogue(), c.Dictionary); err != nil {
		return nil, nil, nil, err
	}
	pl, err := plan.New(c.Dictionary, plan.Options{Nodes: c.Dictionary.Effort()})
	if err != nil {
		return nil, nil, nil, err
	}
	root, exact, err := pl.Policy(ctx, c.Dictionary.All(), c.Dictionary.Start)
	if err != nil {
		return nil, nil, nil, err
	}
	k := keyWriter{c.Dictionary, msg}
	sheet := &keySheet{Order: o.Order.ID, Title: phrase.Order(msg, o.Order).Title, Exact: exact, Plan: k.node(root)}
	sheet.ParMinutes = sheet.Plan.Minutes
	return sheet, c.Dictionary, root, nil
}

// keyWriter puts a plan into words.
type keyWriter struct {
	d   *plan.Dictionary
	msg *messages.Catalogue
}

func (k keyWriter) node(n *plan.Node) keyNode {
	out := keyNode{Left: k.names(n.Left), Minutes: float64(n.Value.Hi) / float64(k.d.Weight(n.Left)) / 60}
	for _, s := range n.Do {
		if says := k.step(s); says != "" {
			out.Do = append(out.Do, keyStep{Kind: string(s.Act), Says: says, Seconds: s.Seconds})
		}
	}
	last := n.Do[len(n.Do)-1]
	for _, b := range n.Branches {
		if last.Act == plan.ActVerify && b.Next == nil {
			continue // cured: the job is over
		}
		br := keyBranch{Shows: k.msg.T("report.text.key.still"), Left: k.names(b.Left)}
		if last.Act == plan.ActTest {
			br.Shows = k.d.Tests[last.Index].Outcomes[b.Outcome]
		}
		if b.Next != nil {
			next := k.node(b.Next)
			br.Next = &next
		}
		out.Branches = append(out.Branches, br)
	}
	return out
}

func (k keyWriter) step(s plan.Step) string {
	switch s.Act {
	case plan.ActTest:
		return k.d.Tests[s.Index].Name
	case plan.ActMove:
		return k.msg.T("grade.step.setup", "test", k.d.Tests[s.Index].Name)
	case plan.ActSetUp:
		return k.d.SetUps[s.Index].Name
	case plan.ActRepair:
		if u := k.d.Units[s.Index]; u.Repair > 0 {
			return k.msg.T("grade.step.repair", "unit", u.Name)
		}
		return k.msg.T("report.text.key.nothing")
	case plan.ActVerify:
		return k.msg.T("grade.step.verify")
	}
	return ""
}

// names of the suspects in a set, each once.
func (k keyWriter) names(s plan.Set) []string {
	out := []string{}
	for i := range s.All() {
		if n := k.d.Hypotheses[i].Name; !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// printKey writes the tree, two columns a level.
func printKey(w io.Writer, msg *messages.Catalogue, s *keySheet) error {
	var b strings.Builder
	par := "report.text.key.known"
	if s.Exact {
		par = "report.text.key.exact"
	}
	fmt.Fprintf(&b, "%s\n%s\n%s %s\n\n", msg.T("report.text.key", "title", s.Title, "order", s.Order),
		msg.Or(par, "report.text.key.known", "n", tenths(msg, s.ParMinutes)), msg.T("report.text.key.for"), msg.T("report.training"))
	printKeyNode(&b, msg, s.Plan, "")
	_, err := io.WriteString(w, b.String())
	return err
}

func printKeyNode(b *strings.Builder, msg *messages.Catalogue, n keyNode, indent string) {
	for _, s := range n.Do {
		fmt.Fprintf(b, "%s* %s (%d:%02d)\n", indent, s.Says, s.Seconds/60, s.Seconds%60)
	}
	for i, br := range n.Branches {
		if slices.ContainsFunc(n.Branches[:i], func(o keyBranch) bool { return sameEnd(o, br) }) {
			continue // stands with the first of its kind
		}
		fmt.Fprintf(b, "%s  %s\n", indent, msg.T("report.key.if", "what", br.Shows))
		who := slices.Clone(br.Left)
		for _, o := range n.Branches[i+1:] {
			if !sameEnd(o, br) {
				continue
			}
			fmt.Fprintf(b, "%s  %s\n", indent, msg.T("report.key.or", "what", o.Shows))
			for _, w := range o.Left {
				if !slices.Contains(who, w) {
					who = append(who, w)
				}
			}
		}
		text := strings.Join(who, "; ")
		if len(who) > 4 {
			text = msg.N("report.key.suspects", len(who))
		}
		fmt.Fprintf(b, "%s     %s\n", indent, msg.T("report.text.key.left", "what", text))
		if br.Next != nil {
			printKeyNode(b, msg, *br.Next, indent+"    ")
		}
	}
}

// sameEnd says that two outcomes end in the same repair, without another test.
func sameEnd(a, b keyBranch) bool {
	return a.Next != nil && b.Next != nil && len(a.Next.Branches)+len(b.Next.Branches) == 0 && slices.Equal(a.Next.Do, b.Next.Do)
}
