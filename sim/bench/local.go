package bench

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"coldbay/sim"
	"coldbay/sim/car"
)

// Config is what a session in the same process is made of. Order, Car, Layout and Tariff are shared and never changed.
type Config struct {
	Order  *Order
	Car    *car.Car
	Layout *Layout
	Tariff *Tariff

	OrderDigest string // sha256 of the order file, hex
	CarDigest   string // sha256 of the car file, hex
	// TariffDigest and RubricDigest are sha256 of a school's own files, hex; empty where they are the program's.
	TariffDigest, RubricDigest string

	Program string // version of the program, for the log's header
	Model   string // version of the model, for the log's header

	// Truth overrides the order's own: the grader runs every suspect's world through it. Nil: the order's truth.
	Truth *Truth
	// Retake marks the log of an attempt that begins in the middle of an earlier one; nil for a first attempt.
	Retake *Retake
	// Log receives the attempt; nil keeps none.
	Log *LogWriter
	// Forget keeps of the ledger only how many lines it has: for the many worlds of suspects, whose ledgers nobody reads.
	Forget bool
	// Breathe is called about once for every second that a world lives through, so that a program with one thread can attend to other
	// things meanwhile. It must not touch the session. Nil: nothing is called.
	Breathe func()
}

// truth is what is wrong with the car of this session.
func (c *Config) truth() Truth {
	if c.Truth != nil {
		return *c.Truth
	}
	return c.Order.Truth
}

// Seed is the seed of the order's own car; instruments take their calibration from it, so that the same meter is used in
// every suspect's world.
func (c *Config) Seed() uint64 { return c.Order.Truth.Draw }

// Local is a [Session] over a world in the same process. It is not safe for concurrent use.
type Local struct {
	cfg    *Config
	lay    *Layout
	tar    *Tariff
	w      *sim.World
	s      state
	ledger []Finding
	lines  int // of the ledger, forgotten ones included
	log    *LogWriter
	broken error // the world can't go on; the ledger and the log stand
}

var _ Session = (*Local)(nil)

// NewLocal puts the order's car into the bay: it builds the world, runs the order's history and leaves the car standing cold. The
// log's header is written when cfg.Log is set.
func NewLocal(cfg Config) (*Local, error) {
	if cfg.Order == nil || cfg.Car == nil || cfg.Layout == nil || cfg.Tariff == nil {
		return nil, errors.New("a session needs an order, a car, its layout and a tariff")
	}
	l := &Local{cfg: &cfg, lay: cfg.Layout, tar: cfg.Tariff, s: newState(cfg.Layout), log: cfg.Log}
	if err := l.arrive(); err != nil {
		return nil, fmt.Errorf("order %s: %w", cfg.Order.ID, err)
	}
	if l.log != nil {
		if err := l.log.header(cfg.Header()); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// Clone is a second bench that goes on from the same moment. It keeps no log; its ledger holds what both have done.
func (l *Local) Clone() *Local {
	c := *l
	c.w = l.w.Clone()
	c.s = l.s.clone()
	c.ledger = slices.Clip(l.ledger) // appending to either copies first
	c.log = nil
	return &c
}

// Ledger lists what was done so far; nothing where the session forgets it. The caller must not change it.
func (l *Local) Ledger() []Finding { return l.ledger }

// World is the world inside, for the grader and for tests; a scene never sees it.
func (l *Local) World() *sim.World { return l.w }

// Closed says whether the order was closed.
func (l *Local) Closed() bool { return l.s.closed }

// job is one action being carried out: what it gave so far.
type job struct {
	ctx context.Context
	a   Action
	f   Finding
	cut bool // stopped by ctx
}

func (j *job) see(p Percept) { j.f.Percepts = append(j.f.Percepts, p) }
func (j *job) hurt(kind, of string, grave bool) {
	j.f.Hazards = append(j.f.Hazards, Hazard{Kind: kind, Of: of, Grave: grave})
}

// no is a refusal.
func (j *job) no(format string, a ...any) error {
	return &Refusal{Action: j.a, Missing: fmt.Sprintf(format, a...)}
}

// Do carries out one action; see [Session]. An error that is no *Refusal ends the attempt, most often a [BrokenError]: what was done until then
// stands.
func (l *Local) Do(ctx context.Context, a Action) (Finding, error) {
	if l.broken != nil {
		return Finding{}, l.broken
	}
	if err := ctx.Err(); err != nil {
		return Finding{}, err
	}
	j := &job{ctx: ctx, a: a}
	if l.s.closed {
		return Finding{}, j.no("the order is closed; only reading is possible now")
	}
	if l.lines >= MaxActions-1 && a.Verb != Finish {
		return Finding{}, j.no("an attempt has at most %d lines; only the finish is left", MaxActions)
	}
	if math.IsNaN(a.N) || math.IsInf(a.N, 0) {
		return Finding{}, j.no("the number is missing")
	}
	j.f = Finding{Seq: l.lines + 1, Action: a, Start: secs(l.s.ticks), Percepts: []Percept{}, Hazards: []Hazard{}}
	began := l.s.ticks
	if err := l.carryOut(j); err != nil {
		var no *Refusal
		if errors.As(err, &no) && l.s.ticks == began {
			no.Action = a // as it was asked, without what was filled in
			return Finding{}, no
		}
		return Finding{}, l.fail(err)
	}
	if err := l.w.Err(); err != nil {
		return Finding{}, l.fail(err)
	}
	l.finishHazards(j)
	if l.s.ticks > began {
		l.notice(j)
	}
	j.f.Action = j.a
	j.f.Seconds = secs(l.s.ticks - began)
	l.s.bill += j.f.Cost
	if len(j.f.Hazards) > 0 {
		l.s.noticed.last = slices.Clone(j.f.Hazards)
	}
	l.lines++
	if !l.cfg.Forget {
		l.ledger = append(l.ledger, j.f)
	}
	if l.log != nil {
		if err := l.log.append(j.f); err != nil {
			return j.f, fmt.Errorf("the action was done, but the attempt could not be written: %w", err)
		}
	}
	return j.f, nil
}

// BrokenError ends an attempt whose car can't be computed any further, or on which something went wrong that is no refusal. What was done
// until then stands and is in the log; the action that met it is not.
type BrokenError struct {
	Line int // of the ledger, the last that stands
	Err  error
}

// Error names the cause, and with it perhaps the part that is at fault: for authors and graders.
func (e *BrokenError) Error() string {
	return fmt.Sprintf("the attempt can't go on after line %d: %v", e.Line, e.Err)
}

// Unwrap gives the cause.
func (e *BrokenError) Unwrap() error { return e.Err }

// Sentence says it to the trainee, for whom the cause would be a hint.
func (e *BrokenError) Sentence() string {
	return fmt.Sprintf("the program can't work this car out any further, so what was tried last is not done; everything up to line %d stands and is kept", e.Line)
}

func (l *Local) fail(err error) error {
	l.broken = &BrokenError{Line: l.lines, Err: err}
	return l.broken
}

// ticksOf rounds a duration up to whole ticks.
func ticksOf(seconds float64) int {
	return int(math.Ceil(float64(seconds*10) - 1e-9))
}
