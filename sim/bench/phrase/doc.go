// Package phrase puts what was done and perceived into plain English sentences, from the message catalogue. The ledger
// strip, the notebook, the prompt and the debrief use the same sentences. It draws nothing.
package phrase
