// Command testlines runs `go test` and prints what a reader of a test run needs:
// the closing line of every package, the whole output of whatever failed, and
// every skipped test with the reason it gave.
//
//	go run ./.ci/testlines -p 1 ./scenes/...
//
// Everything after the name goes to `go test` as it stands; only `-into FILE`, if
// it comes first, is kept back: the counts go into that file too, as one JSON
// object, for the page of `make prove`. The exit code is that of `go test`. Plain `go test` hides skips and `go test -v` drowns them; a
// skipped test that nobody sees is a test that nobody has.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"time"
)

func main() {
	args, into := os.Args[1:], ""
	if len(args) > 1 && args[0] == "-into" {
		args, into = args[2:], args[1]
	}
	began := time.Now()
	cmd := exec.Command("go", append([]string{"test", "-json"}, args...)...)
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		fmt.Fprintf(os.Stderr, "testlines: start go test: %v\n", err)
		os.Exit(1)
	}
	s := newSummary(os.Stdout)
	readErr := s.read(out)
	waitErr := cmd.Wait()
	s.close()
	if into != "" {
		if err := s.write(into, time.Since(began)); err != nil {
			fmt.Fprintf(os.Stderr, "testlines: %v\n", err)
			os.Exit(1)
		}
	}
	var exit *exec.ExitError
	switch {
	case errors.As(waitErr, &exit):
		os.Exit(exit.ExitCode())
	case waitErr != nil || readErr != nil:
		fmt.Fprintf(os.Stderr, "testlines: read go test: %v\n", errors.Join(waitErr, readErr))
		os.Exit(1)
	}
}

// event is one line of `go test -json`, as `go doc test2json` describes it.
type event struct {
	Action  string
	Package string
	Test    string
	Output  string
}

type testKey struct{ pkg, test string }

// summary collects the output of running tests and decides what of it is shown.
type summary struct {
	out                     io.Writer
	held                    map[testKey][]string
	skips                   []string
	passed, failed, skipped int
}

func newSummary(out io.Writer) *summary {
	return &summary{out: out, held: map[testKey][]string{}}
}

// read consumes events until the stream ends. A line that is no event is shown as it is.
func (s *summary) read(r io.Reader) error {
	lines := bufio.NewReader(r)
	for {
		line, err := lines.ReadString('\n')
		if line != "" {
			var e event
			if json.Unmarshal([]byte(line), &e) != nil {
				fmt.Fprint(s.out, line)
			} else {
				s.take(e)
			}
		}
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
	}
}

func (s *summary) take(e event) {
	key := testKey{e.Package, e.Test}
	switch e.Action {
	case "build-output":
		fmt.Fprint(s.out, e.Output)
	case "output":
		s.held[key] = append(s.held[key], e.Output)
	case "pass":
		s.end(key, &s.passed, false)
	case "fail":
		s.end(key, &s.failed, true)
	case "skip":
		if e.Test == "" {
			s.end(key, nil, false)
			return
		}
		s.skips = append(s.skips, fmt.Sprintf("%s %s: %s", e.Package, e.Test, reason(s.held[key])))
		s.end(key, &s.skipped, false)
	}
}

// end drops what a finished test or package printed, showing all of it after a
// failure and the closing lines of a package always.
func (s *summary) end(key testKey, count *int, all bool) {
	for _, line := range s.held[key] {
		if all || key.test == "" && closing(line) {
			fmt.Fprint(s.out, line)
		}
	}
	delete(s.held, key)
	if key.test != "" && count != nil {
		*count++
	}
}

// close prints the skips, and whatever a test printed that never finished.
func (s *summary) close() {
	for key, lines := range s.held {
		fmt.Fprintf(s.out, "unfinished: %s %s\n%s", key.pkg, key.test, strings.Join(lines, ""))
	}
	for _, skip := range s.skips {
		fmt.Fprintln(s.out, "skipped:", skip)
	}
	fmt.Fprintf(s.out, "tests: %d passed, %d failed, %d skipped\n", s.passed, s.failed, s.skipped)
}

// write puts the counts into a file, as one JSON object.
func (s *summary) write(name string, took time.Duration) error {
	out, err := json.MarshalIndent(struct {
		Passed, Failed, Skipped int
		Seconds                 float64
		Skips                   []string
	}{s.passed, s.failed, s.skipped, took.Seconds(), s.skips}, "", "\t")
	if err == nil {
		err = os.WriteFile(name, append(out, '\n'), 0o644)
	}
	if err != nil {
		return fmt.Errorf("write the counts: %w", err)
	}
	return nil
}

// closing tells the line that ends a package from what the package printed.
func closing(line string) bool {
	for _, prefix := range []string{"ok ", "ok\t", "FAIL", "?", "---", "panic:", "exit status"} {
		if strings.HasPrefix(line, prefix) {
			return true
		}
	}
	return false
}

// reason finds what a test gave to Skip, without the file and line before it.
func reason(lines []string) string {
	var said []string
	for _, line := range lines {
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "===") || strings.HasPrefix(line, "---") {
			continue
		}
		if place, rest, ok := strings.Cut(line, ": "); ok && strings.Contains(place, ".go:") {
			line = rest
		}
		said = append(said, line)
	}
	if len(said) == 0 {
		return "no reason given"
	}
	return strings.Join(said, " ")
}
