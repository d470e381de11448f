package ecm

import (
	"slices"

	"coldbay/sim/dmath"
	"coldbay/sim/scan"
)

// livePIDs are the parameters of service 01 that every controller here has, framePIDs those of the freeze frame, by SAE J1979 number. What a frame must hold is
// from memory of 13 CCR 1968.2 (g)(4.3): load, speed, coolant, trims, fuel system, manifold pressure, time since the start.
var (
	livePIDs  = [...]byte{0x03, 0x04, 0x05, 0x06, 0x07, 0x0B, 0x0C, 0x0F, 0x10, 0x11, 0x12, 0x1F, 0x33, 0x42, 0x44}
	framePIDs = [...]byte{0x03, 0x04, 0x05, 0x06, 0x07, 0x08, 0x09, 0x0B, 0x0C, 0x0F, 0x10, 0x12, 0x1F, 0x42}
	// bank2Trims are those of both that only a car with two banks has.
	bank2Trims = [...]byte{scan.PIDShortTrim2, scan.PIDLongTrim2}
)

// PIDs lists the SAE J1979 parameters that a scan tool shows as live data, ascending, by the kind of oxygen sensor and the number of banks. The
// controller answers for monitor status, warm-ups since erasing, and bit maps of what it supports besides.
func PIDs(p *Spec, banks int) []byte {
	out := slices.Clone(livePIDs[:])
	sensors := [2]byte{scan.PIDLambdaB1S1, scan.PIDLambdaB2S1}
	if p.NarrowBand {
		sensors = [2]byte{scan.PIDOxygenB1S1, scan.PIDOxygenB2S1}
	}
	catalysts := [2]byte{scan.PIDCatalystB1S1, scan.PIDCatalystB2S1}
	for bank := range min(max(banks, 1), 2) {
		out = append(out, sensors[bank], catalysts[bank])
		if bank == 1 {
			out = append(out, bank2Trims[:]...)
		}
	}
	slices.Sort(out)
	return out
}

// Value gives a parameter's physical values in the units of SAE J1979: degC, %, kPa, 1/min, g/s, s, V; 0x12 and 0x03 are the status
// bit's value (0x12: 1 upstream of the catalyst, 4 off, 8 on for diagnostics); 0x34 and 0x38 are the ratio and the pump current in mA, 0x14 and
// 0x18 the voltage and the short trim. ok is false for what this controller does not have.
func Value(p *Spec, s *State, pid byte) (values []float64, ok bool) {
	x, ok := s.value(pid)
	if !ok || pid != scan.PIDWarmUps && !slices.Contains(PIDs(p, int(s.banks)), pid) {
		return nil, false
	}
	switch pid {
	case scan.PIDLambdaB1S1, scan.PIDLambdaB2S1:
		return []float64{x, pumpCurrent(float64(x))}, true
	case scan.PIDOxygenB1S1:
		return []float64{x, s.Short * 100}, true
	case scan.PIDOxygenB2S1:
		return []float64{x, s.Short2 * 100}, true
	}
	return []float64{x}, true
}

// value is a parameter's first value.
func (s *State) value(pid byte) (float64, bool) {
	in := &s.seen
	switch pid {
	case scan.PIDFuelSystem:
		switch {
		case s.closed:
			return 2, true
		case !s.started:
			return 0, true
		}
		return 1, true
	case scan.PIDLoad:
		return in.load * 100, true
	case scan.PIDCoolant:
		return in.coolantK - 273.15, true
	case scan.PIDShortTrim1:
		return s.Short * 100, true
	case scan.PIDLongTrim1:
		return s.Long * 100, true
	case scan.PIDShortTrim2:
		return s.Short2 * 100, true
	case scan.PIDLongTrim2:
		return s.Long2 * 100, true
	case scan.PIDManifold:
		return in.mapPa / 1000, true
	case scan.PIDEngineSpeed:
		return in.rpm, true
	case scan.PIDIntakeAir:
		return in.intakeK - 273.15, true
	case scan.PIDAirFlow:
		return s.maf * 1000, true
	case scan.PIDThrottle:
		return in.throttle * 100, true
	case scan.PIDSecondaryAir:
		switch {
		case s.Pump && (s.test != NoTest || s.probing):
			return float64(scan.AirDiagnostic), true
		case s.Pump:
			return float64(scan.AirUpstream), true
		}
		return float64(scan.AirOff), true
	case scan.PIDRunTime:
		return s.RunS, true
	case scan.PIDWarmUps:
		return float64(s.warmUps), true
	case scan.PIDBarometer:
		return in.baroPa / 1000, true
	case scan.PIDLambdaB1S1:
		return min(in.lambda[0], 1.99), true
	case scan.PIDLambdaB2S1:
		return min(in.lambda[1], 1.99), true
	case scan.PIDOxygenB1S1:
		return in.volts(0), true
	case scan.PIDOxygenB2S1:
		return in.volts(1), true
	case scan.PIDCatalystB1S1:
		return in.catK[0] - 273.15, true
	case scan.PIDCatalystB2S1:
		return in.catK[1] - 273.15, true
	case scan.PIDModuleVoltage:
		return in.supplyV, true
	case scan.PIDCommandedLambda:
		if !s.started {
			return 1, true
		}
		return s.Lambda, true
	}
	return 0, false
}

