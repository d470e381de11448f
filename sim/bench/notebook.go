package bench

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// maxText bounds what is written in the notebook, bytes.
const maxText = 2000

func (l *Local) doNote(j *job) error {
	if err := j.text(); err != nil {
		return err
	}
	l.s.notes = append(l.s.notes, j.a.Text)
	return nil
}

func (j *job) text() error {
	j.a.Text = strings.TrimSpace(j.a.Text)
	if j.a.Text == "" {
		return j.no("there is nothing to write")
	}
	if len(j.a.Text) > maxText || !utf8.ValidString(j.a.Text) {
		return j.no("a note is plain text of at most %d bytes", maxText)
	}
	return nil
}

// doStrike takes a suspect off the board or puts it back. It costs nothing and is held against the evidence later.
func (l *Local) doStrike(j *job, strike bool) error {
	if _, err := j.oneOf(l.lay.suspect, j.a.On, "suspect", l.suspectIDs()); err != nil {
		return err
	}
	at := slices.Index(l.s.struck, j.a.On)
	if strike == (at >= 0) {
		return j.no("%s is %s", j.a.On, map[bool]string{true: "struck already", false: "on the board"}[strike])
	}
	if strike {
		l.s.struck = append(l.s.struck, j.a.On)
	} else {
		l.s.struck = slices.Delete(l.s.struck, at, at+1)
	}
	return nil
}

// doPredict writes down the reading one expects, and which suspects it would split, before taking it.
func (l *Local) doPredict(j *job) error {
	if err := j.text(); err != nil {
		return err
	}
	for _, s := range j.a.List {
		if _, err := j.oneOf(l.lay.suspect, s, "suspect", l.suspectIDs()); err != nil {
			return err
		}
	}
	l.s.notes = append(l.s.notes, "expected: "+j.a.Text)
	return nil
}

// doFinish closes the order: the causes named, the unit, and the ledger line that proves it.
func (l *Local) doFinish(j *job) error {
	if len(j.a.List) == 0 && j.a.On == "" {
		return j.no("name the cause: a suspect, the unit at fault, and the ledger line that proves it")
	}
	for _, s := range j.a.List {
		if _, err := j.oneOf(l.lay.suspect, s, "suspect", l.suspectIDs()); err != nil {
			return err
		}
	}
	if j.a.On != "" {
		if _, err := j.oneOf(l.lay.unit, j.a.On, "unit", l.lay.UnitIDs()); err != nil {
			return err
		}
	}
	n := int(j.a.N)
	if float64(n) != j.a.N || n < 0 || n > l.lines {
		return j.no("the proof is the number of a line of the ledger: 1 to %d, or none", l.lines)
	}
	l.s.closed = true
	return nil
}

// suspectIDs are those on this order's board.
func (l *Local) suspectIDs() []string { return l.cfg.Order.SuspectIDs(l.lay) }
