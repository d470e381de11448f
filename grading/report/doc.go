// Package report turns a grader's findings into paper: the debrief of an attempt as one printable HTML page, its timeline as
// comma-separated values, and the instructor's key sheet, the whole best plan as a tree.
//
// A page is complete in itself. It names no other file, runs no script and sets no style attribute, so that it can carry the
// strictest content security policy; its charts are SVG of our own, and nothing on it is told by colour alone. It says nothing
// that the findings don't: every number on a debrief stands in the score.Debrief it was made from.
package report
