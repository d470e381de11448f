package scan

// CAN identifiers of emissions-related diagnostics (ISO 15765-4, from memory): the tool's functional address, the first controller's
// answers, and the tool's address for that one controller.
const (
	FunctionalID uint32 = 0x7DF
	AnswerID     uint32 = 0x7E8
	PhysicalID   uint32 = 0x7E0
)

// maxMessage is the longest message that a first frame's 12 bits of length can announce.
const maxMessage = 0xFFF

// FlowControl is the tool's answer to a first frame: go on, all frames, no pause (ISO 15765-2, from memory).
var FlowControl = [8]byte{0x30}

// Frames cuts a message into the frames of ISO 15765-2 [memory]: up to 7 bytes fit a single frame, a longer message is a first frame with 6 bytes and
// consecutive frames, numbered 1 to 15 and on from 0, with 7 each. Frames are filled up with zero bytes.
func Frames(message []byte) ([][8]byte, error) {
	n := len(message)
	switch {
	case n == 0 || n > maxMessage:
		return nil, malformed("a message of %d bytes does not fit: 1 to %d are allowed", n, maxMessage)
	case n <= 7:
		f := [8]byte{byte(n)}
		copy(f[1:], message)
		return [][8]byte{f}, nil
	}
	first := [8]byte{0x10 | byte(n>>8), byte(n)}
	copy(first[2:], message)
	frames := [][8]byte{first}
	for at, number := 6, byte(1); at < n; at, number = at+7, (number+1)&0x0F {
		f := [8]byte{0x20 | number}
		copy(f[1:], message[at:])
		frames = append(frames, f)
	}
	return frames, nil
}

// Join puts a message together again.
func Join(frames [][8]byte) ([]byte, error) {
	if len(frames) == 0 {
		return nil, malformed("no frame")
	}
	first := frames[0]
	switch first[0] >> 4 {
	case 0:
		n := int(first[0])
		if n == 0 || n > 7 || len(frames) != 1 {
			return nil, malformed("single frame of %d bytes among %d frames", n, len(frames))
		}
		return append([]byte(nil), first[1:1+n]...), nil
	case 1:
		n := int(first[0]&0x0F)<<8 | int(first[1])
		if n <= 7 || (n-6+6)/7 != len(frames)-1 {
			return nil, malformed("%d bytes announced, %d frames follow", n, len(frames)-1)
		}
		b := append(make([]byte, 0, n+7), first[2:]...)
		for i, f := range frames[1:] {
			if f[0] != 0x20|byte(i+1)&0x0F {
				return nil, malformed("frame %d begins with %02X", i+1, f[0])
			}
			b = append(b, f[1:]...)
		}
		return b[:n], nil
	}
	return nil, malformed("first frame begins with %02X", first[0])
}
