package lessons

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
)

// RecordFormat begins every kept lesson.
const RecordFormat = "coldbay-lesson-attempt/1"

// Mark is one line of a kept lesson: an answer with what it was worth, or that a step was seen. The first line is a header.
type Mark struct {
	Format string  `json:"format,omitempty"` // header only
	Lesson string  `json:"lesson,omitempty"` // header only
	Digest string  `json:"digest,omitempty"` // header only: of the lesson's file
	Step   string  `json:"step,omitempty"`
	Seen   bool    `json:"seen,omitempty"`
	Answer *Answer `json:"answer,omitempty"`
	Right  bool    `json:"right,omitempty"`
	Share  float64 `json:"share,omitempty"`
}

// Header is the first line of a lesson's record.
func (l *Lesson) Header() Mark { return Mark{Format: RecordFormat, Lesson: l.ID, Digest: l.Digest} }

// Line is a mark as it is appended to the store.
func (m Mark) Line() ([]byte, error) {
	data, err := json.Marshal(m)
	if err != nil {
		return nil, err
	}
	return append(data, '\n'), nil
}

// ErrNotLesson says that what was kept is no record of this lesson.
var ErrNotLesson = errors.New("not a record of this lesson")

// ReadRecord reads what was kept of a lesson; of nothing it gives nothing. Several windows may have written one record, each with a header of its own,
// which stands anywhere. A line that was torn when a program ended is dropped, and so are marks of steps that the lesson no longer has.
func (l *Lesson) ReadRecord(data []byte) ([]Mark, error) {
	var out []Mark
	var why error
	known := len(data) == 0
	scan := bufio.NewScanner(bytes.NewReader(data))
	scan.Buffer(nil, 1<<16)
	for scan.Scan() {
		var m Mark
		if err := json.Unmarshal(scan.Bytes(), &m); err != nil {
			if why == nil {
				why = err
			}
			continue // the line in progress when the program ended
		}
		switch {
		case m.Format == RecordFormat && m.Lesson == l.ID:
			known = true
		case m.Format != "":
			return nil, ErrNotLesson
		case l.place(m.Step) >= 0:
			out = append(out, m)
		}
	}
	if err := scan.Err(); err != nil {
		return nil, err
	}
	switch {
	case known:
		return out, nil
	case why != nil:
		return nil, fmt.Errorf("%w: %w", ErrNotLesson, why)
	}
	return nil, ErrNotLesson
}

func (l *Lesson) place(step string) int {
	for i := range l.Steps {
		if l.Steps[i].ID == step {
			return i
		}
	}
	return -1
}

// Standing sums up what was kept.
type Standing struct {
	Begun   bool
	Asked   int     // questions of the lesson
	Right   int     // answered rightly, at whatever try
	First   int     // rightly at the first try
	Points  float64 // best shares summed
	Seen    int     // steps seen
	AllSeen bool
}

// Stand sums up marks. A question counts with its best answer; the first try is told apart.
func (l *Lesson) Stand(marks []Mark) Standing {
	s := Standing{Begun: len(marks) > 0}
	for _, st := range l.Steps {
		seen, best, tries, first := false, 0.0, 0, false
		for _, m := range marks {
			if m.Step != st.ID {
				continue
			}
			seen = true
			if m.Answer != nil {
				first = first || tries == 0 && m.Right
				tries++
				best = max(best, m.Share)
			}
		}
		if seen {
			s.Seen++
		}
		if st.Ask != nil {
			s.Asked++
			s.Points += best
			if best >= 1 {
				s.Right++
			}
			if first {
				s.First++
			}
		}
	}
	s.AllSeen = s.Seen == len(l.Steps)
	return s
}
