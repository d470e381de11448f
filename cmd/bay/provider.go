package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"coldbay/assets/messages"
	"coldbay/grading/belief"
	"coldbay/grading/dictionary"
	"coldbay/grading/score"
	"coldbay/scenarios"
	"coldbay/scenes/platform"
	"coldbay/scenes/stage"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// orders gives the window the built-in work orders, played in this process and kept by the platform under the order's id.
type orders struct {
	lib *scenarios.Library
	msg *messages.Catalogue
	now *follower // of the order that is open
	id  string    // its id

	held claimed // what is open to be written

	past *graded // the attempt whose debrief was made last
}

func newOrders(msg *messages.Catalogue) (*orders, error) {
	lib, err := scenarios.Builtin()
	if err != nil {
		return nil, fmt.Errorf("load the work orders: %w", err)
	}
	return &orders{lib: lib, msg: msg}, nil
}

// Speak takes the language of the debrief.
func (o *orders) Speak(msg *messages.Catalogue) { o.msg = msg }

// asideSuffix marks the attempt that a new one replaced.
const asideSuffix = "-before"

// List is the job board, the easiest order first.
func (o *orders) List(context.Context) ([]stage.Order, error) {
	var out []stage.Order
	for _, ord := range o.lib.ByLevel() {
		x, id := ord.Order, ord.Order.ID
		said := phrase.Order(o.msg, x)
		line := stage.Order{ID: id, Title: said.Title, Customer: said.Customer, Vehicle: said.Vehicle, Complaint: said.Complaint, Minutes: x.Minutes,
			Level: int(ord.Level()), Suspects: ord.Suspects()}
		// A damaged attempt shows as begun; opening it moves it aside.
		switch a, err := o.saved(id); {
		case errors.Is(err, platform.ErrNoAttempt):
		case err != nil:
			line.Started = true
		default:
			line.Started = len(a.Findings) > 0
			line.Done = closed(a)
		}
		o.retaken(id, &line)
		out = append(out, line)
	}
	return out, nil
}

func closed(a *bench.Attempt) bool {
	n := len(a.Findings)
	return n > 0 && a.Findings[n-1].Action.Verb == bench.Finish
}

func (o *orders) saved(id string) (*bench.Attempt, error) {
	raw, err := platform.Load(id)
	if err != nil {
		return nil, err
	}
	return bench.ReadAttempt(id, bytes.NewReader(raw))
}

// Open takes the saved attempt up again, or begins a new one. An attempt that can't be replayed is moved aside and a new one
// is begun. One that another window has open is left alone: two would write one log.
func (o *orders) Open(ctx context.Context, id string, fresh bool) (opened stage.Opened, err error) {
	ord, err := o.lib.Load(orderOf(id))
	if err != nil {
		return stage.Opened{}, err
	}
	settle, err := o.claim(ctx, id, fresh)
	if err != nil {
		return stage.Opened{}, err
	}
	defer func() { settle(opened, err) }()
	return o.reopen(ctx, ord, id, fresh)
}

// reopen is Open once the attempt is claimed.
func (o *orders) reopen(ctx context.Context, ord *scenarios.Order, id string, fresh bool) (stage.Opened, error) {
	notice := ""
	cfg := o.lib.Config(ord, version)
	cfg.Breathe = breather(always)
	if !fresh {
		s, torn, err := o.resume(ctx, id, cfg)
		if err == nil {
			return stage.Opened{ID: id, Session: o.follow(ord, cfg, s), Car: ord.Car.Car.ID, Plan: ord.Car.Car, Notice: torn}, nil
		}
		if !missing(err) {
			notice = "aside"
		}
		if ctx.Err() != nil {
			return stage.Opened{}, ctx.Err()
		}
	}
	if err := platform.MoveAside(id, id+asideSuffix); err != nil && !missing(err) {
		return stage.Opened{}, err
	}
	cfg.Log = bench.NewLogWriter(keeper(id), nil)
	s, err := bench.NewLocal(cfg)
	if err != nil {
		return stage.Opened{}, err
	}
	return stage.Opened{ID: id, Session: o.follow(ord, cfg, s), Car: ord.Car.Car.ID, Plan: ord.Car.Car, Notice: notice}, nil
}

// follow begins to keep the belief about an attempt; the one before is let go.
func (o *orders) follow(ord *scenarios.Order, cfg bench.Config, s *bench.Local) bench.Session {
	if o.now != nil {
		o.now.stop()
	}
	o.now, o.id = follow(cfg, o.belief(ord), s.Ledger()), ord.Order.ID
	return followed{Local: s, f: o.now}
}

// belief makes the belief about an order in the cells of its dictionary, which is what a debrief grades with.
func (o *orders) belief(ord *scenarios.Order) func(context.Context, bench.Config) (*belief.Belief, error) {
	return func(ctx context.Context, cfg bench.Config) (*belief.Belief, error) {
		c, err := score.Open(o.lib, ord, version)
		if err != nil {
			return nil, err
		}
		return dictionary.Belief(ctx, cfg, c.Dictionary, 1)
	}
}

func missing(err error) bool { return errors.Is(err, platform.ErrNoAttempt) }

// resume takes a saved attempt up again. Torn is the notice when its last line was lost.
func (o *orders) resume(ctx context.Context, id string, cfg bench.Config) (s *bench.Local, torn string, err error) {
	raw, err := platform.Load(id)
	if err != nil {
		return nil, "", err
	}
	a, err := bench.ReadAttempt(id, bytes.NewReader(raw))
	if err != nil {
		return nil, "", err
	}
	s, err = bench.Resume(ctx, cfg, a, bench.ContinueLog(keeper(id), nil))
	if err != nil {
		return nil, "", err
	}
	if a.Torn {
		if err := platform.Replace(id, raw[:a.Good]); err != nil {
			return nil, "", err
		}
		torn = "torn"
	}
	return s, torn, nil
}

// keeper appends what is written to a saved attempt.
type keeper string

func (k keeper) Write(p []byte) (int, error) {
	if err := platform.Append(string(k), p); err != nil {
		return 0, err
	}
	return len(p), nil
}
