package sim

import (
	"math"
	"strconv"
	"strings"

	"coldbay/sim/car"
)

// SignatureColumn is one reading of a table of signatures.
type SignatureColumn struct {
	ID   string `json:"id"`
	Head string `json:"-"`    // over the column
	Unit string `json:"unit"` // "" for what has none
	Text string `json:"text"` // what it is and how it counts

	on     func(c *car.Car, p SignatureProbes) bool
	read   func(s Signature) float64
	say    func(s Signature) string // instead of a number
	digits int
	none   string  // what a reading that has no number is called, such as an open coil's
	felt   float64 // what a mechanic would call another reading; 0: not asked
	share  float64 // the same as a share of the larger reading
	aside  bool    // in a text, told only where it differs from the sound car's
	later  bool    // needs an engine that runs
}

// On says whether a car has what the column is read at.
func (k SignatureColumn) On(c *car.Car, p SignatureProbes) bool { return k.on == nil || k.on(c, p) }

// Number is the reading; ok is false where there is none: an open coil, a valve that never opens, a catalyst that does not light, an
// engine that did not run.
func (k SignatureColumn) Number(s Signature) (v float64, ok bool) {
	if k.read == nil || k.later && !s.Ran {
		return 0, false
	}
	v = k.read(s)
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return 0, false
	}
	scale := math.Pow10(k.digits)
	return math.Round(v*scale)/scale + 0, true // + 0: no minus before a nought
}

// Cell is the reading in words.
func (k SignatureColumn) Cell(s Signature) string {
	if k.later && !s.Ran {
		return "-"
	}
	if k.say != nil {
		return k.say(s)
	}
	v, ok := k.Number(s)
	if !ok {
		return k.none
	}
	return strconv.FormatFloat(v, 'f', k.digits, 64)
}

// Felt says whether a mechanic would call two readings different (common practice for what a second look at a gauge tells, no source).
func (k SignatureColumn) Felt(a, b Signature) bool {
	switch {
	case k.later && a.Ran != b.Ran:
		return true
	case k.later && !a.Ran:
		return false
	case k.say != nil:
		return k.say(a) != k.say(b)
	case k.felt == 0 && k.share == 0:
		return false
	}
	x, y := k.read(a), k.read(b)
	return x != y && !(math.Abs(x-y) < max(k.felt, float64(k.share*max(x, y))))
}

func hasMotor(_ *car.Car, p SignatureProbes) bool     { return p.Motor != "" }
func hasPipe(_ *car.Car, p SignatureProbes) bool      { return p.Pipe != "" }
func hasValve(_ *car.Car, p SignatureProbes) bool     { return p.Valve != "" }
func hasChamber(_ *car.Car, p SignatureProbes) bool   { return p.Chamber != "" }
func hasChamber2(_ *car.Car, p SignatureProbes) bool  { return p.Chamber2 != "" }
func hasValve2(_ *car.Car, p SignatureProbes) bool    { return p.Valve2 != "" }
func hasReservoir(_ *car.Car, p SignatureProbes) bool { return p.Reservoir != "" }
func hasLine(_ *car.Car, p SignatureProbes) bool      { return p.LineEnd != "" }
func hasCoil(_ *car.Car, p SignatureProbes) bool      { return p.CoilPlug != "" }
func hasBank2(c *car.Car, _ SignatureProbes) bool     { return c.Banks == 2 }

// lit makes a moment of light-off that never came one that has no number.
func lit(at float64) float64 {
	if at == 0 {
		return math.Inf(1)
	}
	return at
}

