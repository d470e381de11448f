package scan

// Output tests are the vehicle maker's own and not part of SAE J1979. The simulated controllers take them as routines of ISO 14229-1
// (service $31 and its negative responses, from memory), with identifiers of our own in the range that is left to the maker
// ($0200 and up, from memory).

// Routine is routine control.
const Routine Service = 0x31

// The routines: each switches an output on and off in turn until its time is over.
const (
	RoutinePump     uint16 = 0x0A01
	RoutineSolenoid uint16 = 0x0A02
	RoutineBoth     uint16 = 0x0A03
)

// Further reasons to refuse.
const (
	WrongSequence Refusal = 0x24 // to stop what does not run
	OutOfRange    Refusal = 0x31 // no such routine
)

// RoutineDo is what is to be done with a routine.
type RoutineDo byte

// The three things that can be done.
const (
	StartRoutine   RoutineDo = 1
	StopRoutine    RoutineDo = 2
	RoutineResults RoutineDo = 3
)

// RoutineRequest asks to start or stop a routine, or how it goes.
type RoutineRequest struct {
	Do RoutineDo
	ID uint16
}

// Bytes writes the request.
func (r RoutineRequest) Bytes() []byte {
	return []byte{byte(Routine), byte(r.Do), byte(r.ID >> 8), byte(r.ID)}
}

// ParseRoutine reads a request for routine control.
func ParseRoutine(b []byte) (RoutineRequest, error) {
	if len(b) != 4 || b[0] != byte(Routine) || b[1] < 1 || b[1] > 3 {
		return RoutineRequest{}, malformed("routine control % X", b)
	}
	return RoutineRequest{RoutineDo(b[1]), uint16(b[2])<<8 | uint16(b[3])}, nil
}

// RoutineReply is the positive response, with one status byte of our own: bit 0, the routine runs; bit 1, the output has shut itself down on
// over-current since the start.
type RoutineReply struct {
	Do      RoutineDo
	ID      uint16
	Running bool
	Shut    bool
}

// Bytes writes the response.
func (r RoutineReply) Bytes() []byte {
	b := []byte{byte(Routine) + positive, byte(r.Do), byte(r.ID >> 8), byte(r.ID), 0}
	if r.Running {
		b[4] = 1
	}
	if r.Shut {
		b[4] |= 2
	}
	return b
}

// ParseRoutineReply reads the response; refused is the reason of a negative one.
func ParseRoutineReply(b []byte) (r RoutineReply, refused Refusal, err error) {
	if len(b) == 3 && b[0] == negative && b[1] == byte(Routine) && b[2] != 0 {
		return RoutineReply{}, Refusal(b[2]), nil
	}
	if len(b) != 5 || b[0] != byte(Routine)+positive || b[1] < 1 || b[1] > 3 || b[4] > 3 {
		return RoutineReply{}, 0, malformed("answer to routine control % X", b)
	}
	return RoutineReply{RoutineDo(b[1]), uint16(b[2])<<8 | uint16(b[3]), b[4]&1 != 0, b[4]&2 != 0}, 0, nil
}
