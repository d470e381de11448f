package lessons

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"unicode/utf8"

	"coldbay/sim/car"
	"coldbay/sim/car/strict"
	"coldbay/sim/cutaway"
)

// The longest texts that fit beside the cutaway in the smallest window.
const (
	maxTitle  = 48
	maxText   = 760
	maxAsk    = 300
	maxOption = 90
	maxWhy    = 420
)

// maxCharts is how many channels are charted at once.
const maxCharts = 5

// Parse reads a lesson and checks it against the schematic of its car, which find gives.
func Parse(file string, data []byte, find func(car string) (*cutaway.Schematic, []string)) (*Lesson, error) {
	l := &Lesson{}
	doc, err := strict.Decode(file, data, l)
	if err != nil {
		return nil, err
	}
	if l.Format != Format {
		return nil, doc.Errorf(strict.Path("format"), "found %q; allowed is %q", l.Format, Format)
	}
	sheet, cars := find(l.Car)
	if sheet == nil {
		return nil, doc.Errorf(strict.Path("car"), "found %q; %s", l.Car, strict.OneOf(l.Car, cars))
	}
	k := check{doc: doc, l: l, sheet: sheet}
	for _, x := range sheet.CarOf().Faults {
		k.faults = append(k.faults, x.ID)
	}
	for _, x := range sheet.CarOf().Sets {
		k.faults = append(k.faults, x.ID)
	}
	if err := k.head(); err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	for i := range l.Steps {
		st := &l.Steps[i]
		if !plainID(st.ID) || seen[st.ID] {
			return nil, doc.Errorf(strict.Path("steps", i, "id"), "found %q; an id is made of 1 to 40 small letters, digits and underscores, and stands once", st.ID)
		}
		seen[st.ID] = true
		if err := k.step(i, st); err != nil {
			return nil, err
		}
	}
	sum := sha256.Sum256(data)
	l.Digest, l.File = hex.EncodeToString(sum[:]), file
	return l, nil
}

type check struct {
	doc    *strict.Doc
	l      *Lesson
	sheet  *cutaway.Schematic
	faults []string
}

func plainID(id string) bool {
	for _, r := range id {
		if r != '_' && (r < '0' || r > '9') && (r < 'a' || r > 'z') {
			return false
		}
	}
	return id != "" && len(id) <= 40
}

// words refuses text that is empty or too long for its place.
func (k check) words(path []any, s string, limit int) error {
	if n := utf8.RuneCountInString(s); n == 0 || n > limit {
		return k.doc.Errorf(path, "found %d letters; allowed are 1 to %d", n, limit)
	}
	return nil
}

func (k check) head() error {
	l := k.l
	if !plainID(l.ID) {
		return k.doc.Errorf(strict.Path("id"), "found %q; an id is made of 1 to 40 small letters, digits and underscores", l.ID)
	}
	if l.Number < 1 || l.Number > 99 {
		return k.doc.Errorf(strict.Path("number"), "found %d; allowed are 1 to 99", l.Number)
	}
	if l.Minutes < 1 || l.Minutes > 240 {
		return k.doc.Errorf(strict.Path("minutes"), "found %d; allowed are 1 to 240", l.Minutes)
	}
	if len(l.Steps) < 1 || len(l.Steps) > 30 {
		return k.doc.Errorf(strict.Path("steps"), "found %d; allowed are 1 to 30", len(l.Steps))
	}
	if err := k.words(strict.Path("title"), l.Title, maxTitle); err != nil {
		return err
	}
	return k.words(strict.Path("aim"), l.Aim, 200)
}

func (k check) step(i int, st *Step) error {
	at := func(p ...any) []any { return append([]any{"steps", i}, p...) }
	if err := k.words(at("title"), st.Title, maxTitle); err != nil {
		return err
	}
	if err := k.words(at("text"), st.Text, maxText); err != nil {
		return err
	}
	if err := k.show(at, &st.Show); err != nil {
		return err
	}
	for j, c := range st.Claims {
		if err := k.claim(func(p ...any) []any { return at(append([]any{"claims", j}, p...)...) }, st, c); err != nil {
			return err
		}
	}
	if st.Ask == nil {
		return nil
	}
	return k.ask(func(p ...any) []any { return at(append([]any{"ask"}, p...)...) }, st, st.Ask)
}

