package scan

import (
	"errors"
	"fmt"
)

// Service is the first byte of a request.
type Service byte

// The services that the simulated controllers answer. Service $08 (control of
// an on-board system) is not among them: actuator tests are the vehicle
// maker's own and belong to the bench.
const (
	LiveData       Service = 0x01
	FreezeData     Service = 0x02
	ConfirmedCodes Service = 0x03
	ClearCodes     Service = 0x04
	MonitorResults Service = 0x06
	PendingCodes   Service = 0x07
	VehicleInfo    Service = 0x09
	PermanentCodes Service = 0x0A
)

const (
	positive = 0x40 // added to the service in a positive response
	negative = 0x7F // begins a negative response

	// maxIDs is how many identifiers one request may ask for (ISO 15031-5 on
	// CAN, from memory), maxPairs how many pairs of identifier and frame.
	maxIDs   = 6
	maxPairs = 3
	maxCodes = 255
)

// Refusal is the reason in a negative response (ISO 14229-1, from memory).
type Refusal byte

// The reasons used here.
const (
	NotRefused           Refusal = 0
	ServiceNotSupported  Refusal = 0x11
	FormatNotSupported   Refusal = 0x12
	ConditionsNotCorrect Refusal = 0x22
)

// ErrMessage is wrapped by every error about a malformed message.
var ErrMessage = errors.New("malformed message")

func malformed(format string, args ...any) error {
	return fmt.Errorf("%w: %s", ErrMessage, fmt.Sprintf(format, args...))
}

// Request is what a scan tool asks.
type Request struct {
	Service Service
	IDs     []byte // parameters, monitors or the one information type
	Frame   byte   // freeze frame number, service $02 only
}

// Bytes writes the request: the service and its identifiers, in service $02
// each followed by the frame number.
func (r Request) Bytes() ([]byte, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	b := []byte{byte(r.Service)}
	for _, id := range r.IDs {
		b = append(b, id)
		if r.Service == FreezeData {
			b = append(b, r.Frame)
		}
	}
	return b, nil
}

// ParseRequest reads a request. In service $02 all pairs must ask for the same
// frame.
func ParseRequest(b []byte) (Request, error) {
	if len(b) == 0 {
		return Request{}, malformed("empty request")
	}
	r := Request{Service: Service(b[0])}
	rest := b[1:]
	if r.Service == FreezeData {
		if len(rest)%2 != 0 {
			return Request{}, malformed("freeze frame request of %d bytes", len(b))
		}
		for i := 0; i < len(rest); i += 2 {
			if i > 0 && rest[i+1] != r.Frame {
				return Request{}, malformed("freeze frame request for two frames")
			}
			r.IDs, r.Frame = append(r.IDs, rest[i]), rest[i+1]
		}
	} else {
		r.IDs = append(r.IDs, rest...)
	}
	if err := r.check(); err != nil {
		return Request{}, err
	}
	return r, nil
}

func (r Request) check() error {
	low, high := 0, 0
	switch r.Service {
	case LiveData, MonitorResults:
		low, high = 1, maxIDs
	case FreezeData:
		low, high = 1, maxPairs
	case VehicleInfo:
		low, high = 1, 1
	case ConfirmedCodes, ClearCodes, PendingCodes, PermanentCodes:
	default:
		return malformed("service $%02X is not known", byte(r.Service))
	}
	if n := len(r.IDs); n < low || n > high {
		return malformed("request for service $%02X with %d identifiers: allowed are %d to %d", byte(r.Service), n, low, high)
	}
	if r.Frame != 0 && r.Service != FreezeData {
		return malformed("frame number in a request for service $%02X", byte(r.Service))
	}
	return nil
}

// Item is one parameter in a response to service $01 or $02, or the bit map of
// supported monitors in service $06.
type Item struct {
	ID    byte
	Frame byte // service $02 only
	Data  []byte
}

// Readings decodes the item's data.
func (i Item) Readings() ([]Reading, error) { return Decode(i.ID, i.Data) }

// Response is what a controller answers. Which fields count depends on the
// service: Items for $01, $02 and the bit maps of $06; Codes for $03, $07 and
// $0A; Results for $06; Info for $09. If Refused is set, it is a negative
// response and nothing else counts.
type Response struct {
	Service Service
	Items   []Item
	Codes   []DTC
	Results []Result
	Info    Info
	Refused Refusal
}

