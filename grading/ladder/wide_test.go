package ladder

import (
	"bytes"
	"compress/gzip"
	"context"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/grading/plan"
	"coldbay/scenarios"
)

func wideBoard(t *testing.T) *plan.Dictionary {
	t.Helper()
	_, packed, err := scenarios.DictionaryFile("whole_board")
	require.NoError(t, err)
	z, err := gzip.NewReader(bytes.NewReader(packed))
	require.NoError(t, err)
	d, err := plan.Decode(z)
	require.NoError(t, err)
	require.True(t, d.Wide())
	return d
}

// The ladder over that board takes minutes, so it stands on a page of its own, written by
//
//	go run ./cmd/coldbay ladder whole_board --plays 40 --write testdata/ladder/WHOLE_BOARD.md
func TestWideResultIsFresh(t *testing.T) {
	page, err := os.ReadFile("../../testdata/ladder/WHOLE_BOARD.md")
	require.NoError(t, err)
	require.Contains(t, string(page), "- `"+wideBoard(t).Name+"`\n", "made from another dictionary: write it again")
	require.Regexp(t, `(?m)^\| theorem \| .* \| yes \| no exception \|$`, string(page))
}

// The board with every suspect of the car is too wide for the ladder of every day; its par is proven all the same, with what effort the planner has.
func TestWideBoardsAreCertified(t *testing.T) {
	if os.Getenv("COLDBAY_PROVE") == "" {
		t.Skip("a minute of proving, for make prove")
	}
	d := wideBoard(t)
	c, err := Certify(context.Background(), d, d.Effort())
	require.NoError(t, err)
	require.Less(t, c.Gap, 5.0)
	t.Logf("%+v", c)
}
