package bench

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// AttemptFormat is the version of the attempt file.
const AttemptFormat = "coldbay-attempt/1"

// Header is the first line of an attempt file: what it was played on.
type Header struct {
	Format      string `json:"format"`
	Order       string `json:"order"`        // id
	OrderDigest string `json:"order_digest"` // sha256 of the order file, hex
	Car         string `json:"car"`          // id
	CarDigest   string `json:"car_digest"`   // sha256 of the car file, hex
	Seed        uint64 `json:"seed"`         // of the instruments
	Program     string `json:"program"`      // version
	Model       string `json:"model"`        // version; another model may give other readings
	// Tariff and Rubric are sha256 of the school's own files that it was played under, hex; empty where they were the program's. Times
	// and readings hang on the tariff; marks are not part of an attempt, so the rubric only says what they would have been.
	Tariff string `json:"tariff_digest,omitempty"`
	Rubric string `json:"rubric_digest,omitempty"`
	// Retake is set in an attempt that began in the middle of an earlier one.
	Retake *Retake `json:"retake,omitempty"`
}

// Retake says that an attempt's first lines are those of an earlier one, done again, after whose end the fault was known: what is
// shown in it is practice and no first attempt.
type Retake struct {
	After int    `json:"after"` // ledger line of the earlier attempt after which it goes on by itself
	Of    string `json:"of"`    // sha256 of the earlier attempt's file, hex
}

// Header is the first line of an attempt played on this configuration. It does not carry what is wrong with the car; the order does.
func (c *Config) Header() Header {
	return Header{
		Format: AttemptFormat, Order: c.Order.ID, OrderDigest: c.OrderDigest, Car: c.Layout.CarID(), CarDigest: c.CarDigest,
		Seed: c.Seed(), Program: c.Program, Model: c.Model, Tariff: c.TariffDigest, Rubric: c.RubricDigest, Retake: c.Retake,
	}
}

// LogWriter appends an attempt as JSON Lines: a header, then one line for each action with what it gave. Every line is handed to the
// writer in one piece and then flushed, so that a killed program loses at most the action in progress.
type LogWriter struct {
	w       io.Writer
	sync    func() error
	started bool // a resumed attempt has its header already
	broken  error
}

// NewLogWriter writes to w. Sync, when not nil, is called after every line: a file's Sync, a browser's store.
func NewLogWriter(w io.Writer, sync func() error) *LogWriter { return &LogWriter{w: w, sync: sync} }

// ContinueLog writes to the end of an attempt whose header is there already.
func ContinueLog(w io.Writer, sync func() error) *LogWriter {
	return &LogWriter{w: w, sync: sync, started: true}
}

func (lw *LogWriter) header(h Header) error {
	if lw.started {
		return nil
	}
	lw.started = true
	return lw.line(h)
}

func (lw *LogWriter) append(f Finding) error { return lw.line(f) }

func (lw *LogWriter) line(v any) error {
	if lw.broken != nil {
		return lw.broken
	}
	b, err := encodeLine(v)
	if err == nil {
		_, err = lw.w.Write(b)
	}
	if err == nil && lw.sync != nil {
		err = lw.sync()
	}
	if err != nil {
		// A line may be torn now; whatever is appended after it would be unreadable.
		lw.broken = fmt.Errorf("attempt log: %w", err)
	}
	return lw.broken
}

// encodeLine is one line with its end. HTML escaping is off: the file is read by people too.
func encodeLine(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// Attempt is a parsed attempt file.
type Attempt struct {
	Header   Header
	Findings []Finding
	// Torn says that a last line without its end was dropped: the program was killed while writing it. Good is the length in bytes of
	// what is whole; a resumed attempt is cut to it before anything is appended.
	Torn bool
	Good int64

	file  string
	lines [][]byte // as written, for telling differences
}

// Bounds of an attempt file.
const (
	MaxAttemptBytes = 32 << 20 // bytes
	MaxAttemptLine  = 1 << 20  // bytes
	// MaxActions bounds the lines of the ledger, the finish among them. Work on a car takes some hundred.
	MaxActions = 5000
)

// ReadAttempt reads an attempt file. A torn last line is dropped and told; anything else that is wrong is an error with its line.
func ReadAttempt(file string, r io.Reader) (*Attempt, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxAttemptBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	if len(data) > MaxAttemptBytes {
		return nil, fmt.Errorf("%s: longer than the %d bytes allowed for an attempt", file, MaxAttemptBytes)
	}
	a := &Attempt{file: file}
	if bytes.HasPrefix(data, []byte{0xff, 0xfe}) || bytes.HasPrefix(data, []byte{0xfe, 0xff}) {
		return nil, fmt.Errorf("%s:1: the text is UTF-16, as an editor may have saved it; an attempt is UTF-8", file)
	}
	if rest, ok := bytes.CutPrefix(data, byteOrderMark); ok {
		a.Good, data = int64(len(byteOrderMark)), rest
	}
	for n := 1; len(data) > 0; n++ {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			a.Torn = true
			break
		}
		line := data[:end]
		data = data[end+1:]
		line = bytes.TrimSuffix(line, []byte("\r")) // an editor or a mail program may have changed the ends of lines
		if len(line) > MaxAttemptLine {
			return nil, fmt.Errorf("%s:%d: longer than the %d bytes allowed for a line", file, n, MaxAttemptLine)
		}
		if err := a.take(n, line); err != nil {
			if len(data) == 0 && n > 1 && !json.Valid(line) && !errors.Is(err, errSeveral) {
				a.Torn = true // a crash of the machine can leave the end of the line without its middle
				break
			}
			return nil, err
		}
		a.Good += int64(end) + 1
		a.lines = append(a.lines, line)
	}
	if len(a.lines) == 0 {
		return nil, fmt.Errorf("%s:1: the header is missing; an attempt begins with a line such as {\"format\":%q,...}", file, AttemptFormat)
	}
	return a, nil
}

// byteOrderMark is what some editors begin a UTF-8 file with.
var byteOrderMark = []byte("\xef\xbb\xbf")

func (a *Attempt) take(n int, line []byte) error {
	if n == 1 {
		if err := decodeLine(line, &a.Header); err != nil {
			return fmt.Errorf("%s:1: not the header of an attempt: %w", a.file, err)
		}
		if a.Header.Format != AttemptFormat {
			return fmt.Errorf("%s:1: key \"format\": found %q; allowed is %q", a.file, a.Header.Format, AttemptFormat)
		}
		return nil
	}
	if len(a.Findings) == MaxActions {
		return fmt.Errorf("%s:%d: an attempt has at most %d actions, here are more", a.file, n, MaxActions)
	}
	var f Finding
	if err := decodeLine(line, &f); err != nil {
		return fmt.Errorf("%s:%d: not an action: %w", a.file, n, err)
	}
	if f.Seq != n-1 {
		return fmt.Errorf("%s:%d: key \"seq\": found %d; allowed is %d, lines are numbered without a gap", a.file, n, f.Seq, n-1)
	}
	a.Findings = append(a.Findings, f)
	return nil
}

var errSeveral = errors.New("more than one value on the line")

func decodeLine(line []byte, into any) error {
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(into); err != nil {
		var ute *json.UnmarshalTypeError
		if errors.As(err, &ute) {
			return fmt.Errorf("key %q: found a %s", ute.Field, ute.Value)
		}
		if errors.Is(err, io.EOF) {
			return errors.New("the line is empty")
		}
		return err
	}
	if dec.More() {
		return errSeveral
	}
	return nil
}

// Notice is the sentence for a torn last line, "" when the file is whole.
func (a *Attempt) Notice() string {
	if !a.Torn {
		return ""
	}
	return fmt.Sprintf("%s: the last line is torn and was dropped; %d actions are whole", a.file, len(a.Findings))
}
