package dictionary

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"

	"coldbay/grading/plan"
	"coldbay/sim/bench"
)

// maxFile bounds an unpacked dictionary file, bytes.
const maxFile = 16 << 20

// Name says what a dictionary was built from: order, car, procedures, tariff and model. A file with another name is stale.
func Name(cfg bench.Config, procs []byte) string {
	h := sha256.New()
	h.Write(procs)
	fmt.Fprintf(h, "%v", *cfg.Tariff)
	sum := h.Sum(nil)
	return fmt.Sprintf("%s %s car %s model %s tests %s", cfg.Order.ID, cut(cfg.OrderDigest), cut(cfg.CarDigest), cfg.Model, hex.EncodeToString(sum[:8]))
}

func cut(digest string) string { return digest[:min(16, len(digest))] }

// Pack writes a dictionary as a compressed file.
func Pack(d *plan.Dictionary) ([]byte, error) {
	data, err := plan.Encode(d)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	z, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Unpack reads a dictionary file and checks that it was built for what is about to be graded.
func Unpack(file string, data []byte, name string) (*plan.Dictionary, error) {
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("%s: not a dictionary file: %w", file, err)
	}
	d, err := plan.Decode(io.LimitReader(z, maxFile))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if d.Name != name {
		return nil, fmt.Errorf("%s: it was built for %q, this is %q: build it again (coldbay check --write)", file, d.Name, name)
	}
	return d, nil
}
