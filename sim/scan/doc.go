// Package scan turns what a controller knows into the bytes that a generic scan
// tool receives, and back.
//
// The messages are those of SAE J1979 / ISO 15031-5 (services $01 to $0A, with
// the framing that ISO 15765-4 uses on CAN) and the trouble codes those of SAE
// J2012 / ISO 15031-6. The package only encodes and decodes: no time, no
// transport, no state. Whatever a trainee reads on the scan tool has gone
// through [Encode] and then [Decode], so it has the resolution and the limits
// of the real message, and nothing that the standard could not carry gets
// through.
//
// Neither standard's text was at hand. The scalings were read in two open
// decoders and their unit tests, which are independent enough to expose each
// other's slips; each row of the tables says so, or says that it is from
// memory. They are called decoder A and decoder B here and are sources S13 and
// S48 in testdata/reference/SOURCES.md.
//
// The parts: [Parameter] and [Reading] for live data and freeze frames,
// [Readiness] for the monitor status of PID $01, [DTC] for codes, [Result] for
// monitor results (service $06), [Request] and [Response] for whole messages.
package scan