func (k check) show(at func(...any) []any, s *Show) error {
	if s.Run == "" {
		s.Run = cutaway.ColdStart
	}
	if s.View == "" {
		s.View = "all"
	}
	if s.Speed == 0 {
		s.Speed = 1
	}
	if s.Until == 0 {
		s.Until = s.Run.Seconds()
	}
	if err := k.run(at("show", "run"), s.Run); err != nil {
		return err
	}
	if _, ok := k.sheet.View(s.View); !ok {
		return k.doc.Errorf(at("show", "view"), "found %q; %s", s.View, strict.OneOf(s.View, k.sheet.ViewIDs()))
	}
	if len(s.Channels) == 0 || len(s.Channels) > maxCharts {
		return k.doc.Errorf(at("show", "channels"), "found %d; allowed are 1 to %d", len(s.Channels), maxCharts)
	}
	for j, c := range s.Channels {
		if _, ok := k.sheet.Channel(c); !ok {
			return k.doc.Errorf(at("show", "channels", j), "found %q; %s", c, strict.OneOf(c, k.sheet.ChannelIDs()))
		}
	}
	if err := k.fault(at("show", "fault"), at("show", "severity"), s.Fault, s.Severity, true); err != nil {
		return err
	}
	if !slices.Contains([]Other{Nothing, Healthy, WithoutAir}, s.Beside) {
		return k.doc.Errorf(at("show", "beside"), "found %q; allowed: %s, %s", s.Beside, Healthy, WithoutAir)
	}
	if s.At < 0 || s.At > s.Run.Seconds() {
		return k.doc.Errorf(at("show", "at"), "found %g; allowed are 0 to %g", s.At, s.Run.Seconds())
	}
	if s.Until < s.At || s.Until > s.Run.Seconds() {
		return k.doc.Errorf(at("show", "until"), "found %g; allowed are %g to %g", s.Until, s.At, s.Run.Seconds())
	}
	if s.Speed < 0.1 || s.Speed > 20 {
		return k.doc.Errorf(at("show", "speed"), "found %g; allowed are 0.1 to 20", s.Speed)
	}
	if s.Part != "" {
		var ids []string
		for _, it := range k.sheet.Items {
			ids = append(ids, it.ID)
		}
		if !slices.Contains(ids, s.Part) {
			return k.doc.Errorf(at("show", "part"), "found %q; %s", s.Part, strict.OneOf(s.Part, ids))
		}
	}
	return nil
}

// run refuses what can't be done to the lesson's car.
func (k check) run(at []any, run cutaway.Run) error {
	if runs := cutaway.RunsOf(k.sheet.CarOf()); !slices.Contains(runs, string(run)) {
		return k.doc.Errorf(at, "found %q; %s", run, strict.OneOf(string(run), runs))
	}
	return nil
}

func (k check) fault(at, sevAt []any, id string, severity float64, none bool) error {
	if id == "" && none {
		if severity != 0 {
			return k.doc.Errorf(sevAt, "found %g without a fault", severity)
		}
		return nil
	}
	if !slices.Contains(k.faults, id) {
		return k.doc.Errorf(at, "found %q; %s", id, strict.OneOf(id, k.faults))
	}
	if severity < 0 || severity > 1 {
		return k.doc.Errorf(sevAt, "found %g; allowed is above 0 to 1", severity)
	}
	return nil
}

func (k check) claim(at func(...any) []any, st *Step, c Claim) error {
	run := st.Show.Run
	if c.Run != "" {
		run = c.Run
		if err := k.run(at("run"), run); err != nil {
			return err
		}
	}
	if err := c.Read.Cutaway().Check(k.sheet, run); err != nil {
		return k.doc.Errorf(at("read"), "%v", err)
	}
	if w := c.Who; w != nil {
		if err := k.fault(at("who", "fault"), at("who", "severity"), w.Fault, w.Severity, true); err != nil {
			return err
		}
	}
	if (c.Between == nil) != c.Never {
		return k.doc.Errorf(at(), "a claim has either between or never: true")
	}
	if c.Between != nil && c.Between[0] > c.Between[1] {
		return k.doc.Errorf(at("between"), "found %g above %g", c.Between[0], c.Between[1])
	}
	return nil
}

