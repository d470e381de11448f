package sim

import (
	"fmt"

	"coldbay/sim/air"
	"coldbay/sim/circuit"
)

// SetKey turns the ignition key.
func (w *World) SetKey(on bool) {
	w.wake()
	w.key = on
	if !on {
		w.starter, w.hold = false, 0
	}
}

// SetStarter closes or opens the starter circuit; it turns only with the key on.
func (w *World) SetStarter(on bool) { w.wake(); w.starter = on }

// HoldSpeed holds the engine at rpm with the pedal; 0 lets it idle.
func (w *World) HoldSpeed(rpm float64) { w.wake(); w.hold = rpm * 0.10471975511965977 }

// SetConnector opens or closes a connector.
func (w *World) SetConnector(id string, open bool) error { return w.SetElementOut(id, open) }

// SetElementOut takes an element (a fuse, say) out of its holder or puts it back; a new contact is made, no part is changed.
func (w *World) SetElementOut(id string, out bool) error {
	e, ok := w.car.Circuit.Elem(id)
	if !ok {
		return fmt.Errorf("no element %q", id)
	}
	w.wake()
	w.car.Circuit.SetOpen(&w.el, e, out)
	w.touch()
	return nil
}

// Opened says whether a connector is open or an element out.
func (w *World) Opened(id string) bool {
	e, ok := w.car.Circuit.Elem(id)
	return ok && w.el.Open(e)
}

// Instrument is what is put between two terminals; see circuit.Instrument.
type Instrument struct {
	Kind    circuit.InstrumentKind
	A, B    string // terminals, red and black
	Watts   float64
	AWG     int
	LengthM float64
	FuseA   float64
}

// The instruments and their readings.
const (
	Voltmeter  = circuit.Voltmeter
	Ohmmeter   = circuit.Ohmmeter
	Ammeter    = circuit.Ammeter
	TestLamp   = circuit.TestLamp
	JumperLead = circuit.JumperLead
)

// Reading is what an attached instrument carries.
type Reading = circuit.Reading

// Slots for instruments: 0 meter, 1 test lamp, 2 to 5 jumper leads.
const Slots = circuit.MaxSlots

// Attach puts an instrument between two terminals; it loads the circuit from the next step on.
func (w *World) Attach(slot int, in Instrument) error {
	if slot < 0 || slot >= Slots {
		return fmt.Errorf("slot %d, allowed is 0 to %d", slot, Slots-1)
	}
	a, okA := w.car.Circuit.Node(in.A)
	b, okB := w.car.Circuit.Node(in.B)
	if !okA || !okB {
		return fmt.Errorf("no terminals %q and %q", in.A, in.B)
	}
	w.wake()
	w.car.Circuit.Attach(&w.el, slot, circuit.Instrument{Kind: in.Kind, A: a, B: b, Watts: in.Watts, AWG: in.AWG, LengthM: in.LengthM, FuseA: in.FuseA}, w.cond.AmbientK)
	w.touch()
	return nil
}

// Detach takes the instrument of a slot away.
func (w *World) Detach(slot int) {
	w.wake()
	w.car.Circuit.Detach(&w.el, slot)
	w.touch()
}

// Instrument reads a slot at the last step; ok is false when it is empty.
func (w *World) Instrument(slot int) (Reading, bool) { return w.el.Instrument(slot) }

func (w *World) end(id string) (int, error) {
	if e := w.car.Air.End(id); e >= 0 {
		return e, nil
	}
	return 0, fmt.Errorf("no hose end %q", id)
}

func (w *World) port(id string) (int, error) {
	if p := w.car.Air.Port(id); p >= 0 {
		return p, nil
	}
	return 0, fmt.Errorf("no port %q", id)
}

// opening resolves a hose end or a port; the one that it is not comes back as -1.
func (w *World) opening(id string) (end, port int, err error) {
	if e := w.car.Air.End(id); e >= 0 {
		return e, -1, nil
	}
	if p := w.car.Air.Port(id); p >= 0 {
		return -1, p, nil
	}
	return 0, 0, fmt.Errorf("no hose end or port %q", id)
}

