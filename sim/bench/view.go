package bench

// Catalogue is the public part of an order and its car.
type Catalogue struct {
	Order      OrderInfo   `json:"order"`
	Car        string      `json:"car"`
	Places     []Named     `json:"places"`
	Terminals  []Spot      `json:"terminals"`
	Ports      []Spot      `json:"ports"`
	Hoses      []HoseInfo  `json:"hoses"`
	Connectors []Spot      `json:"connectors"`
	Parts      []Spot      `json:"parts"`
	Clamps     []Spot      `json:"clamps"`
	Devices    []Spot      `json:"devices"` // things that are heard: coils that click, motors that whine
	Units      []UnitInfo  `json:"units"`
	Seen       []UnitPart  `json:"seen"` // things that the eyes may get at
	Pins       []Output    `json:"pins"` // controller outputs that can be killed
	Suspects   []Suspect   `json:"suspects"`
	Tools      []string    `json:"tools"` // allowed: meter, clamp, lamp, jumper, handpump, blow, scan ...
	PIDs       []PIDInfo   `json:"pids"`
	Outputs    []string    `json:"outputs"` // what an actuator test can drive: pump, solenoid, both
	Spec       [][2]string `json:"spec"`    // item, value
	Cautions   []string    `json:"cautions"`
}

// OrderInfo is the work order as the customer's complaint reached the bay.
type OrderInfo struct {
	ID, Title, Customer, Vehicle, Complaint, History string
	Minutes                                          int // minutes allowed, a guide
}

// Named is an id with the words shown for it.
type Named struct{ ID, Name string }

// Spot is a thing at a place. When says what must be off or open before a probe reaches it: "", "open:pump_plug", "removed:relay".
type Spot struct{ ID, Name, Place, When string }

// HoseInfo is a hose and the ports where its ends belong.
type HoseInfo struct{ ID, Name, PortA, PortB, PlaceA, PlaceB string }

// UnitPart is a piece of a service unit that has no name of its own.
type UnitPart struct{ ID, Unit string }

// Output is a controller output, which has no name of its own but that of the terminal it drives.
type Output struct{ ID, Terminal string }

// UnitInfo is a service unit: what one replaces or mends. Price in cents.
type UnitInfo struct {
	ID, Name string
	Price    int
	Minutes  int
	Mend     bool
}

// Suspect is one line of the suspect board. Share is a rough percentage of cases (common practice, no source).
type Suspect struct {
	ID, Name string
	Units    []string
	Share    int
}

// PIDInfo is one live-data parameter that this car answers, by its SAE J1979 number in hex.
type PIDInfo struct{ PID, Name, Unit string }

// View is the bench as it can be seen now.
type View struct {
	Bench    float64 // bench seconds
	Calendar float64 // calendar seconds, overnight soaks included
	Bill     int     // cents: parts, leads, nights
	Labour   int     // cents: time at the labour rate, the helper's included
	Place    string
	Key      string // off, on
	Engine   string // off, cranking, running
	Rpm      int    // dash gauge, 50 rpm steps; 0 with key off
	Lamp     bool   // malfunction lamp
	Coolant  string // dash gauge: cold, warm, hot

	HoseEnds   []HoseEnd
	Ports      []PortState
	Connectors []OnOff // On = open
	Parts      []OnOff // On = removed

	Meter    MeterView
	Clamp    MeterView
	Lamp21   MeterView // test lamp: Text off, glimmer, dim, bright
	Jumpers  []JumperView
	HandPump HandPumpView
	Scan     ScanView

	Extract, Helper bool
	Struck          []string
	Notes           []string
	Stems           []Stem // of valves that are off, in plain sight
	PumpTurning     bool   // the air pump's body can be seen to shake
	PumpRough       bool
	LastHazards     []Hazard
	Closed          bool
}

// HoseEnd says where one end of a hose is: At a port, or "" hanging free.
type HoseEnd struct {
	ID, At  string
	Plugged bool
	Tool    string // "", handpump, breath
}

// PortState says what is on a port: a hose end, a tool, a plug, or nothing.
type PortState struct {
	ID, Hose string
	Plugged  bool
	Tool     string
}

// Stem is how far the stem of a valve that is off was last seen lifted: a share of its full lift, 0 to 1.
type Stem struct {
	ID    string // part
	Share float64
}

// OnOff is the state of a connector or part.
type OnOff struct {
	ID string
	On bool
}

// MeterView is an instrument with its last reading as displayed. Empty Mode: not connected.
type MeterView struct{ Mode, Red, Black, Text string }

// JumperView is a jumper lead in place.
type JumperView struct {
	From, To string
	AWG      int
	Fuse     int    // A, 0 none
	State    string // "", hot, glowing, fuse blown
}

// HandPumpView is the hand vacuum pump. Text is the gauge's last reading.
type HandPumpView struct {
	On      string
	Strokes int
	KPa     float64 // last reading, kPa below ambient
	Text    string
}

// ScanView is the scan tool. Lines are the last screen.
type ScanView struct {
	Plugged  bool
	Actuator string
	Lines    []string
}
