package hearing

import (
	"hash/fnv"
	"strings"

	"coldbay/sim/bench"
)

// Ear knows where the things of an order's car stand. The zero value goes by the places that the first car has.
type Ear struct {
	order   string
	devices map[string]string // place of each thing that is heard
}

// New makes an ear for an order.
func New(c bench.Catalogue) *Ear {
	e := &Ear{order: c.Order.ID, devices: map[string]string{}}
	for _, d := range c.Devices {
		e.devices[d.ID] = d.Place
	}
	return e
}

// Places outside of the engine compartment, and where things stand unless the catalogue says otherwise.
const (
	dash     = "dash"
	tailpipe = "tailpipe"
	fuseBox  = "fusebox"
)

func inCompartment(place string) bool { return place != dash && place != tailpipe }

// isRelay tells the two kinds of armatures apart by what the car's data calls them.
func isRelay(id string) bool { return strings.Contains(id, "relay") || strings.HasPrefix(id, "rly") }

func (e *Ear) placeOf(id, otherwise string) string {
	if p := e.devices[id]; p != "" {
		return p
	}
	return otherwise
}

func (e *Ear) scene() uint64 {
	h := fnv.New64a()
	_, _ = h.Write([]byte(e.order))
	return h.Sum64() | 1 // 0 is no order
}
