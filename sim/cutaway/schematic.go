package cutaway

import (
	"fmt"
	"slices"
	"strings"

	"coldbay/sim/air"
	"coldbay/sim/car"
	"coldbay/sim/car/strict"
	"coldbay/sim/units"
)

// Format is the first line of every schematic.
const Format = "coldbay-cutaway/1"

// Point is a place on the schematic, in field units: x to the right, y downwards.
type Point [2]float64

// Medium is what moves along a way.
type Medium string

// The media.
const (
	Air     Medium = "air"
	Vacuum  Medium = "vacuum"
	Current Medium = "current"
	Signal  Medium = "signal" // a current that commands: amperes below one
	Gas     Medium = "gas"    // exhaust
)

func media() []string { return []string{"air", "vacuum", "current", "signal", "gas"} }

// Sheet is a schematic's file.
type Sheet struct {
	Format   string    `yaml:"format" strict:"required"`
	Car      string    `yaml:"car" strict:"required"`
	Field    Point     `yaml:"field" strict:"required"`   // width and height
	Without  string    `yaml:"without" strict:"required"` // element taken out for a run without secondary air
	Views    []View    `yaml:"views" strict:"required"`
	Channels []Channel `yaml:"channels" strict:"required"`
	Ways     []Way     `yaml:"ways" strict:"required"`
	Leaks    []Leak    `yaml:"leaks"`
	Items    []Item    `yaml:"items" strict:"required"`
}

// View is a part of the field that can be shown by itself.
type View struct {
	ID  string     `yaml:"id" strict:"required"`
	Box [4]float64 `yaml:"box" strict:"required"` // x, y, width, height
	// Channels are charted with it unless something else is asked for.
	Channels []string `yaml:"channels" strict:"required"`
}

// Channel is a quantity with a name of its own: it can be charted, asked for and claimed.
type Channel struct {
	ID     string  `yaml:"id" strict:"required"`
	Of     string  `yaml:"of" strict:"required"`   // the quantity
	Unit   string  `yaml:"unit" strict:"required"` // in which it is shown; "" for a ratio
	Low    float64 `yaml:"low"`                    // ends of its chart
	High   float64 `yaml:"high" strict:"required"`
	Digits int     `yaml:"digits"` // behind the point

	unit  units.Unit
	track int
}

// Show converts a value of the channel's quantity into its unit.
func (c Channel) Show(si float64) float64 { return c.unit.FromSI(si) }

// Way is a hose, pipe or wire. Flow is what moves along it in the direction of its path; Shade is what it is filled with: a pressure, a
// vacuum or a voltage.
type Way struct {
	ID     string  `yaml:"id" strict:"required"`
	Medium Medium  `yaml:"medium" strict:"required"`
	Path   []Point `yaml:"path" strict:"required"`
	Flow   string  `yaml:"flow" strict:"required"`
	Shade  string  `yaml:"shade"`

	flow, shade int
}

// Leak is a place where air may get out or in. Flow is positive outwards.
type Leak struct {
	At   Point  `yaml:"at" strict:"required"`
	Way  Point  `yaml:"way" strict:"required"` // direction outwards
	Flow string `yaml:"flow" strict:"required"`

	flow int
}

// Item is a part on the schematic. Shows are the channels read beside it, States what its symbol follows.
type Item struct {
	ID     string   `yaml:"id" strict:"required"`
	Kind   string   `yaml:"kind" strict:"required"`
	At     Point    `yaml:"at" strict:"required"`
	Size   Point    `yaml:"size" strict:"required"`
	Side   string   `yaml:"side"` // where its name stands: n, e, s, w; s unless given
	Flip   bool     `yaml:"flip"` // drawn upside down
	Bank   int      `yaml:"bank"` // a catalyst's, 1 unless given
	Shows  []string `yaml:"shows"`
	States []string `yaml:"states"`
	Minor  bool     `yaml:"minor"` // its name may be left out where room is short

	states []int
}

