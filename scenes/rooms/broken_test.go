package rooms_test

import (
	"context"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/sim/bench"
)

// brokenOrders are the pretended ones, on cars that can't be computed once a speed is held.
type brokenOrders struct{ standin.Orders }

func (o *brokenOrders) Open(ctx context.Context, id string, fresh bool) (stage.Opened, error) {
	x, err := o.Orders.Open(ctx, id, fresh)
	x.Session = brokenSession{x.Session}
	return x, err
}

type brokenSession struct{ bench.Session }

func (s brokenSession) Do(ctx context.Context, a bench.Action) (bench.Finding, error) {
	if a.Verb == bench.Hold {
		return bench.Finding{}, &bench.BrokenError{Line: len(s.Ledger()), Err: errors.New(`electrical network at the element "w_feed": conductance = -1 S`)}
	}
	return s.Session.Do(ctx, a)
}

// A car that can't be computed any further is told in a sentence that gives no hint, in every language, and the order can be left.
func TestBrokenAttempt(t *testing.T) {
	for lang, says := range map[string]string{"en": "Everything up to line 1 stands and is kept.", "de": "Alles bis Zeile 1 gilt", "es": "Todo hasta la línea 1 vale"} {
		x := openWith(t, 1280, 720, lang, &brokenOrders{})
		x.press("board.open.first", "order.read", "order.go")
		x.act(bench.Action{Verb: bench.Start})
		x.act(bench.Action{Verb: bench.Hold, N: 4000})
		x.frame("broken-" + lang)
		said := x.Desk.Toast
		require.Contains(t, said, says)
		require.NotContains(t, said, "w_feed")
		require.True(t, x.Desk.ToastBad)
		require.NoError(t, x.Desk.Fault)
		x.press("way.board")
		require.Equal(t, stage.Board, x.Desk.Scene())
	}
}
