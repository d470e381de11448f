// Package cutaway shows a car with its inside laid open: air, vacuum, current and exhaust move along a schematic as the simulated car has
// them, charts run below, the clock of a recorded start can be run, stopped and set back, a second car stands beside the first, and a fault
// is faded in by its severity. The [Panel] is that picture with what works it; a lesson shows one beside its text, and [Scene] is one by itself.
//
// Nothing here steps a world while it draws: runs are filmed in the background, in slices short enough for a page with one thread.
package cutaway
