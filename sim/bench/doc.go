// Package bench is the bay around the car: what a trainee can do, what each action costs in bench time, what it lets
// one perceive, and what goes wrong when it is done unsafely. It wraps a sim.World and is the only way into one: see
// [Session]. World time is bench time; every action steps the world by its duration, in ticks of 0.1 s.
//
// One function, [Percept.Class], says which readings a technician can tell apart. The grader's belief and the planner
// use it and nothing else.
//
// # What is hidden stays hidden
//
// Whether an action can be done is decided from what the trainee knows, never from the hidden state of the car: a refusal costs nothing and
// is not logged, so it must not tell anything. Where the car surprises (a hose that hangs free already, a line that sits on another
// port), the trainee has walked there, and the surprise is a percept in the log. For the same reason [View] shows a hose where the trainee
// takes it to be, and a pump turning or a lamp lit only after that was perceived: view = f(log).
//
// # Percepts
//
// Keys, by sense; Of names the thing; a word unless a unit is given:
//
//	eye     sign       "hangs free", "sits on PORT", "open", "off", "nothing unusual", or what the car's data lets be seen
//	        pump       shakes evenly, shakes roughly
//	        stem       of a valve that is off: lifts fully, lifts part way, sinks part way, falls back, stays down, stays part way, stays up
//	        lamp       on, off (malfunction lamp)      coolant   cold, warm, hot (gauge)      rpm   rev counter, to 50
//	        lead       fuse blown, softens and smokes, glows and burns through, flash and bang
//	ear     pump       whines, falls silent (noticed)  engine    running, off (noticed)       start starts, does not start
//	        whine      silent, slow, normal, fast      bearing   smooth, rough, grinding      click clicks, no click
//	        hiss       none, faint, clear, strong      idle      even, hunts                  exhaust
//	hand    flow       tailpipe: none, faint, clear, strong; openings: with "suction" or "blowing"
//	        heat       cold, warm, hot, burns          vibration none, smooth, rough, grinding
//	        breath     blocked, hard, free             breath_out none, faint, clear
//	nose    smell, fumes, lead
//	eye     smoke      thin, thick, of where it comes out                                     gauge   smoke_in none, little, much
//	ear     noise      rattles, gurgles (pump)
//	analyser gas.o2, gas.co, gas.co2 (%), gas.hc (ppm hexane), gas.lambda
//	meter   volts (V), ohms (ohm or OL), amps (A)      clamp     amps (A)                     lamp  glow: off, glimmer, dim, bright
//	gauge   vacuum (kPa below ambient)                 drop      (kPa)
//	scan    code       a code or "none", of "stored" or "pending"                             monitor complete, not complete
//	        pid.XX, freeze.XX  one decoded value each, of its name                            actuator, erase: accepted, done ...
//
// # Files of this package
//
// session, verbs and view are the contract; local, dispatch, state and advance carry an action out; senses, hands, engine, meters, jumper,
// vacuum, scantool, repair and notebook hold the verbs; hazards, words and class the limits, graded words and bins, each in one table;
// layout and layout_car what of a car can be reached; history how the car came in; attempt and replay the log; line, say and
// runner the prompt.
package bench
