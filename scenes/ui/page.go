package ui

import (
	"math"
	"slices"

	"coldbay/scenes/paint"
)

// Page holds the controls of the current screen and where focus and pointer are. It survives rebuilding: focus
// follows a control's id.
type Page struct {
	Controls []Control
	Title    string
	focus    string
	hover    string
	drag     string // the slider whose handle is held
	// Ring is true when the focus came by keys and its ring is to be seen.
	Ring    bool
	prose   map[int][]line // text read before control i
	behind  int            // lines before the first control of the modal sheet that belong to what it covers
	opener  string         // what had the focus when the modal sheet was opened
	place   int            // where among the live controls the focus was last
	told    []string       // what was to be told when it was built last
	say     []string       // to be read out
	wheels  []wheel
	escape  func()
	modal   int // first control of the modal sheet, -1 without one
	covered int // words painted before the modal sheet
}

// line is a line of the accessibility tree that is no control.
type line struct {
	words         string
	heading, tell bool
}

type wheel struct {
	area paint.Rect
	turn func(int)
}

func (p *Page) begin() {
	p.Controls = p.Controls[:0]
	p.wheels = p.wheels[:0]
	p.prose = map[int][]line{}
	p.escape = nil
	p.modal, p.covered, p.behind = -1, 0, 0
}

// Settle is called once a screen has been built: the focus goes into a modal sheet that has opened and back to its opener when it is
// shut, and stays near where it was when the control that had it is gone. Before tells whether a sheet was open before, and fresh
// that another screen shows than before.
func (p *Page) Settle(before, fresh bool) {
	live := p.Live()
	switch {
	case fresh:
		p.opener, p.place = "", 0
	case p.Modal() && !before:
		p.opener, p.place = p.focus, 0
		if p.focus != "" && len(live) > 0 {
			p.focus = live[0].ID
		}
	case !p.Modal() && before:
		p.focus, p.opener = p.opener, ""
	}
	if i := p.index(live); i >= 0 {
		p.place = i
	} else if p.focus != "" && len(live) > 0 && !fresh {
		p.place = min(p.place, len(live)-1)
		p.focus = live[p.place].ID
	}
	var told []string
	for i := max(p.modal, 0); i <= len(p.Controls); i++ {
		for _, l := range p.lines(i) {
			if !l.tell {
				continue
			}
			told = append(told, l.words)
			if !fresh && p.Modal() == before && !slices.Contains(p.told, l.words) {
				p.say = append(p.say, l.words)
			}
		}
	}
	p.told = told
}

// Say reads a sentence out.
func (p *Page) Say(s string) { p.say = append(p.say, s) }

// Said gives what is to be read out, once.
func (p *Page) Said() []string {
	out := p.say
	p.say = nil
	return out
}

// lines are the lines read before control i, without those that a modal sheet covers.
func (p *Page) lines(i int) []line {
	if i == p.modal {
		return p.prose[i][p.behind:]
	}
	return p.prose[i]
}

// Live lists the controls that can be used now: those of the modal sheet when one is open.
func (p *Page) Live() []Control { return p.Controls[max(p.modal, 0):] }

// Find returns a usable control by id.
func (p *Page) Find(id string) (Control, bool) {
	for _, c := range p.Live() {
		if c.ID == id {
			return c, true
		}
	}
	return Control{}, false
}

// Focused is the control that has the focus.
func (p *Page) Focused() (Control, bool) { return p.Find(p.focus) }

// Hovered is the control under the pointer.
func (p *Page) Hovered() (Control, bool) { return p.Find(p.hover) }

// FocusID is the id of the control that has the focus; empty when none has.
func (p *Page) FocusID() string { return p.focus }

// Modal tells whether a modal sheet is open.
func (p *Page) Modal() bool { return p.modal >= 0 }

// Turns tells whether the wheel turns something at a point.
func (p *Page) Turns(at paint.Pt) bool {
	return slices.ContainsFunc(p.wheels, func(w wheel) bool { return w.area.Has(at) })
}

// Focus moves the focus.
func (p *Page) Focus(id string) { p.focus = id }

// Press uses a control as a click on it would; the page mirror and tests come in here. A field only takes the focus. It
// reports whether the control was there and usable.
func (p *Page) Press(id string) bool {
	c, ok := p.Find(id)
	if !ok || c.Off {
		return false
	}
	p.focus = id
	if c.Do != nil && c.Role != Field {
		c.Do()
	}
	return true
}

// Handle applies input and reports whether anything was used, so that the scene has to be built again.
func (p *Page) Handle(in Input) bool {
	if in.Moved || in.Clicked {
		p.hover = p.at(in.At)
	}
	if p.drag != "" {
		c, ok := p.Find(p.drag)
		if !in.Held || !ok {
			p.drag = ""
		}
		if ok {
			p.hover = p.focus
			return c.slide(in.At.X)
		}
	}
	if in.Clicked {
		p.Ring = false
		if c, ok := p.Find(p.hover); ok && c.Role == Slider && !c.Off {
			p.drag, p.focus = c.ID, c.ID
			c.slide(in.At.X)
			return true
		}
		if p.hover != "" {
			return p.Press(p.hover)
		}
	}
	used := false
	if in.Wheel != 0 {
		for _, w := range p.wheels {
			if w.area.Has(in.At) {
				w.turn(map[bool]int{true: -1, false: 1}[in.Wheel > 0])
				used = true
				break
			}
		}
	}
	if c, ok := p.Focused(); ok && c.Edit != nil && !c.Off {
		if len(in.Typed) > 0 {
			c.Edit(c.Value + string(in.Typed))
			return true
		}
		if slices.Contains(in.Keys, KeyErase) && c.Value != "" {
			rs := []rune(c.Value)
			c.Edit(string(rs[:len(rs)-1]))
			return true
		}
	}
	for _, k := range in.Keys {
		used = p.key(k) || used
	}
	return used
}

