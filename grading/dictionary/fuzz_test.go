package dictionary

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzParse(f *testing.F) {
	files, err := filepath.Glob("../../scenarios/procedures/*.yaml")
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Parse("f", data)
		if (p == nil) == (err == nil) {
			t.Fatal("procedures or an error, not both and not neither")
		}
		if err != nil {
			return
		}
		if len(p.warmUp) != len(p.WarmUp) {
			t.Fatal("a line of the warm-up is missing")
		}
		for _, x := range p.List {
			if len(x.actions) < len(x.Steps) {
				t.Fatalf("%s: a step is missing", x.ID)
			}
		}
	})
}
