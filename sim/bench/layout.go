package bench

// Layout is what stands in the bay: a car's places and everything that hands, eyes and probes can reach, indexed once and
// shared by every session on that car. It is immutable after [NewLayout].
type Layout struct {
	carID, carName string
	scanPort       bool
	reference      string // battery negative post
	places         []place
	terminals      []terminal
	ports          []port
	ends           []hoseEnd // two for each hose: a, b
	hoses          []hose
	connectors     []spot
	parts          []part
	clamps         []clampPoint
	signs          []sign
	seen           []UnitPart
	units          []unit
	suspects       []suspect
	coils          []device // things whose armature clicks
	motors         []device // things that whine
	warm           []device // coils, contacts, pins and joints that current warms
	chambers       []device // volumes behind a diaphragm that can tear
	leaks          []device // volumes that can leak into the open, by the name of the unit that leaks
	inlets         []device // parts through which the network breathes
	drivers        []string // controller outputs that a jumper can kill
	pins           []Output
	vents          []string // openings that let a solenoid breathe
	spec           [][2]string

	place, terminal, port, end, connector, part, clamp, unit, suspect map[string]int
}

type place struct {
	id, name string
	walk     int     // ticks from the middle of the bay
	warm     float64 // how much of the coolant's warmth it takes on, 0 to 1
}

type spot struct{ id, name, place string }

type device struct{ id, name, place string }

type terminal struct {
	spot
	whenOpen, whenRemoved string // connector to be open, part to be off, before a probe reaches it
	driver                bool
}

type port struct {
	spot
	bore float64 // effective area of the hose that belongs here, m2: tells which hose ends fit
	home string  // the hose end that belongs here, "" none
}

type hose struct {
	id, name, unit string
	ends           [2]int
}

type hoseEnd struct {
	id, name string
	hose     int
	home     string // port where it belongs
	place    string // where one stands to reach it
	bore     float64
}

type part struct {
	spot
	fuse, connector string
	plug            bool     // the connector is one that is opened by hand before the part comes off
	world           string   // air part that the world takes off, "" for fuses and relays
	ends            []string // hose ends that must be off first
	off, on         int      // ticks
	hot             bool
	unit            string
	full            float64  // m, how far it lifts; 0 for what has no stem
	ports           []string // on it, for one with a stem
}

type clampPoint struct {
	spot
	element string
}

// sign is something that shows to the eye: parameter param of part of at or past from.
type sign struct {
	place, of, param string
	from, upto       float64 // upto 0: no upper limit
	bend             bool
	removed          string // part that must be off
	pulled           string // port that must be free
	open             string // connector that must be open
	see              string
}

type unit struct {
	id, name string
	price    int // cents
	minutes  int
	mend     bool
	place    string // empty: where its part or hose is
}

type suspect struct {
	id, name string
	units    []string
	weight   float64
}

// near says whether a place is in the engine compartment, where a pump is heard over the engine and a display can be read.
// Dash and tailpipe are the two places that are not.
func near(place string) bool { return place != placeDash && place != placeTailpipe }

// Places that every car has: they carry the key and the end of the exhaust.
const (
	placeFront    = "front"
	placeDash     = "dash"
	placeTailpipe = "tailpipe"
)

// openTailpipe is the one opening of the car that is not a port or a hose end but can be felt.
const openTailpipe = "tailpipe"

func ids[T any](list []T, id func(T) string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = id(v)
	}
	return out
}

// PlaceIDs, UnitIDs and SuspectIDs list what an order or an action may name.
func (l *Layout) PlaceIDs() []string { return ids(l.places, func(p place) string { return p.id }) }

// UnitIDs lists the service units.
func (l *Layout) UnitIDs() []string { return ids(l.units, func(u unit) string { return u.id }) }

// SuspectIDs lists faults, fault sets and "no fault found".
func (l *Layout) SuspectIDs() []string {
	return ids(l.suspects, func(s suspect) string { return s.id })
}

// CarID is the id of the car that the layout was made from.
func (l *Layout) CarID() string { return l.carID }

func (l *Layout) portIDs() []string { return ids(l.ports, func(p port) string { return p.id }) }
func (l *Layout) endIDs() []string  { return ids(l.ends, func(e hoseEnd) string { return e.id }) }
func (l *Layout) terminalIDs() []string {
	return ids(l.terminals, func(t terminal) string { return t.id })
}
func (l *Layout) connectorIDs() []string {
	return ids(l.connectors, func(c spot) string { return c.id })
}
func (l *Layout) partIDs() []string  { return ids(l.parts, func(p part) string { return p.id }) }
func (l *Layout) clampIDs() []string { return ids(l.clamps, func(c clampPoint) string { return c.id }) }

func (l *Layout) openingIDs() []string {
	return append(l.portIDs(), l.endIDs()...)
}

func index[T any](list []T, id func(T) string) map[string]int {
	m := make(map[string]int, len(list))
	for i, v := range list {
		m[id(v)] = i
	}
	return m
}

// reindex builds the lookups; NewLayout calls it last.
func (l *Layout) reindex() {
	l.place = index(l.places, func(p place) string { return p.id })
	l.terminal = index(l.terminals, func(t terminal) string { return t.id })
	l.port = index(l.ports, func(p port) string { return p.id })
	l.end = index(l.ends, func(e hoseEnd) string { return e.id })
	l.connector = index(l.connectors, func(c spot) string { return c.id })
	l.part = index(l.parts, func(p part) string { return p.id })
	l.clamp = index(l.clamps, func(c clampPoint) string { return c.id })
	l.unit = index(l.units, func(u unit) string { return u.id })
	l.suspect = index(l.suspects, func(s suspect) string { return s.id })
}

// openingPlace is where one stands to reach a port or hose end.
func (l *Layout) openingPlace(opening string) (string, bool) {
	if i, ok := l.port[opening]; ok {
		return l.ports[i].place, true
	}
	if i, ok := l.end[opening]; ok {
		return l.ends[i].place, true
	}
	return "", false
}
