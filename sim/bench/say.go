package bench

import (
	"fmt"
	"strings"
)

// Sayer puts percepts and hazards into sentences, with the names that the catalogue gives to things.
type Sayer struct{ names map[string]string }

// NewSayer takes the names from a catalogue.
func NewSayer(c Catalogue) *Sayer {
	s := &Sayer{names: map[string]string{"engine": "engine", openTailpipe: "tailpipe"}}
	for _, p := range c.Places {
		s.names[p.ID] = p.Name
	}
	for _, list := range [][]Spot{c.Terminals, c.Ports, c.Connectors, c.Parts, c.Clamps, c.Devices} {
		for _, v := range list {
			s.names[v.ID] = v.Name
		}
	}
	for _, p := range c.Pins {
		s.names[p.ID] = s.Name(p.Terminal)
	}
	port := map[string]string{}
	for _, p := range c.Ports {
		port[p.ID] = p.Name
	}
	for _, h := range c.Hoses {
		s.names[h.ID] = h.Name
		s.names[h.ID+".a"] = h.Name + ", end at the " + port[h.PortA]
		s.names[h.ID+".b"] = h.Name + ", end at the " + port[h.PortB]
	}
	for _, u := range c.Units {
		if _, ok := s.names[u.ID]; !ok {
			s.names[u.ID] = u.Name
		}
	}
	for _, p := range c.Seen {
		if _, ok := s.names[p.ID]; !ok {
			s.names[p.ID] = s.Name(p.Unit)
		}
	}
	for _, u := range c.Suspects {
		if _, ok := s.names[u.ID]; !ok {
			s.names[u.ID] = u.Name
		}
	}
	return s
}

// Name is what a thing is called, or its id.
func (s *Sayer) Name(id string) string {
	if n, ok := s.names[id]; ok {
		return n
	}
	if part, ok := strings.CutSuffix(id, ".vent"); ok {
		return "vent of the " + s.Name(part)
	}
	if a, b, ok := strings.Cut(id, "/"); ok {
		return s.Name(a) + " and " + s.Name(b)
	}
	return strings.ReplaceAll(id, "_", " ")
}

