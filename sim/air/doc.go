// Package air solves a pneumatic network: volumes joined by restrictions.
//
// A volume holds air at one pressure: dm/dt = sum of inflows, m = p V / (R T). A restriction passes the isentropic
// compressible flow of an ideal gas (J. B. Heywood, Internal Combustion Engine Fundamentals, 1988, eqs. C.8 and C.9,
// numbers from memory), choked below the critical pressure ratio 0.5283, made linear very near zero difference where
// real flow is laminar. Steps are linearly implicit, so a hose of four cubic centimetres beside a manifold of three
// litres needs no tiny step.
//
// Hoses and ports are where hands come in: every hose has two ends that can be pulled, swapped or plugged, every port
// can be left open or given to a tool. A [Net] is immutable; a [State] is a value and can be copied.
package air
