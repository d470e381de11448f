package bench

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
)

// LineHelp explains the prompt language, one action a line.
const LineHelp = `One action a line; # begins a comment. Names are those of the lists: list places, terminals, ports, hoses, connectors,
parts, clamps, units, suspects, tools, pids.

  look PLACE [bend]              look a place over; bend moves hoses and covers
  listen PLACE [SECONDS]         pump, clicks, hissing, idle
  feel tailpipe|OPENING|PLACE|PART|HOSE   air, heat, vibration
  key on|off   start   stop      key and engine
  hold RPM|idle                  hold a speed
  watch SECONDS                  let time pass, then read every instrument
  soak                           leave the car overnight
  open|close CONNECTOR
  pull END   fit END [PORT]      hose ends are HOSE.a and HOSE.b
  plug|unplug OPENING            a free port or hose end
  remove|refit PART
  meter volts|ohms|amps RED BLACK     meter off
  clamp POINT [zero]             clamp off
  lamp RED BLACK [21|5]          lamp off
  jump A B GAUGEawg FUSE         such as: jump bat_pos pump_1h 12awg 30A    (or: 18awg none)
  unjump [A B]
  read meter|clamp|lamp|gauge
  handpump OPENING               handpump off
  stroke N   holdvac SECONDS   release
  blow OPENING                   a breath through a clean hose
  smoke OPENING                  low-pressure smoke; engine off
  analyse                        exhaust gas at the tailpipe
  helper on|off   extract on|off
  scan on|off   codes [stored|pending|permanent]   freeze   data [PID ...]
  actuator pump|solenoid|both|off   erase   readiness   results
  repair UNIT                    replace or mend
  drive                          verify: cold start overnight, monitor, drive, codes
  note TEXT   predict TEXT [splits SUSPECT ...]
  strike|unstrike SUSPECT
  finish SUSPECT ... [unit UNIT] [proof LINE]    name the cause and close the order
`

// ParseLine reads one line of the prompt language. An empty line or a comment gives an Action without a Verb.
func ParseLine(line string) (Action, error) {
	words, text := fields(line)
	if len(words) == 0 {
		return Action{}, nil
	}
	verb, args := words[0], words[1:]
	rule, ok := lineRules[verb]
	if !ok {
		return Action{}, fmt.Errorf("%q is no action; there are: %s", verb, strings.Join(lineVerbs(), ", "))
	}
	a := Action{Verb: Verb(verb)}
	if len(args) < rule.least || (rule.most >= 0 && len(args) > rule.most) {
		return Action{}, fmt.Errorf("%s: write it as: %s", verb, rule.usage)
	}
	if err := rule.read(&a, args, text); err != nil {
		return Action{}, fmt.Errorf("%s: %w; write it as: %s", verb, err, rule.usage)
	}
	return a, nil
}

// fields cuts a line into words, and gives what follows the first word as it stands, for notes.
func fields(line string) (words []string, text string) {
	line = strings.TrimSpace(line)
	if verb, rest, _ := strings.Cut(line, " "); verb == string(Note) || verb == string(Predict) {
		// A note may hold a #.
		return append([]string{verb}, strings.Fields(rest)...), strings.TrimSpace(rest)
	}
	if i := strings.IndexByte(line, '#'); i >= 0 {
		line = line[:i]
	}
	return strings.Fields(line), ""
}

// lineRule says how the words of a verb fill an action. The table never changes.
type lineRule struct {
	least, most int // words after the verb; most -1: any number
	usage       string
	read        func(a *Action, args []string, text string) error
}