// askKeys are the keys that a kind of question needs and may have, beside those that all have.
var askKeys = map[Kind]struct{ need, may []string }{
	Choice: {need: []string{"options"}},
	Number: {need: []string{"read", "within", "about"}, may: []string{"who", "unit"}},
	Strike: {need: []string{"read", "found", "apart", "suspects"}},
}

func (k check) ask(at func(...any) []any, st *Step, a *Ask) error {
	if err := k.words(at("text"), a.Text, maxAsk); err != nil {
		return err
	}
	if err := k.words(at("why"), a.Why, maxWhy); err != nil {
		return err
	}
	keys, ok := askKeys[a.Kind]
	if !ok {
		return k.doc.Errorf(at("kind"), "found %q; allowed: %s, %s, %s", a.Kind, Choice, Number, Strike)
	}
	for _, key := range []string{"options", "read", "who", "unit", "within", "about", "found", "apart", "suspects"} {
		need, may := slices.Contains(keys.need, key), slices.Contains(keys.may, key)
		switch has := k.doc.Has(at(key)...); {
		case need && !has:
			return k.doc.Errorf(at(key), "missing; a question of kind %s needs it", a.Kind)
		case has && !need && !may:
			return k.doc.Errorf(at(key), "a question of kind %s has none", a.Kind)
		}
	}
	switch a.Kind {
	case Choice:
		return k.choice(at, a)
	case Number:
		return k.number(at, st, a)
	case Strike:
		return k.strike(at, st, a)
	}
	return nil
}

func (k check) choice(at func(...any) []any, a *Ask) error {
	right := 0
	for j, o := range a.Options {
		if err := k.words(at("options", j, "text"), o.Text, maxOption); err != nil {
			return err
		}
		if o.Right {
			right++
		}
	}
	if len(a.Options) < 2 || len(a.Options) > 4 {
		return k.doc.Errorf(at("options"), "found %d; allowed are 2 to 4", len(a.Options))
	}
	if right != 1 {
		return k.doc.Errorf(at("options"), "%d of them are right; want one", right)
	}
	return nil
}

func (k check) number(at func(...any) []any, st *Step, a *Ask) error {
	if err := a.Read.Cutaway().Check(k.sheet, st.Show.Run); err != nil {
		return k.doc.Errorf(at("read"), "%v", err)
	}
	if a.Who != nil {
		if err := k.fault(at("who", "fault"), at("who", "severity"), a.Who.Fault, a.Who.Severity, true); err != nil {
			return err
		}
	}
	if !(a.Within > 0) {
		return k.doc.Errorf(at("within"), "found %g; a tolerance is above 0", a.Within)
	}
	return nil
}

func (k check) strike(at func(...any) []any, st *Step, a *Ask) error {
	if err := a.Read.Cutaway().Check(k.sheet, st.Show.Run); err != nil {
		return k.doc.Errorf(at("read"), "%v", err)
	}
	if !(a.Apart > 0) {
		return k.doc.Errorf(at("apart"), "found %g; it is above 0", a.Apart)
	}
	if len(a.Suspects) < 2 || len(a.Suspects) > 5 {
		return k.doc.Errorf(at("suspects"), "found %d; allowed are 2 to 5", len(a.Suspects))
	}
	struck := 0
	for j, s := range a.Suspects {
		if err := k.fault(at("suspects", j, "fault"), at("suspects", j, "severity"), s.Fault, s.Severity, false); err != nil {
			return err
		}
		if s.Struck {
			struck++
		}
	}
	if struck == 0 || struck == len(a.Suspects) {
		return k.doc.Errorf(at("suspects"), "%d of %d are struck; a reading worth taking splits them", struck, len(a.Suspects))
	}
	return nil
}

// FaultName is the name of a fault or fault set of a car.
func FaultName(c *car.Car, id string) string {
	for _, f := range c.Faults {
		if f.ID == id {
			return f.Name
		}
	}
	for _, s := range c.Sets {
		if s.ID == id {
			return s.Name
		}
	}
	return id
}
