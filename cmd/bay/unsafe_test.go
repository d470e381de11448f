package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/scenes/stage"
	"coldbay/sim/bench"
)

// Whoever shorts the battery reads in any language what became of the lead, and the window stays whole.
func TestShortCircuitIsTold(t *testing.T) {
	for _, lang := range messages.Languages() {
		t.Setenv("XDG_CONFIG_HOME", t.TempDir())
		w := openIn(t, lang, 1024, 600)
		w.press("board.open.cold_whisper", "order.read", "order.go", "go.battery", "tool.jumper")
		for _, mode := range []string{"14awg 10A", "18awg 40A", "10awg none", "18awg none"} {
			w.Desk.Act(bench.Action{Verb: bench.Jump, On: "bat_pos", To: "bat_neg", Mode: mode})
			w.settle()
			require.Equal(t, stage.Bay, w.Desk.Scene())
			require.NotEmpty(t, w.Desk.View.Jumpers, mode)
			require.NotEmpty(t, w.Desk.View.Jumpers[0].State, mode)
			for _, f := range w.Built().Faults() {
				t.Errorf("%s, %s: %s", lang, mode, f)
			}
			w.Desk.Act(bench.Action{Verb: bench.Unjump, On: "bat_pos", To: "bat_neg"})
			w.settle()
		}
	}
}
