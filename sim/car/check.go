package car

import (
	"errors"
	"fmt"
	"strings"

	"coldbay/sim/car/strict"
	"coldbay/sim/ecm"
	"coldbay/sim/exhaust"
)

// check validates what the networks don't see: names that must exist elsewhere in the file.
func (c *Car) check(doc *strict.Doc) error {
	if c.ID == "" || c.Name == "" {
		return doc.Errorf([]any{"id"}, "a car needs id and name")
	}
	for i, u := range c.Units {
		if _, first := c.Unit(u.ID); u.ID == "" || !first {
			return doc.Errorf([]any{"units", i}, "a unit needs an id")
		}
	}
	places := map[string]bool{}
	for _, p := range c.Bay.Places {
		places[p.ID] = true
	}
	at := func(path []any, place string) error {
		if !places[place] {
			return doc.Errorf(append(path, "place"), "found %q, allowed is one of the places of this bay", place)
		}
		return nil
	}
	for i, u := range c.Units {
		if u.Place == "" {
			continue
		}
		if err := at([]any{"units", i}, u.Place); err != nil {
			return err
		}
	}
	for i, t := range c.Bay.Terminals {
		if err := at([]any{"bay", "terminals", i}, t.Place); err != nil {
			return err
		}
		if _, ok := c.Circuit.Node(t.ID); !ok {
			return doc.Errorf([]any{"bay", "terminals", i, "id"}, "%q is no terminal of the netlist", t.ID)
		}
	}
	for i, p := range c.Bay.Ports {
		if err := at([]any{"bay", "ports", i}, p.Place); err != nil {
			return err
		}
		if c.Air.Port(p.ID) < 0 {
			return doc.Errorf([]any{"bay", "ports", i, "id"}, "%q is no port of the pneumatic network", p.ID)
		}
	}
	for i, h := range c.Bay.Hoses {
		if c.Air.End(h.ID+".a") < 0 {
			return doc.Errorf([]any{"bay", "hoses", i, "id"}, "%q is no hose of the pneumatic network", h.ID)
		}
	}
	if err := c.checkParts(doc, at); err != nil {
		return err
	}
	for i, s := range c.Bay.Signs {
		if err := at([]any{"bay", "signs", i}, s.Place); err != nil {
			return err
		}
		if err := c.known(s.Of + "." + s.Param); err != nil {
			return doc.Errorf([]any{"bay", "signs", i}, "%v", err)
		}
	}
	if n := c.Exhaust.Catalyst.Cells; n < 1 || n > exhaust.MaxCells {
		return doc.Errorf([]any{"exhaust", "catalyst", "cells"}, "found %d, allowed is 1 to %d", n, exhaust.MaxCells)
	}
	if err := c.Controller.Check(); err != nil {
		path := []any{"controller"}
		var where *ecm.CheckError
		if errors.As(err, &where) {
			return doc.Errorf(append(path, where.Path...), "%s", where.Msg)
		}
		return doc.Errorf(path, "%v", err)
	}
	if len(c.Circuit.Motors()) > 4 {
		return doc.Errorf([]any{"electrical", "elements"}, "%d motors, at most 4 are allowed", len(c.Circuit.Motors()))
	}
	return c.checkFaults(doc)
}

func (c *Car) checkParts(doc *strict.Doc, at func([]any, string) error) error {
	elem := func(id string) bool { _, ok := c.Circuit.Elem(id); return ok }
	for i, p := range c.Bay.Connectors {
		if err := at([]any{"bay", "connectors", i}, p.Place); err != nil {
			return err
		}
		if !elem(p.ID) {
			return doc.Errorf([]any{"bay", "connectors", i, "id"}, "%q is no element of the netlist", p.ID)
		}
	}
	for i, p := range c.Bay.Parts {
		if err := at([]any{"bay", "parts", i}, p.Place); err != nil {
			return err
		}
		if p.Fuse != "" && !elem(p.Fuse) || p.Connector != "" && !elem(p.Connector) {
			return doc.Errorf([]any{"bay", "parts", i}, "fuse %q or connector %q is no element of the netlist", p.Fuse, p.Connector)
		}
		for _, q := range []string{p.Pump, p.Valve} {
			if q != "" && c.Air.Part(q) < 0 {
				return doc.Errorf([]any{"bay", "parts", i}, "%q is no part of the pneumatic network", q)
			}
		}
	}
	for i, p := range c.Bay.Clamps {
		if err := at([]any{"bay", "clamps", i}, p.Place); err != nil {
			return err
		}
		if !elem(p.Element) {
			return doc.Errorf([]any{"bay", "clamps", i, "element"}, "%q is no element of the netlist", p.Element)
		}
	}
	var bad error
	c.Air.Parts(func(i int, kind, coil, motor string, _ int) {
		if kind == "three_way" && !elem(coil) {
			bad = fmt.Errorf("a three_way's coil %q is no element of the netlist", coil)
		}
		if kind == "pump" && motor != "" && !elem(motor) {
			bad = fmt.Errorf("a pump's motor %q is no element of the netlist", motor)
		}
	})
	if bad != nil {
		return doc.Errorf([]any{"air", "parts"}, "%v", bad)
	}
	return nil
}

