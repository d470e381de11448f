package sound

import (
	"encoding/binary"
	"errors"
	"io"
	"math"
	"sync/atomic"

	"coldbay/scenes/sound/synth"
)

var errRate = errors.New("the sound device runs at another rate")

// stream gives the synthesiser's frames as bytes, to the device's goroutine.
type stream struct {
	synth *synth.Synth
	// alive grows with every frame of the window. When it stands still for stuck frames of sound, the window is hidden or busy, and
	// whatever goes on falls silent.
	alive atomic.Uint64
	seen  uint64
	since int
	buf   [512]float32
}

const (
	frameBytes = 8 // two channels of four bytes
	stuck      = synth.Rate * 3 / 4
)

// Read fills b with whole frames, 32-bit little-endian floats.
func (s *stream) Read(b []byte) (int, error) {
	if len(b) > 0 && len(b) < frameBytes {
		return 0, io.ErrShortBuffer
	}
	b = b[:len(b)/frameBytes*frameBytes]
	n := len(b)
	for len(b) > 0 {
		part := s.buf[:min(len(s.buf), len(b)/4)]
		s.watch(len(part) / 2)
		s.synth.Render(part)
		for i, v := range part {
			binary.LittleEndian.PutUint32(b[4*i:], math.Float32bits(v))
		}
		b = b[4*len(part):]
	}
	return n, nil
}

// watch shuts the sound off while the window gives no sign of life.
func (s *stream) watch(frames int) {
	if a := s.alive.Load(); a != s.seen {
		s.seen, s.since = a, 0
	} else if s.since < stuck {
		s.since += frames
	}
	s.synth.Gate(s.since < stuck)
}
