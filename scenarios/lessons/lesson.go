package lessons

import (
	"coldbay/sim"
	"coldbay/sim/cutaway"
)

// Format is the first line of every lesson.
const Format = "coldbay-lesson/1"

// Lesson is a sequence of steps about one car.
type Lesson struct {
	Format  string `yaml:"format" strict:"required"`
	ID      string `yaml:"id" strict:"required"`
	Number  int    `yaml:"number" strict:"required"` // place on the shelf
	Title   string `yaml:"title" strict:"required"`
	Aim     string `yaml:"aim" strict:"required"` // what one can do afterwards
	Car     string `yaml:"car" strict:"required"`
	Minutes int    `yaml:"minutes" strict:"required"` // a guide
	Steps   []Step `yaml:"steps" strict:"required"`

	Digest string `yaml:"-"` // sha256 of the file, hex
	File   string `yaml:"-"`
}

// Step is one page of a lesson, and the question that may follow it.
type Step struct {
	ID     string  `yaml:"id" strict:"required"`
	Title  string  `yaml:"title" strict:"required"`
	Text   string  `yaml:"text" strict:"required"`
	Show   Show    `yaml:"show" strict:"required"`
	Claims []Claim `yaml:"claims"`
	Ask    *Ask    `yaml:"ask"`
}

// Other is what stands beside the car of a step.
type Other string

// What may stand beside it.
const (
	Nothing    Other = ""
	Healthy    Other = "healthy"
	WithoutAir Other = "without_air"
)

// Show is what the cutaway shows with a step.
type Show struct {
	Run      cutaway.Run `yaml:"run"`      // cold_start unless given
	View     string      `yaml:"view"`     // all unless given
	Channels []string    `yaml:"channels"` // on the charts, at most 5
	Fault    string      `yaml:"fault"`
	Severity float64     `yaml:"severity"` // 1 unless given
	Beside   Other       `yaml:"beside"`
	At       float64     `yaml:"at"`    // s: where it begins
	Until    float64     `yaml:"until"` // s: where it stops by itself; the end unless given
	Play     bool        `yaml:"play"`  // it runs at once
	Speed    float64     `yaml:"speed"` // times real time, 1 unless given
	Part     string      `yaml:"part"`  // an item that is pointed out
}

// Who is a car: a fault of the catalogue at a severity, or the healthy one.
type Who struct {
	Fault      string  `yaml:"fault"`
	Severity   float64 `yaml:"severity"` // 1 unless given
	WithoutAir bool    `yaml:"without_air"`
}

// Reading names a number of a run, as package cutaway has it.
type Reading struct {
	Of   string       `yaml:"of" strict:"required"`
	Take cutaway.Take `yaml:"take"`
	At   float64      `yaml:"at"`
	To   float64      `yaml:"to"`
}

// Claim says that a reading of a car lies between two limits. The car and its run are those that the step shows, unless who or run say otherwise.
type Claim struct {
	Read    Reading     `yaml:"read" strict:"required"`
	Who     *Who        `yaml:"who"`
	Run     cutaway.Run `yaml:"run"`
	Between *[2]float64 `yaml:"between"`
	Never   bool        `yaml:"never"` // instead of limits: it does not happen while filmed
}

// Kind is what sort of question it is.
type Kind string

// The kinds of questions.
const (
	Choice Kind = "choice" // one of several
	Number Kind = "number" // a reading, within a tolerance
	Strike Kind = "strike" // which suspects a reading rules out
)

// Ask is a question. Why is shown after an answer.
type Ask struct {
	Kind Kind   `yaml:"kind" strict:"required"`
	Text string `yaml:"text" strict:"required"`
	Why  string `yaml:"why" strict:"required"`

	Options []Option `yaml:"options"` // choice

	Read   *Reading `yaml:"read"`   // number, strike: what is read
	Who    *Who     `yaml:"who"`    // number: of which car; the one shown unless given
	Unit   string   `yaml:"unit"`   // number: written behind the field
	Within float64  `yaml:"within"` // number: how far off is still right
	About  *float64 `yaml:"about"`  // number: what the author expects; a test holds it against the car

	Found    float64   `yaml:"found"` // strike: the reading that was found
	Apart    float64   `yaml:"apart"` // strike: readings this far from it are told apart
	Suspects []Suspect `yaml:"suspects"`
}

// Option is one answer of a choice.
type Option struct {
	Text  string `yaml:"text" strict:"required"`
	Right bool   `yaml:"right"`
}

// Suspect is one line of a strike question. Struck is the right answer: its own reading is more than apart from what was found.
type Suspect struct {
	Fault    string  `yaml:"fault" strict:"required"`
	Severity float64 `yaml:"severity"`
	Struck   bool    `yaml:"struck"`
}

// Cutaway is the reading in the words of package cutaway.
func (r Reading) Cutaway() cutaway.Reading {
	return cutaway.Reading{Of: r.Of, Take: r.Take, At: r.At, To: r.To}
}

// Room is where lessons take place: 20 degC at sea level, the nominal car.
func Room() sim.Conditions { return sim.Conditions{AmbientK: 293.15, AmbientPa: 101325} }

// Setup is the film of a run of a car.
func (w Who) Setup(run cutaway.Run) cutaway.Setup {
	if run == "" {
		run = cutaway.ColdStart
	}
	set := cutaway.Setup{Run: run, Conditions: Room(), WithoutAir: w.WithoutAir}
	if w.Fault != "" {
		set.Faults = []sim.FaultChoice{{ID: w.Fault, Severity: orOne(w.Severity)}}
	}
	return set
}

// Who is the car that a step shows.
func (s Show) Who() Who { return Who{Fault: s.Fault, Severity: s.Severity} }

// BesideWho is the car beside it; ok is false when there is none.
func (s Show) BesideWho() (w Who, ok bool) {
	return Who{WithoutAir: s.Beside == WithoutAir}, s.Beside != Nothing
}

func orOne(v float64) float64 {
	if v == 0 {
		return 1
	}
	return v
}
