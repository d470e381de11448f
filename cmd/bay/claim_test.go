package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/platform"
	"coldbay/scenes/stage"
	"coldbay/sim/bench"
)

// A second window on an order that is being worked on is told so and leaves the attempt alone; the first goes on.
func TestTwoWindowsOnOneOrder(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	first := openWindow(t, 1024, 600)
	first.press("board.open.cold_whisper", "order.read", "order.go", "tool.eye", "place.valve")
	kept, err := platform.Load("cold_whisper")
	require.NoError(t, err)

	second := openWindow(t, 1024, 600)
	for _, id := range []string{"board.open.cold_whisper", "board.again.cold_whisper"} {
		require.True(t, second.Page.Press(id))
		second.settle()
		require.Equal(t, stage.Board, second.Desk.Scene())
		require.Equal(t, second.Desk.Msg.T("work.elsewhere"), second.Desk.Toast)
		for _, f := range second.Built().Faults() {
			t.Error(f)
		}
	}
	same, err := platform.Load("cold_whisper")
	require.NoError(t, err)
	require.Equal(t, string(kept), string(same))
	second.press("board.open.half_a_breath", "order.read", "order.go", "tool.eye", "place.pump")

	// The first lets go of it for another order, and the second may have it; not the first any more.
	first.press("go.pump", "place.pump", "way.board", "board.open.quiet_pump")
	second.press("way.board", "board.open.cold_whisper")
	require.Len(t, second.Desk.Ledger, 2)
	first.press("way.board")
	require.True(t, first.Page.Press("board.open.cold_whisper"))
	first.settle()
	require.True(t, first.Desk.ToastBad)
	require.Equal(t, "quiet_pump", first.Desk.ID, "what was open stays open")

	// A closed attempt may be looked at in both, and begun afresh in one.
	second.Desk.Act(bench.Action{Verb: bench.Finish, List: []string{second.Desk.Cat.Suspects[0].ID}, N: 2})
	second.settle()
	require.True(t, second.Desk.View.Closed, second.Desk.Toast)
	opened, err := first.orders.Open(t.Context(), "cold_whisper", false)
	require.NoError(t, err)
	require.True(t, opened.Session.View().Closed)
	require.Empty(t, first.orders.held.id)
}

// What was lost or put aside is told.
func TestDamagedAttemptsAreTold(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	w := openWindow(t, 1024, 600)
	w.press("board.open.cold_whisper", "order.read", "order.go", "tool.eye", "place.valve", "way.board", "board.open.half_a_breath")
	w.end()
	open := func() *window {
		t.Helper()
		w := openWindow(t, 1024, 600)
		require.True(t, w.Page.Press("board.open.cold_whisper"))
		w.settle()
		w.end()
		return w
	}
	require.NoError(t, platform.Append("cold_whisper", []byte(`{"seq":2,"act`)))
	w = open()
	require.Equal(t, w.Desk.Msg.T("work.torn"), w.Desk.Toast)
	require.Len(t, w.Desk.Ledger, 1)
	require.Empty(t, open().Desk.Toast, "told once")
	require.NoError(t, platform.Replace("cold_whisper", []byte("rubbish\n")))
	w = open()
	require.Equal(t, w.Desk.Msg.T("work.aside"), w.Desk.Toast)
	require.Empty(t, w.Desk.Ledger)
	aside, err := platform.Load("cold_whisper" + asideSuffix)
	require.NoError(t, err)
	require.Equal(t, "rubbish\n", string(aside))
}