// Kinds lists the kinds of items that can be drawn.
func Kinds() []string {
	return []string{"battery", "belt_pump", "catalyst", "check", "controller", "cylinder", "diverter", "filter", "fuse", "gauge", "ground", "lamp", "manifold",
		"motor", "passages", "ports", "pump", "push_valve", "relay", "reservoir", "sensor", "silencer", "solenoid", "tailpipe", "valve"}
}

// states is how many quantities the symbol of a kind follows; catalysts have one a cell, a controller one for each of up to two outputs. A belt pump
// has its own speed, the engine's, and how far its belt slips; a valve its lift as a share of the whole, and what moves it.
var states = map[string]int{"belt_pump": 3, "check": 1, "cylinder": 1, "diverter": 2, "fuse": 1, "gauge": 1, "lamp": 1, "motor": 1, "pump": 1, "push_valve": 2,
	"relay": 1, "sensor": 1, "solenoid": 1, "valve": 2, "reservoir": 1, "manifold": 1, "passages": 1}

// Schematic is a checked sheet with the car that it shows. It is immutable.
type Schematic struct {
	Sheet
	car    *car.Car
	makers []maker
	tracks map[string]int
}

// ParseSchematic reads a schematic and checks every name in it against the car.
func ParseSchematic(file string, data []byte, c *car.Car) (*Schematic, error) {
	s := &Schematic{car: c, tracks: map[string]int{}}
	doc, err := strict.Decode(file, data, &s.Sheet)
	if err != nil {
		return nil, err
	}
	k := sheetCheck{s, doc}
	if s.Format != Format {
		return nil, doc.Errorf(strict.Path("format"), "found %q; allowed is %q", s.Format, Format)
	}
	if s.Sheet.Car != c.ID {
		return nil, doc.Errorf(strict.Path("car"), "found %q; allowed is %q", s.Sheet.Car, c.ID)
	}
	for _, f := range []func() error{k.views, k.channels, k.ways, k.items, k.whole} {
		if err := f(); err != nil {
			return nil, err
		}
	}
	return s, nil
}

// Channel finds a channel by id.
func (s *Schematic) Channel(id string) (Channel, bool) {
	i := slices.IndexFunc(s.Channels, func(c Channel) bool { return c.ID == id })
	if i < 0 {
		return Channel{}, false
	}
	return s.Channels[i], true
}

// ChannelIDs lists the channels.
func (s *Schematic) ChannelIDs() []string {
	out := make([]string, len(s.Channels))
	for i, c := range s.Channels {
		out[i] = c.ID
	}
	return out
}

// View finds a view by id.
func (s *Schematic) View(id string) (View, bool) {
	i := slices.IndexFunc(s.Views, func(v View) bool { return v.ID == id })
	if i < 0 {
		return View{}, false
	}
	return s.Views[i], true
}

// ViewIDs lists the views.
func (s *Schematic) ViewIDs() []string {
	out := make([]string, len(s.Views))
	for i, v := range s.Views {
		out[i] = v.ID
	}
	return out
}

// CarOf is the car that the schematic shows.
func (s *Schematic) CarOf() *car.Car { return s.car }

// track gives the place of a quantity in a film; the same words share one.
func (s *Schematic) track(words string) (int, units.Quantity, error) {
	m, kind, err := compile(s.car, words)
	if err != nil {
		return 0, 0, err
	}
	if i, ok := s.tracks[words]; ok {
		return i, kind, nil
	}
	s.tracks[words] = len(s.makers)
	s.makers = append(s.makers, m)
	return len(s.makers) - 1, kind, nil
}

// sheetCheck checks a sheet and resolves its quantities.
type sheetCheck struct {
	s   *Schematic
	doc *strict.Doc
}

