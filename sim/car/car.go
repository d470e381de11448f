package car

import (
	"errors"
	"fmt"
	"sort"

	"coldbay/sim/air"
	"coldbay/sim/car/strict"
	"coldbay/sim/circuit"
	"coldbay/sim/ecm"
	"coldbay/sim/engine"
	"coldbay/sim/exhaust"
)

// Format is the first line of every car file.
const Format = "coldbay-car/1"

// ExhaustJoints are the names of the joints before the oxygen sensors, by bank, as owners of a parameter leak_m2.
func ExhaustJoints() [2]string { return [2]string{"exhaust_joint", "exhaust_joint_2"} }

// MaxParams bounds the parameters of a car, so that a world can hold them by value.
const MaxParams = 256

// Car is a parsed and validated car file with its networks. It is immutable and may be shared by any number of worlds.
type Car struct {
	File
	Circuit *circuit.Net `yaml:"-"`
	Air     *air.Net     `yaml:"-"`
	Params  []Param      `yaml:"-"`
	at      map[string]int
}

// Param is one number that faults may change.
type Param struct {
	Name  string // "owner.param"
	Unit  string // service unit, "" when none
	Value float64
	Elec  bool // belongs to the circuit
}

// File is a car file's content.
type File struct {
	Format     string       `yaml:"format"`
	ID         string       `yaml:"id"`
	Name       string       `yaml:"name"`
	Summary    string       `yaml:"summary"`
	ScanPort   bool         `yaml:"scan_port"`
	Banks      int          `yaml:"banks"` // of cylinders, each with an exhaust of its own: 1 or 2; 0 means 1
	Electrical Electrical   `yaml:"electrical"`
	Pneumatic  air.Spec     `yaml:"air"`
	Engine     engine.Spec  `yaml:"engine"`
	Exhaust    exhaust.Spec `yaml:"exhaust"`
	Controller ecm.Spec     `yaml:"controller"`
	Bay        Bay          `yaml:"bay"`
	Sensors    []Sensor     `yaml:"sensors"`
	Units      []Unit       `yaml:"units"`
	Belongs    []Belongs    `yaml:"belongs"`
	Wear       []Wear       `yaml:"wear"`
	Faults     []Fault      `yaml:"faults"`
	Sets       []FaultSet   `yaml:"fault_sets"`
	NoFault    NoFault      `yaml:"no_fault"`
	Spread     []Spread     `yaml:"spread"`
	Spec       []SpecLine   `yaml:"spec"`
}

// Electrical is the netlist.
type Electrical struct {
	Reference string            `yaml:"reference"`
	Elements  []circuit.Element `yaml:"elements"`
}

// Unit is a service unit: what one would replace or mend. Part is its price in cents.
type Unit struct {
	ID      string   `yaml:"id"`
	Name    string   `yaml:"name"`
	Part    int      `yaml:"part"`
	Minutes float64  `yaml:"minutes"`
	Mend    bool     `yaml:"mend"`
	Place   string   `yaml:"place"`  // where one works on it; empty: where its part or hose is
	Routes  []string `yaml:"routes"` // hose ends that mending this unit puts where they belong
	// Includes are units that are renewed with this one, such as what sticks to a part that can be cleaned by itself.
	Includes []string `yaml:"includes"`
	// Eases are parameters that this work brings part of the way back: it seems to mend.
	Eases []Ease `yaml:"eases"`
}

// Ease brings a parameter back by a share of its distance from the healthy value.
type Ease struct {
	Set   string  `yaml:"set"`
	Share float64 `yaml:"share"` // above 0, below 1
}

// Belongs gives a parameter to another unit than its owner's: dirt in a part is cleaned by itself.
type Belongs struct {
	Param string `yaml:"param"`
	Unit  string `yaml:"unit"`
}

// Sensor is a sensor of the controller and what faults may change of it: the reading is pulled by the share Pull toward the value
// Toward, shifted by Offset, and follows with LagS seconds. Kelvin, or relative air-fuel ratio.
type Sensor struct {
	ID   string `yaml:"id"`
	Kind string `yaml:"kind"` // coolant, intake, oxygen, oxygen_2 in a car with two banks
	Unit string `yaml:"unit"`
}

