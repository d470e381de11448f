package sim

import (
	"fmt"
	"math"
	"strings"

	"coldbay/sim/car"
)

// Signature is what a mechanic's usual readings are on a car with one fault: the steady readings 20 s into the cold run, the
// hand pump on the valve's vacuum line, the solenoid's coil, light-off and the codes after two cold starts. Authors read it to see
// whether severities are different cars; tests to see whether a fault does what its name says.
type Signature struct {
	Fault    string  `json:"fault"`
	Severity float64 `json:"severity"`
	Amps     float64 `json:"pump_a"`
	Volts    float64 `json:"pump_v"`           // across the pump's plug
	Flow     float64 `json:"flow_kg_h"`        // into the exhaust
	Flow2    float64 `json:"flow_2_kg_h"`      // of it into that of a second bank
	Pipe     float64 `json:"pipe_kpa"`         // gauge pressure behind the pump
	Chamber  float64 `json:"chamber_kpa"`      // vacuum that holds the valve open
	Opening  float64 `json:"opening_s"`        // from the solenoid's command to full lift; +Inf: never in this run
	Lift     float64 `json:"lift_mm"`          // of the valve
	Pulled   float64 `json:"hand_kpa"`         // vacuum after four strokes on the line to the valve, taken off at the solenoid
	Held     float64 `json:"hand_30s_kpa"`     // the same 30 s later
	CoilOhm  float64 `json:"solenoid_ohm"`     // +Inf: open
	LitAt    float64 `json:"light_off_s"`      // 0: not within 150 s
	Lambda   float64 `json:"lambda"`           // in the exhaust, 20 s into the run
	RestVac  float64 `json:"rest_chamber_kpa"` // chamber vacuum a second after the air has stopped
	Trim     float64 `json:"trim_percent"`     // short and long fuel trim, 140 s after the start
	Warm     float64 `json:"pipe_warm_k"`      // what exhaust that comes back warms the pressure pipe by, at the same time
	Kept     float64 `json:"kept_kpa"`         // vacuum in the reservoir half a minute after the engine was stopped
	KeyOn    bool    `json:"pump_at_key_on"`   // the pump turns with the key on, before the engine does
	KeyOff   bool    `json:"pump_at_key_off"`  // or still a minute after the key went off
	Codes    string  `json:"codes"`
}

// SignatureProbes names the terminals and hoses of a car that a signature is read at.
type SignatureProbes struct {
	Motor, PlugPlus, PlugMinus    string // motor and the two sides of its plug
	Pipe, Chamber, Valve          string // volume behind the pump, the valve's chamber, the valve
	Reservoir                     string // "" in a car without one
	LineEnd                       string // hose end of the valve's vacuum line at the solenoid
	CoilPlug, CoilPlus, CoilMinus string
}

// ProbesA are those of car A.
var ProbesA = SignatureProbes{Motor: "pump_motor", PlugPlus: "pump_1h", PlugMinus: "pump_2h", Pipe: "scroll", Chamber: "chamber", Reservoir: "reservoir", Valve: "air_valve",
	LineEnd: "line_valve.b", CoilPlug: "sol_plug", CoilPlus: "sol_1", CoilMinus: "sol_2"}

// Sign runs a car with the fault, "" for none, and reads its signature.
func Sign(c *car.Car, p SignatureProbes, cond Conditions, faultID string, severity float64) (Signature, error) {
	s := Signature{Fault: faultID, Severity: severity, Opening: math.Inf(1), CoilOhm: math.Inf(1)}
	var faults []FaultChoice
	if faultID != "" {
		faults = []FaultChoice{{faultID, severity}}
	}
	fresh, err := New(c, cond, faults...)
	if err != nil {
		return s, err
	}
	if err := s.coldRun(fresh.Clone(), p); err != nil {
		return s, fmt.Errorf("%s %.1f, cold run: %w", faultID, severity, err)
	}
	if err := s.handPump(fresh.Clone(), p); err != nil {
		return s, fmt.Errorf("%s %.1f, hand pump: %w", faultID, severity, err)
	}
	if err := s.coil(fresh.Clone(), p); err != nil {
		return s, fmt.Errorf("%s %.1f, coil: %w", faultID, severity, err)
	}
	return s, nil
}

// crankFor starts the engine within so many ticks, or gives up.
func (w *World) crankFor(ticks int) {
	w.SetKey(true)
	w.Step(10)
	w.SetStarter(true)
	for i := 0; i < ticks && !w.Running() && w.err == nil; i++ {
		w.Step(1)
	}
	w.SetStarter(false)
}

