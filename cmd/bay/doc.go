// Bay is the trainee's window: the job board, the bay with the car, the papers and the debrief. It is one program for a
// desktop window and, built for js/wasm, for a browser page. Attempts are kept as they are played: close the window at
// any moment and go on where it was.
package main
