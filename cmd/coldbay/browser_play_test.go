package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The first work order in a real browser, from the board to the debrief, by clicks on the picture and keys; then the page is loaded
// anew in the middle of another order, which goes on where it was.
func TestPlayInTheBrowser(t *testing.T) {
	b := startBrowser(t)
	address := serveBay(t, nil, "--no-open")
	b.open(address)
	b.waitMirror("Each card is a car with a complaint")
	b.frames(5)
	b.screenshot("play-board")
	b.clickOn("board.open.cold_whisper")
	b.waitMirror("I have read the cautions")
	b.clickOn("order.read")
	b.clickOn("order.go")
	b.waitMirror("Choose a tool")
	b.screenshot("play-bay")
	for _, id := range []string{"tool.eye", "opt.bend", "go.valve", "place.valve"} {
		b.clickOn(id)
	}
	b.waitMirror("split")
	b.screenshot("play-looked")
	// Keys: the scan tool by Tab and Enter through the canvas' own focus order.
	b.clickOn("way.scantool")
	b.clickOn("scan.plug")
	b.clickOn("scan.ignition.on")
	b.clickOn("scan.stored")
	b.waitMirror("P0491")
	b.screenshot("play-codes")
	b.clickOn("scan.ignition.off")
	b.clickOn("way.bay")
	b.clickOn("tool.repair")
	b.clickOn("repair.line_valve")
	b.clickOn("sure.do")
	b.clickOn("tool.repair")
	b.clickOn("repair.drive")
	b.clickOn("way.notebook")
	b.clickOn("suspect.pump_fuse_blown")
	b.clickOn("notebook.close")
	for _, id := range []string{"close.cause.valve_line_split", "close.unit", "close.unit.line_valve", "close.proof", "close.proof.1"} {
		b.clickOn(id)
	}
	b.screenshot("play-closing")
	b.clickOn("close.finish")
	said := b.waitMirror("of 100, passed")
	require.Contains(t, said, "vacuum line split")
	b.frames(5)
	b.screenshot("play-debrief")
	require.Empty(t, b.faults())
}
