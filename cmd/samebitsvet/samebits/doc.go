// Package samebits is an analyser of Go source. In the packages that a world's step runs through it refuses what may give other
// bits on another machine or in another run:
//
//   - the functions of package math whose last bits depend on the architecture;
//   - a product that the compiler may fuse into a sum: x*y + z where float64(x*y) + z is meant. The language allows that across
//     statements (specification, "Floating-point operators"), and the compiler does it across calls that it inlines, so a product
//     is followed through variables, through fields within a function, and into and out of functions, also those of other packages;
//     an explicit conversion rounds it, and so does every operation that is neither a sum nor a difference;
//   - loops over maps, in the order of the moment; slices.Sorted(maps.Keys(m)) is a way to have an order;
//   - goroutines, channels and select;
//   - the packages of clocks, randomness and synchronisation.
//
// What these packages call in other packages of this module must hold to the same: such a call is reported with the reason.
// Calls through interfaces and function values are not followed.
//
// A line that is sound for a reason that a program can't see carries a comment, on it or before it:
//
//	//samebits:ok the sum does not depend on the order
//
// A comment without a reason, or one that excuses nothing, is reported too.
package samebits
