package drawing

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func FuzzParse(f *testing.F) {
	files, err := filepath.Glob("*.yaml")
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Parse(data)
		if (d == nil) == (err == nil) {
			t.Fatal("a drawing or an error, not both and not neither")
		}
	})
}
