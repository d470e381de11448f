// Package sim is a world: one car with its faults in its surroundings. It wires the circuit, the air network, the engine,
// the exhaust and the controller together, steps them, and copies itself.
//
// A [World] is a value: [World.Clone] is one allocation. The same car, faults, draw and sequence of calls give the same
// bits everywhere; nothing reads a clock, ranges over a map or asks for a random number while stepping.
package sim
