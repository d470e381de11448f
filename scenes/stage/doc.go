// Package stage runs the trainee's window: a [Desk] that holds the open order and carries out actions through the
// bench's session, and a [Director] that shows one scene at a time and passes it hands, keys and time. Scenes draw what
// the desk holds; none of them computes physics or marks. Work orders, sessions and debriefs come from outside through
// [Orders].
package stage
