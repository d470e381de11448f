// Package score marks a finished attempt and says why: it replays the attempt in the true car and in every suspect's, has the
// planner value each step, holds the trainee's board against the evidence, and writes a debrief in which every number can be
// computed again from the log.
//
// Economy is scored by choices, not by minutes: a step's regret is what it cost on average against the best choice at the same
// belief, so an equally good path scores 100 and a lucky swap gains nothing (design note on grading; the identity minutes = par +
// choices + luck is package regret's).
package score
