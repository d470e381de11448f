package score

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"coldbay/grading/belief"
	"coldbay/sim/bench"
)

// moment is what the true car and the bench were like after an action.
type moment struct {
	undo    float64 // s that it would take to put the bench back as it was
	scan    bool    // scan tool plugged in
	warm    bool    // the engine has run since the car last came in cold
	amps    float64 // A in the first motor
	rpm     float64
	atFault []string // service units that are not as they should be, hands' work on hoses left out
}

// watchTruth does the findings' actions again in the true car and notes the moments, the first one before any action, and whom the
// trainee's board has struck at the end.
func watchTruth(ctx context.Context, cfg bench.Config, findings []bench.Finding) (out []moment, struck []string, err error) {
	cfg.Log, cfg.Forget = nil, true
	l, err := bench.NewLocal(cfg)
	if err != nil {
		return nil, nil, err
	}
	motor := ""
	if m := cfg.Car.Circuit.Motors(); len(m) > 0 {
		motor = m[0]
	}
	warm := false
	var off []string // hose ends that the trainee's hands have taken off
	note := func() moment {
		v := l.View()
		m := moment{scan: v.Scan.Plugged, undo: undo(cfg, &v, len(off)), warm: warm, rpm: l.World().Rpm()}
		if motor != "" {
			if a, err := l.World().Amps(motor); err == nil {
				m.amps = a
			}
		}
		m.atFault = l.World().UnitsAtFault(off...)
		return m
	}
	out = append(make([]moment, 0, len(findings)+1), note())
	for _, f := range findings {
		_, err := l.Do(ctx, f.Action)
		var no *bench.Refusal
		if errors.As(err, &no) {
			return nil, nil, fmt.Errorf("line %d can't be done again: %w", f.Seq, err)
		}
		if err != nil {
			return nil, nil, err
		}
		if belief.Silent(f.Action.Verb) {
			out = append(out, out[len(out)-1]) // the notebook touches no car
			continue
		}
		switch f.Action.Verb {
		case bench.Start:
			warm = true
		case bench.Soak:
			warm = false
		case bench.Drive:
			warm = true
		case bench.Pull:
			off = append(off, f.Action.On)
		case bench.Fit:
			off = slices.DeleteFunc(off, func(e string) bool { return e == f.Action.On })
		case bench.Repair:
			off = slices.DeleteFunc(off, func(e string) bool {
				at, _, err := l.World().HoseEndAt(e)
				return err == nil && at != ""
			})
		}
		out = append(out, note())
	}
	return out, l.View().Struck, nil
}

// undo is the time in s to put the bench back as the car came in, by the tariff.
func undo(cfg bench.Config, v *bench.View, off int) float64 {
	t := &cfg.Tariff.Seconds
	s := float64(off) * t.Fit
	for _, e := range v.HoseEnds {
		if e.Plugged {
			s += t.Plug
		}
	}
	for _, c := range v.Connectors {
		if c.On {
			s += t.Connector
		}
	}
	for _, p := range v.Parts {
		if !p.On {
			continue
		}
		for _, b := range cfg.Car.Bay.Parts {
			if b.ID == p.ID {
				s += b.OnS
			}
		}
	}
	for _, m := range []bench.MeterView{v.Meter, v.Clamp, v.Lamp21} {
		if m.Mode != "" {
			s += t.Away
		}
	}
	s += float64(len(v.Jumpers)) * 2 * t.Jumper
	if v.HandPump.On != "" {
		s += t.Gauge
	}
	if v.Extract {
		s += t.Extract
	}
	return math.Ceil(s)
}
