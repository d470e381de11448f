package lessons

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzParse(f *testing.F) {
	shelf, err := Builtin()
	require.NoError(f, err)
	files, err := filepath.Glob("*.yaml")
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := Parse("f", data, shelf.find)
		if (l == nil) == (err == nil) {
			t.Fatal("a lesson or an error, not both and not neither")
		}
	})
}

func FuzzReadRecord(f *testing.F) {
	shelf, err := Builtin()
	require.NoError(f, err)
	l := shelf.Lessons[0]
	first, err := l.Header().Line()
	require.NoError(f, err)
	second, err := Mark{Step: l.Steps[0].ID}.Line()
	require.NoError(f, err)
	f.Add(append(first, second...))
	f.Fuzz(func(t *testing.T, data []byte) {
		marks, _ := l.ReadRecord(data)
		for _, m := range marks {
			if l.place(m.Step) < 0 {
				t.Fatal("a mark of a step that there is not")
			}
		}
	})
}