// SensorKinds are the sensors that a car file may name.
func SensorKinds() []string { return []string{"coolant", "intake", "oxygen", "oxygen_2"} }

// SensorParams are the names of a sensor's parameters in the order in which they are stored.
func SensorParams() []string { return []string{"pull", "toward", "offset", "lag_s"} }

// Wear is what long use does to a part, computed from how the car stands: From wet_inlet counts hours of driving in the wet with
// a pump's inlet (Of) open to the road; backflow counts kg of exhaust that have come back through a valve (Of). Set moves from its
// present value by Rate for each of them, no further than To.
type Wear struct {
	From string  `yaml:"from"`
	Of   string  `yaml:"of"`
	Set  string  `yaml:"set"`
	Rate float64 `yaml:"rate"`
	To   float64 `yaml:"to"`
}

// Fault is a named change of parameters or hose routing. Weight is its rough share of cases. A fixed fault has no
// severity of its own: it is there or not.
type Fault struct {
	ID      string   `yaml:"id"`
	Name    string   `yaml:"name"`
	Unit    string   `yaml:"unit"`
	Weight  int      `yaml:"weight"`
	Fixed   bool     `yaml:"fixed"`
	Changes []Change `yaml:"changes"`
	InSets  bool     `yaml:"in_sets"` // no suspect by itself: it never comes without its consequence
	Seems   []string `yaml:"seems"`   // units whose repair only seems to mend it
}

// Change is one effect of a fault: a parameter set, a hose end detached, or two hose ends swapped.
type Change struct {
	Set    string   `yaml:"set"`
	To     float64  `yaml:"to"`
	From   float64  `yaml:"from"`  // log scale: value as severity goes to 0
	Curve  float64  `yaml:"curve"` // exponent on severity; 0 means 1
	Scale  string   `yaml:"scale"` // "" linear, log, shut (1 - value shrinks by equal ratios)
	Detach string   `yaml:"detach"`
	Swap   []string `yaml:"swap"`
	Onset  Onset    `yaml:"onset"`
}

// Onset says when a change is there. Without one it is there from the start.
type Onset struct {
	When    string  `yaml:"when"`     // start (or empty), time, hot, cold, vibration, random
	AfterS  float64 `yaml:"after_s"`  // time: s after the engine's start
	Of      string  `yaml:"of"`       // hot, cold: the motor, relay or coil whose winding counts; empty: the coolant
	K       float64 `yaml:"k"`        // hot: from this temperature; cold: below it
	BackK   float64 `yaml:"back_k"`   // hot, cold: K by which it must cool or warm again before the change goes
	Rpm     float64 `yaml:"rpm"`      // vibration: from this engine speed
	Duty    float64 `yaml:"duty"`     // random: share of the time
	PeriodS float64 `yaml:"period_s"` // random: decided anew so often
	Stays   bool    `yaml:"stays"`    // once there, it stays
}

// Late says whether a change comes and goes, or comes later.
func (o *Onset) Late() bool { return o.When != "" && o.When != "start" }

// FaultSet is a root cause with its consequence, or two independent faults.
type FaultSet struct {
	ID     string      `yaml:"id"`
	Name   string      `yaml:"name"`
	Weight int         `yaml:"weight"`
	Root   string      `yaml:"root"` // unit of the root cause
	Faults []SetMember `yaml:"faults"`
}

// SetMember is one fault of a set.
type SetMember struct {
	ID string `yaml:"id"`
}

// NoFault is the suspect "nothing wrong any more".
type NoFault struct {
	ID     string `yaml:"id"`
	Name   string `yaml:"name"`
	Weight int    `yaml:"weight"`
}

// Spread is a healthy car's deviation from the nominal one: a parameter varies by a share either way. Key is the number that the draw
// counts it by; 0: the parameter's place in the list. With a key, parameters can be added to a car without making other cars of its draws.
type Spread struct {
	Set   string  `yaml:"set"`
	Share float64 `yaml:"share"`
	Key   int     `yaml:"key"`
}

// SpecLine is a line of the spec sheet.
type SpecLine struct {
	Item  string `yaml:"item"`
	Value string `yaml:"value"`
}

