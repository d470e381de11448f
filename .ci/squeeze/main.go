// Command squeeze compresses a file once, as tightly as it can, for a server that sends it many times: FILE.gz and FILE.br.
package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"os"

	"github.com/andybalholm/brotli"
)

// squeezed is content in one compressed form.
func squeezed(content []byte, open func(io.Writer) (io.WriteCloser, error)) ([]byte, error) {
	var b bytes.Buffer
	w, err := open(&b)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(content); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func run(name string, out io.Writer) error {
	content, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s: %d bytes\n", name, len(content))
	for _, form := range []struct {
		ending string
		open   func(io.Writer) (io.WriteCloser, error)
	}{
		{".gz", func(w io.Writer) (io.WriteCloser, error) { return gzip.NewWriterLevel(w, gzip.BestCompression) }},
		{".br", func(w io.Writer) (io.WriteCloser, error) {
			return brotli.NewWriterOptions(w, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 24}), nil
		}},
	} {
		small, err := squeezed(content, form.open)
		if err != nil {
			return fmt.Errorf("compress %s: %w", name+form.ending, err)
		}
		if err := os.WriteFile(name+form.ending, small, 0o644); err != nil {
			return err
		}
		fmt.Fprintf(out, "%s: %d bytes\n", name+form.ending, len(small))
	}
	return nil
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: squeeze FILE")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "squeeze:", err)
		os.Exit(1)
	}
}
