package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/cmd/coldbay/browserbay"
)

// Where the browser has no locks to give (a page that is neither of this machine nor over HTTPS), the tab that opened an order last has it,
// and the one before is told at its next action.
func TestTwoTabsWithoutLocks(t *testing.T) {
	if os.Getenv("COLDBAY_PROVE") == "" {
		t.Skip("opens the bay three times; make prove runs it")
	}
	server := newStoppable(t)
	b := startBrowser(t)
	const none = `Object.defineProperty(Navigator.prototype, "locks", { get: () => undefined })`
	b.before(none)
	m := mouse{b}
	b.open(server.url(browserbay.PagePath("cold_whisper")))
	b.waitMirror("Complaint:")
	for _, id := range []string{"order.read", "order.go", "tool.eye", "go.valve", "place.valve"} {
		m.use(step{id: id})
	}
	b.waitMirror("Look at the air valve")
	tab := b.tab()
	tab.before(none)
	tab.open(server.url(browserbay.PagePath("cold_whisper")))
	tab.waitMirror("Time and money")
	m.use(step{id: "tool.ear"})
	b.clickOn("place.valve")
	b.waitHeard("This order was opened in another window or tab")
	other := mouse{tab}
	for _, id := range []string{"tool.hand", "go.valve", "place.valve"} {
		other.use(step{id: id})
	}
	tab.open(server.url(browserbay.PagePath("cold_whisper")))
	tab.waitMirror("Time and money")
	other.use(step{id: "ledger.all"})
	said := tab.waitMirror("Suspect board")
	require.Contains(t, said, "Look at the air valve")
	require.Contains(t, said, "Feel the air valve")
	require.NotContains(t, said, "Listen at the air valve")
}
