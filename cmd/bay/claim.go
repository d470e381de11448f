package main

import (
	"context"
	"errors"

	"coldbay/scenes/platform"
	"coldbay/scenes/stage"
)

// claimed is the attempt that this window alone may write.
type claimed struct {
	id  string // empty when there is none
	let func() // lets go of it
}

// claim takes an attempt for this window. What it returns is told how the opening went: the window then holds what it has open, and nothing
// else. A closed attempt is not written any more, so two windows may look at one.
func (o *orders) claim(ctx context.Context, id string, fresh bool) (func(stage.Opened, error), error) {
	next := o.held
	if o.held.id != id {
		let, err := platform.Claim(ctx, id)
		switch {
		case errors.Is(err, platform.ErrElsewhere) && !fresh && o.finished(id):
			next = claimed{}
		case err != nil:
			return nil, err
		default:
			next = claimed{id, let}
		}
	}
	return func(opened stage.Opened, err error) {
		old := o.held
		switch {
		case err != nil:
			old = next // what was open before still is
			next = o.held
		case next.id != "" && opened.Session.View().Closed:
			next.let()
			if old.id == next.id {
				old = claimed{}
			}
			next = claimed{}
		}
		if old.id != "" && old.id != next.id {
			old.let()
		}
		o.held = next
	}, nil
}

func (o *orders) finished(id string) bool {
	a, err := o.saved(id)
	return err == nil && closed(a)
}
