// Package synth makes what is heard in the bay: the air pump's whine, clicks of armatures, the hiss of a leak, cranking and idle. It
// is additive synthesis and filtered noise; there are no recordings.
//
// One goroutine publishes what is to be heard as a block of numbers ([Synth.Publish]), another renders it ([Synth.Render]). They
// share nothing but a lock-free exchange. Numbers are glided to, so that a change never clicks; things that happen once are counters
// in the block, and sound when the counter grows. The same seed and the same blocks at the same frames give the same samples.
//
// The package knows nothing of cars or of the engine that draws.
package synth
