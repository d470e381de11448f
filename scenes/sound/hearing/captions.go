package hearing

import "strconv"

// Caption is a sound in words: a key of the message catalogue and what is filled in, as pairs. Seq is 0 for what goes on, and the
// number of the finding for what sounded once.
type Caption struct {
	Key  string
	Args []string
	Seq  int
}

// Keys of all captions, for the message catalogue's check. {of} is a part, {rpm} a speed, {place} a place.
var Keys = []string{
	"caption.pump.whines", "caption.pump.slow", "caption.pump.normal", "caption.pump.fast", "caption.pump.stops",
	"caption.bearing.rough", "caption.bearing.grinding",
	"caption.engine.idles", "caption.engine.even", "caption.engine.hunts", "caption.engine.held", "caption.engine.blows", "caption.engine.stops",
	"caption.hiss.faint", "caption.hiss.clear", "caption.hiss.strong",
	"caption.click.relay", "caption.click.solenoid", "caption.start.starts", "caption.start.vain", "caption.beep", "caption.arc",
}

// Captions lists what is heard: first what goes on, then what sounded once, in the order of the findings. name gives the words for an id.
func (h Heard) Captions(name func(id string) string) []Caption {
	return append(h.states(name), h.marks(name)...)
}

// held is the speed in rpm from which an engine does not idle any more.
const held = 1000

func (h Heard) states(name func(string) string) []Caption {
	var out []Caption
	add := func(key string, args ...string) { out = append(out, Caption{Key: key, Args: args}) }
	if h.Pump != Silent && h.Pump != "" {
		add("caption.pump." + h.Pump)
		if h.Bearing == "rough" || h.Bearing == "grinding" {
			add("caption.bearing." + h.Bearing)
		}
	}
	switch {
	case !h.Running:
	case h.Rpm >= held:
		add("caption.engine.held", "rpm", strconv.Itoa(h.Rpm))
	default:
		add("caption.engine." + h.Idle)
	}
	if h.Blows != "" {
		add("caption.engine.blows", "of", name(h.Blows))
	}
	if h.Hiss != "none" && h.Hiss != "" {
		add("caption.hiss."+h.Hiss, "place", name(h.Place))
	}
	return out
}

func (h Heard) marks(name func(string) string) []Caption {
	var out []Caption
	add := func(m Mark, key string) {
		if m.Seq == 0 {
			return
		}
		at := len(out)
		for at > 0 && out[at-1].Seq > m.Seq {
			at--
		}
		out = append(out, Caption{})
		copy(out[at+1:], out[at:])
		out[at] = Caption{Key: key, Args: []string{"of", name(m.Of)}, Seq: m.Seq}
	}
	start := "caption.start.starts"
	if h.Start.Word != "starts" {
		start = "caption.start.vain"
	}
	add(h.Start, start)
	add(h.Relay, "caption.click.relay")
	add(h.Solenoid, "caption.click.solenoid")
	add(h.PumpStops, "caption.pump.stops")
	add(h.EngineStops, "caption.engine.stops")
	add(h.Beep, "caption.beep")
	add(h.Arc, "caption.arc")
	return out
}