// Percept is one thing perceived as a sentence without its full stop.
func (s *Sayer) Percept(p Percept) string {
	of := s.Name(p.Of)
	flag := ""
	if p.Flag != "" {
		flag = " (" + p.Flag + ")"
	}
	value := display(Percept{Value: p.Value, Unit: p.Unit, Word: p.Word})
	switch p.Key {
	case modeVolts:
		return fmt.Sprintf("meter, red on %s, black on %s: %s%s", s.Name(before(p.Of)), s.Name(after(p.Of)), value, flag)
	case modeOhms:
		return fmt.Sprintf("ohmmeter between %s: %s%s", of, value, flag)
	case modeAmps:
		if p.Sense == Clamp {
			return fmt.Sprintf("clamp round the %s: %s%s", of, value, flag)
		}
		return fmt.Sprintf("ammeter between %s: %s%s", of, value, flag)
	case "glow":
		return fmt.Sprintf("test lamp between %s: %s", of, p.Word)
	case "vacuum":
		return fmt.Sprintf("hand pump on the %s: %s", of, value)
	case "drop":
		return fmt.Sprintf("the gauge fell by %s", value)
	case "flow":
		if p.Of == openTailpipe {
			return fmt.Sprintf("hand at the tailpipe: %s", airWord(p.Word))
		}
		return fmt.Sprintf("finger on the %s: %s", of, airWord(p.Word))
	case "heat":
		return fmt.Sprintf("hand on the %s: %s", of, p.Word)
	case "vibration":
		return fmt.Sprintf("pump under the hand: %s", map[bool]string{true: "still", false: p.Word}[p.Word == "none"])
	case "sign":
		return s.sign(p, of)
	case "stem":
		return fmt.Sprintf("stem of the %s: it %s", of, p.Word)
	case "pump":
		return "the air pump " + p.Word
	case "whine":
		return fmt.Sprintf("air pump: %s", p.Word)
	case "bearing":
		return fmt.Sprintf("its sound: %s", p.Word)
	case "click":
		return fmt.Sprintf("%s: %s", of, p.Word)
	case "hiss":
		return fmt.Sprintf("hissing here: %s", p.Word)
	case "idle":
		return fmt.Sprintf("idle: %s", p.Word)
	case "engine":
		return map[bool]string{true: "the engine runs", false: "the engine has stopped"}[p.Word == engineRunning]
	case "start":
		return "the engine " + p.Word
	case "lamp":
		return fmt.Sprintf("malfunction lamp %s", p.Word)
	case "lead":
		return fmt.Sprintf("jumper lead between %s: %s", of, p.Word)
	case "smoke_in":
		return fmt.Sprintf("smoke into the %s: %s goes in", of, p.Word)
	case "smoke":
		return fmt.Sprintf("%s smoke comes out of the %s", p.Word, of)
	case "noise":
		return fmt.Sprintf("the air pump %s", p.Word)
	case "gas.o2", "gas.co", "gas.co2", "gas.hc":
		return fmt.Sprintf("gas analyser, %s: %s%s", strings.ToUpper(strings.TrimPrefix(p.Key, "gas.")), value, flag)
	case "gas.lambda":
		return fmt.Sprintf("gas analyser, lambda: %s", value)
	case "breath":
		return fmt.Sprintf("a breath into the %s goes: %s", of, p.Word)
	case "breath_out":
		return fmt.Sprintf("it comes out of the %s: %s", of, p.Word)
	case "code":
		return fmt.Sprintf("%s codes: %s", p.Of, p.Word)
	case "monitor":
		return fmt.Sprintf("monitor, %s: %s", p.Of, p.Word)
	}
	if p.Sense == Scan {
		return fmt.Sprintf("scan tool, %s: %s%s", p.Of, value, flag)
	}
	return fmt.Sprintf("%s, %s: %s%s", p.Key, of, value, flag)
}

func (s *Sayer) sign(p Percept, of string) string {
	if at, ok := strings.CutPrefix(p.Word, "sits on "); ok {
		return fmt.Sprintf("%s: it sits on the %s", of, s.Name(at))
	}
	return fmt.Sprintf("%s: %s", of, p.Word)
}

func airWord(word string) string {
	if word == "none" {
		return "no air"
	}
	if strings.Contains(word, " ") {
		return word
	}
	return word + " air"
}

func before(pair string) string { a, _, _ := strings.Cut(pair, "/"); return a }
func after(pair string) string  { _, b, _ := strings.Cut(pair, "/"); return b }

// Hazard says what went wrong.
func (s *Sayer) Hazard(h Hazard) string {
	of := s.Name(h.Of)
	switch h.Kind {
	case "lead_hot":
		return fmt.Sprintf("the lead between %s is too hot to hold", of)
	case "lead_melts":
		return fmt.Sprintf("the insulation of the lead between %s melts", of)
	case "lead_glows":
		return fmt.Sprintf("the lead between %s glows and burns through", of)
	case "short_arc":
		return fmt.Sprintf("a short circuit between %s", of)
	case "driver_killed":
		return fmt.Sprintf("a controller output no longer works: %s", of)
	case "meter_fuse":
		return "the meter's fuse has blown"
	case "burn":
		return fmt.Sprintf("you burn your hand at the %s", of)
	case "open_port":
		return fmt.Sprintf("hot exhaust blows out where the %s was", of)
	case "pump_overheated":
		return "the air pump is overheated"
	case "co":
		return "there is exhaust gas in the bay"
	}
	return strings.ReplaceAll(h.Kind, "_", " ")
}

// Clock writes bench seconds as minutes and seconds.
func Clock(seconds float64) string {
	t := int(seconds)
	return fmt.Sprintf("%d:%02d", t/60, t%60)
}

// Money writes cents as a decimal amount.
func Money(cents int) string { return fmt.Sprintf("%d.%02d", cents/100, cents%100) }