// Bytes writes the response as one reassembled message.
func (r Response) Bytes() ([]byte, error) {
	if r.Refused != NotRefused {
		return []byte{negative, byte(r.Service), byte(r.Refused)}, nil
	}
	b := []byte{byte(r.Service) + positive}
	switch r.Service {
	case LiveData, FreezeData:
		return r.appendItems(b)
	case ConfirmedCodes, PendingCodes, PermanentCodes:
		// On CAN the number of codes comes first (ISO 15765-4, from memory).
		if len(r.Codes) > maxCodes {
			return nil, malformed("%d codes do not fit", len(r.Codes))
		}
		b = append(b, byte(len(r.Codes)))
		for _, c := range r.Codes {
			b = append(b, byte(c>>8), byte(c))
		}
		return b, nil
	case ClearCodes:
		return b, nil
	case MonitorResults:
		return r.appendResults(b)
	case VehicleInfo:
		b = append(b, r.Info.Type, r.Info.Count)
		return append(b, r.Info.Data...), nil
	}
	return nil, malformed("service $%02X is not known", byte(r.Service))
}

func (r Response) appendItems(b []byte) ([]byte, error) {
	if len(r.Items) == 0 {
		return nil, malformed("response without a parameter")
	}
	for _, item := range r.Items {
		p, ok := Lookup(item.ID)
		if !ok {
			return nil, &UnknownError{"parameter", item.ID}
		}
		if len(item.Data) != p.Size() {
			return nil, malformed("parameter $%02X with %d data bytes, it has %d", item.ID, len(item.Data), p.Size())
		}
		b = append(b, item.ID)
		if r.Service == FreezeData {
			b = append(b, item.Frame)
		}
		b = append(b, item.Data...)
	}
	return b, nil
}

// ParseResponse reads a response. Codes of zero are padding and left out; so is
// a cut-off record at the end of service $06 (an open decoder does the same).
func ParseResponse(b []byte) (Response, error) {
	if len(b) == 0 {
		return Response{}, malformed("empty response")
	}
	if b[0] == negative {
		if len(b) != 3 || b[2] == 0 {
			return Response{}, malformed("negative response % X", b)
		}
		return Response{Service: Service(b[1]), Refused: Refusal(b[2])}, nil
	}
	if b[0] < positive {
		return Response{}, malformed("response begins with %02X", b[0])
	}
	r := Response{Service: Service(b[0] - positive)}
	if err := r.parse(b[1:]); err != nil {
		return Response{}, err
	}
	return r, nil
}

func (r *Response) parse(b []byte) error {
	switch r.Service {
	case LiveData, FreezeData:
		return r.parseItems(b)
	case ConfirmedCodes, PendingCodes, PermanentCodes:
		return r.parseCodes(b)
	case ClearCodes:
		if len(b) != 0 {
			return malformed("%d bytes after the answer to clearing codes", len(b))
		}
		return nil
	case MonitorResults:
		return r.parseResults(b)
	case VehicleInfo:
		if len(b) < 2 {
			return malformed("vehicle information of %d bytes", len(b))
		}
		r.Info = Info{Type: b[0], Count: b[1], Data: append([]byte(nil), b[2:]...)}
		return nil
	}
	return malformed("answer to service $%02X, which is not known", byte(r.Service))
}

func (r *Response) parseItems(b []byte) error {
	head := 1
	if r.Service == FreezeData {
		head = 2
	}
	if len(b) == 0 {
		return malformed("response without a parameter")
	}
	for len(b) > 0 {
		p, ok := Lookup(b[0])
		if !ok {
			return &UnknownError{"parameter", b[0]}
		}
		if len(b) < head+p.Size() {
			return malformed("parameter $%02X is cut off", p.PID)
		}
		item := Item{ID: b[0], Data: append([]byte(nil), b[head:head+p.Size()]...)}
		if head == 2 {
			item.Frame = b[1]
		}
		r.Items = append(r.Items, item)
		b = b[head+p.Size():]
	}
	return nil
}

func (r *Response) parseCodes(b []byte) error {
	if len(b) == 0 {
		return malformed("code response without a count")
	}
	n := int(b[0])
	b = b[1:]
	if len(b) < 2*n {
		return malformed("%d codes announced, %d bytes follow", n, len(b))
	}
	for i := range n {
		if c := DTCOf(b[2*i], b[2*i+1]); c != 0 {
			r.Codes = append(r.Codes, c)
		}
	}
	for _, pad := range b[2*n:] {
		if pad != 0 {
			return malformed("bytes after the announced codes")
		}
	}
	return nil
}
