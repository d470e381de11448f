package bench

// Order is a work order: whose car, what is complained of, what happened to the car before, what is really wrong with
// it, and with what the trainee may work. It is read from YAML by package scenarios. Customers are invented.
type Order struct {
	Format     string         `yaml:"format" strict:"required"` // coldbay-order/1
	ID         string         `yaml:"id" strict:"required"`
	Title      string         `yaml:"title" strict:"required"`
	Customer   string         `yaml:"customer" strict:"required"`
	Car        string         `yaml:"car" strict:"required"`     // id of the car
	Vehicle    string         `yaml:"vehicle" strict:"required"` // the car in the customer's words: age, distance
	Complaint  string         `yaml:"complaint" strict:"required"`
	Minutes    int            `yaml:"minutes" strict:"required"` // a guide, 1..600
	Conditions Conditions     `yaml:"conditions"`
	History    []HistoryEvent `yaml:"history"`
	Truth      Truth          `yaml:"truth" strict:"required"`
	Suspects   []string       `yaml:"suspects"` // empty: all of the car
	Shifts     []Shift        `yaml:"shifts"`
	Tools      []string       `yaml:"tools"`    // allowed; empty: all
	Withheld   []string       `yaml:"withheld"` // taken from the allowed ones
	Cautions   []string       `yaml:"cautions" strict:"required"`
}

// OrderFormat is the format line that an order file must carry.
const OrderFormat = "coldbay-order/1"

// Conditions are the surroundings in the bay and on the road.
type Conditions struct {
	AmbientC  float64 `yaml:"ambient_c"`  // degC, -40..50
	AltitudeM float64 `yaml:"altitude_m"` // m above sea level, 0..3000
}

// HistoryEvent is one thing that happened before the trainee gets the car. Text is what the customer or the file tells; Do is what
// is simulated with the fault present. An event without Do is only told: it lies before the fault began.
type HistoryEvent struct {
	Text    string  `yaml:"text"`
	Do      string  `yaml:"do"`      // "", cold_start, drive, key_on, erase, repair, wait, wear
	Times   int     `yaml:"times"`   // repetitions, 1..20; 0 means 1
	Minutes float64 `yaml:"minutes"` // drive: minutes at speed, 0.5..60
	Hours   float64 `yaml:"hours"`   // wait: hours standing, 0.1..240; wear: hours driven over the weeks, 0.1..2000
	Wet     bool    `yaml:"wet"`     // wear: in the rain
	Unit    string  `yaml:"unit"`    // repair: the unit renewed
}

// HistoryKinds are the events that can be simulated.
func HistoryKinds() []string {
	return []string{"cold_start", "drive", "key_on", "erase", "repair", "wait", "wear"}
}

// Truth is what is really wrong. It never passes through a Session.
type Truth struct {
	Fault    string  `yaml:"fault" strict:"required"` // fault, fault set or the car's "no fault found"
	Severity float64 `yaml:"severity"`                // (0, 1]; 0 means 1
	Draw     uint64  `yaml:"draw"`                    // seed of this car within the model's spread; 0 the nominal car
}

// Shift multiplies a suspect's prior weight for this order: age, history, weather.
type Shift struct {
	Suspect string  `yaml:"suspect" strict:"required"`
	Times   float64 `yaml:"times" strict:"required"` // 0.01..100
	Why     string  `yaml:"why"`
}

// Tool names that an order can allow or withhold.
const (
	ToolMeter    = "meter"
	ToolClamp    = "clamp"
	ToolLamp     = "lamp"
	ToolJumper   = "jumper"
	ToolHandPump = "handpump"
	ToolBreath   = "blow"
	ToolScan     = "scan"
	ToolHelper   = "helper"
	ToolSmoke    = "smoke"
	ToolGas      = "analyser"
)

// AllTools are the tools of the bay in the order in which they are listed.
func AllTools() []string {
	return []string{ToolMeter, ToolClamp, ToolLamp, ToolJumper, ToolHandPump, ToolBreath, ToolScan, ToolHelper, ToolSmoke, ToolGas}
}
