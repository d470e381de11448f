package browserbay

import (
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/require"
)

// What the page is told of each form is what one gets who unpacks so many of its bytes and no more, also where the content packs badly
// in one part and well in another.
func TestForms(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	content := make([]byte, 0, 3<<20)
	for range 1 << 20 {
		content = append(content, byte(random.Uint32()))
	}
	for len(content) < 3<<20 {
		content = append(content, byte(random.Uint32()&7))
	}
	var br bytes.Buffer
	w := brotli.NewWriterLevel(&br, 5)
	_, err := w.Write(content)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	p := Program{WasmGzip: zipped(t, content), WasmBr: br.Bytes()}

	size, forms, err := formsOf(p)
	require.NoError(t, err)
	require.EqualValues(t, len(content), size)
	unpack := map[string]func([]byte) (io.Reader, error){
		"gzip": func(b []byte) (io.Reader, error) { return gzip.NewReader(bytes.NewReader(b)) },
		"br":   func(b []byte) (io.Reader, error) { return brotli.NewReader(bytes.NewReader(b)), nil },
	}
	for coding, packed := range map[string][]byte{"gzip": p.WasmGzip, "br": p.WasmBr} {
		f := forms[coding]
		require.EqualValues(t, len(packed), f.Bytes)
		require.Len(t, f.At, formParts)
		require.True(t, slices.IsSorted(f.At), "%v", f.At)
		require.EqualValues(t, len(content), f.At[formParts-1])
		for _, part := range []int{10, 30, 50, 75, 95} {
			r, err := unpack[coding](packed[:len(packed)*part/formParts])
			require.NoError(t, err)
			got, err := io.Copy(io.Discard, r)
			require.True(t, errors.Is(err, io.ErrUnexpectedEOF), "%v", err)
			require.InDelta(t, got, f.At[part-1], 3<<20/50, "%s: %d parts", coding, part)
		}
	}
	half := f50(forms["gzip"])
	require.Less(t, half, 0.4, "the first half of the packed bytes is the part that packs badly")
	_, _, err = formsOf(Program{WasmGzip: p.WasmGzip[:1000]})
	require.ErrorContains(t, err, "read the compressed bay")
}

// f50 is the share of the program that half of the packed bytes hold.
func f50(f form) float64 { return float64(f.At[formParts/2-1]) / float64(f.At[formParts-1]) }
