// Package validate compares the model with what is known outside of it. Each [Row] is one quantity: what it is, where the expected
// value comes from, what is expected, what the program gives, and how much of the tolerance that takes.
//
// Rows are made by stations, of four kinds: formulas of one package against handbook tables; whole cars stepped; readings taken at the
// bench in the prompt's words, as a trainee would take them; and results of other programs that were kept as tables. [Run] runs them for one
// car, and for others too what must hold by itself, cold starts and circuits; where those are looked at is found by following their networks.
// [Mutate] changes one number of a car file at a time and runs the stations that look at the car again: a row that does not turn red for
// any change says nothing, and a parameter that turns no row red is not watched.
//
// Expected values stand as literals or in tables, never taken from the car file: else a wrong number in the file would confirm itself.
package validate
