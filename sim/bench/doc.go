// Package bench is the bay around the car: what a trainee can do, what each action costs in bench time, what it lets
// one perceive, and what goes wrong when it is done unsafely. It wraps a sim.World and is the only way into one: see
// [Session]. World time is bench time; every action steps the world by its duration.
//
// One function, [Percept.Class], says which readings a technician can tell apart. The grader's belief and the planner
// use it and nothing else.
package bench
