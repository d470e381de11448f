// Package standin is a bench with no car behind it, for tests of the screens only: its catalogue is that of car A, its
// view follows what hands do, and its readings are made up. No program imports it; a test sees to that.
package standin
