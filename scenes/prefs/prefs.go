// Package prefs is what somebody wants the window to be like: sound, captions, size of text, theme, motion, units and language. It is
// kept by the platform between one day and the next.
package prefs

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"coldbay/assets/messages"
	"coldbay/scenes/platform"
	"coldbay/scenes/sound"
	"coldbay/sim/units"
)

// name is where the platform keeps the settings.
const name = "settings"

// Motion says whether things may move by themselves.
type Motion string

// The choices of motion. System follows what the system or browser says.
const (
	System Motion = "system"
	Less   Motion = "less"
	Full   Motion = "full"
)

// Sizes are the sizes of text on offer, per cent.
var Sizes = []int{100, 125, 150, 200}

// Prefs are the settings.
type Prefs struct {
	Sound      sound.Settings `json:"sound"`
	Captions   bool           `json:"captions"`
	Text       int            `json:"text"` // per cent, one of Sizes
	Contrast   bool           `json:"contrast"`
	Motion     Motion         `json:"motion"`
	Inches     bool           `json:"inches"`     // vacuum in inHg, otherwise kPa
	Fahrenheit bool           `json:"fahrenheit"` // otherwise degC
	Lang       string         `json:"lang"`
}

// Usual are the settings of somebody who has not chosen yet.
func Usual() Prefs {
	return Prefs{Sound: sound.Usual, Captions: true, Text: 100, Motion: System, Lang: "en"}
}

// Units is the choice of units in the form that the unit package knows. Mass flow is in kg/h in both.
func (p Prefs) Units() units.Preference {
	u := units.SI.Preference()
	if p.Inches {
		u.Vacuum = units.InHg
	}
	if p.Fahrenheit {
		u.Temperature = units.Fahrenheit
	}
	return u
}

// Still tells whether nothing is to move by itself.
func (p Prefs) Still() bool {
	return p.Motion == Less || p.Motion != Full && platform.ReducedMotion()
}

// mend puts what is out of range back to the usual.
func (p Prefs) mend() Prefs {
	u := Usual()
	if !(p.Sound.Volume >= 0 && p.Sound.Volume <= 1) {
		p.Sound.Volume = u.Sound.Volume
	}
	if !slices.Contains(Sizes, p.Text) {
		p.Text = u.Text
	}
	if p.Motion != Less && p.Motion != Full {
		p.Motion = System
	}
	if !slices.Contains(messages.Languages(), p.Lang) {
		p.Lang = u.Lang
	}
	return p
}

// Load reads the kept settings. With an error it gives the usual ones: damaged settings must not keep anybody out.
func Load() (Prefs, error) {
	raw, err := platform.Kept(name)
	if errors.Is(err, platform.ErrNotKept) {
		return Usual(), nil
	}
	if err != nil {
		return Usual(), fmt.Errorf("read the settings: %w", err)
	}
	p := Usual()
	if err := json.Unmarshal(raw, &p); err != nil {
		return Usual(), fmt.Errorf("read the settings: %w", err)
	}
	return p.mend(), nil
}

// Save keeps the settings.
func (p Prefs) Save() error {
	raw, err := json.Marshal(p)
	if err != nil {
		return fmt.Errorf("keep the settings: %w", err)
	}
	if err := platform.Keep(name, raw); err != nil {
		return fmt.Errorf("keep the settings: %w", err)
	}
	return nil
}
