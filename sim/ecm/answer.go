package ecm

import (
	"errors"
	"slices"

	"coldbay/sim/scan"
)

// Answer is the controller's response to a scan tool's request, nil when it keeps silent: asleep, or asked for what it does not
// have, which on CAN is not refused but left unanswered (ISO 15765-4, functional addressing; from memory). Refused with a negative response
// are erasing while the engine runs, and output tests whose conditions are not met.
func Answer(p *Spec, s *State, request []byte) []byte {
	if !s.key || len(request) == 0 {
		return nil
	}
	if request[0] == byte(scan.Routine) {
		return s.control(p, request)
	}
	q, err := scan.ParseRequest(request)
	if err != nil {
		return nil
	}
	r := scan.Response{Service: q.Service}
	switch q.Service {
	case scan.LiveData:
		for _, pid := range q.IDs {
			if data := s.live(p, pid); data != nil {
				r.Items = append(r.Items, scan.Item{ID: pid, Data: data})
			}
		}
	case scan.FreezeData:
		if q.Frame != 0 {
			return nil
		}
		f, err := Frame(p, s)
		if err != nil {
			return nil
		}
		r = f.Answer(q.IDs...)
	case scan.ConfirmedCodes:
		r.Codes = List(p, s, Confirmed)
	case scan.PendingCodes:
		r.Codes = List(p, s, Pending)
	case scan.PermanentCodes:
		r.Codes = List(p, s, Permanent)
	case scan.ClearCodes:
		if Erase(s) != nil {
			r.Refused = scan.ConditionsNotCorrect
		}
	case scan.MonitorResults:
		if err := s.monitorResults(p, q, &r); err != nil {
			return nil
		}
	case scan.VehicleInfo:
		info, ok := s.info(p, q.IDs[0])
		if !ok {
			return nil
		}
		r.Info = info
	}
	b, err := r.Bytes()
	if err != nil {
		return nil // nothing of what was asked for is here
	}
	return b
}

// live is the data of a parameter of service 01, nil when it is not supported.
func (s *State) live(p *Spec, pid byte) []byte {
	status := func(thisCycle bool) []byte {
		b := Readiness(p, s, thisCycle).Bytes()
		return b[:]
	}
	switch pid {
	case scan.PIDReadiness:
		return status(false)
	case scan.PIDMonitorCycle:
		return status(true)
	case 0x00, 0x20, 0x40:
		ids := append(PIDs(p, int(s.banks)), scan.PIDReadiness, scan.PIDWarmUps, scan.PIDMonitorCycle, 0x20, 0x40)
		mask := scan.SupportMask(pid, ids...)
		return mask[:]
	}
	values, ok := Value(p, s, pid)
	if !ok {
		return nil
	}
	row, _ := scan.Lookup(pid)
	for len(values) < len(row.Fields) {
		values = append(values, 0) // a second fuel system that these cars do not have
	}
	data, err := scan.Encode(pid, values...)
	if err != nil {
		return nil
	}
	return data
}

// Frame is the freeze frame as a message holds it.
func Frame(p *Spec, s *State) (scan.FreezeFrame, error) {
	var f scan.FreezeFrame
	frame := s.frame()
	if frame.owner == 0 {
		return f, nil
	}
	f.Code = dtc(p.Codes.of(int(frame.owner) - 1))
	for i, pid := range framePIDs {
		if !s.frames(pid) {
			continue
		}
		values := []float64{float64(frame.values[i])}
		row, _ := scan.Lookup(pid)
		for len(values) < len(row.Fields) {
			values = append(values, 0)
		}
		if err := f.Store(pid, values...); err != nil {
			return scan.FreezeFrame{}, err
		}
	}
	return f, nil
}

// monitorResults answers for bit maps and for the monitors that have results.
func (s *State) monitorResults(p *Spec, q scan.Request, r *scan.Response) error {
	mids := p.mids()
	for _, mid := range q.IDs {
		switch {
		case mid%0x20 == 0 && mid <= 0x60 && len(mids) > 0:
			mask := scan.SupportMask(mid, append([]byte{0x20, 0x40, 0x60}, mids...)...)
			r.Items = append(r.Items, scan.Item{ID: mid, Data: mask[:]})
		case slices.Contains(mids, mid):
			list, err := Results(p, s, mid)
			if err != nil {
				return err
			}
			r.Results = append(r.Results, list...)
		}
	}
	return nil
}

// controllerName is the name of the engine's controller in service 09 [form from memory of SAE J1979].
const controllerName = "ECM-EngineControl"

// info is vehicle information.
func (s *State) info(p *Spec, kind byte) (scan.Info, bool) {
	text := map[byte]string{scan.InfoVIN: p.VehicleNumber, scan.InfoCalibration: p.Calibration, scan.InfoController: controllerName}[kind]
	switch kind {
	case scan.InfoSupported:
		mask := scan.SupportMask(0, scan.InfoVIN, scan.InfoCalibration, scan.InfoInUse, scan.InfoController)
		return scan.Info{Type: kind, Count: 1, Data: mask[:]}, true
	case scan.InfoInUse:
		return s.InUse().Info(), true
	case scan.InfoVIN, scan.InfoCalibration, scan.InfoController:
		if text == "" {
			return scan.Info{}, false
		}
		i, err := scan.NewInfoText(kind, text)
		return i, err == nil
	}
	return scan.Info{}, false
}

// actuatorOf is the output test behind a routine's identifier.
func actuatorOf(id uint16) (Actuator, bool) {
	switch id {
	case scan.RoutinePump:
		return TestPump, true
	case scan.RoutineSolenoid:
		return TestSolenoid, true
	case scan.RoutineBoth:
		return TestBoth, true
	}
	return NoTest, false
}

// control starts, stops or tells of an output test: routine control of ISO 14229-1, with identifiers of our own.
func (s *State) control(p *Spec, request []byte) []byte {
	refuse := func(why scan.Refusal) []byte {
		b, _ := scan.Response{Service: scan.Routine, Refused: why}.Bytes()
		return b
	}
	q, err := scan.ParseRoutine(request)
	if err != nil {
		return refuse(scan.FormatNotSupported)
	}
	a, ok := actuatorOf(q.ID)
	if !ok {
		return refuse(scan.OutOfRange)
	}
	reply := scan.RoutineReply{Do: q.Do, ID: q.ID}
	switch q.Do {
	case scan.StartRoutine:
		switch err := Actuate(p, s, a); {
		case errors.Is(err, ErrNoOutput):
			return refuse(scan.OutOfRange)
		case err != nil:
			return refuse(scan.ConditionsNotCorrect)
		}
		reply.Running = true
	case scan.StopRoutine:
		if s.test != a {
			return refuse(scan.WrongSequence)
		}
		s.test = NoTest
	case scan.RoutineResults:
		reply.Running, reply.Shut = s.test == a, s.shut
	}
	return reply.Bytes()
}
