package trace

import (
	"fmt"
	"strings"

	"coldbay/sim"
	"coldbay/sim/car"
)

// Deed is what a control does.
type Deed string

// The deeds. On names what a deed is done to, N is its number.
const (
	KeyOn    Deed = "key_on"
	KeyOff   Deed = "key_off"
	Crank    Deed = "crank"     // the starter turns until the engine runs, N seconds at most
	HoldRpm  Deed = "hold"      // N rpm by the pedal, 0: idle
	Actuate  Deed = "actuate"   // On: pump, solenoid, both, off
	Pull     Deed = "pull"      // On: hose end
	Fit      Deed = "fit"       // On: hose end, To: port
	PumpOn   Deed = "hand_pump" // On: opening
	Stroke   Deed = "stroke"    // one pull of the hand pump
	TakeOut  Deed = "take_out"  // On: element
	Repair   Deed = "repair"    // On: unit
	StandFor Deed = "stand"     // N hours with the key off, in one leap
)

// Control is a deed at a time in s after the beginning.
type Control struct {
	At float64
	Do Deed
	On string
	To string
	N  float64
}

// Scenario is a list of controls with the time before the record begins and the record's usual length.
type Scenario struct {
	Name     string
	About    string
	Before   []Control // done before the record; their times count from the delivery of the car
	LeadS    float64   // s from the delivery to the beginning of the record
	Controls []Control // their times count from the beginning of the record
	Seconds  float64   // length of the record, s
	Every    float64   // s between samples
}

const startAt = 1.0 // s between key and starter

func start(at float64) []Control {
	return []Control{{At: at, Do: KeyOn}, {At: at + startAt, Do: Crank, N: 6}}
}

// Scenarios lists the scenarios that fit a car.
func Scenarios(c *car.Car) []Scenario {
	list := []Scenario{
		{Name: "cold_start", About: "key, starter, and the whole cold run", Controls: start(0), Seconds: 130, Every: 0.05},
		{Name: "warm_idle", About: "idle of a warm engine, after seven minutes at 2200 rpm", Before: append(start(0), Control{At: 8, Do: HoldRpm, N: 2200}, Control{At: 420, Do: HoldRpm}),
			LeadS: 480, Seconds: 60, Every: 0.1},
	}
	if c.ScanPort {
		list = append(list, Scenario{Name: "actuator", About: "engine off after a run, actuator test of pump and valve, 5 s on and 5 s off",
			Before: append(start(0), Control{At: 105, Do: KeyOff}), LeadS: 115,
			Controls: []Control{{At: 0, Do: KeyOn}, {At: 2, Do: Actuate, On: "both"}}, Seconds: 40, Every: 0.05})
	}
	if nipple, end := valveNipple(c); end != "" {
		s := Scenario{Name: "hand_pump", About: "six strokes of the hand pump on the valve's vacuum nipple, then hold",
			Controls: []Control{{At: 0, Do: Pull, On: end}, {At: 0.5, Do: PumpOn, On: nipple}}, Seconds: 75, Every: 0.05}
		for i := range 6 {
			s.Controls = append(s.Controls, Control{At: 2 + float64(i), Do: Stroke})
		}
		list = append(list, s)
	}
	return append(list, Scenario{Name: "soak", About: "engine off after a run: vacuum creeps, metal cools", Before: start(0), LeadS: 120,
		Controls: []Control{{At: 0, Do: KeyOff}}, Seconds: 3600, Every: 5})
}

// FindScenario finds a scenario by name, or says which there are.
func FindScenario(c *car.Car, name string) (Scenario, error) {
	var names []string
	for _, s := range Scenarios(c) {
		if s.Name == name {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return Scenario{}, fmt.Errorf("there is no scenario %q for this car; allowed are %s", name, strings.Join(names, ", "))
}

// valveNipple is the nipple of the first vacuum-pulled valve and the hose end that belongs on it.
func valveNipple(c *car.Car) (port, end string) {
	for _, p := range c.Pneumatic.Parts {
		if p.Chamber == "" {
			continue
		}
		for _, q := range c.Pneumatic.Ports {
			if q.On != p.Chamber {
				continue
			}
			for _, h := range c.Pneumatic.Hoses {
				switch q.ID {
				case h.A:
					return q.ID, h.ID + ".a"
				case h.B:
					return q.ID, h.ID + ".b"
				}
			}
		}
	}
	return "", ""
}

// do carries out a control. A cranking that has to go on is told by the seconds that it may take.
func do(w *sim.World, c Control) (crank float64, err error) {
	switch c.Do {
	case KeyOn:
		w.SetKey(true)
	case KeyOff:
		w.SetKey(false)
	case Crank:
		w.SetStarter(true)
		return c.N, nil
	case HoldRpm:
		w.HoldSpeed(c.N)
	case Actuate:
		err = w.Actuate(c.On)
	case Pull:
		err = w.PullEnd(c.On)
	case Fit:
		err = w.FitEnd(c.On, c.To)
	case PumpOn:
		err = w.AttachTool(sim.HandPump, c.On)
	case Stroke:
		w.Stroke()
	case TakeOut:
		err = w.SetElementOut(c.On, true)
	case Repair:
		err = w.RepairUnit(c.On)
	case StandFor:
		w.Soak(c.N)
	default:
		err = fmt.Errorf("%q is nothing that a trace can do", c.Do)
	}
	return 0, err
}
