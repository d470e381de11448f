// Package cutaway is the view into a car with its inside shown: named inner quantities, and where on a schematic of the car they belong.
// It only reads. A lesson hands it out; a trainee at work never gets it, because the bench's session is the only door into a world that is
// being diagnosed.
//
// A [Schematic] is data, checked against the car: parts, the ways along which air, vacuum, current and exhaust move, and the [Channel]s
// that can be charted. A [Film] is one run of that car, recorded: every quantity of the schematic at each tenth of a second, so that a
// lesson may stand still, go back and compare two runs without stepping a world again.
package cutaway
