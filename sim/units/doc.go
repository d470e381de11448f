// Package units converts between the SI values that the simulation computes in
// and the units that the trade reads, and writes a value with the digits that
// an instrument has.
//
// Everything inside the simulation is in SI: absolute pressure in pascal,
// temperature in kelvin, mass flow in kilograms per second, speed in radians
// per second. A [Unit] knows its way to and from that; a [Preference] says
// which unit somebody likes to see for which quantity; [Format] rounds to a
// resolution. Besides, the package has the two pieces of arithmetic that come
// from a standard and that building a car needs: copper wire by [Gauge]
// (ASTM B258) and the [StandardAtmosphere] (ISO 2533).
package units