func (c *Car) known(param string) error {
	if _, ok := c.Param(param); ok {
		return nil
	}
	owner, _, _ := strings.Cut(param, ".")
	var same []string
	for _, n := range c.ParamNames() {
		if strings.HasPrefix(n, owner+".") {
			same = append(same, n)
		}
	}
	if len(same) == 0 {
		return fmt.Errorf("%q: nothing in this car is called %q", param, owner)
	}
	return fmt.Errorf("%q is no parameter; allowed is %s", param, strings.Join(same, ", "))
}

func (c *Car) checkFaults(doc *strict.Doc) error {
	ids := map[string]bool{c.NoFault.ID: true}
	for i, f := range c.Faults {
		path := []any{"faults", i}
		if f.ID == "" || ids[f.ID] {
			return doc.Errorf(append(path, "id"), "%q is empty or stands twice", f.ID)
		}
		ids[f.ID] = true
		if _, ok := c.Unit(f.Unit); !ok {
			return doc.Errorf(append(path, "unit"), "found %q, allowed is one of the units of this car", f.Unit)
		}
		if f.Weight < 1 {
			return doc.Errorf(append(path, "weight"), "found %d, allowed is 1 and up", f.Weight)
		}
		for j, u := range f.Seems {
			if _, ok := c.Unit(u); !ok {
				return doc.Errorf(append(path, "seems", j), "found %q, allowed is one of the units of this car", u)
			}
		}
		for j, ch := range f.Changes {
			if err := c.checkOnset(&ch.Onset); err != nil {
				return doc.Errorf(append(path, "changes", j, "onset"), "%v", err)
			}
			if ch.Onset.Late() && len(ch.Swap) > 0 {
				return doc.Errorf(append(path, "changes", j, "onset"), "lines are swapped from the start or not at all")
			}
			if err := c.checkChange(ch); err != nil {
				return doc.Errorf(append(path, "changes", j), "%v", err)
			}
		}
	}
	if err := c.checkWork(doc); err != nil {
		return err
	}
	for i, s := range c.Sets {
		if ids[s.ID] {
			return doc.Errorf([]any{"fault_sets", i, "id"}, "%q stands twice", s.ID)
		}
		ids[s.ID] = true
		if _, err := c.Members(s.ID); err != nil {
			return doc.Errorf([]any{"fault_sets", i, "faults"}, "%v", err)
		}
	}
	for i, s := range c.Spread {
		if err := c.known(s.Set); err != nil {
			return doc.Errorf([]any{"spread", i, "set"}, "%v", err)
		}
	}
	return nil
}

func (c *Car) checkChange(ch Change) error {
	end := func(id string) error {
		if c.Air.End(id) < 0 {
			return fmt.Errorf("%q is no hose end; allowed is a hose's id with .a or .b", id)
		}
		return nil
	}
	switch {
	case ch.Set != "":
		if ch.Scale != "" && ch.Scale != "log" && ch.Scale != "shut" {
			return fmt.Errorf("scale %q; allowed is log, shut or none", ch.Scale)
		}
		if ch.Scale == "log" && (ch.From <= 0 || ch.To <= 0) {
			return fmt.Errorf("a log scale needs from and to above 0")
		}
		return c.known(ch.Set)
	case ch.Detach != "":
		return end(ch.Detach)
	case len(ch.Swap) == 2:
		if err := end(ch.Swap[0]); err != nil {
			return err
		}
		return end(ch.Swap[1])
	}
	return fmt.Errorf("a change needs set, detach or swap (two hose ends)")
}
