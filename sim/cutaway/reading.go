package cutaway

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Reading names one number of a film.
type Reading struct {
	Of   string  // a channel, or "light_off", "started", "code:P0491", "pending:P0491"
	Take Take    // how a channel is read
	At   float64 // s: the moment, or the beginning of the window
	To   float64 // s: the end of the window; 0 is the end of the film
}

// Take is how a channel is read.
type Take string

// The ways to read.
const (
	Now  Take = ""     // at a moment
	Max  Take = "max"  // highest in a window; over the whole film also between ticks
	Min  Take = "min"  // lowest in a window
	Mean Take = "mean" // mean over a window
	Fall Take = "fall" // first value of a window less its last
)

// Takes lists the ways to read.
func Takes() []string { return []string{"", "max", "min", "mean", "fall"} }

// Marks lists the readings that are no channels.
func Marks() []string { return []string{"light_off", "started"} }

// Check refuses a reading that a film of the schematic and run can't give.
func (r Reading) Check(s *Schematic, run Run) error {
	if code, ok := codeOf(r.Of); ok {
		if len(code) != 5 {
			return fmt.Errorf("%q: a code has five characters, such as P0491", r.Of)
		}
		return nil
	}
	if slices.Contains(Marks(), r.Of) {
		return nil
	}
	if _, ok := s.Channel(r.Of); !ok {
		return fmt.Errorf("found %q; allowed: %s, %s, code:NAME, pending:NAME", r.Of, strings.Join(Marks(), ", "), strings.Join(s.ChannelIDs(), ", "))
	}
	if !slices.Contains(Takes(), string(r.Take)) {
		return fmt.Errorf("found %q; allowed are max, min, mean, fall, or none for a moment", r.Take)
	}
	end := r.To
	if end == 0 {
		end = run.Seconds()
	}
	if r.At < 0 || r.At > run.Seconds() || end > run.Seconds() || r.Take != Now && end <= r.At {
		return fmt.Errorf("from %g to %g s; the film has %g s", r.At, end, run.Seconds())
	}
	return nil
}

func codeOf(of string) (code string, ok bool) {
	for _, p := range []string{"code:", "pending:"} {
		if rest, found := strings.CutPrefix(of, p); found {
			return rest, true
		}
	}
	return "", false
}

// Read gives the number, in the channel's unit; 1 or 0 for a code; NaN for what did not happen.
func (f *Film) Read(r Reading) float64 {
	if code, ok := codeOf(r.Of); ok {
		return bit(f.Has(code, strings.HasPrefix(r.Of, "code:")))
	}
	switch r.Of {
	case "light_off":
		return f.LightOff
	case "started":
		return f.Started
	}
	c, ok := f.of.Channel(r.Of)
	if !ok {
		return math.NaN()
	}
	end := r.To
	if end == 0 {
		end = f.Seconds
	}
	switch r.Take {
	case Now:
		return f.Channel(c, r.At)
	case Fall:
		return f.Channel(c, r.At) - f.Channel(c, end)
	case Max:
		if r.At == 0 && r.To == 0 {
			v, _ := f.High(r.Of)
			return v
		}
	}
	lo, hi, sum, n := math.Inf(1), math.Inf(-1), 0.0, 0
	for t := r.At; t <= end+1e-9; t += 0.1 {
		v := f.Channel(c, t)
		lo, hi, sum, n = min(lo, v), max(hi, v), sum+v, n+1
	}
	switch r.Take {
	case Max:
		return hi
	case Min:
		return lo
	}
	return sum / float64(n)
}
