// Package bay is the room with the car: a picture of each place with what can be touched there, the tool tray, the
// instruments, the clocks and the bill, and the last lines of the ledger. It draws what the session's catalogue and
// view say and turns clicks and keys into actions; it knows nothing of what is inside the car.
//
// How a battery or a pump looks is here (art_*.go); where it stands is the drawing's data.
package bay
