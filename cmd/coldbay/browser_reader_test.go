package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/dom"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/runtime"
	"github.com/stretchr/testify/require"
)

// step is one thing that a person uses: by its id with mouse and keys, by its name, or a part of it that no other has, through the
// page's words.
type step struct{ id, name string }

// way is a way of working the bay.
type way interface {
	// use waits until a control can be used and uses it.
	use(step)
	// write puts text into a field.
	write(field step, text string)
}

// mouse works on the picture.
type mouse struct{ *browser }

func (m mouse) use(s step) { m.clickOn(s.id) }

func (m mouse) write(field step, text string) {
	m.clickOn(field.id)
	m.typeText(text)
}

// keys works on the picture by keys alone: F6 to the part of the screen, Tab to the control, Enter.
type keys struct{ *browser }

// mostKeys bounds the presses on the way to one control; there is no screen with as many.
const mostKeys = 120

func (k keys) focus() string {
	return eval[string](k.browser, `document.getElementById("mirror").dataset.focus`)
}

func (k keys) reach(id string) {
	k.t.Helper()
	k.ready(id)
	groups := map[string]string{}
	group := ""
	for _, c := range k.controls() {
		if c.Role == "h2" {
			group = c.Name
		} else if c.ID != "" {
			groups[c.ID] = group
		}
	}
	from := k.focus()
	for n := 0; groups[k.focus()] != groups[id] && n < 20; n++ {
		k.press("F6")
		if k.focus() == from && n > 0 {
			break // all parts were visited
		}
	}
	order := make([]string, 0, len(groups))
	for _, c := range k.controls() {
		if c.At != "" {
			order = append(order, c.ID)
		}
	}
	key := "Tab"
	if slices.Index(order, k.focus()) > slices.Index(order, id) {
		key = "Shift+Tab"
	}
	for range mostKeys {
		if k.focus() == id {
			return
		}
		k.press(key)
	}
	require.Failf(k.t, "out of reach", "no way by keys to %q; the focus stands on %q", id, k.focus())
}

func (k keys) use(s step) {
	k.t.Helper()
	k.reach(s.id)
	k.press("Enter")
}

func (k keys) write(field step, text string) {
	k.t.Helper()
	k.reach(field.id)
	k.typeText(text)
}

// reader works through the page's words, as a screen reader does: it sees what the browser hands to assistive technology, finds controls
// by role and name, and uses them without the picture.
type reader struct{ *browser }

// spokenNode is one entry of the browser's own accessibility tree.
type spokenNode struct {
	role, name string
	off        bool
	node       cdp.BackendNodeID
}

// tree is what the browser hands to assistive technology of the bay's words.
func (r reader) tree() []spokenNode {
	r.t.Helper()
	mirror := send(r.browser, runtime.Evaluate, runtime.EvaluateParams{Expression: `document.getElementById("mirror")`})
	found := send(r.browser, accessibility.QueryAXTree, accessibility.QueryAXTreeParams{ObjectID: mirror.Result.ObjectID})
	var out []spokenNode
	for _, n := range found.Nodes {
		if n.Ignored || n.Role == nil || n.Name == nil {
			continue
		}
		s := spokenNode{role: unquoted(n.Role), name: unquoted(n.Name), node: n.BackendDOMNodeID}
		for _, p := range n.Properties {
			s.off = s.off || string(p.Name) == "disabled" && string(p.Value.Value) == "true"
		}
		out = append(out, s)
	}
	return out
}

func unquoted(v *accessibility.Value) string {
	var s string
	if _, err := fmt.Sscanf(string(v.Value), "%q", &s); err != nil {
		return string(v.Value)
	}
	return s
}

// find gives the one control of a role whose name holds the words, once it is there and can be used.
func (r reader) find(words string, roles ...string) spokenNode {
	r.t.Helper()
	var last []spokenNode
	for range patientFrames {
		if !r.busy() {
			last = slices.DeleteFunc(r.tree(), func(n spokenNode) bool {
				return !slices.Contains(roles, n.role) || !strings.Contains(n.name, words)
			})
			// A name that is just the words is meant rather than those that hold them.
			if exact := slices.IndexFunc(last, func(n spokenNode) bool { return n.name == words }); exact >= 0 {
				last = last[exact : exact+1]
			}
			if len(last) == 1 && !last[0].off {
				return last[0]
			}
		}
		r.frames(2)
	}
	r.failedIn("the words", fmt.Sprintf("%q as one of %v, found %+v", words, roles, last))
	return spokenNode{}
}

func (r reader) use(s step) {
	r.t.Helper()
	n := r.find(s.name, "button", "slider")
	r.on(n, `function() { this.focus(); this.click(); }`)
	r.frames(2)
}

func (r reader) write(field step, text string) {
	r.t.Helper()
	n := r.find(field.name, "textbox")
	send(r.browser, dom.Focus, dom.FocusParams{BackendNodeID: n.node})
	send(r.browser, input.InsertText, input.InsertTextParams{Text: text})
	r.frames(2)
}

// on runs a function on the element of a node.
func (r reader) on(n spokenNode, function string) {
	r.t.Helper()
	element := send(r.browser, dom.ResolveNode, dom.ResolveNodeParams{BackendNodeID: n.node})
	send(r.browser, runtime.CallFunctionOn, runtime.CallFunctionOnParams{ObjectID: element.Object.ObjectID, FunctionDeclaration: function})
}

// inMirror is the whole mirror in reading order with the texts, a line an entry.
func (b *browser) inMirror() string {
	b.t.Helper()
	var out strings.Builder
	for _, c := range b.controls() {
		mark := ""
		if c.Off {
			mark += " (off)"
		}
		if c.On {
			mark += " (on)"
		}
		fmt.Fprintf(&out, "%-7s %s%s\t\t%s\n", c.Role, c.Name, mark, c.ID)
	}
	return out.String()
}

// heard is what the live region has read out last, a line a sentence.
func (b *browser) heard() string {
	b.t.Helper()
	return eval[string](b, `[...document.getElementById("live").children].map((e) => e.textContent).join("\n")`)
}
