// Package lesson is the shelf of lessons and the open lesson: text on paper beside the cutaway, questions that are answered by mouse or by
// keys, and what was answered kept under the lesson's id, so that one goes on where one was.
package lesson
