package stage

import (
	"context"
	"fmt"

	"coldbay/sim/bench"
)

// RetakeSuffix after an order's id names its second try, which goes on from the middle of a closed attempt and is kept beside it.
const RetakeSuffix = "-retake"

// Past is a closed attempt played again: what the bay was like at every moment of it, and the truth, which may be known now. Moment 0
// is before anything was done, moment i after ledger line i.
type Past struct {
	Ledger  []bench.Finding
	Moments []Moment
	Fault   string   // what was wrong, in words
	At      []string // ids of hoses, hose ends, terminals, ports, parts and connectors where it sat
	Places  []string // ids of the places where those are
	// Wounds are words for what the fault does to a hose's look, by the hose's id, whether it was seen or not.
	Wounds map[string]string
	// Last is the last moment from which one may try again: before the order was closed.
	Last int
}

// Moment is the bay at one moment. In its view hoses hang where they hang, seen or not.
type Moment struct {
	View   bench.View
	Left   []string // names of the suspects that the readings had left
	Faulty bool     // the fault was there still
}

// LoadPast plays the open order's closed attempt again. Then, when it is there, the function runs.
func (d *Desk) LoadPast(then func()) {
	if d.Past != nil {
		then()
		return
	}
	id := d.ID
	d.run(d.Msg.T("work.replay"), true, func(ctx context.Context) func() {
		p, err := d.Orders.Replay(ctx, id)
		return func() {
			if err != nil {
				d.fail(fmt.Errorf("replay: %w", err))
				return
			}
			d.Past = p
			then()
		}
	})
}

// Retake begins a new attempt of the open order that stands where the closed one stood after a ledger line, and shows the bay.
func (d *Desk) Retake(line int) {
	id := d.ID
	d.run(d.Msg.T("work.retake"), true, func(ctx context.Context) func() {
		o, err := d.Orders.Retake(ctx, id, line)
		if err != nil {
			return func() { d.fail(fmt.Errorf("try again from line %d: %w", line, err)) }
		}
		return d.takeUp(o, func() {
			d.Read = true
			d.Go(Bay)
		})
	})
}
