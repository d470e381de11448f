package main

import (
	"slices"
	"strings"

	"coldbay/assets/messages"
	"coldbay/grading/score"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// english is the language of the prompt, and of everything that no other was asked for.
const english = "en"

// language loads the messages that --lang asks for.
func language(code string) (*messages.Catalogue, error) {
	if !slices.Contains(messages.Languages(), code) {
		return nil, usagef("--lang %q: there is no such language; allowed are %s", code, strings.Join(messages.Languages(), ", "))
	}
	return messages.Load(code)
}

// speaker tells actions and readings: in English in the words of the prompt, where they can be typed again, in other languages in
// those of the window.
func speaker(msg *messages.Catalogue, car string, c bench.Catalogue) score.Speaker {
	if msg.Lang() == english {
		return score.Plain{Sayer: bench.NewSayer(c)}
	}
	return phrase.Speaker{Book: phrase.Open(msg, car, c)}
}
