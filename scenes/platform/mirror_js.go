//go:build js

package platform

import (
	"slices"
	"strconv"
	"sync"
	"syscall/js"
)

// mirror keeps the page's hidden copy of the controls: real headings, buttons and inputs that assistive technology can find and
// press. Elements are kept by id and moved only when their order changes, so that the page's focus survives an update.
type mirror struct {
	doc, root, live, head js.Value
	els                   map[string]*element
	order                 []string
	page                  Page
	opener                string // what was pressed to open the modal sheet
	mu                    sync.Mutex
	queue                 []Event
}

type element struct {
	el   js.Value
	node Node
	drop []js.Func
}

var page = sync.OnceValue(func() *mirror {
	doc := js.Global().Get("document")
	return &mirror{doc: doc, root: doc.Call("getElementById", "mirror"), live: doc.Call("getElementById", "live"), els: map[string]*element{}}
})

// Mirror makes the page's hidden copy match the tree. When another screen shows, or what had the focus is gone, the focus stays inside.
func Mirror(p Page) {
	m := page()
	if !m.root.Truthy() {
		return
	}
	old := m.page
	m.page = p
	m.page.Nodes = nil
	held, at := m.focused()
	m.whole(old, p)
	order := make([]string, len(p.Nodes))
	seen := make(map[string]bool, len(p.Nodes))
	after, count := "", 0
	for i, n := range p.Nodes {
		if n.ID == "" {
			// Text is known by the control before it.
			count++
			n.ID = "text." + after + "." + strconv.Itoa(count)
		} else {
			after, count = n.ID, 0
		}
		order[i], seen[n.ID] = n.ID, true
		if e := m.els[n.ID]; e != nil && tag(e.node.Role) != tag(n.Role) {
			m.forget(n.ID)
		}
		if m.els[n.ID] == nil {
			m.els[n.ID] = m.create(n)
		}
		m.els[n.ID].update(n)
	}
	for id := range m.els {
		if !seen[id] {
			m.forget(id)
		}
	}
	if !slices.Equal(order, m.order) {
		cursor := m.head.Get("nextSibling")
		for _, id := range order {
			if el := m.els[id].el; el.Equal(cursor) {
				cursor = cursor.Get("nextSibling")
			} else {
				m.root.Call("insertBefore", el, cursor)
			}
		}
		m.order = order
	}
	if held != "" {
		m.keepFocus(held, at, old)
	}
}

// whole sets what belongs to the page as a whole.
func (m *mirror) whole(old, p Page) {
	if !m.head.Truthy() {
		m.head = m.doc.Call("createElement", "h1")
		m.head.Set("tabIndex", -1)
		m.root.Call("appendChild", m.head)
		// The listener lives as long as the page does.
		m.root.Call("addEventListener", "keydown", js.FuncOf(func(_ js.Value, args []js.Value) any {
			if args[0].Get("key").String() == "Escape" {
				m.push(Event{Escape: true})
			}
			return nil
		}))
	}
	if p.Title != old.Title {
		m.root.Call("setAttribute", "aria-label", p.Title)
		m.head.Set("textContent", p.Title)
		m.doc.Set("title", p.Title+" – "+p.App)
	}
	if p.Lang != old.Lang {
		m.doc.Get("documentElement").Set("lang", p.Lang)
	}
	if p.Canvas != old.Canvas {
		if canvas := m.doc.Call("querySelector", "canvas"); canvas.Truthy() {
			canvas.Call("setAttribute", "role", "application")
			canvas.Call("setAttribute", "aria-label", p.Canvas)
		}
	}
	m.root.Call("setAttribute", "data-busy", strconv.FormatBool(p.Busy))
	m.root.Call("setAttribute", "data-focus", p.Focus)
}

// focused is the id of the element that has the page's focus, "title" for the head and empty for none, and its place.
func (m *mirror) focused() (id string, at int) {
	active := m.doc.Get("activeElement")
	switch {
	case !active.Truthy() || !m.root.Call("contains", active).Bool():
		return "", 0
	case m.head.Truthy() && active.Equal(m.head):
		return "title", 0
	}
	id = active.Call("getAttribute", "data-id").String()
	return id, max(0, slices.Index(m.order, id))
}

// keepFocus gives the focus to what a reader goes on from: the head of another screen, the opener of a sheet that was shut, what stands
// where the focus was when that is gone.
func (m *mirror) keepFocus(held string, at int, old Page) {
	p := m.page
	switch {
	case p.Modal && !old.Modal:
		m.opener = held
		m.head.Call("focus")
	case old.Modal && !p.Modal && m.els[m.opener] != nil:
		m.els[m.opener].el.Call("focus")
	case p.Title != old.Title:
		m.head.Call("focus")
	case held != "title" && m.els[held] == nil:
		for i := min(at, len(m.order)-1); i >= 0; i-- {
			if e := m.els[m.order[i]]; tag(e.node.Role) == "button" || tag(e.node.Role) == "input" {
				e.el.Call("focus")
				return
			}
		}
		m.head.Call("focus")
	}
}

// tag is the element that stands for a role.
func tag(role string) string {
	switch role {
	case RoleText:
		return "p"
	case RoleHeading:
		return "h2"
	case "textbox", "slider":
		return "input"
	}
	return "button"
}

func (m *mirror) create(n Node) *element {
	e := &element{el: m.doc.Call("createElement", tag(n.Role)), node: Node{Role: n.Role}}
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
	switch tag(n.Role) {
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
	if tag(n.Role) != "p" && tag(n.Role) != "h2" {
		e.el.Call("setAttribute", "data-at", place(n))
	}
	switch n.Role {
	case RoleText, RoleHeading:
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
		} else {
			e.el.Call("removeAttribute", "aria-pressed")
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

// spoken is how many sentences stay in the live region.
const spoken = 8

// Say reads a sentence out politely. Each is an element of its own, so that none is lost where several come at once and the same one
// is read again when it is said again.
func Say(s string) {
	m := page()
	if !m.live.Truthy() {
		return
	}
	p := m.doc.Call("createElement", "p")
	p.Set("textContent", s)
	m.live.Call("appendChild", p)
	for m.live.Get("childElementCount").Int() > spoken {
		m.live.Get("firstElementChild").Call("remove")
	}
}

// LeaveCanvas takes the keyboard focus from the picture and gives it to the head of the page's copy.
func LeaveCanvas() {
	if m := page(); m.head.Truthy() {
		m.head.Call("focus")
	}
}
