package report

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"coldbay/grading/plan"
)

// textWidth is the length of a line of text, characters; text that is indented far keeps at least half of it.
const textWidth = 100

// KeyText writes the plan as an indented tree in plain text, with the same cards and numbers as KeySheet, which see.
func KeyText(w io.Writer, title string, dict *plan.Dictionary, root *plan.Node, par plan.Bounds) error {
	c, err := deal(dict, root)
	if err != nil {
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Key sheet: %s\n", flat(title))
	fmt.Fprintf(&b, "Par: %s, on average over %d suspects.\n", parSays(dict, par), len(namesOf(dict, dict.All())))
	if begins := configSays(dict, root); begins != "" {
		fmt.Fprintf(&b, "It begins with: %s.\n", flat(begins))
	}
	b.WriteString("Of each reading only what tells the branches apart is written.\n\n")
	c.text(&b, 0)
	b.WriteString("\nTraining only: the vehicle's own service information, local rules and licensed practice come first.\n")
	_, err = io.WriteString(w, strings.Map(plain, b.String()))
	return err
}

func (c *card) text(b *strings.Builder, depth int) {
	for i, s := range c.Seen {
		hang(b, depth, choose(i == 0, "if ", "or "), s)
	}
	if len(c.Seen) > 0 {
		depth++
	}
	hang(b, depth, fmt.Sprintf("%d. ", c.N), fmt.Sprintf("%s, %s minutes to go", countSays(len(c.Left)), c.ToGo))
	if c.Ends {
		hang(b, depth, "   left: ", strings.Join(c.Left, "; "))
	}
	for _, d := range c.Do {
		hang(b, depth, "   - ", fmt.Sprintf("%s (%s)", d.Says, d.Clock()))
	}
	for _, k := range c.Kids {
		k.text(b, depth+1)
	}
}

func countSays(n int) string {
	if n == 1 {
		return "1 suspect"
	}
	return fmt.Sprintf("%d suspects", n)
}

// hang writes a text after its sign, wrapped, the further lines hanging under the first.
func hang(b *strings.Builder, depth int, sign, text string) {
	lead := strings.Repeat("  ", depth) + sign
	room := max(textWidth-utf8.RuneCountInString(lead), textWidth/2)
	used := 0
	b.WriteString(lead)
	for i, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
		case used+1+n > room:
			b.WriteString("\n" + strings.Repeat(" ", utf8.RuneCountInString(lead)))
			used = 0
		default:
			b.WriteByte(' ')
			used++
		}
		b.WriteString(word)
		used += n
	}
	b.WriteByte('\n')
}

// flat is a text on one line.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }
