package bench

import (
	"bytes"
	"context"
	"errors"
	"fmt"
)

// MismatchError says where a replay differs from what the attempt recorded.
type MismatchError struct {
	File     string
	Line     int    // of the attempt file
	Recorded string // the line as it stands there
	Replayed string // the line as this model gives it
}

// Error names the first line that differs.
func (e *MismatchError) Error() string {
	return fmt.Sprintf("%s:%d: replay differs from the record\n  recorded: %s\n  replayed: %s", e.File, e.Line, e.Recorded, e.Replayed)
}

// Replay does the actions of an attempt again in a new session on cfg and compares every finding to the bit. The session is returned
// as it stands after the last action. Cfg.Log is not written.
func Replay(ctx context.Context, cfg Config, a *Attempt) (*Local, error) {
	cfg.Log = nil
	if err := a.fits(&cfg); err != nil {
		return nil, err
	}
	l, err := NewLocal(cfg)
	if err != nil {
		return nil, err
	}
	for i, want := range a.Findings {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		got, err := l.Do(context.WithoutCancel(ctx), want.Action)
		replayed := ""
		if err != nil {
			var no *Refusal
			if !errors.As(err, &no) {
				return nil, fmt.Errorf("%s:%d: %w", a.file, i+2, err)
			}
			replayed = "refused: " + no.Missing
		} else {
			b, err := encodeLine(got)
			if err != nil {
				return nil, fmt.Errorf("%s:%d: %w", a.file, i+2, err)
			}
			replayed = string(bytes.TrimSuffix(b, []byte("\n")))
		}
		if recorded := string(a.lines[i+1]); recorded != replayed {
			return nil, &MismatchError{File: a.file, Line: i + 2, Recorded: recorded, Replayed: replayed}
		}
	}
	return l, nil
}

// ErrTariff is wrapped when an attempt was played with other times and prices than it is to be replayed with.
var ErrTariff = errors.New("an attempt can be replayed only with the tariff that it was played with")

func whose(digest string) string {
	if digest == "" {
		return "the program's own times and prices"
	}
	return "those of the file whose sha256 is " + digest
}

// fits refuses an attempt that was played on another order or car, or with another tariff.
func (a *Attempt) fits(cfg *Config) error {
	want := cfg.Header()
	for _, c := range []struct{ key, found, allowed string }{
		{"order", a.Header.Order, want.Order},
		{"order_digest", a.Header.OrderDigest, want.OrderDigest},
		{"car", a.Header.Car, want.Car},
		{"car_digest", a.Header.CarDigest, want.CarDigest},
		{"seed", fmt.Sprint(a.Header.Seed), fmt.Sprint(want.Seed)},
		{"model", a.Header.Model, want.Model},
		{"tariff_digest", a.Header.Tariff, want.Tariff},
	} {
		if c.found != c.allowed {
			if c.key == "tariff_digest" {
				return fmt.Errorf("%s:1: key %q: %w: it was played with %s, here are %s", a.file, c.key, ErrTariff, whose(c.found), whose(c.allowed))
			}
			return fmt.Errorf("%s:1: key %q: found %q; this attempt can be replayed only on the one it was played on, here it is %q",
				a.file, c.key, c.found, c.allowed)
		}
	}
	return nil
}

// Resume replays an attempt that broke off and goes on with it. The log must append after the attempt's [Attempt.Good] bytes: see
// [ContinueLog].
func Resume(ctx context.Context, cfg Config, a *Attempt, log *LogWriter) (*Local, error) {
	l, err := Replay(ctx, cfg, a)
	if err != nil {
		return nil, err
	}
	l.log = log
	return l, nil
}
