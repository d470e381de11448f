package rooms_test

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/scenes/standin"
)

// With no tool in hand every part, connector and hose of a close-up is called by its name, in every language and at the largest text, and with
// the parts taken off too, in one language.
func TestThingsAreNamedCloseUp(t *testing.T) {
	for _, id := range shippedCars(t) {
		for _, lang := range messages.Languages() {
			x := openWith(t, 1024, 600, lang, &standin.Orders{Car: id})
			x.press("board.open.first", "order.read", "order.go")
			look := func(state string) {
				t.Helper()
				for _, p := range x.Desk.Cat.Places {
					v, ok := x.Desk.Draw.View(p.ID)
					if !ok || p.ID == "front" {
						continue
					}
					x.press("go." + p.ID)
					for _, f := range x.Built().Faults() {
						t.Errorf("%s, %s, %s, %s: %s", id, lang, p.ID, state, f)
					}
					var called []string
					for _, w := range x.Built().Front.Words {
						called = append(called, w.S)
					}
					for _, sp := range slices.Concat(v.Parts, v.Connectors) {
						require.Contains(t, called, x.Desk.Phrase.Thing(sp.ID), "%s, %s, %s, %s", id, lang, p.ID, state)
					}
					if os.Getenv("COLDBAY_SHOTS") == "" {
						continue // drawing is slow, and what was built is enough
					}
					x.frame("named-" + id + "-" + lang + "-" + state + "-" + p.ID)
				}
			}
			look("whole")
			if lang != "en" {
				continue
			}
			for _, part := range x.Desk.Cat.Parts {
				x.press("tool.hands", "go."+part.Place, "part."+part.ID)
			}
			x.press("opt.away")
			look("apart")
		}
	}
}
