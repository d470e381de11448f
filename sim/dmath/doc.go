// Package dmath has the elementary functions that a simulation step may use:
// [Exp], [Log], [Pow], [Tanh], [Sin] and [Cos], each giving the same bits on
// every architecture.
//
// The functions of package math do not: some have assembly on one
// architecture and not on another, and where a compiler may fuse x*y + z into
// one rounding, the portable versions differ as well. A recorded attempt must
// replay to the bit in a browser and on a server of any make, so the functions
// here use only what IEEE 754 fixes (add, subtract, multiply, divide, integer
// work on the bits) and write every product that is then added as
// float64(a*b) + c. The Go specification says that an explicit conversion
// rounds, which forbids fusing.
//
// Accuracy is within about one unit in the last place: exp and log reduce
// their argument with 128-entry tables and finish with a short Taylor series;
// Pow carries the logarithm in two words; Sin and Cos reduce by pi/2 in three
// parts, and with 192 bits of 2/pi beyond that.
//
// tables.go is written by "go test -run TestTables -update" from a
// multiple-precision calculation that the same test checks it against.
package dmath
