package car

import (
	"slices"
	"strings"

	"coldbay/sim/air"
	"coldbay/sim/car/strict"
)

// Places that every car has.
var everyPlace = []string{"front", "dash", "tailpipe"}

// checkBay refuses a bay that does not match the networks: names that stand twice, hoses and ports that nobody could reach, terminals behind
// connectors or parts that are not there, parts that take nothing off.
func (c *Car) checkBay(doc *strict.Doc) error {
	b := &c.Bay
	for _, list := range []struct {
		key string
		ids []string
	}{
		{"places", idsOf(b.Places, func(p Place) string { return p.ID })}, {"terminals", idsOf(b.Terminals, func(t Terminal) string { return t.ID })},
		{"ports", idsOf(b.Ports, func(s Spot) string { return s.ID })}, {"hoses", idsOf(b.Hoses, func(n Name) string { return n.ID })},
		{"connectors", idsOf(b.Connectors, func(s Spot) string { return s.ID })}, {"parts", idsOf(b.Parts, func(p BayPart) string { return p.ID })},
		{"clamps", idsOf(b.Clamps, func(k Clamp) string { return k.ID })},
	} {
		for i, id := range list.ids {
			if id == "" || slices.Index(list.ids, id) < i {
				return doc.Errorf([]any{"bay", list.key, i, "id"}, "%q is empty or stands twice", id)
			}
		}
	}
	for i, p := range b.Places {
		if !(p.Warm >= 0 && p.Warm <= 1) {
			return doc.Errorf([]any{"bay", "places", i, "warm"}, "found %g, allowed is 0 to 1", p.Warm)
		}
		if p.Name == "" || p.WalkS < 0 || p.WalkS > 600 {
			return doc.Errorf([]any{"bay", "places", i}, "place %q: a place has a name and is 0 to 600 s away", p.ID)
		}
	}
	for _, id := range everyPlace {
		if !slices.ContainsFunc(b.Places, func(p Place) bool { return p.ID == id }) {
			return doc.Errorf([]any{"bay", "places"}, "no place %q; every car needs %s", id, strings.Join(everyPlace, ", "))
		}
	}
	for _, check := range []func(*strict.Doc) error{c.checkReach, c.checkHoses, c.checkOff} {
		if err := check(doc); err != nil {
			return err
		}
	}
	return nil
}

func idsOf[T any](list []T, id func(T) string) []string {
	out := make([]string, len(list))
	for i := range list {
		out[i] = id(list[i])
	}
	return out
}

// checkReach looks at what must be open or off before a terminal or a sign is reached.
func (c *Car) checkReach(doc *strict.Doc) error {
	connectors := idsOf(c.Bay.Connectors, func(s Spot) string { return s.ID })
	parts := idsOf(c.Bay.Parts, func(p BayPart) string { return p.ID })
	ports := idsOf(c.Bay.Ports, func(s Spot) string { return s.ID })
	for i, t := range c.Bay.Terminals {
		if t.WhenOpen != "" && !slices.Contains(connectors, t.WhenOpen) {
			return doc.Errorf([]any{"bay", "terminals", i, "when_open"}, "terminal %q: found %q; %s", t.ID, t.WhenOpen, strict.OneOf(t.WhenOpen, connectors))
		}
		if t.WhenRemoved != "" && !slices.Contains(parts, t.WhenRemoved) {
			return doc.Errorf([]any{"bay", "terminals", i, "when_removed"}, "terminal %q: found %q; %s", t.ID, t.WhenRemoved, strict.OneOf(t.WhenRemoved, parts))
		}
	}
	for i, s := range c.Bay.Signs {
		kind, id, _ := strings.Cut(s.When, ":")
		allowed, ok := map[string][]string{"removed": parts, "open": connectors, "pulled": ports}[kind]
		switch {
		case s.When == "" || s.When == "bend":
		case !ok:
			return doc.Errorf([]any{"bay", "signs", i, "when"}, "found %q; allowed is nothing, bend, removed:PART, open:CONNECTOR, pulled:PORT", s.When)
		case !slices.Contains(allowed, id):
			return doc.Errorf([]any{"bay", "signs", i, "when"}, "found %q; %s", s.When, strict.OneOf(id, allowed))
		}
		if s.See == "" {
			return doc.Errorf([]any{"bay", "signs", i, "see"}, "a sign says what is seen")
		}
	}
	return nil
}

// checkHoses wants words for every hose, and a place for every port that a hose or a hand can have to do with.
func (c *Car) checkHoses(doc *strict.Doc) error {
	for i, h := range c.Pneumatic.Hoses {
		if !slices.ContainsFunc(c.Bay.Hoses, func(n Name) bool { return n.ID == h.ID && n.Name != "" }) {
			return doc.Errorf([]any{"air", "hoses", i}, "hose %q has no name in the bay's hoses, so nobody could reach it", h.ID)
		}
	}
	for i, p := range c.Pneumatic.Ports {
		if !slices.ContainsFunc(c.Bay.Ports, func(s Spot) bool { return s.ID == p.ID && s.Name != "" }) {
			return doc.Errorf([]any{"air", "ports", i}, "port %q has no name and place in the bay's ports, so nobody could reach it", p.ID)
		}
	}
	return nil
}

// checkOff looks at what comes off with a part of the bay.
func (c *Car) checkOff(doc *strict.Doc) error {
	for i, p := range c.Bay.Parts {
		path := []any{"bay", "parts", i}
		if p.OffS < 0 || p.OffS > 36000 || p.OnS < 0 || p.OnS > 36000 {
			return doc.Errorf(path, "part %q: %g s off and %g s on; allowed are 0 to 36000", p.ID, p.OffS, p.OnS)
		}
		world := p.Pump + p.Valve
		switch {
		case p.Pump != "" && p.Valve != "":
			return doc.Errorf(path, "part %q is a pump or a valve, not both", p.ID)
		case world == "" && p.Fuse == "" && p.Connector == "":
			return doc.Errorf(path, "part %q takes nothing off: name its fuse, connector, pump or valve", p.ID)
		case world == "" && len(p.Hoses) > 0:
			return doc.Errorf(append(path, "hoses"), "part %q: hoses come off a pump or a valve only", p.ID)
		}
		for _, id := range p.Hoses {
			if !c.endsOn(id, world) {
				return doc.Errorf(append(path, "hoses"), "part %q: the hose %q does not end on %q", p.ID, id, world)
			}
		}
	}
	return nil
}

// endsOn says whether a hose has an end on a port of a pneumatic part, or of a volume that the part names.
func (c *Car) endsOn(hose, part string) bool {
	h := slices.IndexFunc(c.Pneumatic.Hoses, func(h air.Hose) bool { return h.ID == hose })
	k := slices.IndexFunc(c.Pneumatic.Parts, func(p air.Part) bool { return p.ID == part })
	if h < 0 || k < 0 {
		return false
	}
	p := &c.Pneumatic.Parts[k]
	at := []string{p.A, p.B, p.Supply, p.Out, p.Dump, p.Chamber}
	return slices.ContainsFunc(c.Pneumatic.Ports, func(q air.Port) bool {
		return (q.ID == c.Pneumatic.Hoses[h].A || q.ID == c.Pneumatic.Hoses[h].B) &&
			(slices.Contains(at, q.ID) || q.On != "" && slices.Contains(at, q.On))
	})
}