func (k sheetCheck) views() error {
	s := k.s
	if s.Field[0] < 100 || s.Field[1] < 100 || s.Field[0] > 4000 || s.Field[1] > 4000 {
		return k.doc.Errorf(strict.Path("field"), "found %g by %g; allowed are 100 to 4000 each", s.Field[0], s.Field[1])
	}
	seen := map[string]bool{}
	for i, v := range s.Views {
		b := v.Box
		if seen[v.ID] {
			return k.doc.Errorf(strict.Path("views", i, "id"), "found %q twice", v.ID)
		}
		seen[v.ID] = true
		if b[0] < 0 || b[1] < 0 || b[2] < 50 || b[3] < 50 || b[0]+b[2] > s.Field[0] || b[1]+b[3] > s.Field[1] {
			return k.doc.Errorf(strict.Path("views", i, "box"), "found %v; a view lies in the field and is at least 50 wide and high", b)
		}
	}
	if !seen["all"] {
		return k.doc.Errorf(strict.Path("views"), `there must be a view "all"`)
	}
	for i, v := range s.Views {
		for j, c := range v.Channels {
			if _, ok := s.Channel(c); !ok {
				return k.doc.Errorf(strict.Path("views", i, "channels", j), "found %q; %s", c, strict.OneOf(c, s.ChannelIDs()))
			}
		}
	}
	return nil
}

func (k sheetCheck) channels() error {
	seen := map[string]bool{}
	for i := range k.s.Channels {
		c := &k.s.Channels[i]
		if seen[c.ID] {
			return k.doc.Errorf(strict.Path("channels", i, "id"), "found %q twice", c.ID)
		}
		seen[c.ID] = true
		at, kind, err := k.s.track(c.Of)
		if err != nil {
			return k.doc.Errorf(strict.Path("channels", i, "of"), "%v", err)
		}
		c.track = at
		if c.Unit != "" {
			if c.unit, err = units.ParseUnit(c.Unit); err != nil {
				return k.doc.Errorf(strict.Path("channels", i, "unit"), "%v", err)
			}
			if c.unit.Quantity() != kind {
				return k.doc.Errorf(strict.Path("channels", i, "unit"), "found %q, which does not measure %s", c.Unit, c.Of)
			}
		} else if kind != units.Ratio {
			return k.doc.Errorf(strict.Path("channels", i, "unit"), "found none; only a ratio has none")
		}
		if c.High <= c.Low {
			return k.doc.Errorf(strict.Path("channels", i, "high"), "found %g; it must be above low, %g", c.High, c.Low)
		}
		if c.Digits < 0 || c.Digits > 4 {
			return k.doc.Errorf(strict.Path("channels", i, "digits"), "found %d; allowed are 0 to 4", c.Digits)
		}
	}
	return nil
}

func (k sheetCheck) ways() error {
	var err error
	for i := range k.s.Ways {
		w := &k.s.Ways[i]
		at := func(key string) []any { return strict.Path("ways", i, key) }
		if !slices.Contains(media(), string(w.Medium)) {
			return k.doc.Errorf(at("medium"), "found %q; %s", w.Medium, strict.OneOf(string(w.Medium), media()))
		}
		if len(w.Path) < 2 {
			return k.doc.Errorf(at("path"), "found %d points; a way has at least two", len(w.Path))
		}
		for j, p := range w.Path {
			if !k.in(p) {
				return k.doc.Errorf(strict.Path("ways", i, "path", j), "found %v, which lies outside the field", p)
			}
		}
		var kind units.Quantity
		if w.flow, kind, err = k.s.track(w.Flow); err != nil {
			return k.doc.Errorf(at("flow"), "%v", err)
		}
		want := units.MassFlow
		if w.Medium == Current || w.Medium == Signal {
			want = units.Current
		}
		if kind != want {
			return k.doc.Errorf(at("flow"), "found %q, which is no flow of %s", w.Flow, w.Medium)
		}
		w.shade = -1
		if w.Shade != "" {
			if w.shade, _, err = k.s.track(w.Shade); err != nil {
				return k.doc.Errorf(at("shade"), "%v", err)
			}
		}
	}
	for i := range k.s.Leaks {
		l := &k.s.Leaks[i]
		if l.flow, _, err = k.s.track(l.Flow); err != nil {
			return k.doc.Errorf(strict.Path("leaks", i, "flow"), "%v", err)
		}
		if !k.in(l.At) {
			return k.doc.Errorf(strict.Path("leaks", i, "at"), "found %v, which lies outside the field", l.At)
		}
	}
	return nil
}

