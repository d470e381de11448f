package bench

import (
	"math"

	"coldbay/sim"
)

// doSmoke blows smoke at low pressure into a line and follows it with a lamp: how much goes in, and where it comes out.
func (l *Local) doSmoke(j *job) error {
	if err := l.tool(j); err != nil {
		return err
	}
	if l.s.hand.on != "" {
		return j.no("take the hand pump off first: one pair of hands")
	}
	if l.s.noticed.engine == engineRunning {
		return j.no("stop the engine first: it would swallow the smoke or blow it about")
	}
	if err := l.mustBeFree(j, j.a.On); err != nil {
		return err
	}
	place, _ := l.lay.openingPlace(j.a.On)
	l.walk(j, place)
	if found, err := l.foundTaken(j, j.a.On); found || err != nil {
		return err
	}
	spots := l.smokeSpots()
	before := l.smokeFlows(spots)
	if err := l.w.AttachTool(sim.Smoke, j.a.On); err != nil {
		return err
	}
	l.spend(j, l.tar.Seconds.Smoke)
	j.see(Percept{Sense: Gauge, Key: "smoke_in", Of: j.a.On, Word: graded(math.Abs(l.w.ToolFlow()), smokeInWords)})
	after := l.smokeFlows(spots)
	for i, s := range spots {
		if s.id == j.a.On {
			continue
		}
		if word := graded(after[i]-before[i], smokeOutWords); word != "none" {
			j.see(Percept{Sense: Eye, Key: "smoke", Of: s.shown, Word: word})
		}
	}
	l.w.DetachTool()
	return nil
}

// smokeSpot is where smoke could come out: an opening, a hose or volume that leaks, a part that leads to the open air.
type smokeSpot struct {
	id, shown string
	flow      func(id string) float64
}

// smokeSpots lists the openings that are known, and everything that could leak.
func (l *Local) smokeSpots() []smokeSpot {
	var out []smokeSpot
	for _, o := range l.openOutlets() {
		out = append(out, smokeSpot{o, o, l.flowOut})
	}
	for i, e := range l.lay.ends { // one that hangs free without having been noticed
		if at, plugged, err := l.w.HoseEndAt(e.id); err == nil && at == "" && !plugged && l.s.ends[i].at != "" {
			out = append(out, smokeSpot{e.id, e.id, l.flowOut})
		}
	}
	for _, p := range l.lay.ports {
		if end, plugged, err := l.w.PortHas(p.id); err == nil && end == "" && !plugged && l.believedOn(p.id) >= 0 {
			out = append(out, smokeSpot{p.id, p.id, l.flowOut})
		}
	}
	for _, h := range l.lay.hoses {
		out = append(out, smokeSpot{h.id, h.id, l.w.LeakFlow})
	}
	for _, c := range l.lay.leaks {
		out = append(out, smokeSpot{c.id, c.name, l.w.LeakFlow})
	}
	for _, f := range l.lay.inlets {
		out = append(out, smokeSpot{f.id, f.name, func(id string) float64 {
			flow, err := l.w.PartFlow(id)
			if err != nil {
				return 0
			}
			return -flow
		}})
	}
	return append(out,
		smokeSpot{"intake", "intake", func(string) float64 { return -l.w.ThrottleFlow() }},
		smokeSpot{openTailpipe, openTailpipe, func(string) float64 { return l.w.AirFlow() }})
}

func (l *Local) smokeFlows(spots []smokeSpot) []float64 {
	out := make([]float64, len(spots))
	for i, s := range spots {
		out[i] = s.flow(s.id)
	}
	return out
}