func (p *Page) at(pt paint.Pt) string {
	live := p.Live()
	best, under := "", ""
	near := math.Inf(1)
	for _, c := range live {
		if !c.Rect.Has(pt) {
			continue
		}
		if c.Under {
			under = c.ID
			continue
		}
		if d := c.Rect.Mid().Sub(pt).Len(); d <= near {
			best, near = c.ID, d
		}
	}
	if best == "" {
		return under
	}
	return best
}

func (p *Page) key(k Key) bool {
	if c, ok := p.Focused(); ok && c.Role == Slider {
		if moved, used := c.slideKey(k); used {
			p.Ring = true
			return moved
		}
	}
	switch k {
	case KeyTab, KeyBackTab, KeyGroup, KeyBackF6, KeyLeft, KeyRight, KeyUp, KeyDown:
		before := p.focus
		p.move(k)
		return p.focus != before
	case KeyEnter, KeySpace:
		c, ok := p.Focused()
		if !ok || (k == KeySpace && c.Edit != nil) {
			return false
		}
		p.Ring = true
		if c.Role == Field && c.Do != nil && !c.Off {
			c.Do()
			return true
		}
		return p.Press(c.ID)
	case KeyEscape:
		if p.escape != nil {
			p.escape()
			return true
		}
	case KeyPageDown, KeyPageUp:
		if len(p.wheels) > 0 {
			p.wheelOf().turn(map[bool]int{true: 1, false: -1}[k == KeyPageDown])
			return true
		}
	}
	return false
}

// wheelOf is what the page keys turn: the list that the focus is in, otherwise the last one.
func (p *Page) wheelOf() wheel {
	if c, ok := p.Focused(); ok {
		for _, w := range p.wheels {
			if w.area.Has(c.Rect.Mid()) {
				return w
			}
		}
	}
	return p.wheels[len(p.wheels)-1]
}

// move takes the focus elsewhere.
func (p *Page) move(k Key) {
	switch k {
	case KeyTab:
		p.step(1)
	case KeyBackTab:
		p.step(-1)
	case KeyGroup:
		p.jump(1)
	case KeyBackF6:
		p.jump(-1)
	case KeyLeft:
		p.toward(paint.Pt{X: -1})
	case KeyRight:
		p.toward(paint.Pt{X: 1})
	case KeyUp:
		p.toward(paint.Pt{Y: -1})
	case KeyDown:
		p.toward(paint.Pt{Y: 1})
	}
}

func (p *Page) index(live []Control) int {
	return slices.IndexFunc(live, func(c Control) bool { return c.ID == p.focus })
}

// step moves the focus along the order in which controls were built; controls that can't be used are visited too,
// because their name says what is missing.
func (p *Page) step(d int) {
	live := p.Live()
	p.Ring = true
	if len(live) == 0 {
		return
	}
	i := p.index(live)
	if i < 0 && d < 0 {
		i = 0
	}
	p.focus = live[(i+d+len(live))%len(live)].ID
}

// jump moves the focus to the first control of the next region.
func (p *Page) jump(d int) {
	live := p.Live()
	p.Ring = true
	var groups []string
	for _, c := range live {
		if !slices.Contains(groups, c.Group) {
			groups = append(groups, c.Group)
		}
	}
	if len(groups) == 0 {
		return
	}
	g := 0
	if i := p.index(live); i >= 0 {
		g = (slices.Index(groups, live[i].Group) + d + len(groups)) % len(groups)
	}
	for _, c := range live {
		if c.Group == groups[g] {
			p.focus = c.ID
			return
		}
	}
}

// toward moves the focus to the nearest control in a direction, looking in the same region first.
func (p *Page) toward(dir paint.Pt) {
	live := p.Live()
	i := p.index(live)
	if i < 0 {
		p.step(1)
		return
	}
	p.Ring = true
	from := live[i].Rect.Mid()
	best, score := -1, math.Inf(1)
	for j, c := range live {
		if j == i {
			continue
		}
		v := c.Rect.Mid().Sub(from)
		along := v.X*dir.X + v.Y*dir.Y
		across := math.Abs(v.X*dir.Y) + math.Abs(v.Y*dir.X)
		if along < 2 {
			continue
		}
		s := along + 2.5*across
		if c.Group != live[i].Group {
			s += 400
		}
		if s < score {
			best, score = j, s
		}
	}
	if best >= 0 {
		p.focus = live[best].ID
	}
}

// Tree is the accessibility tree in reading order. A region without anything in it has no heading.
func (p *Page) Tree() []Node {
	var out []Node
	heading := ""
	put := func(n Node) {
		if heading != "" {
			out = append(out, Node{Role: Head, Name: heading})
			heading = ""
		}
		out = append(out, n)
	}
	last := ""
	for i := max(p.modal, 0); i <= len(p.Controls); i++ {
		for _, s := range p.lines(i) {
			switch {
			case !s.heading:
				put(Node{Role: Prose, Name: s.words})
			case s.words != last:
				heading, last = s.words, s.words
			}
		}
		if i == len(p.Controls) {
			break
		}
		c := p.Controls[i]
		put(Node{ID: c.ID, Role: c.Role, Name: c.Name, Value: c.Value, On: c.On, Off: c.Off,
			Focus: c.ID == p.focus, Rect: c.Rect, Now: c.Now, Max: c.Max})
	}
	return out
}