var lineRules = map[string]lineRule{
	"look":      {0, 2, "look PLACE [bend]", takeOnMode},
	"listen":    {0, 2, "listen PLACE [SECONDS]", takeOnNumber},
	"feel":      {1, 1, "feel tailpipe|OPENING|PLACE|PART|HOSE", on},
	"key":       {1, 1, "key on|off", takeOnOff},
	"start":     {0, 0, "start", nothing},
	"stop":      {0, 0, "stop", nothing},
	"hold":      {1, 1, "hold RPM|idle", takeRPM},
	"watch":     {1, 1, "watch SECONDS", number},
	"soak":      {0, 0, "soak", nothing},
	"open":      {1, 1, "open CONNECTOR", on},
	"close":     {1, 1, "close CONNECTOR", on},
	"pull":      {1, 1, "pull END", on},
	"fit":       {1, 2, "fit END [PORT]", takeOnTo},
	"plug":      {1, 1, "plug OPENING", on},
	"unplug":    {1, 1, "unplug OPENING", on},
	"remove":    {1, 1, "remove PART", on},
	"refit":     {1, 1, "refit PART", on},
	"meter":     {1, 3, "meter volts|ohms|amps RED BLACK, or meter off", takeMeter},
	"clamp":     {1, 2, "clamp POINT [zero], or clamp off", orOff(ClampOff, takeOnMode)},
	"lamp":      {1, 3, "lamp RED BLACK [21|5], or lamp off", orOff(LampOff, takeLamp)},
	"jump":      {4, 4, "jump A B 12awg 30A, or jump A B 18awg none", takeJump},
	"unjump":    {0, 2, "unjump [A B]", takeOnTo},
	"read":      {1, 1, "read meter|clamp|lamp|gauge", on},
	"handpump":  {1, 1, "handpump OPENING, or handpump off", orOff(PumpOff, on)},
	"stroke":    {1, 1, "stroke N", number},
	"holdvac":   {1, 1, "holdvac SECONDS", number},
	"release":   {0, 0, "release", nothing},
	"blow":      {1, 1, "blow OPENING", on},
	"smoke":     {1, 1, "smoke OPENING", on},
	"analyse":   {0, 0, "analyse", nothing},
	"helper":    {1, 1, "helper on|off", takeOnOff},
	"extract":   {1, 1, "extract on|off", takeOnOff},
	"scan":      {1, 1, "scan on|off", takeScan},
	"codes":     {0, 1, "codes [stored|pending|permanent]", mode},
	"freeze":    {0, 0, "freeze", nothing},
	"data":      {0, -1, "data [PID ...]", list},
	"actuator":  {1, 1, "actuator pump|solenoid|both|off", mode},
	"erase":     {0, 0, "erase", nothing},
	"readiness": {0, 0, "readiness", nothing},
	"results":   {0, 0, "results", nothing},
	"repair":    {1, 2, "repair UNIT", takeOnMode},
	"drive":     {0, 0, "drive", nothing},
	"note":      {1, -1, "note TEXT", takeNote},
	"predict":   {1, -1, "predict TEXT [splits SUSPECT ...]", takePredict},
	"strike":    {1, 1, "strike SUSPECT", on},
	"unstrike":  {1, 1, "unstrike SUSPECT", on},
	"finish":    {1, -1, "finish SUSPECT ... [unit UNIT] [proof LINE]", takeFinish},
}

func lineVerbs() []string {
	out := make([]string, 0, len(lineRules))
	for v := range lineRules {
		out = append(out, v)
	}
	sort.Strings(out)
	return out
}

func nothing(*Action, []string, string) error { return nil }

func on(a *Action, args []string, _ string) error { a.On = args[0]; return nil }

func takeOnMode(a *Action, args []string, _ string) error {
	if len(args) > 0 {
		a.On = args[0]
	}
	if len(args) > 1 {
		a.Mode = args[1]
	}
	return nil
}

func takeOnTo(a *Action, args []string, _ string) error {
	if len(args) > 0 {
		a.On = args[0]
	}
	if len(args) > 1 {
		a.To = args[1]
	}
	return nil
}

func takeOnNumber(a *Action, args []string, _ string) error {
	if len(args) > 0 {
		a.On = args[0]
	}
	if len(args) > 1 {
		return number(a, args[1:], "")
	}
	return nil
}

func number(a *Action, args []string, _ string) error {
	v, err := strconv.ParseFloat(args[0], 64)
	if err != nil || !(v >= 0 && v <= 1e6) {
		return fmt.Errorf("%q is no number that can be meant", args[0])
	}
	a.N = v
	return nil
}

func mode(a *Action, args []string, _ string) error {
	if len(args) > 0 {
		a.Mode = args[0]
	}
	return nil
}

func takeOnOff(a *Action, args []string, _ string) error {
	if args[0] != "on" && args[0] != "off" {
		return fmt.Errorf("found %q", args[0])
	}
	a.Mode = args[0]
	return nil
}

