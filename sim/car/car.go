package car

import (
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
	Electrical Electrical   `yaml:"electrical"`
	Pneumatic  air.Spec     `yaml:"air"`
	Engine     engine.Spec  `yaml:"engine"`
	Exhaust    exhaust.Spec `yaml:"exhaust"`
	Controller ecm.Spec     `yaml:"controller"`
	Bay        Bay          `yaml:"bay"`
	Units      []Unit       `yaml:"units"`
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
	Routes  []string `yaml:"routes"` // hose ends that mending this unit puts where they belong
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
}

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

// Spread is a healthy car's deviation from the nominal one: a parameter varies by a share either way.
type Spread struct {
	Set   string  `yaml:"set"`
	Share float64 `yaml:"share"`
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
		return nil, doc.Errorf([]any{"air"}, "%v", err)
	}
	if len(c.Params) > MaxParams {
		return nil, doc.Errorf([]any{"electrical"}, "%d parameters in all, at most %d are allowed", len(c.Params), MaxParams)
	}
	if err := c.check(doc); err != nil {
		return nil, err
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