func (s *Signature) coldRun(w *World, p SignatureProbes) (err error) {
	read := func(f func() (float64, error)) float64 {
		v, e := f()
		if e != nil && err == nil {
			err = e
		}
		return v
	}
	w.SetKey(true)
	w.Step(30)
	s.KeyOn = w.PumpSpeed(p.Motor) > 40
	w.SetKey(false)
	w.Step(50)
	w.crankFor(50)
	commanded, rested := 0.0, false
	for w.Running() && w.RunS() < 150 && w.err == nil {
		w.Step(1)
		if commanded == 0 && w.ec.Sol {
			commanded = w.RunS()
		}
		if math.IsInf(s.Opening, 1) && commanded > 0 && w.ValveLift(p.Valve) > 0.95*read(func() (float64, error) { return w.Param(p.Valve, "lift_m") }) {
			s.Opening = w.RunS() - commanded
		}
		if t := w.RunS(); t >= 20 && t < 20.05 {
			if p.Motor != "" {
				s.Amps = read(func() (float64, error) { return w.Amps(p.Motor) })
				s.Volts = read(func() (float64, error) { return w.Volts(p.PlugPlus, p.PlugMinus) })
			}
			s.Flow, s.Flow2 = w.AirFlow()*3600, w.Bank(1).AirKgS*3600
			s.Pipe = -read(func() (float64, error) { return w.Vacuum(p.Pipe) }) / 1000
			if p.Chamber != "" {
				s.Chamber = read(func() (float64, error) { return w.Vacuum(p.Chamber) }) / 1000
			}
			s.Lift = w.ValveLift(p.Valve) * 1000
			s.Lambda = w.Lambda()
		}
		if done := w.ec.AirDone; p.Chamber != "" && done > 0 && w.RunS() >= done+0.95 && !rested {
			rested = true
			s.RestVac = read(func() (float64, error) { return w.Vacuum(p.Chamber) }) / 1000
		}
	}
	s.LitAt = w.LitAt()
	s.Trim = (w.ec.Short + w.ec.Long) * 100
	s.Warm = w.PipeK() - w.AmbientK()
	w.SetKey(false)
	w.Step(300)
	if p.Reservoir != "" {
		s.Kept = read(func() (float64, error) { return w.Vacuum(p.Reservoir) }) / 1000
	}
	w.Step(300)
	s.KeyOff = w.PumpSpeed(p.Motor) > 40
	w.Soak(12)
	w.crankFor(50)
	for w.Running() && w.RunS() < 110 && w.err == nil {
		w.Step(1)
	}
	s.Codes = strings.Join(w.Codes(false), " ")
	if err == nil {
		err = w.err
	}
	return err
}

func (s *Signature) handPump(w *World, p SignatureProbes) error {
	if p.LineEnd == "" {
		return nil
	}
	if at, _, err := w.HoseEndAt(p.LineEnd); err != nil {
		return err
	} else if at != "" {
		if err := w.PullEnd(p.LineEnd); err != nil {
			return err
		}
	}
	if err := w.AttachTool(HandPump, p.LineEnd); err != nil {
		return err
	}
	for range 4 {
		w.Stroke()
		w.Step(10)
	}
	s.Pulled = w.ToolVacuum() / 1000
	w.Step(300)
	s.Held = w.ToolVacuum() / 1000
	return w.err
}

func (s *Signature) coil(w *World, p SignatureProbes) error {
	if p.CoilPlug == "" {
		return nil
	}
	if err := w.SetConnector(p.CoilPlug, true); err != nil {
		return err
	}
	if err := w.Attach(0, Instrument{Kind: Ohmmeter, A: p.CoilPlus, B: p.CoilMinus}); err != nil {
		return err
	}
	w.Step(5)
	if r, ok := w.Instrument(0); ok {
		s.CoilOhm = r.Ohms
	}
	return w.err
}

// SignatureHead is the heading of a table of signatures.
const SignatureHead = "fault                    sev  pump A  pump V  kg/h  bank2  pipe kPa  chamber  lift mm  opens s  rest kPa  hand kPa  30 s   coil ohm  lambda  lit s  trim %  back K  kept  key  codes"

// String is a row of a table of signatures.
func (s Signature) String() string {
	return fmt.Sprintf("%-24s %.1f  %6.1f  %6.2f  %4.1f  %5.1f  %8.1f  %7.1f  %7.1f  %7.1f  %8.1f  %8.1f  %5.1f  %8.1f  %6.2f  %5.1f  %6.1f  %6.1f  %4.1f  %3s  %s",
		s.Fault, s.Severity, s.Amps, s.Volts, s.Flow, s.Flow2, s.Pipe, s.Chamber, s.Lift, s.Opening, s.RestVac, s.Pulled, s.Held, s.CoilOhm, s.Lambda, s.LitAt, s.Trim, s.Warm, s.Kept, s.key(), s.Codes)
}

func (s Signature) key() string {
	switch {
	case s.KeyOff:
		return "off"
	case s.KeyOn:
		return "on"
	}
	return "-"
}
