package ecm

// framePIDs are the parameters kept in the freeze frame, by SAE J1979 number.
var framePIDs = [...]byte{0x05, 0x0B, 0x0C, 0x0F, 0x10, 0x12, 0x1F, 0x42}

// PIDs lists the SAE J1979 parameters that the controller answers.
func PIDs() []byte {
	return []byte{0x03, 0x05, 0x06, 0x07, 0x0B, 0x0C, 0x0F, 0x10, 0x11, 0x12, 0x1F, 0x33, 0x34, 0x3C, 0x42}
}

// Value gives a parameter's physical values in the units of SAE J1979: degC, %, kPa, 1/min, g/s, s, V; 0x12 and 0x03 are the status
// bit's value (0x12: 1 upstream of the catalyst, 4 off, 8 on for diagnostics); 0x34 is the ratio and the pump current in mA.
func Value(s *State, pid byte) ([]float64, bool) {
	in := &s.last
	one := func(x float64) ([]float64, bool) { return []float64{x}, true }
	switch pid {
	case 0x03:
		switch {
		case s.closed:
			return one(2)
		case !s.started:
			return one(0)
		}
		return one(1)
	case 0x05:
		return one(in.CoolantK - 273.15)
	case 0x06:
		return one(s.Short * 100)
	case 0x07:
		return one(s.Long * 100)
	case 0x0B:
		return one(in.MapPa / 1000)
	case 0x0C:
		return one(in.Rpm)
	case 0x0F:
		return one(in.IntakeK - 273.15)
	case 0x10:
		return one(s.maf * 1000)
	case 0x11:
		return one(in.Throttle * 100)
	case 0x12:
		switch {
		case s.test != NoTest && s.Pump:
			return one(8)
		case s.Pump:
			return one(1)
		}
		return one(4)
	case 0x1F:
		return one(s.RunS)
	case 0x33:
		return one(in.BaroPa / 1000)
	case 0x34:
		lam := 1.0
		if in.SensorK > 623 {
			lam = min(in.Lambda, 1.99)
		}
		return []float64{lam, pumpCurrent(lam)}, true
	case 0x3C:
		return one(in.CatK - 273.15)
	case 0x42:
		return one(in.SupplyV)
	}
	return nil, false
}

// pumpCurrent of a wide-range sensor in mA: rising with spare oxygen, negative when rich [typical curve, from memory].
func pumpCurrent(lambda float64) float64 {
	if lambda < 1 {
		return 5.5 * (lambda - 1)
	}
	return 2.55 * (1 - 1/lambda)
}

func (s *State) freeze(i int, in *Inputs) {
	if s.frame.Set {
		return
	}
	s.frame.Set, s.frame.Source = true, int8(i)
	for k, pid := range framePIDs {
		if v, ok := Value(s, pid); ok {
			s.frame.Values[k] = v[0]
		}
	}
}
