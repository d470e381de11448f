package plan

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// FormatVersion is the version of the file form written by Encode.
const FormatVersion = 1

// MaxFileBytes bounds what Decode will read.
const MaxFileBytes = 64 << 20

// ErrDigest is wrapped when a dictionary file does not hash to the digest it
// carries.
var ErrDigest = errors.New("dictionary digest does not match")

// dictionaryFile is the file form: the digest covers the dictionary's compact
// JSON, so spacing may change and content may not.
type dictionaryFile struct {
	Version    int             `json:"version"`
	Digest     string          `json:"digest"`
	Dictionary json.RawMessage `json:"dictionary"`
}

// Digest identifies the dictionary's content: "sha256:" and 64 hexadecimal
// digits over its compact JSON form.
func (d *Dictionary) Digest() (string, error) {
	body, err := json.Marshal(d)
	if err != nil {
		return "", fmt.Errorf("digest dictionary: %w", err)
	}
	return digestOf(body), nil
}

func digestOf(body []byte) string {
	sum := sha256.Sum256(body)
	return "sha256:" + hex.EncodeToString(sum[:])
}

// Encode validates the dictionary and returns its verified file form.
func Encode(d *Dictionary) ([]byte, error) {
	if err := d.Validate(); err != nil {
		return nil, err
	}
	body, err := json.Marshal(d)
	if err != nil {
		return nil, fmt.Errorf("encode dictionary: %w", err)
	}
	out, err := json.Marshal(dictionaryFile{Version: FormatVersion, Digest: digestOf(body), Dictionary: body})
	if err != nil {
		return nil, fmt.Errorf("encode dictionary: %w", err)
	}
	return append(out, '\n'), nil
}

// Decode reads the file form, refuses unknown keys, a wrong version, a digest
// that does not match and content that does not validate.
func Decode(r io.Reader) (*Dictionary, error) {
	raw, err := io.ReadAll(io.LimitReader(r, MaxFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read dictionary: %w", err)
	}
	if len(raw) > MaxFileBytes {
		return nil, fmt.Errorf("read dictionary: longer than %d bytes", MaxFileBytes)
	}
	var f dictionaryFile
	if err := strictJSON(raw, &f); err != nil {
		return nil, fmt.Errorf("read dictionary: %w", err)
	}
	if f.Version != FormatVersion {
		return nil, fmt.Errorf("read dictionary: version %d, this program reads %d", f.Version, FormatVersion)
	}
	var d Dictionary
	if err := strictJSON(f.Dictionary, &d); err != nil {
		return nil, fmt.Errorf("read dictionary: %w", err)
	}
	// Hash the content, not the spacing: a file that was re-indented is still
	// the same dictionary.
	got, err := d.Digest()
	if err != nil {
		return nil, err
	}
	if got != f.Digest {
		return nil, fmt.Errorf("read dictionary %q: %w: file says %s, content is %s", d.Name, ErrDigest, f.Digest, got)
	}
	if err := d.Validate(); err != nil {
		return nil, err
	}
	return &d, nil
}

func strictJSON(raw []byte, into any) error {
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	if err := dec.Decode(into); err != nil {
		return err
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return errors.New("more than one JSON value")
	}
	return nil
}
