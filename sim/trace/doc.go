// Package trace runs a car with faults, in given surroundings, through a list of timed controls, and records named channels with their
// units. It looks into the world, which a trainee can't: authors, instructors and validation use it.
package trace
