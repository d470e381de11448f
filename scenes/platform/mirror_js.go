//go:build js

package platform

import (
	"strconv"
	"sync"
	"syscall/js"
)

// mirror keeps the page's hidden copy of the controls: real buttons and inputs that assistive technology can find and
// press. Elements are kept by id, so that the page's focus survives an update.
type mirror struct {
	root, live js.Value
	els        map[string]*element
	order      []string
	title      string
	mu         sync.Mutex
	queue      []Event
}

type element struct {
	el   js.Value
	node Node
	drop []js.Func
}

var page = sync.OnceValue(func() *mirror {
	doc := js.Global().Get("document")
	return &mirror{root: doc.Call("getElementById", "mirror"), live: doc.Call("getElementById", "live"), els: map[string]*element{}}
})

// Mirror makes the page's hidden copy match the tree.
func Mirror(title string, nodes []Node) {
	m := page()
	if !m.root.Truthy() {
		return
	}
	doc := js.Global().Get("document")
	if title != m.title {
		m.title = title
		m.root.Call("setAttribute", "aria-label", title)
	}
	seen := make(map[string]bool, len(nodes))
	order := make([]string, 0, len(nodes))
	for i, n := range nodes {
		if n.ID == "" {
			n.ID = "text" + strconv.Itoa(i)
		}
		seen[n.ID] = true
		order = append(order, n.ID)
		e := m.els[n.ID]
		if e != nil && e.node.Role != n.Role {
			m.forget(n.ID)
			e = nil
		}
		if e == nil {
			e = m.create(doc, n)
			m.els[n.ID] = e
			m.order = nil
		}
		e.update(n)
	}
	for id := range m.els {
		if !seen[id] {
			m.forget(id)
		}
	}
	if !same(order, m.order) {
		// Moving an element takes the focus from it, so it is given back.
		active := doc.Get("activeElement")
		for _, id := range order {
			m.root.Call("appendChild", m.els[id].el)
		}
		if active.Truthy() && m.root.Call("contains", active).Bool() {
			active.Call("focus")
		}
		m.order = order
	}
}

func same(a, b []string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

func (m *mirror) create(doc js.Value, n Node) *element {
	tag := "button"
	switch n.Role {
	case "text":
		tag = "p"
	case "textbox", "slider":
		tag = "input"
	}
	e := &element{el: doc.Call("createElement", tag), node: Node{Role: n.Role}}
	e.el.Call("setAttribute", "data-id", n.ID)
	id := n.ID
	listen := func(name string, make func(args []js.Value) Event) {
		f := js.FuncOf(func(_ js.Value, args []js.Value) any {
			m.push(make(args))
			return nil
		})
		e.drop = append(e.drop, f)
		e.el.Call("addEventListener", name, f)
	}
	switch tag {
	case "button":
		e.el.Set("type", "button")
		listen("click", func([]js.Value) Event { return Event{ID: id} })
		listen("focus", func([]js.Value) Event { return Event{ID: id, Focus: true} })
	case "input":
		e.el.Set("type", "text")
		if n.Role == "slider" {
			// The page's own slider: assistive technology knows its role, its bounds and its keys.
			e.el.Set("type", "range")
			e.el.Set("min", 0)
			e.el.Set("step", 1)
		}
		listen("input", func([]js.Value) Event { return Event{ID: id, Edit: true, Text: e.el.Get("value").String()} })
		listen("focus", func([]js.Value) Event { return Event{ID: id, Focus: true} })
	}
	return e
}

func (e *element) update(n Node) {
	if n == e.node {
		return
	}
	if n.X != e.node.X || n.Y != e.node.Y || n.W != e.node.W || n.H != e.node.H {
		e.el.Call("setAttribute", "data-at", place(n))
	}
	switch n.Role {
	case "text":
		if n.Name != e.node.Name {
			e.el.Set("textContent", n.Name)
		}
	case "textbox":
		e.el.Call("setAttribute", "aria-label", n.Name)
		if e.el.Get("value").String() != n.Value {
			e.el.Set("value", n.Value)
		}
	case "slider":
		e.el.Call("setAttribute", "aria-label", n.Name)
		e.el.Call("setAttribute", "aria-valuetext", n.Value)
		e.el.Set("max", n.Max)
		if now := strconv.Itoa(n.Now); e.el.Get("value").String() != now {
			e.el.Set("value", now)
		}
	default:
		if n.Name != e.node.Name {
			e.el.Set("textContent", n.Name)
		}
		if n.Role == "toggle" || n.Role == "tab" {
			e.el.Call("setAttribute", "aria-pressed", strconv.FormatBool(n.On))
		}
		e.el.Call("setAttribute", "aria-disabled", strconv.FormatBool(n.Off))
	}
	e.node = n
}

// place is the middle of a control in logical units, for whoever drives the picture by its controls' names.
func place(n Node) string {
	return strconv.FormatFloat(n.X+n.W/2, 'f', 1, 64) + " " + strconv.FormatFloat(n.Y+n.H/2, 'f', 1, 64)
}

func (m *mirror) forget(id string) {
	e := m.els[id]
	e.el.Call("remove")
	for _, f := range e.drop {
		f.Release()
	}
	delete(m.els, id)
	m.order = nil
}

func (m *mirror) push(e Event) {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.queue = append(m.queue, e)
}

// Events gives what was done in the mirror since it was asked last.
func Events() []Event {
	m := page()
	m.mu.Lock()
	defer m.mu.Unlock()
	q := m.queue
	m.queue = nil
	return q
}

// Say reads a sentence out politely.
func Say(s string) {
	if m := page(); m.live.Truthy() {
		m.live.Set("textContent", s)
	}
}

// LeaveCanvas takes the keyboard focus from the picture and gives it to the page's first mirrored control.
func LeaveCanvas() {
	m := page()
	doc := js.Global().Get("document")
	if a := doc.Get("activeElement"); a.Truthy() {
		a.Call("blur")
	}
	if m.root.Truthy() {
		if b := m.root.Call("querySelector", "button"); b.Truthy() {
			b.Call("focus")
		}
	}
}