// Parse reads a car file. Errors name file, line, key and what is allowed; nothing is half loaded.
func Parse(file string, data []byte) (*Car, error) {
	c := &Car{at: map[string]int{}}
	doc, err := strict.Decode(file, data, &c.File)
	if err != nil {
		return nil, err
	}
	if c.Format != Format {
		return nil, doc.Errorf([]any{"format"}, "found %q, allowed is %q", c.Format, Format)
	}
	unitOf := map[string]string{}
	elec := true
	reg := func(owner, name string, v float64) int {
		c.at[owner+"."+name] = len(c.Params)
		c.Params = append(c.Params, Param{Name: owner + "." + name, Unit: unitOf[owner], Value: v, Elec: elec})
		return len(c.Params) - 1
	}
	for _, e := range c.Electrical.Elements {
		unitOf[e.ID] = e.Unit
	}
	if c.Circuit, err = circuit.Build(c.Electrical.Reference, c.Electrical.Elements, reg); err != nil {
		var at *circuit.ElementError
		if errors.As(err, &at) {
			return nil, doc.Errorf([]any{"electrical", "elements", at.Index}, "%v", err)
		}
		return nil, doc.Errorf([]any{"electrical", "elements"}, "%v", err)
	}
	elec = false
	for _, h := range c.Pneumatic.Hoses {
		unitOf[h.ID] = h.Unit
	}
	for _, p := range c.Pneumatic.Parts {
		unitOf[p.ID] = p.Unit
	}
	if c.Air, err = air.Build(c.Pneumatic, reg); err != nil {
		var at *air.ItemError
		if errors.As(err, &at) {
			return nil, doc.Errorf([]any{"air", at.List, at.Index}, "%v", err)
		}
		return nil, doc.Errorf([]any{"air"}, "%v", err)
	}
	for _, s := range c.Sensors {
		unitOf[s.ID] = s.Unit
		for _, name := range SensorParams() {
			reg(s.ID, name, 0)
		}
	}
	for bank, joint := range [2]string{c.Exhaust.JointUnit, c.Exhaust.JointUnit2} {
		if joint != "" {
			unitOf[ExhaustJoints()[bank]] = joint
			reg(ExhaustJoints()[bank], "leak_m2", 0)
		}
	}
	for _, b := range c.Belongs {
		if i, ok := c.at[b.Param]; ok {
			c.Params[i].Unit = b.Unit
		}
	}
	if len(c.Params) > MaxParams {
		return nil, doc.Errorf([]any{"electrical"}, "%d parameters in all, at most %d are allowed", len(c.Params), MaxParams)
	}
	for _, check := range []func(*strict.Doc) error{c.checkNames, c.checkNetlist, c.checkAir, c.checkLimits, c.checkBay, c.check, c.checkRanges} {
		if err := check(doc); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// Param finds a parameter by its name "owner.param".
func (c *Car) Param(name string) (int, bool) { i, ok := c.at[name]; return i, ok }

// ParamNames lists all parameters, sorted, for error messages.
func (c *Car) ParamNames() []string {
	names := make([]string, 0, len(c.Params))
	for _, p := range c.Params {
		names = append(names, p.Name)
	}
	sort.Strings(names)
	return names
}

// Unit finds a service unit by id.
func (c *Car) Unit(id string) (Unit, bool) {
	for _, u := range c.Units {
		if u.ID == id {
			return u, true
		}
	}
	return Unit{}, false
}

// Fault finds a fault by id.
func (c *Car) Fault(id string) (*Fault, bool) {
	for i := range c.Faults {
		if c.Faults[i].ID == id {
			return &c.Faults[i], true
		}
	}
	return nil, false
}

// Members lists the faults behind a fault, a fault set, or the id of "no fault found" (none).
func (c *Car) Members(id string) ([]*Fault, error) {
	if id == c.NoFault.ID {
		return nil, nil
	}
	if f, ok := c.Fault(id); ok {
		return []*Fault{f}, nil
	}
	for _, s := range c.Sets {
		if s.ID != id {
			continue
		}
		var out []*Fault
		for _, m := range s.Faults {
			f, ok := c.Fault(m.ID)
			if !ok {
				return nil, fmt.Errorf("fault set %q names the unknown fault %q", id, m.ID)
			}
			out = append(out, f)
		}
		return out, nil
	}
	return nil, fmt.Errorf("%q is no fault of %s", id, c.Name)
}
