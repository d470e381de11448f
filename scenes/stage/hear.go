package stage

import (
	"strings"
	"time"

	"coldbay/scenes/sound"
)

// captionTime is how long the caption of a sound that was heard once stays.
const captionTime = 4 * time.Second

// captions are the sounds in words.
type captions struct {
	key   captionKey
	on    string // what goes on
	once  string // what sounded last
	until time.Time
	seen  int // the last finding whose sounds were shown
}

// captionKey tells whether something else can be heard.
type captionKey struct {
	order          string
	findings       int
	place, engine  string
	rpm            int
	turning, rough bool
}

// hear lets the player and the captions follow what is to be heard where the trainee stands.
func (d *Director) hear(now time.Time) {
	desk := d.Desk
	switch {
	case desk.Session == nil, desk.Scene() == Board, desk.Scene() == Debrief:
		d.Sound.Leave()
		d.captions.on, d.captions.once = "", ""
		d.captions.key = captionKey{}
	default:
		d.Sound.Hear(&desk.Cat, &desk.View, desk.Ledger)
		d.caption(now)
	}
	d.Sound.Update(now)
}

func (d *Director) caption(now time.Time) {
	desk, c := d.Desk, &d.captions
	if now.After(c.until) {
		c.once = ""
	}
	v := &desk.View
	k := captionKey{order: desk.ID, findings: len(desk.Ledger), place: v.Place, engine: v.Engine, rpm: v.Rpm, turning: v.PumpTurning, rough: v.PumpRough}
	if k == c.key {
		return
	}
	if k.order != c.key.order || len(desk.Ledger) < c.seen {
		c.seen = len(desk.Ledger)
	}
	c.key = k
	var on, once []string
	for _, x := range sound.Captions(&desk.Cat, v, desk.Ledger, desk.Phrase.Thing) {
		words := desk.Msg.T(x.Key, x.Args...)
		switch {
		case x.Seq == 0:
			on = append(on, words)
		case x.Seq > c.seen:
			once = append(once, words)
		}
	}
	c.seen = len(desk.Ledger)
	c.on = strings.Join(on, "  ·  ")
	if len(once) > 0 {
		c.once, c.until = strings.Join(once, "  ·  "), now.Add(captionTime)
	}
}

// captionLine is what the captions say now; empty when they are off or there is nothing to hear.
func (d *Director) captionLine() string {
	if !d.applied.Captions || d.Desk.Scene() != Bay && d.Desk.Scene() != ScanTool {
		return ""
	}
	if d.captions.once != "" && d.captions.on != "" {
		return d.captions.once + "  ·  " + d.captions.on
	}
	return d.captions.once + d.captions.on
}