// SignatureColumns are the readings of a table in their order.
func SignatureColumns() []SignatureColumn {
	return []SignatureColumn{
		{ID: "start_a", Head: "start", Unit: "A", Text: "highest pump current from 0.3 s after it is switched on, the inrush over, to 20 s after the engine's start", on: hasMotor, later: true, digits: 1,
			read: func(s Signature) float64 { return s.Start }},
		{ID: "pump_a", Head: "pump", Unit: "A", Text: "pump current 20 s after the start", on: hasMotor, later: true, digits: 1, felt: 1,
			read: func(s Signature) float64 { return s.Amps }},
		{ID: "pump_v", Head: "plug", Unit: "V", Text: "voltage across the pump's plug, on the harness side, 20 s after the start", on: hasMotor, later: true, digits: 2, felt: 0.5,
			read: func(s Signature) float64 { return s.Volts }},
		{ID: "flow_kg_h", Head: "air", Unit: "kg/h", Text: "air into the exhaust, all banks, 20 s after the start; minus: exhaust comes back", later: true, digits: 1, share: 0.1,
			read: func(s Signature) float64 { return s.Flow }},
		{ID: "flow_2_kg_h", Head: "air 2", Unit: "kg/h", Text: "of it into the second bank", on: hasBank2, later: true, digits: 1, share: 0.1,
			read: func(s Signature) float64 { return s.Flow2 }},
		{ID: "pipe_kpa", Head: "pipe", Unit: "kPa", Text: "pressure behind the pump, above the surroundings, 20 s after the start; minus: below them", on: hasPipe, later: true, digits: 1, felt: 1.5,
			read: func(s Signature) float64 { return s.Pipe }},
		{ID: "chamber_kpa", Head: "chamb", Unit: "kPa", Text: "vacuum in the valve's chamber, below the surroundings, 20 s after the start", on: hasChamber, later: true, digits: 1, felt: 3,
			read: func(s Signature) float64 { return s.Chamber }},
		{ID: "hand_kpa", Head: "hand", Unit: "kPa", Text: "engine off: vacuum after four strokes of a hand pump on the valve's line, taken off at the solenoid", on: hasLine, digits: 1, felt: 3,
			read: func(s Signature) float64 { return s.Pulled }},
		{ID: "hand_30s_kpa", Head: "30 s", Unit: "kPa", Text: "the same half a minute later", on: hasLine, digits: 1, felt: 3,
			read: func(s Signature) float64 { return s.Held }},
		{ID: "coil_ohm", Head: "coil", Unit: "ohm", Text: "solenoid coil, unplugged and cold", on: hasCoil, digits: 1, none: "open", felt: 1,
			read: func(s Signature) float64 { return s.CoilOhm }},
		{ID: "lambda", Head: "mix", Unit: "-", Text: "relative air-fuel ratio before the catalyst, with the air, 20 s after the start; above 1: lean", later: true, digits: 2,
			read: func(s Signature) float64 { return s.Lambda }},
		{ID: "lambda_2", Head: "mix 2", Unit: "-", Text: "the same of the second bank", on: hasBank2, later: true, digits: 2,
			read: func(s Signature) float64 { return s.Lambda2 }},
		{ID: "light_off_s", Head: "lit", Unit: "s", Text: "catalyst converts half, s after the start; never: not within 150 s", later: true, digits: 1, none: "never",
			read: func(s Signature) float64 { return lit(s.LitAt) }},
		{ID: "light_off_2_s", Head: "lit 2", Unit: "s", Text: "the same of the second bank", on: hasBank2, later: true, digits: 1, none: "never",
			read: func(s Signature) float64 { return lit(s.LitAt2) }},
		{ID: "opening_s", Head: "opens s", Unit: "s", Text: "from the valve's command to its full lift; never: not in this run", on: hasValve, aside: true, later: true, digits: 1, none: "never", felt: 1,
			read: func(s Signature) float64 { return s.Opening }},
		{ID: "lift_mm", Head: "lift mm", Unit: "mm", Text: "the valve's lift, 20 s after the start", on: hasValve, aside: true, later: true, digits: 1, felt: 0.5,
			read: func(s Signature) float64 { return s.Lift }},
		{ID: "chamber_2_kpa", Head: "chamb 2 kPa", Unit: "kPa", Text: "vacuum in the second bank's valve's chamber, 20 s after the start", on: hasChamber2, aside: true, later: true, digits: 1, felt: 3,
			read: func(s Signature) float64 { return s.Chamber2 }},
		{ID: "lift_2_mm", Head: "lift 2 mm", Unit: "mm", Text: "the second bank's valve's lift, 20 s after the start", on: hasValve2, aside: true, later: true, digits: 1, felt: 0.5,
			read: func(s Signature) float64 { return s.Lift2 }},
		{ID: "rest_kpa", Head: "rest kPa", Unit: "kPa", Text: "vacuum in the chamber a second after the air has stopped", on: hasChamber, aside: true, later: true, digits: 1, felt: 3,
			read: func(s Signature) float64 { return s.RestVac }},
		{ID: "kept_kpa", Head: "kept kPa", Unit: "kPa", Text: "vacuum in the reservoir half a minute after the engine was stopped", on: hasReservoir, aside: true, later: true, digits: 1, felt: 5,
			read: func(s Signature) float64 { return s.Kept }},
		{ID: "trim_percent", Head: "trim %", Unit: "%", Text: "short and long fuel trim together, 150 s after the start; plus: fuel is added", aside: true, later: true, digits: 1, felt: 3,
			read: func(s Signature) float64 { return s.Trim }},
		{ID: "trim_2_percent", Head: "trim 2 %", Unit: "%", Text: "the same of the second bank", on: hasBank2, aside: true, later: true, digits: 1, felt: 3,
			read: func(s Signature) float64 { return s.Trim2 }},
		{ID: "trim_swing_percent", Head: "trim swings %", Unit: "%", Text: "how far it comes and goes from 110 s to 150 s after the start, a drift one way taken off", aside: true, later: true, digits: 1, felt: 6,
			read: func(s Signature) float64 { return s.Swing }},
		{ID: "back_k", Head: "back K", Unit: "K", Text: "what exhaust that comes back warms the pressure pipe by, 150 s after the start", aside: true, later: true, digits: 0, felt: 8,
			read: func(s Signature) float64 { return s.Warm }},
		{ID: "pump_on", Head: "pump on", Text: "the pump turns when it should not: with the key on and the engine still, or a minute after the key is off", on: hasMotor, aside: true,
			say: func(s Signature) string {
				switch {
				case s.KeyOff:
					return "with the key off"
				case s.KeyOn:
					return "at key-on"
				}
				return ""
			}},
		{ID: "no_start", Head: "no start", Text: "the engine does not start: at all, or after the night that follows", aside: true,
			say: func(s Signature) string {
				switch {
				case !s.Ran:
					return "at all"
				case s.Flat:
					return "after a night"
				}
				return ""
			}},
		{ID: "codes", Head: "codes", Text: "trouble codes stored after two cold starts of 150 s", say: func(s Signature) string { return s.Codes }},
	}
}

// Apart says by which readings a mechanic would tell two signatures of a car apart; none of those that the car does not have.
func Apart(c *car.Car, p SignatureProbes, a, b Signature) []SignatureColumn {
	var by []SignatureColumn
	for _, k := range SignatureColumns() {
		if k.On(c, p) && k.Felt(a, b) {
			by = append(by, k)
		}
	}
	return by
}

// String is the signature in one line, for messages: what the car lacks reads as 0.
func (s Signature) String() string {
	cells := []string{s.Fault + ":" + strconv.FormatFloat(s.Severity, 'g', 2, 64)}
	for _, k := range SignatureColumns() {
		if text := k.Cell(s); text != "" {
			cells = append(cells, k.ID+" "+text)
		}
	}
	return strings.Join(cells, ", ")
}
