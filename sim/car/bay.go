package car

import "coldbay/sim/circuit"

// Bay is what a person finds when standing at the car.
type Bay struct {
	Places     []Place    `yaml:"places"`
	Terminals  []Terminal `yaml:"terminals"`
	Ports      []Spot     `yaml:"ports"`
	Hoses      []Name     `yaml:"hoses"`
	Connectors []Spot     `yaml:"connectors"`
	Parts      []BayPart  `yaml:"parts"`
	Clamps     []Clamp    `yaml:"clamps"`
	Signs      []Sign     `yaml:"signs"`
}

// Place is somewhere to stand; WalkS seconds from the middle of the bay.
type Place struct {
	ID    string  `yaml:"id"`
	Name  string  `yaml:"name"`
	WalkS float64 `yaml:"walk_s"`
	Warm  float64 `yaml:"warm"` // how much of the coolant's warmth it takes on, 0 to 1
}

// Terminal is a point that a probe can touch.
type Terminal struct {
	ID          string `yaml:"id"`
	Name        string `yaml:"name"`
	Place       string `yaml:"place"`
	WhenOpen    string `yaml:"when_open"`    // connector that must be open
	WhenRemoved string `yaml:"when_removed"` // part that must be off
	Driver      bool   `yaml:"driver"`       // a controller's driver pin: never feed it
}

// Spot is a named thing at a place.
type Spot struct {
	ID    string `yaml:"id"`
	Name  string `yaml:"name"`
	Place string `yaml:"place"`
}

// Name gives a hose its words.
type Name struct {
	ID   string `yaml:"id"`
	Name string `yaml:"name"`
}

// BayPart is a part that comes off with hand tools. OffS and OnS are seconds of work.
type BayPart struct {
	ID        string   `yaml:"id"`
	Name      string   `yaml:"name"`
	Place     string   `yaml:"place"`
	Fuse      string   `yaml:"fuse"`      // element lifted out
	Connector string   `yaml:"connector"` // connector that opens with it, or that must be open
	Hoses     []string `yaml:"hoses"`     // hoses that must be off it
	Pump      string   `yaml:"pump"`      // pneumatic part taken off
	Valve     string   `yaml:"valve"`     // pneumatic part taken off
	OffS      float64  `yaml:"off_s"`
	OnS       float64  `yaml:"on_s"`
	Hot       bool     `yaml:"hot"` // sits on the hot side
}

// Clamp is a wire that a current clamp goes around.
type Clamp struct {
	ID      string `yaml:"id"`
	Name    string `yaml:"name"`
	Place   string `yaml:"place"`
	Element string `yaml:"element"`
}

// Sign is something the eyes can get: parameter Param of Of at or past From (and below Upto) shows as See at Place. When says what must be so:
// "" plainly seen, "bend" when moved, "removed:PART", "open:CONNECTOR", "pulled:PORT".
type Sign struct {
	Place string  `yaml:"place"`
	Of    string  `yaml:"of"`
	Param string  `yaml:"param"`
	From  float64 `yaml:"from"`
	Upto  float64 `yaml:"upto"` // and below it, when given
	When  string  `yaml:"when"`
	See   string  `yaml:"see"`
}

// Element is an entry of the netlist as the car file has it, for whoever draws it.
type Element = circuit.Element
