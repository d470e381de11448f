package stage

import (
	"coldbay/assets/messages"
	"coldbay/scenes/paint"
	"coldbay/scenes/prefs"
)

// Wish changes the settings; they take effect with the next frame and are kept.
func (d *Desk) Wish(change func(*prefs.Prefs)) {
	change(&d.Prefs)
	d.changed = true
	if d.Keep == nil {
		return
	}
	if err := d.Keep(d.Prefs); err != nil {
		d.Say(d.Msg.T("settings.notkept", "what", err.Error()), true)
	}
}

// speak takes another language.
func (d *Desk) speak(msg *messages.Catalogue) {
	d.Msg = msg
	if d.Session != nil {
		d.name()
	}
	if s, ok := d.Orders.(Speaker); ok {
		s.Speak(msg)
	}
	if d.Doc != nil {
		d.debrief(func() {}) // its sentences are the grader's
	}
}

// Speaker are orders that have words of their own for the trainee.
type Speaker interface{ Speak(*messages.Catalogue) }

// apply makes the window follow the settings.
func (d *Director) apply() {
	p := d.Desk.Prefs
	if d.Desk.Phrase != nil {
		d.Desk.Phrase.Units = p.Units()
	}
	if p.Lang != d.Desk.Msg.Lang() && !d.Desk.Busy() {
		msg, err := messages.Load(p.Lang)
		if err != nil {
			d.Desk.Prefs.Lang = d.Desk.Msg.Lang()
			d.Desk.fail(err)
			return
		}
		d.Desk.speak(msg)
		d.captions.key = captionKey{}
		d.Desk.Touch()
	}
	if p == d.applied {
		return
	}
	d.applied = p
	d.Sound.Set(p.Sound)
	d.theme = nil
	if p.Contrast {
		d.theme = paint.HighContrast()
	}
	d.Size(d.outW, d.outH, d.device)
	d.Desk.Touch()
}
