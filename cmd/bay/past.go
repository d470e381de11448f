package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"

	"coldbay/grading/score"
	"coldbay/scenes/platform"
	"coldbay/scenes/stage"
	"coldbay/sim/bench"
	"coldbay/sim/car"
)

// orderOf is the order that an attempt is of.
func orderOf(id string) string { return strings.TrimSuffix(id, stage.RetakeSuffix) }

// Replay plays the attempt whose debrief was made last again, and notes the bay at every moment.
func (o *orders) Replay(ctx context.Context, id string) (*stage.Past, error) {
	if o.past == nil || o.past.id != id {
		return nil, fmt.Errorf("order %s has no debrief yet", id)
	}
	cfg, findings := o.past.c.Config, o.past.findings
	cfg.Log = nil
	l, err := bench.NewLocal(cfg)
	if err != nil {
		return nil, err
	}
	p := &stage.Past{Ledger: findings, Last: len(findings) - 1, Fault: o.past.fault}
	p.At, p.Wounds = whereabouts(cfg.Car, cfg.Order.Truth.Fault)
	p.Places = placesOf(l.Catalogue(), p.At)
	left := score.Standing(*o.past.c)
	var off []string // hose ends that the trainee's hands have taken off
	note := func() error {
		m := stage.Moment{View: l.View(), Left: left[len(p.Moments)], Faulty: len(l.World().UnitsAtFault(off...)) > 0}
		m.View.HoseEnds = slices.Clone(m.View.HoseEnds)
		for i, e := range m.View.HoseEnds {
			if m.View.HoseEnds[i].At, m.View.HoseEnds[i].Plugged, err = l.World().HoseEndAt(e.ID); err != nil {
				return err
			}
		}
		p.Moments = append(p.Moments, m)
		return nil
	}
	if err := note(); err != nil {
		return nil, err
	}
	for _, f := range findings {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if _, err := l.Do(ctx, f.Action); err != nil {
			return nil, fmt.Errorf("line %d can't be done again: %w", f.Seq, err)
		}
		switch f.Action.Verb {
		case bench.Pull:
			off = append(off, f.Action.On)
		case bench.Fit:
			off = slices.DeleteFunc(off, func(e string) bool { return e == f.Action.On })
		}
		if err := note(); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// whereabouts lists the ids of what a fault sits at, and words for how it looks on hoses.
func whereabouts(c *car.Car, fault string) (at []string, wounds map[string]string) {
	wounds = map[string]string{}
	add := func(ids ...string) {
		for _, id := range ids {
			if id != "" && !slices.Contains(at, id) {
				at = append(at, id)
			}
		}
	}
	members, err := c.Members(fault)
	if err != nil {
		return nil, wounds
	}
	for _, f := range members {
		for _, ch := range f.Changes {
			add(ch.Detach)
			add(ch.Swap...)
			owner, param, _ := strings.Cut(ch.Set, ".")
			add(owner)
			for _, e := range c.Electrical.Elements {
				if e.ID == owner {
					add(e.A, e.B, e.C, e.D)
					for _, pair := range e.Pins {
						add(pair[0], pair[1])
					}
				}
			}
			near := []string{owner}
			for _, p := range c.Pneumatic.Parts {
				if p.ID == owner {
					near = append(near, p.A, p.B, p.Supply, p.Out, p.Dump, p.Chamber)
				}
			}
			for _, p := range c.Pneumatic.Ports {
				if slices.Contains(near, p.ID) || p.On != "" && slices.Contains(near, p.On) {
					add(p.ID)
				}
			}
			for _, p := range c.Bay.Parts {
				if owner != "" && (p.Pump == owner || p.Valve == owner || p.Fuse == owner) {
					add(p.ID)
				}
			}
			for _, s := range c.Bay.Signs {
				if s.Of == owner && s.Param == param {
					wounds[owner] = s.See
				}
			}
		}
	}
	return at, wounds
}

// placesOf are the places of things.
func placesOf(c bench.Catalogue, ids []string) []string {
	var out []string
	add := func(id, place string) {
		if place != "" && slices.Contains(ids, id) && !slices.Contains(out, place) {
			out = append(out, place)
		}
	}
	for _, list := range [][]bench.Spot{c.Terminals, c.Ports, c.Connectors, c.Parts, c.Clamps, c.Devices} {
		for _, s := range list {
			add(s.ID, s.Place)
		}
	}
	for _, h := range c.Hoses {
		add(h.ID, h.PlaceA)
		add(h.ID, h.PlaceB)
		add(h.ID+".a", h.PlaceA)
		add(h.ID+".b", h.PlaceB)
	}
	return out
}

// Retake begins an attempt that stands where the closed one stood after a ledger line: its actions up to there are done again, into a
// log of its own that says so. One that was begun before from the same order is moved aside.
func (o *orders) Retake(ctx context.Context, id string, line int) (opened stage.Opened, err error) {
	order := orderOf(id)
	name := order + stage.RetakeSuffix
	ord, err := o.lib.Load(order)
	if err != nil {
		return stage.Opened{}, err
	}
	raw, err := platform.Load(id)
	if err != nil {
		return stage.Opened{}, fmt.Errorf("read the attempt: %w", err)
	}
	a, err := bench.ReadAttempt(id, bytes.NewReader(raw))
	if err != nil {
		return stage.Opened{}, err
	}
	settle, err := o.claim(ctx, name, true)
	if err != nil {
		return stage.Opened{}, err
	}
	defer func() { settle(opened, err) }()
	if line < 0 || line > len(a.Findings) || line > 0 && a.Findings[line-1].Action.Verb == bench.Finish {
		return stage.Opened{}, fmt.Errorf("the attempt can't be gone on with after line %d", line)
	}
	cfg := o.lib.Config(ord, version)
	cfg.Breathe = breather(always)
	sum := sha256.Sum256(raw)
	cfg.Retake = &bench.Retake{After: line, Of: hex.EncodeToString(sum[:])}
	// It is written when all of it is there, so that a program that is stopped meanwhile leaves no half of one.
	var log bytes.Buffer
	cfg.Log = bench.NewLogWriter(&log, nil)
	l, err := bench.NewLocal(cfg)
	if err != nil {
		return stage.Opened{}, err
	}
	for _, f := range a.Findings[:line] {
		if err := ctx.Err(); err != nil {
			return stage.Opened{}, err
		}
		if _, err := l.Do(context.WithoutCancel(ctx), f.Action); err != nil {
			return stage.Opened{}, fmt.Errorf("line %d can't be done again: %w", f.Seq, err)
		}
	}
	if err := platform.MoveAside(name, name+asideSuffix); err != nil && !missing(err) {
		return stage.Opened{}, err
	}
	if err := platform.Replace(name, log.Bytes()); err != nil {
		return stage.Opened{}, err
	}
	return o.reopen(ctx, ord, name, false)
}

// retaken tells what the board says about the second try of an order.
func (o *orders) retaken(id string, line *stage.Order) {
	a, err := o.saved(id + stage.RetakeSuffix)
	if errors.Is(err, platform.ErrNoAttempt) {
		return
	}
	line.Tried = true
	if err == nil {
		line.TriedDone = closed(a)
		if a.Header.Retake != nil {
			line.TriedFrom = a.Header.Retake.After
		}
	}
}
