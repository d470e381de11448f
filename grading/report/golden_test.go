package report_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/grading/report"
	"coldbay/grading/score"
)

var update = flag.Bool("update", false, "write the golden files anew")

// attempts are debriefs of attempts that were played from scripts and graded.
var attempts = []string{"good", "half", "swapper", "unsafe", "wrong"}

func debrief(t *testing.T, name string) *score.Debrief {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", name+".json"))
	require.NoError(t, err)
	d := new(score.Debrief)
	require.NoError(t, json.Unmarshal(data, d))
	return d
}

func page(t *testing.T, d *score.Debrief) string { return pageIn(t, "en", d) }

func pageIn(t *testing.T, lang string, d *score.Debrief) string {
	t.Helper()
	msg, err := messages.Load(lang)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, report.Debrief(&b, msg, d))
	return b.String()
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(file, got, 0o644))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "run the test with -update once")
	require.Equal(t, string(want), string(got), "%s has changed; look at it, then run the test with -update", file)
}

func TestDebriefGolden(t *testing.T) {
	for _, name := range attempts {
		golden(t, name+".html", []byte(page(t, debrief(t, name))))
	}
}

// tongues are the languages beside English with a debrief that was graded in each.
var tongues = []string{"de", "es"}

// The paper of an attempt that was graded in another language: headings, labels of drawings and the heading of the table are in it, too.
func TestOtherLanguagesGolden(t *testing.T) {
	for _, lang := range tongues {
		d := debrief(t, "ground."+lang)
		golden(t, "ground."+lang+".html", []byte(pageIn(t, lang, d)))
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, report.Timeline(&b, msg, d))
		golden(t, "ground."+lang+".csv", b.Bytes())
	}
}

func TestTimelineGolden(t *testing.T) {
	for _, name := range attempts {
		var b bytes.Buffer
		require.NoError(t, report.Timeline(&b, nil, debrief(t, name)))
		golden(t, name+".csv", b.Bytes())
	}
}
