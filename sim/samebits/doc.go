// Package samebits holds recordings of worlds: what a car's state was, to the bit, at fixed moments of fixed exercises.
//
// Its test replays the exercises and compares. Run on amd64, arm64 and in the browser's instructions it shows that a server can
// re-grade what a browser played; run after a change of the model it shows that percepts may have changed, so that
// sim.ModelVersion has to be raised and the recordings made anew:
//
//	go test ./sim/samebits -args -record
package samebits