// hand does what may be refused. A refusal leaves the world as it was, to the bit.
func (w *World) hand(do func(*air.State) error) error {
	trial := w.pn
	if err := do(&trial); err != nil {
		return err
	}
	w.wake()
	if err := do(&w.pn); err != nil {
		return err
	}
	w.touch()
	return nil
}

// HoseEndAt says on which port a hose end is ("" hanging free) and whether it is plugged.
func (w *World) HoseEndAt(id string) (port string, plugged bool, err error) {
	e, err := w.end(id)
	if err != nil {
		return "", false, err
	}
	if p := w.pn.At(e); p >= 0 {
		return w.car.Air.PortID(p), false, nil
	}
	return "", w.pn.EndPlugged(e), nil
}

// PortHas says which hose end is on a port, "" when it is free, and whether a plug is in it.
func (w *World) PortHas(id string) (end string, plugged bool, err error) {
	p, err := w.port(id)
	if err != nil {
		return "", false, err
	}
	if e := w.pn.Has(p); e >= 0 {
		return w.car.Air.EndID(e), false, nil
	}
	return "", w.pn.PortPlugged(p), nil
}

// PullEnd takes a hose end off; it hangs open.
func (w *World) PullEnd(id string) error {
	e, err := w.end(id)
	if err != nil {
		return err
	}
	w.wake()
	w.car.Air.Pull(&w.pn, e)
	w.touch()
	return nil
}

// FitEnd pushes a free hose end on a free port.
func (w *World) FitEnd(id, port string) error {
	e, err := w.end(id)
	if err != nil {
		return err
	}
	p, err := w.port(port)
	if err != nil {
		return err
	}
	return w.hand(func(s *air.State) error { return w.car.Air.Fit(s, e, p) })
}

// SetPlug closes a free hose end or port with a plug, or opens it again.
func (w *World) SetPlug(opening string, plugged bool) error {
	e, p, err := w.opening(opening)
	if err != nil {
		return err
	}
	return w.hand(func(s *air.State) error {
		if e >= 0 {
			return s.PlugEnd(e, plugged)
		}
		return s.PlugPort(p, plugged)
	})
}

// SetPartOff takes a pneumatic part off the car or puts it back.
func (w *World) SetPartOff(id string, off bool) error {
	p := w.car.Air.Part(id)
	if p < 0 {
		return fmt.Errorf("no part %q", id)
	}
	w.wake()
	w.pn.SetOff(p, off)
	w.touch()
	return nil
}

// PartOff says whether a pneumatic part is off the car.
func (w *World) PartOff(id string) bool {
	p := w.car.Air.Part(id)
	return p >= 0 && w.pn.Off(p)
}

// ToolKind is what is pushed on an opening: see air.
type ToolKind = air.ToolKind

// The pneumatic tools.
const (
	NoTool   = air.NoTool
	HandPump = air.HandPump
	Breath   = air.Breath
	Smoke    = air.Smoke
)

// AttachTool puts the hand pump or a breath on a free, open hose end or port; one at a time.
func (w *World) AttachTool(kind ToolKind, opening string) error {
	if w.pn.Tool() != air.NoTool {
		return fmt.Errorf("a tool is in use already")
	}
	e, p, err := w.opening(opening)
	if err != nil {
		return err
	}
	return w.hand(func(s *air.State) error { return w.car.Air.SetTool(s, kind, e, p, w.cond.AmbientPa) })
}

// DetachTool takes the tool off.
func (w *World) DetachTool() { w.wake(); w.pn.DropTool(); w.touch() }

// Stroke begins one pull of the hand pump's lever, 15 cm3 over 0.4 s.
func (w *World) Stroke() { w.wake(); w.pn.Stroke(); w.touch() }

// ToolVent opens or closes the hand pump's release.
func (w *World) ToolVent(on bool) { w.wake(); w.pn.Vent(on); w.touch() }

// InstrumentKind is what sort of instrument; see circuit.
type InstrumentKind = circuit.InstrumentKind