func takeRPM(a *Action, args []string, text string) error {
	if args[0] == "idle" {
		return nil
	}
	return number(a, args, text)
}

// orOff makes "VERB off" the verb that takes the thing away.
func orOff(off Verb, read func(*Action, []string, string) error) func(*Action, []string, string) error {
	return func(a *Action, args []string, text string) error {
		if len(args) == 1 && args[0] == "off" {
			a.Verb = off
			return nil
		}
		return read(a, args, text)
	}
}

func takeMeter(a *Action, args []string, _ string) error {
	if len(args) == 1 && args[0] == "off" {
		a.Verb = MeterOff
		return nil
	}
	if len(args) != 3 {
		return fmt.Errorf("two terminals are needed")
	}
	a.Mode, a.On, a.To = args[0], args[1], args[2]
	return nil
}

func takeLamp(a *Action, args []string, _ string) error {
	if len(args) < 2 {
		return fmt.Errorf("two terminals are needed")
	}
	a.On, a.To = args[0], args[1]
	if len(args) == 3 {
		a.Mode = args[2]
	}
	return nil
}

func takeJump(a *Action, args []string, _ string) error {
	a.On, a.To, a.Mode = args[0], args[1], args[2]+" "+args[3]
	if _, _, ok := parseLead(a.Mode); !ok {
		return fmt.Errorf("%q is no lead of this bay: 18awg, 14awg, 12awg or 10awg, with 3A, 5A, 10A, 20A, 30A, 40A or none", a.Mode)
	}
	return nil
}

func takeScan(a *Action, args []string, text string) error {
	if err := takeOnOff(a, args, text); err != nil {
		return err
	}
	if a.Mode == "off" {
		a.Verb = ScanOff
	}
	a.Mode = ""
	return nil
}

func list(a *Action, args []string, _ string) error {
	a.List = args
	return nil
}

func takeNote(a *Action, _ []string, text string) error { a.Text = text; return nil }

func takePredict(a *Action, _ []string, text string) error {
	a.Text = text
	if before, after, ok := strings.Cut(text, " splits "); ok {
		a.Text, a.List = strings.TrimSpace(before), strings.Fields(after)
	}
	return nil
}

func takeFinish(a *Action, args []string, _ string) error {
	for i := 0; i < len(args); i++ {
		switch args[i] {
		case "unit", "proof":
			if i+1 == len(args) {
				return fmt.Errorf("%q needs a word after it", args[i])
			}
			i++
			if args[i-1] == "unit" {
				a.On = args[i]
				continue
			}
			if err := number(a, args[i:i+1], ""); err != nil {
				return err
			}
		default:
			a.List = append(a.List, args[i])
		}
	}
	return nil
}

// FormatLine writes an action in the prompt language, so that a log can be read and played again.
func FormatLine(a Action) string {
	num := strconv.FormatFloat(a.N, 'f', -1, 64)
	w := []string{string(a.Verb)}
	add := func(s ...string) {
		for _, v := range s {
			if v != "" {
				w = append(w, v)
			}
		}
	}
	switch a.Verb {
	case MeterOff, ClampOff, LampOff, ScanOff, PumpOff:
		w = []string{map[Verb]string{MeterOff: "meter", ClampOff: "clamp", LampOff: "lamp", ScanOff: "scan", PumpOff: "handpump"}[a.Verb], "off"}
	case ScanOn:
		add("on")
	case MeterOn:
		add(a.Mode, a.On, a.To)
	case LampOn, Jump:
		add(a.On, a.To, a.Mode)
	case Watch, Stroke, HoldVac:
		add(num)
	case Hold:
		if a.N == 0 {
			num = "idle"
		}
		add(num)
	case Listen:
		add(a.On)
		if a.N != 0 && a.On != "" {
			add(num)
		}
	case Note:
		add(a.Text)
	case Predict:
		add(a.Text)
		if len(a.List) > 0 {
			add("splits")
			add(a.List...)
		}
	case Finish:
		add(a.List...)
		if a.On != "" {
			add("unit", a.On)
		}
		if a.N != 0 {
			add("proof", num)
		}
	default:
		add(a.On, a.To, a.Mode)
		add(a.List...)
	}
	return strings.Join(w, " ")
}
