package bench

import "context"

// Session is the only door into a world: actions go in, findings come out. A scene, the prompt, a simulated
// student and the grader all use it and can't tell a world in the same process from one on a server. Nothing
// that names the hidden fault passes through it before the attempt is closed.
type Session interface {
	// Catalogue is what the trainee may know before touching anything: the order, the car's places and parts, the
	// tools allowed, the service information, the common causes. It does not change during an attempt.
	Catalogue() Catalogue
	// Do carries out one action. A refusal comes back as a *Refusal error and costs nothing. When ctx is cancelled
	// a long action stops at a whole tick and what was done until then stands.
	Do(ctx context.Context, a Action) (Finding, error)
	// View is the bench as the trainee can see it now: hands' work, instruments, clocks. No inner state of the car.
	View() View
	// Ledger lists what was done so far, oldest first.
	Ledger() []Finding
}

// Action is one thing a trainee does. Which fields count depends on the verb: see verbs.go.
type Action struct {
	Verb Verb     `json:"do"`
	On   string   `json:"on,omitempty"`   // place, part, terminal, hose end ("line_supply.b"), port, unit, suspect
	To   string   `json:"to,omitempty"`   // second terminal, port
	Mode string   `json:"mode,omitempty"` // "volts", "ohms", "amps"; "14awg 30A"; actuator name; "replace" or "mend"
	N    float64  `json:"n,omitempty"`    // seconds, strokes, rpm
	Text string   `json:"text,omitempty"` // free text of the notebook
	List []string `json:"list,omitempty"` // several ids: PIDs, suspects
}

// Finding is what an action gave.
type Finding struct {
	Seq      int       `json:"seq"`      // 1, 2, 3 ...
	Action   Action    `json:"action"`   //
	Start    float64   `json:"start"`    // bench seconds when the action began
	Seconds  float64   `json:"seconds"`  // bench seconds it took
	Cost     int       `json:"cost"`     // parts bought, in cents
	Percepts []Percept `json:"percepts"` // what was perceived, in order
	Hazards  []Hazard  `json:"hazards"`  // what went wrong that a person would notice
}

// Percept is one thing perceived: what a sense or an instrument could give and no more.
type Percept struct {
	Sense Sense   `json:"sense"`           // eye, ear, hand, nose, meter, clamp, lamp, gauge, scan, paper, analyser
	Key   string  `json:"key"`             // quantity: "volts", "ohms", "amps", "vacuum", "flow", "heat", "sound", "sign", "code", "pid.0C" ...
	Of    string  `json:"of"`              // where: a place, port, hose end, terminal pair "bat_pos/pump_1h", element
	Value float64 `json:"value,omitempty"` // number in Unit, already rounded to the instrument's resolution
	Unit  string  `json:"unit,omitempty"`  // "V", "ohm", "A", "kPa", "s", "" for words
	Word  string  `json:"word,omitempty"`  // graded word, picture state, code; empty for a plain number
	Flag  string  `json:"flag,omitempty"`  // "over range", "live circuit", "fuse blown" ...
}

// Sense says through what a percept came.
type Sense string

// The senses and instruments.
const (
	Eye   Sense = "eye"
	Ear   Sense = "ear"
	Hand  Sense = "hand"
	Nose  Sense = "nose"
	Meter Sense = "meter"
	Clamp Sense = "clamp"
	Lamp  Sense = "lamp"
	Gauge Sense = "gauge"
	Scan  Sense = "scan"
	Paper Sense = "paper"

	Analyser Sense = "analyser" // exhaust gas
)

// Hazard is an unsafe event: what happened and how grave it is.
type Hazard struct {
	Kind  string `json:"kind"`  // "lead_hot", "lead_glows", "driver_killed", "burn", "short_arc", "pump_overheated", "co" ...
	Of    string `json:"of"`    // where
	Grave bool   `json:"grave"` // true: fails the safety mark by itself
}

// Refusal says why an action can't be done now and what is missing. It costs nothing and is not logged.
type Refusal struct {
	Action  Action
	Missing string // one sentence: what is missing or allowed
}

// Error is the sentence shown to the trainee.
func (r *Refusal) Error() string { return r.Missing }
