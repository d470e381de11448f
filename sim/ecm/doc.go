// Package ecm is the engine controller as the trade knows it: it decides when the secondary air system runs, watches its
// circuits and its flow, sets codes on two trips, fuels the engine, and answers a scan tool. It sees pins and sensors only.
//
// The rules of the on-board diagnostics are those of 13 CCR 1968.2 as far as they could be read (text of 9 Nov 2007; clauses that
// are named "from memory" could not), the services those of SAE J1979 / ISO 15031-5 over the codec of package scan.
//
// The parts: spec.go what a car file may say and check.go what it may not; step.go the order of the tasks; enable.go when the air
// runs; fuel.go mixture and trims; circuit.go, flow.go, active.go and other.go the monitors; trips.go pending, confirmed and permanent
// codes, lamp and warm-ups; inuse.go the counters; data.go the parameters; answer.go the services; actuator.go the output tests.
package ecm