func (k sheetCheck) in(p Point) bool {
	return p[0] >= 0 && p[1] >= 0 && p[0] <= k.s.Field[0] && p[1] <= k.s.Field[1]
}

func (k sheetCheck) items() error {
	seen := map[string]bool{}
	for i := range k.s.Items {
		it := &k.s.Items[i]
		at := func(key string) []any { return strict.Path("items", i, key) }
		if seen[it.ID] {
			return k.doc.Errorf(at("id"), "found %q twice", it.ID)
		}
		seen[it.ID] = true
		if !slices.Contains(Kinds(), it.Kind) {
			return k.doc.Errorf(at("kind"), "found %q; %s", it.Kind, strict.OneOf(it.Kind, Kinds()))
		}
		if !k.in(it.At) {
			return k.doc.Errorf(at("at"), "found %v, which lies outside the field", it.At)
		}
		if !slices.Contains([]string{"", "n", "e", "s", "w"}, it.Side) {
			return k.doc.Errorf(at("side"), "found %q; allowed: n, e, s, w", it.Side)
		}
		for j, c := range it.Shows {
			if _, ok := k.s.Channel(c); !ok {
				return k.doc.Errorf(strict.Path("items", i, "shows", j), "found %q; %s", c, strict.OneOf(c, k.s.ChannelIDs()))
			}
		}
		if it.Bank < 0 || it.Bank > max(1, k.s.car.Banks) || it.Bank != 0 && it.Kind != "catalyst" {
			return k.doc.Errorf(at("bank"), "found %d; a catalyst belongs to one of the car's %d banks, other things to none", it.Bank, max(1, k.s.car.Banks))
		}
		want := states[it.Kind]
		switch it.Kind {
		case "catalyst":
			want = k.s.car.Exhaust.Catalyst.Cells
			for n := range want {
				it.States = append(it.States, fmt.Sprintf("%s:%d", map[int]string{0: "catalyst", 1: "catalyst", 2: "catalyst_2"}[it.Bank], n))
			}
		case "controller":
			want = min(max(len(it.States), 1), 2)
		}
		if len(it.States) != want {
			return k.doc.Errorf(at("states"), "found %d; a %s has %d", len(it.States), it.Kind, want)
		}
		for j, q := range it.States {
			n, _, err := k.s.track(q)
			if err != nil {
				return k.doc.Errorf(strict.Path("items", i, "states", j), "%v", err)
			}
			it.states = append(it.states, n)
		}
	}
	return nil
}

// whole refuses a schematic that leaves out what moves, holds or lets through air in the car: it would show a car that is not this one.
func (k sheetCheck) whole() error {
	a := k.s.car.Anatomy()
	shown := map[string]bool{}
	for words := range k.s.tracks {
		for _, f := range strings.FieldsFunc(words, func(r rune) bool { return r == ' ' || r == ':' || r == '.' || r == '/' }) {
			shown[f] = true
		}
	}
	// A volume is seen by what goes in and out of it; a hose has a place of its own.
	hoses := slices.DeleteFunc(slices.Clone(a.Pumped), func(id string) bool {
		return !slices.ContainsFunc(k.s.car.Pneumatic.Hoses, func(h air.Hose) bool { return h.ID == id })
	})
	for _, id := range slices.Concat([]string{a.Pump, a.Motor, a.Relay}, hoses, a.Inlets, a.Valves, a.Chambers, a.Dumps) {
		if id != "" && !shown[id] {
			return k.doc.Errorf(strict.Path("items"), "%q of the car is nowhere shown: no quantity of the schematic follows it", id)
		}
	}
	return nil
}
