// Package circuit solves a car's direct-current network by nodal analysis.
//
// Every element becomes one or more branches, each a conductance in series with an electromotive force (a Norton
// equivalent): I(a to b) = g (Va - Vb - e). Kirchhoff's current law at every node but the reference gives a symmetric
// positive definite system which is factored when a conductance or the topology changes and otherwise only solved
// again. Elements with a kink (battery while charging or discharging, the charging source at its current limit,
// brushes) are piecewise linear: the piece is found by repeating the solution until it agrees with itself.
//
// A [Net] is the immutable description; a [State] is a value that holds everything that changes and can be copied.
// Parameters live in a slice owned by the caller, so that a fault is a changed number and nothing else.
package circuit
