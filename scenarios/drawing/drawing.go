// Package drawing says where a car's things are on the pictures of the bay: for each place a view of 1280 x 720 units
// with its terminals, nipples, hose runs, connectors, parts and clamp points, and the two diagrams of the service
// information. It is data about a car, like its netlist: how a battery or a pump looks is the scenes' business, a Prop
// only says that one stands there. Positions are invented.
package drawing

import (
	"bytes"
	"embed"
	"errors"
	"fmt"

	"gopkg.in/yaml.v3"
)

//go:embed *.yaml
var files embed.FS

// Width and Height are the size of a view in its own units.
const (
	Width  = 1280
	Height = 720
)

const format = "coldbay-drawing/1"

// Drawing is all pictures of one car.
type Drawing struct {
	Plain  bool    `yaml:"-"` // made from the car's data, not drawn by hand
	Format string  `yaml:"format"`
	Car    string  `yaml:"car"`
	Coat   string  `yaml:"coat"` // the body's paint; empty is the first car's
	Views  []View  `yaml:"views"`
	Sheets []Sheet `yaml:"sheets"`
}

// Point is x, y in view units.
type Point [2]float64

// Box is x, y, width, height in view units.
type Box [4]float64

// View is the picture of one place; its ID is the place's.
type View struct {
	ID         string `yaml:"id"`
	Props      []Prop `yaml:"props"`
	Regions    []Spot `yaml:"regions"` // other places seen from here
	Wires      []Wire `yaml:"wires"`
	Terminals  []Spot `yaml:"terminals"`
	Ports      []Spot `yaml:"ports"`
	Connectors []Spot `yaml:"connectors"`
	Parts      []Spot `yaml:"parts"`
	Clamps     []Spot `yaml:"clamps"`
	Hoses      []Hose `yaml:"hoses"`
}

// Prop is a thing painted in the background or, when Part is set, painted while that part is in its place; Away is where it
// lies when it is taken off.
type Prop struct {
	Kind   string `yaml:"kind"`
	Mirror bool   `yaml:"mirror"` // left to right
	Box    Box    `yaml:"box"`
	Part   string `yaml:"part"`
	Away   Box    `yaml:"away"`
	Label  string `yaml:"label"` // words set into the box
}

// Spot is a thing that can be touched. At is its middle, Box its extent where it is not a small point, Dir the way a
// nipple looks, Label a short mark set beside it on the side Side: n, e, s, w.
type Spot struct {
	ID    string `yaml:"id"`
	At    Point  `yaml:"at"`
	Box   Box    `yaml:"box"`
	Dir   Point  `yaml:"dir"`
	Label string `yaml:"label"`
	Side  string `yaml:"side"`
	Away  Point  `yaml:"away"` // where it is while its part is off
}

// Wire is a run of harness, for the eye only.
type Wire struct {
	Path  []Point `yaml:"path"`
	Ink   string  `yaml:"ink"`
	Width float64 `yaml:"width"`
}

// Hose is a hose as this view shows it. An end whose home port is not in the view leaves at ExitA or ExitB. HangA and HangB
// are where an end hangs that was pulled off.
type Hose struct {
	ID    string  `yaml:"id"`
	Width float64 `yaml:"width"`
	Ink   string  `yaml:"ink"`
	Via   []Point `yaml:"via"`
	ExitA Point   `yaml:"exit_a"`
	ExitB Point   `yaml:"exit_b"`
	HangA Point   `yaml:"hang_a"`
	HangB Point   `yaml:"hang_b"`
}

// Sheet is a diagram of the service information on a field of 1000 x 500 units.
type Sheet struct {
	ID    string  `yaml:"id"`
	Items []Item  `yaml:"items"`
	Lines []Track `yaml:"lines"`
	// Terminals are where a probe can be set from the diagram. A mark stands on the side Side.
	Terminals []Spot `yaml:"terminals"`
}

// Item is a symbol of a diagram with its words below it, or beside it when Side is set.
type Item struct {
	Kind  string `yaml:"kind"`
	At    Point  `yaml:"at"`
	Label string `yaml:"label"`
	Side  string `yaml:"side"`
}

// Track is a line of a diagram. Terminal dots sit at Dots with their marks.
type Track struct {
	Path []Point `yaml:"path"`
	Ink  string  `yaml:"ink"`
	Word string  `yaml:"word"`
	At   Point   `yaml:"at"` // where Word begins
}

// Load reads the drawing of a car that is built in. Errors name the file and what is wrong in it.
func Load(car string) (*Drawing, error) {
	name := car + ".yaml"
	raw, err := files.ReadFile(name)
	if err != nil {
		return nil, fmt.Errorf("load drawing of car %q: %w", car, err)
	}
	d, err := Parse(raw)
	if err != nil {
		return nil, fmt.Errorf("load drawing %s: %w", name, err)
	}
	if d.Car != car {
		return nil, fmt.Errorf("load drawing %s: car is %q, want %q", name, d.Car, car)
	}
	return d, nil
}

// Parse reads a drawing and checks it: unknown keys, empty or doubled ids and positions off the picture are errors.
func Parse(raw []byte) (*Drawing, error) {
	dec := yaml.NewDecoder(bytes.NewReader(raw))
	dec.KnownFields(true)
	var d Drawing
	if err := dec.Decode(&d); err != nil {
		return nil, err
	}
	if d.Format != format {
		return nil, fmt.Errorf("format: found %q, want %q", d.Format, format)
	}
	if len(d.Views) == 0 {
		return nil, errors.New("views: want at least one")
	}
	for i := range d.Views {
		if err := d.Views[i].check(); err != nil {
			return nil, fmt.Errorf("view %q: %w", d.Views[i].ID, err)
		}
	}
	return &d, nil
}

// View finds a view by the place's id.
func (d *Drawing) View(id string) (*View, bool) {
	for i := range d.Views {
		if d.Views[i].ID == id {
			return &d.Views[i], true
		}
	}
	return nil, false
}

// Sheet finds a diagram by id.
func (d *Drawing) Sheet(id string) (*Sheet, bool) {
	for i := range d.Sheets {
		if d.Sheets[i].ID == id {
			return &d.Sheets[i], true
		}
	}
	return nil, false
}

func (v *View) check() error {
	for _, group := range []struct {
		name  string
		spots []Spot
	}{{"regions", v.Regions}, {"terminals", v.Terminals}, {"ports", v.Ports}, {"connectors", v.Connectors}, {"parts", v.Parts}, {"clamps", v.Clamps}} {
		seen := map[string]bool{}
		for _, s := range group.spots {
			if s.ID == "" || seen[s.ID] {
				return fmt.Errorf("%s: id %q is empty or used twice", group.name, s.ID)
			}
			seen[s.ID] = true
			x, y := s.At[0], s.At[1]
			if s.Box != (Box{}) {
				x, y = s.Box[0]+s.Box[2]/2, s.Box[1]+s.Box[3]/2
			}
			if x <= 0 || y <= 0 || x >= Width || y >= Height {
				return fmt.Errorf("%s: %s stands at %g, %g, want inside 0..%d, 0..%d", group.name, s.ID, x, y, Width, Height)
			}
		}
	}
	return nil
}