// pumpCurrent of a wide-range sensor in mA: rising with spare oxygen, negative when rich [typical curve, from memory].
func pumpCurrent(lambda float64) float64 {
	if lambda < 1 {
		return 5.5 * (lambda - 1)
	}
	return 2.55 * (1 - 1/lambda)
}

// volts of a bank's narrow-band sensor: measured, or of the typical curve where the car gives the ratio alone.
func (in *seen) volts(bank int) float64 {
	if v := in.oxygenV[bank]; v != 0 {
		return float64(v)
	}
	return sensorVolts(in.lambda[bank])
}

// sensorVolts of a narrow-band sensor: 0.1 V lean, 0.85 V rich, steep at 1; 0.45 V while it is cold, by the controller's bias [typical curve,
// from memory].
func sensorVolts(lambda float64) float64 {
	if lambda == 1 {
		return 0.45
	}
	return 0.475 - float64(0.375*dmath.Tanh((lambda-1)/0.004))
}

// frozen is the freeze frame: the readings when a fault was first seen.
type frozen struct {
	owner  int8 // the test whose code it belongs to plus one, 0: empty
	values [len(framePIDs)]float32
}

// freeze keeps the readings of this moment for a code that has just become pending or confirmed. The frame of another fault stays, except
// when this one is of the fuel system and that one is not, or this one is confirmed and that one only pending (priorities of 13 CCR 1968.2
// from memory).
func (s *State) freeze(p *Spec, test int, confirmed bool) {
	if f := s.frame(); f.owner != 0 {
		own := int(f.owner) - 1
		fuel := isFuel(test) && !isFuel(own)
		firmer := confirmed && s.mon[own].flags&stored == 0 && !isFuel(own)
		if own == test || p.Codes.of(own) == p.Codes.of(test) || !fuel && !firmer {
			return
		}
	}
	f := &s.ownFile().frame
	f.owner = int8(test + 1)
	for k, pid := range framePIDs {
		v, _ := s.value(pid)
		f.values[k] = float32(v)
	}
}

func isFuel(test int) bool { return test >= tooLean && test <= tooRich2 }

// frames says whether a freeze frame of this car has a parameter: a second bank's trims need a second bank.
func (s *State) frames(pid byte) bool { return s.banks == 2 || !slices.Contains(bank2Trims[:], pid) }

// thaw drops the frame of a code that is gone.
func (s *State) thaw(test int) {
	if int(s.frame().owner) == test+1 {
		s.ownFile().frame = frozen{}
	}
}

// FrameCode is the code that froze the frame, "" when there is none, and the frozen values in the units of Value.
func FrameCode(p *Spec, s *State) (string, []byte, []float64) {
	frame := s.frame()
	if frame.owner == 0 {
		return "", nil, nil
	}
	var pids []byte
	var values []float64
	for i, v := range frame.values {
		if s.frames(framePIDs[i]) {
			pids, values = append(pids, framePIDs[i]), append(values, float64(v))
		}
	}
	return p.Codes.of(int(frame.owner) - 1), pids, values
}

// List gives the codes of a kind, each once.
func List(p *Spec, s *State, k Kind) []scan.DTC {
	var out []scan.DTC
	for i := range s.mon {
		if s.mon[i].flags&kindFlag[k] != 0 && p.Codes.of(i) != "" && !s.listed(p, k, i) {
			out = append(out, dtc(p.Codes.of(i)))
		}
	}
	return out
}

// dtc is a code that Check has accepted.
func dtc(code string) scan.DTC {
	d, _ := scan.ParseDTC(code)
	return d
}

// ListCodes gives the confirmed or the pending codes as text.
func ListCodes(p *Spec, s *State, pending bool) []string {
	k := Confirmed
	if pending {
		k = Pending
	}
	var out []string
	for _, c := range List(p, s, k) {
		out = append(out, c.String())
	}
	return out
}
