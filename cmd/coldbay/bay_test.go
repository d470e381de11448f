package main

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/cmd/coldbay/browserbay"
)

// maxDownload is what the bay may weigh as the browser fetches it, in bytes under
// gzip: the budget of the bay with all its scenes. A school's network and machines
// decide whether a class can start.
const maxDownload = 6_000_000

func TestBrowserBayDownload(t *testing.T) {
	root, err := browserbay.FindSource()
	require.NoError(t, err)
	program, err := browserbay.Build(context.Background(), root, t.TempDir())
	require.NoError(t, err)
	site, err := browserbay.NewSite(program)
	require.NoError(t, err)
	t.Logf("the bay is %d bytes, %d under gzip", site.WasmBytes, site.WasmGzipBytes)
	require.LessOrEqual(t, site.WasmGzipBytes, int64(maxDownload))
}

// The real bay comes up in a real browser and puts the job board on the page.
func TestBrowserBay(t *testing.T) {
	b := startBrowser(t)
	b.open(serveBay(t, nil, "--no-open"))
	said := b.waitMirror("Each card is a car with a complaint")
	require.Empty(t, b.gate(), "the page's own panel is out of the way")
	b.frames(3)
	b.screenshot("browser-board")
	up := eval[float64](b, `performance.getEntriesByName("bay-up")[0].startTime`)
	t.Logf("first controls %.0f ms after the page opened", up)
	require.Contains(t, said, "Training only")

	b.pressNamed("Take the order")
	b.waitMirror("Complaint:")
	require.True(t, b.named("Work order").On)
	b.screenshot("browser-order")
	require.Empty(t, b.faults())
}
