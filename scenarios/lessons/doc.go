// Package lessons holds what a lesson says, shows and asks, as YAML, with the schematics of the cars that are laid open in it. Lessons are
// read as strictly as orders: an unknown key, channel, view or fault is an error with file, line and what is allowed.
//
// What a lesson claims about a car is not taken on trust: each step lists its claims as readings with limits, each question says which
// reading of which car answers it, and a test runs those cars.
package lessons
