package hearing

import "coldbay/sim/bench"

// Words for what is heard. Those of the bench are used as they come.
const (
	Silent = "silent"
	Whines = "whines" // the pump runs; nobody listened to its pitch
	Idles  = "idles"  // the engine runs; nobody listened to its evenness
)

// Mark is something that sounded once: in which finding, from what, and the bench's word.
type Mark struct {
	Seq  int
	Of   string
	Word string
}

// Heard is what is heard now, in words.
type Heard struct {
	Place   string
	Pump    string // silent, whines, slow, normal, fast; empty when it can't be heard from here
	PumpOf  string
	Bearing string // smooth, rough, grinding
	Running bool
	Rpm     int
	Idle    string // idles, even, hunts
	Blows   string // open port out of which exhaust blows
	Hiss    string // none, faint, clear, strong

	Relay, Solenoid, Start, PumpStops, EngineStops, Beep, Arc Mark

	ear *Ear
}

// Listen works out what is heard from the view and the findings so far, oldest first; the newest few do.
func (e *Ear) Listen(v bench.View, last []bench.Finding) Heard {
	h := Heard{Place: v.Place, Pump: Whines, Bearing: "smooth", Idle: Idles, Hiss: "none", ear: e}
	if v.Closed {
		h.Pump = Silent
		return h
	}
	hissAt := ""
	for i := range last {
		f := &last[i]
		if alters(f.Action.Verb) {
			h.Pump, h.Idle, h.Hiss = Whines, Idles, "none"
		}
		switch f.Action.Verb {
		case bench.ScanOn:
			h.Beep = Mark{f.Seq, "scan", ""}
		case bench.Refit, bench.Repair, bench.Stop, bench.Soak, bench.Drive:
			h.Blows = ""
		}
		for _, z := range f.Hazards {
			if z.Kind == "short_arc" {
				h.Arc = Mark{f.Seq, z.Of, z.Kind}
			}
		}
		for _, p := range f.Percepts {
			if p.Sense == bench.Ear {
				h.percept(f, p, &hissAt)
			}
		}
	}
	h.view(v, hissAt)
	return h
}

// percept takes in one thing that the ear was told.
func (h *Heard) percept(f *bench.Finding, p bench.Percept, hissAt *string) {
	switch p.Key {
	case "whine":
		h.PumpOf = p.Of
		if p.Word != Silent {
			h.Pump = p.Word
		}
	case "bearing":
		h.PumpOf, h.Bearing = p.Of, p.Word
	case "pump":
		// Starting or stopping alters every flow.
		h.PumpOf, h.Pump, h.Hiss, h.Bearing = p.Of, Whines, "none", "smooth"
		if p.Word == "falls silent" {
			h.PumpStops = Mark{f.Seq, p.Of, p.Word}
		}
	case "click":
		if p.Word != "clicks" {
			break
		}
		if isRelay(p.Of) {
			h.Relay = Mark{f.Seq, p.Of, p.Word}
		} else {
			h.Solenoid = Mark{f.Seq, p.Of, p.Word}
		}
	case "hiss":
		h.Hiss, *hissAt = p.Word, p.Of
	case "idle":
		h.Idle = p.Word
	case "start":
		if f.Action.Verb == bench.Start {
			h.Start = Mark{f.Seq, p.Of, p.Word}
		}
	case "engine":
		h.Idle, h.Hiss = Idles, "none"
		if p.Word == "off" {
			h.EngineStops = Mark{f.Seq, p.Of, p.Word}
		}
	case "exhaust":
		h.Blows = p.Of
	}
}

// view brings what was told in line with what is so now.
func (h *Heard) view(v bench.View, hissAt string) {
	h.Running, h.Rpm = v.Engine == "running", v.Rpm
	if !h.Running {
		h.Idle, h.Blows = "", ""
	}
	switch {
	case !v.PumpTurning:
		h.Pump = Silent
	case !inCompartment(v.Place) && h.Running:
		h.Pump = "" // the engine covers it, as when listening
	}
	switch {
	case h.Pump == Silent || h.Pump == "" || !v.PumpRough:
		h.Bearing = "smooth"
	case h.Bearing == "smooth":
		h.Bearing = "rough" // seen or felt
	}
	if hissAt != v.Place {
		h.Hiss = "none"
	}
}

// alters says whether an action can make the car sound otherwise than before: what was heard then has to be listened for again.
func alters(v bench.Verb) bool {
	switch v {
	case bench.Key, bench.Start, bench.Stop, bench.Hold, bench.Soak, bench.Open, bench.Close, bench.Pull, bench.Fit, bench.Plug,
		bench.Unplug, bench.Remove, bench.Refit, bench.LampOn, bench.LampOff, bench.Jump, bench.Unjump, bench.HandPump, bench.Stroke,
		bench.Release, bench.PumpOff, bench.ScanOff, bench.Actuator, bench.Repair, bench.Drive:
		return true
	}
	return false
}
