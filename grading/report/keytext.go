package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"coldbay/assets/messages"
	"coldbay/grading/plan"
)

// textWidth is the length of a line of text, characters; text that is indented far keeps at least half of it.
const textWidth = 100

// KeyText writes the plan as an indented tree in plain text, with the same cards and numbers as KeySheet, which see.
func KeyText(w io.Writer, msg *messages.Catalogue, title string, dict *plan.Dictionary, root *plan.Node, par plan.Bounds) error {
	msg, err := spoken(msg)
	if err != nil {
		return err
	}
	c, err := deal(msg, dict, root)
	if err != nil {
		return err
	}
	var b strings.Builder
	b.WriteString(msg.T("report.key.title", "title", flat(title)) + "\n")
	b.WriteString(msg.T("report.key.text.par", "par", parSays(msg, dict, par), "n", strconv.Itoa(len(namesOf(dict, dict.All())))) + "\n")
	if begins := configSays(dict, root); begins != "" {
		b.WriteString(msg.T("report.key.begins", "config", flat(begins)) + "\n")
	}
	b.WriteString(msg.T("report.key.text.apart") + "\n\n")
	c.text(&b, msg, 0)
	b.WriteString("\n" + msg.T("report.training") + "\n")
	_, err = io.WriteString(w, strings.Map(plain, b.String()))
	return err
}

func (c *card) text(b *strings.Builder, msg *messages.Catalogue, depth int) {
	for i, s := range c.Seen {
		sign, _, _ := strings.Cut(msg.T(choose(i == 0, "report.key.if", "report.key.or")), "{")
		hang(b, depth, sign, s)
	}
	if len(c.Seen) > 0 {
		depth++
	}
	hang(b, depth, fmt.Sprintf("%d. ", c.N), msg.T("report.key.togo", "left", msg.N("report.key.suspects", len(c.Left)), "togo", c.ToGo))
	if c.Ends {
		sign, _, _ := strings.Cut(msg.T("report.key.left"), "{")
		hang(b, depth, "   "+sign, strings.Join(c.Left, "; "))
	}
	for _, d := range c.Do {
		hang(b, depth, "   - ", fmt.Sprintf("%s (%s)", d.Says, d.Clock()))
	}
	for _, k := range c.Kids {
		k.text(b, msg, depth+1)
	}
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
