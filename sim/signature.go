package sim

import (
	"fmt"
	"math"
	"strings"

	"coldbay/sim/car"
)

// Signature is what a mechanic's usual readings are on a car with one fault: the steady readings 20 s into the cold run, the
// hand pump on the valve's vacuum line, the solenoid's coil, light-off and the codes after two cold starts. Authors read it to see
// whether severities are different cars; tests to see whether a fault does what its name says. What a car has nothing to read at
// stays 0, and [SignatureColumn.On] tells which that is.
type Signature struct {
	Fault    string
	Severity float64
	Start    float64 // A, highest pump current from 0.3 s after it was switched on to 20 s after the engine's start
	Amps     float64
	Volts    float64 // across the pump's plug
	Flow     float64 // kg/h, into the exhaust
	Flow2    float64 // kg/h, of it into that of a second bank
	Pipe     float64 // kPa, gauge pressure behind the pump
	Chamber  float64 // kPa, vacuum that holds the valve open
	Chamber2 float64 // kPa, the same of the second bank's
	Opening  float64 // s from the solenoid's command to full lift; +Inf: never in this run
	Lift     float64 // mm, of the valve
	Lift2    float64 // mm, of the second bank's
	Pulled   float64 // kPa, vacuum after four strokes on the line to the valve, taken off at the solenoid
	Held     float64 // kPa, the same 30 s later
	CoilOhm  float64 // +Inf: open
	LitAt    float64 // s after the start; 0: not within 150 s
	LitAt2   float64 // the same of a second bank
	Lambda   float64 // in the exhaust, 20 s into the run
	Lambda2  float64 // in that of a second bank
	RestVac  float64 // kPa, chamber vacuum a second after the air has stopped
	Trim     float64 // per cent, short and long fuel trim, 150 s after the start
	Trim2    float64 // the same of a second bank
	Swing    float64 // per cent, how far the same comes and goes from 110 s to 150 s after the start, a drift one way taken off
	Warm     float64 // K, what exhaust that comes back warms the pressure pipe by, at the same time
	Kept     float64 // kPa, vacuum in the reservoir half a minute after the engine was stopped
	KeyOn    bool    // the pump turns with the key on, before the engine does
	KeyOff   bool    // or still a minute after the key went off
	Ran      bool    // the engine ran long enough for the readings of the run
	Flat     bool    // after the night it does not start
	Codes    string
}

// Sign runs a car with the fault, "" for none, and reads its signature.
func Sign(c *car.Car, p SignatureProbes, cond Conditions, faultID string, severity float64) (Signature, error) {
	s := Signature{Fault: faultID, Severity: severity, Opening: math.Inf(1), CoilOhm: math.Inf(1)}
	who := "sound car"
	var faults []FaultChoice
	if faultID != "" {
		faults = []FaultChoice{{faultID, severity}}
		who = fmt.Sprintf("%s at %g", faultID, severity)
	}
	fresh, err := New(c, cond, faults...)
	if err != nil {
		return s, err
	}
	if err := s.coldRun(fresh.Clone(), p); err != nil {
		return s, fmt.Errorf("%s, cold run: %w", who, err)
	}
	if err := s.handPump(fresh.Clone(), p); err != nil {
		return s, fmt.Errorf("%s, hand pump: %w", who, err)
	}
	if err := s.coil(fresh.Clone(), p); err != nil {
		return s, fmt.Errorf("%s, coil: %w", who, err)
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
	commanded, switched, rested := 0.0, 0.0, false
	var first, low, high float64 // of the trim
	for w.Running() && w.RunS() < 150 && w.err == nil {
		w.Step(1)
		if commanded == 0 && w.ec.Sol {
			commanded = w.RunS()
		}
		if p.Valve != "" && math.IsInf(s.Opening, 1) && commanded > 0 && w.ValveLift(p.Valve) > 0.95*read(func() (float64, error) { return w.Param(p.Valve, "lift_m") }) {
			s.Opening = w.RunS() - commanded
		}
		if switched == 0 && w.ec.Pump {
			switched = w.RunS()
		}
		// The inrush is over by then; what is left of it says whether the pump turns.
		if t := w.RunS(); p.Motor != "" && switched > 0 && t > switched+0.25 && t < 20.05 {
			s.Start = max(s.Start, read(func() (float64, error) { return w.Amps(p.Motor) }))
		}
		if t := w.RunS(); t >= 20 && t < 20.05 {
			if p.Motor != "" {
				s.Amps = read(func() (float64, error) { return w.Amps(p.Motor) })
				s.Volts = read(func() (float64, error) { return w.Volts(p.PlugPlus, p.PlugMinus) })
			}
			s.Flow, s.Flow2 = w.AirFlow()*3600, w.Bank(1).AirKgS*3600
			if p.Pipe != "" {
				s.Pipe = -read(func() (float64, error) { return w.Vacuum(p.Pipe) }) / 1000
			}
			if p.Chamber != "" {
				s.Chamber = read(func() (float64, error) { return w.Vacuum(p.Chamber) }) / 1000
			}
			if p.Chamber2 != "" {
				s.Chamber2 = read(func() (float64, error) { return w.Vacuum(p.Chamber2) }) / 1000
			}
			s.Lift = w.ValveLift(p.Valve) * 1000
			if p.Valve2 != "" {
				s.Lift2 = w.ValveLift(p.Valve2) * 1000
			}
			s.Lambda, s.Lambda2 = w.Bank(0).Ratio, w.Bank(1).Ratio
		}
		if done := w.ec.AirDone; p.Chamber != "" && done > 0 && w.RunS() >= done+0.95 && !rested {
			rested = true
			s.RestVac = read(func() (float64, error) { return w.Vacuum(p.Chamber) }) / 1000
		}
		if s.Trim = float64((w.ec.Short + w.ec.Long) * 100); w.RunS() < 110 {
			first, low, high = s.Trim, s.Trim, s.Trim
		}
		s.Trim2 = float64((w.ec.Short2 + w.ec.Long2) * 100)
		low, high = min(low, s.Trim), max(high, s.Trim)
		s.Swing = high - low - math.Abs(s.Trim-first)
	}
	s.Ran = w.RunS() >= 149
	s.LitAt, s.LitAt2 = w.Bank(0).LitAt, w.Bank(1).LitAt
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
	s.Flat = !w.Running()
	for w.Running() && w.RunS() < 150 && w.err == nil { // as long, or what the first run found could not be found again
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
