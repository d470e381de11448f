// Package sound plays what is heard in the bay.
//
// [Player] is silent until the first click or key, as browsers want it, then looks whether there is a device, and plays what the
// synthesiser makes of what [Player.Hear] is told. Where there is no device, or sound is off, everything works and nothing is heard:
// captions say the same. It falls silent when the window loses the focus, and when the window's goroutine is stuck.
package sound
