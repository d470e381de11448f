package browserbay

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"

	"github.com/andybalholm/brotli"
)

// formParts is how many equal parts the bytes of a form are cut into for the page's loading bar.
const formParts = 100

// form tells the page what it fetches in one content coding. A page sees only what the browser has unpacked, and what a byte is packed
// into differs along the program; so the bar goes by At.
type form struct {
	Bytes int64   `json:"bytes"` // as sent
	At    []int64 `json:"at"`    // bytes unpacked when the 1st, 2nd, ... hundredth of Bytes has come; the last is the whole program
}

// formsOf reads each compressed form of the program once, checks that they are whole and of the same program, by its size, and returns
// that size and the forms by content coding.
func formsOf(p Program) (int64, map[string]form, error) {
	packed := bytes.NewReader(p.WasmGzip)
	unzipped, err := gzip.NewReader(packed)
	if err != nil {
		return 0, nil, fmt.Errorf("read the compressed bay: %w", err)
	}
	zipped, err := unpackAlong(unzipped, packed)
	if err != nil {
		return 0, nil, fmt.Errorf("read the compressed bay: %w", err)
	}
	size := zipped.At[formParts-1]
	forms := map[string]form{"gzip": zipped}
	if p.WasmBr == nil {
		return size, forms, nil
	}
	packed = bytes.NewReader(p.WasmBr)
	br, err := unpackAlong(brotli.NewReader(packed), packed)
	if err != nil {
		return 0, nil, fmt.Errorf("read the bay compressed with Brotli: %w", err)
	}
	if n := br.At[formParts-1]; n != size {
		return 0, nil, fmt.Errorf("the bay has %d bytes under gzip and %d under Brotli", size, n)
	}
	forms["br"] = br
	return size, forms, nil
}

// unpackAlong reads a stream to its end and notes what it had given when each part of its packed bytes was taken.
func unpackAlong(unpacked io.Reader, packed *bytes.Reader) (form, error) {
	f := form{Bytes: packed.Size(), At: make([]int64, 0, formParts)}
	chunk := make([]byte, 16<<10)
	var got int64
	for {
		n, err := unpacked.Read(chunk)
		got += int64(n)
		taken := f.Bytes - int64(packed.Len())
		for len(f.At) < formParts && taken*formParts >= f.Bytes*int64(len(f.At)+1) {
			f.At = append(f.At, got)
		}
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return form{}, err
		}
	}
	for len(f.At) < formParts {
		f.At = append(f.At, got)
	}
	// Decoders read ahead and unpack in blocks: what was taken last may come out after the last part was noted.
	f.At[formParts-1] = got
	return f, nil
}
