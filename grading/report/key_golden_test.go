package report_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/grading/dictionary"
	"coldbay/grading/plan"
	"coldbay/grading/report"
	"coldbay/grading/tongue"
	"coldbay/scenarios"
	"coldbay/sim/bench"
)

// solved is a dictionary with its plan.
type solved struct {
	title string
	dict  *plan.Dictionary
	root  *plan.Node
	par   plan.Bounds
}

func solve(t *testing.T, title string, d *plan.Dictionary) solved {
	t.Helper()
	p, err := plan.New(d, plan.Options{Nodes: d.Effort()})
	require.NoError(t, err)
	par, err := p.Par(context.Background())
	require.NoError(t, err)
	root, _, err := p.Policy(context.Background(), d.All(), d.Start)
	require.NoError(t, err)
	return solved{title, d, root, par}
}

// unpack reads a dictionary file under whatever name it has; that it is the current one for its order is tested elsewhere.
func unpack(t *testing.T, file string, data []byte) *plan.Dictionary {
	t.Helper()
	_, err := dictionary.Unpack(file, data, "")
	require.Error(t, err)
	d, err := dictionary.Unpack(file, data, builtFor.FindStringSubmatch(err.Error())[1])
	require.NoError(t, err)
	return d
}

var builtFor = regexp.MustCompile(`built for "([^"]*)"`)

// frozen is a dictionary as it was once, so that golden files don't change with the model.
func frozen(t *testing.T) solved {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", "quiet_pump.dictionary.gz"))
	require.NoError(t, err)
	return solve(t, "Whine has grown faint, lamp on", unpack(t, "quiet_pump.dictionary.gz", data))
}

// current are the plans of every order that comes with the program.
func current(t *testing.T) []solved {
	t.Helper()
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	var out []solved
	for _, id := range lib.OrderIDs() {
		file, data, err := scenarios.DictionaryFile(id)
		require.NoError(t, err)
		d := unpack(t, file, data)
		if d.Wide() && os.Getenv("COLDBAY_PROVE") == "" {
			continue // half a minute of planning, and as long to lay out its hundred and forty cards
		}
		out = append(out, solve(t, id, d))
	}
	require.NotEmpty(t, out)
	return out
}

func sheetOf(t *testing.T, s solved) []byte { return sheetIn(t, "en", s) }

func sheetIn(t *testing.T, lang string, s solved) []byte {
	t.Helper()
	msg, err := messages.Load(lang)
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, report.KeySheet(&b, msg, s.title, s.dict, s.root, s.par))
	return b.Bytes()
}

// in is a plan with the names and readings of another language.
func (s solved) in(t *testing.T, lang string) solved {
	t.Helper()
	msg, err := messages.Load(lang)
	require.NoError(t, err)
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	o, err := lib.Load("quiet_pump")
	require.NoError(t, err)
	l, err := bench.NewLocal(lib.Config(o, "test"))
	require.NoError(t, err)
	s.dict, err = tongue.Dictionary(msg, o.Order.Car, l.Catalogue(), s.dict)
	require.NoError(t, err)
	return s
}

// German cards hold German names and readings, and the same numbers: the plan is the same.
func TestKeyInOtherLanguagesGolden(t *testing.T) {
	for _, lang := range tongues {
		s := frozen(t).in(t, lang)
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		var text bytes.Buffer
		require.NoError(t, report.KeyText(&text, msg, s.title, s.dict, s.root, s.par))
		golden(t, "key."+lang+".txt", text.Bytes())
	}
	golden(t, "key.de.html", sheetIn(t, "de", frozen(t).in(t, "de")))
}

func TestKeyGolden(t *testing.T) {
	s := frozen(t)
	golden(t, "key.html", sheetOf(t, s))
	var text bytes.Buffer
	require.NoError(t, report.KeyText(&text, nil, s.title, s.dict, s.root, s.par))
	golden(t, "key.txt", text.Bytes())
}
