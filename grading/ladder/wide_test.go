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

// The board with every suspect of the car is too wide for the ladder; its par is proven all the same, with what effort the planner has.
func TestWideBoardsAreCertified(t *testing.T) {
	if os.Getenv("COLDBAY_PROVE") == "" {
		t.Skip("a minute of proving, for make prove")
	}
	_, packed, err := scenarios.DictionaryFile("whole_board")
	require.NoError(t, err)
	z, err := gzip.NewReader(bytes.NewReader(packed))
	require.NoError(t, err)
	d, err := plan.Decode(z)
	require.NoError(t, err)
	require.True(t, d.Wide())
	c, err := Certify(context.Background(), d, d.Effort())
	require.NoError(t, err)
	require.Less(t, c.Gap, 5.0)
	t.Logf("%+v", c)
}
