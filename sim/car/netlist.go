package car

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"coldbay/sim/car/strict"
	"coldbay/sim/circuit"
	"coldbay/sim/units"
)

// Words that tell a load or switch when it is on, and a driver what it drives.
var (
	whens  = []string{"key", "run", "crank", "fuel"}
	drives = []string{"pump", "solenoid"}
)

// idealOhm is the resistance of a loop of sources and conductors below which it counts as a loop of ideal sources: ten thousand amperes would
// flow in it, and what they heat is nowhere in the netlist.
const idealOhm = 1e-3

// checkNetlist refuses what a circuit can be built from but not solved: ends that an element does not have, words that nothing answers to, a
// second battery, terminals that nothing ties to the reference, loops of ideal sources.
func (c *Car) checkNetlist(doc *strict.Doc) error {
	once := map[string]string{}
	for i := range c.Electrical.Elements {
		e := &c.Electrical.Elements[i]
		bad := func(format string, a ...any) error {
			return doc.Errorf([]any{"electrical", "elements", i}, "element %q: "+format, append([]any{e.ID}, a...)...)
		}
		if e.ID == "" {
			return bad("an id is missing")
		}
		switch e.Kind {
		case "battery", "alternator":
			if first := once[e.Kind]; first != "" {
				return bad("a second %s beside %q; one is allowed", e.Kind, first)
			}
			once[e.Kind] = e.ID
		case "load", "switch":
			if !slices.Contains(whens, e.When) {
				return bad("when: found %q; %s", e.When, strict.OneOf(e.When, whens))
			}
		case "driver":
			if !slices.Contains(drives, e.Drive) {
				return bad("drive: found %q; %s", e.Drive, strict.OneOf(e.Drive, drives))
			}
			if first := once["driver "+e.Drive]; first != "" {
				return bad("a second driver of the %s beside %q; one is allowed", e.Drive, first)
			}
			once["driver "+e.Drive] = e.ID
		case "connector":
			if len(e.Pins) == 0 {
				return bad("a connector needs pins")
			}
		}
		if what := extra(e); what != "" {
			return bad("a %s takes no %s", e.Kind, what)
		}
	}
	if once["battery"] == "" {
		return doc.Errorf([]any{"electrical", "elements"}, "no battery; a car needs one")
	}
	if err := c.checkTied(doc); err != nil {
		return err
	}
	return c.checkSources(doc)
}

// extra is a key that an element has and its kind does not.
func extra(e *circuit.Element) string {
	for _, k := range []struct {
		name  string
		given bool
		kinds string
	}{
		{"c", e.C != "", "relay"}, {"d", e.D != "", "relay"}, {"pins", len(e.Pins) > 0, "connector"}, {"when", e.When != "", "load switch"},
		{"drive", e.Drive != "", "driver"}, {"awg", e.AWG != 0, "wire"},
		{"a", e.A != "" && e.Kind == "connector", ""}, {"b", e.B != "" && e.Kind == "connector", ""},
	} {
		if k.given && !slices.Contains(strings.Fields(k.kinds), e.Kind) {
			return k.name
		}
	}
	return ""
}

// joint is a way for current between two terminals with everything closed: ohms NaN where it is neither a conductor nor a source.
type joint struct {
	elem   int
	a, b   string
	ohms   float64
	source bool
}

// joints lists the ways through the netlist with every switch, relay and connector closed; strays are none.
func (c *Car) joints() []joint {
	var out []joint
	for i, e := range c.Electrical.Elements {
		p := func(name string) float64 {
			v, given := e.Params[name]
			if !given {
				v = math.NaN()
			}
			return v
		}
		j := joint{elem: i, a: e.A, b: e.B, ohms: math.NaN()}
		switch e.Kind {
		case "stray":
			continue
		case "connector":
			for _, pin := range e.Pins {
				out = append(out, joint{elem: i, a: pin[0], b: pin[1], ohms: p("ohm")})
			}
			continue
		case "relay":
			out = append(out, joint{elem: i, a: e.C, b: e.D, ohms: p("contact_ohm")})
		case "battery":
			j.ohms, j.source = min(p("discharge_ohm"), p("charge_ohm")), true
		case "alternator":
			j.ohms, j.source = p("ohm"), true
		case "resistor", "switch", "fuse":
			j.ohms = p("ohm")
		case "wire":
			j.ohms = units.Gauge(e.AWG).OhmPerMetre(293.15) * p("length_m")
		}
		out = append(out, j)
	}
	return out
}

// checkTied refuses a terminal that nothing ties to the reference even with everything closed: its voltage would be anything.
func (c *Car) checkTied(doc *strict.Doc) error {
	all := c.joints()
	tied := map[string]bool{c.Electrical.Reference: true}
	for again := true; again; {
		again = false
		for _, j := range all {
			if tied[j.a] != tied[j.b] {
				tied[j.a], tied[j.b], again = true, true, true
			}
		}
	}
	for i, e := range c.Electrical.Elements {
		ends := []string{e.A, e.B, e.C, e.D}
		for _, pin := range e.Pins {
			ends = append(ends, pin[0], pin[1])
		}
		for _, end := range ends {
			if end != "" && !tied[end] {
				return doc.Errorf([]any{"electrical", "elements", i}, "element %q: nothing ties its terminal %q to the reference %q, not even with everything closed",
					e.ID, end, c.Electrical.Reference)
			}
		}
	}
	return nil
}

// checkSources refuses loops of ideal sources: for each source the way of least resistance back round it.
func (c *Car) checkSources(doc *strict.Doc) error {
	all := c.joints()
	for k, s := range all {
		if !s.source {
			continue
		}
		ohms, via := c.around(all, k)
		if ohms += s.ohms; ohms < idealOhm {
			e := c.Electrical.Elements[s.elem]
			return doc.Errorf([]any{"electrical", "elements", s.elem}, "element %q closes a loop of ideal sources through %s: %.2g ohm in all, at least %g is allowed",
				e.ID, strings.Join(via, ", "), ohms, idealOhm)
		}
	}
	return nil
}

// around is the least resistance between a source's terminals through the other sources and conductors, and the elements that it leads through.
func (c *Car) around(all []joint, source int) (ohms float64, via []string) {
	type reach struct {
		ohms float64
		by   int
		from string
		done bool
	}
	at := map[string]*reach{all[source].a: {by: -1}}
	for {
		here, least := "", math.Inf(1)
		for _, id := range slices.Sorted(maps.Keys(at)) {
			if r := at[id]; !r.done && r.ohms < least {
				here, least = id, r.ohms
			}
		}
		if here == "" {
			return math.Inf(1), nil
		}
		r := at[here]
		r.done = true
		if here == all[source].b {
			for r.by >= 0 {
				via = append(via, fmt.Sprintf("%q", c.Electrical.Elements[all[r.by].elem].ID))
				r = at[r.from]
			}
			slices.Reverse(via)
			return least, via
		}
		for k, j := range all {
			to := ""
			switch here {
			case j.a:
				to = j.b
			case j.b:
				to = j.a
			}
			if k == source || to == "" || math.IsNaN(j.ohms) {
				continue
			}
			if old := at[to]; old == nil || least+j.ohms < old.ohms {
				at[to] = &reach{ohms: least + j.ohms, by: k, from: here}
			}
		}
	}
}
