package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSummaryShowsWhatMatters(t *testing.T) {
	stream := `{"Action":"output","Package":"p","Test":"TestQuiet","Output":"chatter\n"}
{"Action":"pass","Package":"p","Test":"TestQuiet"}
{"Action":"output","Package":"p","Test":"TestLoud","Output":"    a_test.go:3: got 1, want 2\n"}
{"Action":"fail","Package":"p","Test":"TestLoud"}
{"Action":"output","Package":"p","Test":"TestAway","Output":"=== RUN   TestAway\n"}
{"Action":"output","Package":"p","Test":"TestAway","Output":"    b_test.go:9: no browser here\n"}
{"Action":"output","Package":"p","Test":"TestAway","Output":"--- SKIP: TestAway (0.00s)\n"}
{"Action":"skip","Package":"p","Test":"TestAway"}
{"Action":"output","Package":"p","Output":"a remark of the package\n"}
{"Action":"output","Package":"p","Output":"FAIL\tp\t0.1s\n"}
{"Action":"fail","Package":"p"}
{"Action":"output","Package":"q","Output":"ok  \tq\t0.2s\n"}
{"Action":"pass","Package":"q"}
not an event
`
	var out strings.Builder
	s := newSummary(&out)
	require.NoError(t, s.read(strings.NewReader(stream)))
	s.close()
	require.Equal(t, `    a_test.go:3: got 1, want 2
a remark of the package
FAIL	p	0.1s
ok  	q	0.2s
not an event
skipped: p TestAway: no browser here
tests: 1 passed, 1 failed, 1 skipped
`, out.String())
}
