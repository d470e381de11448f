// Package regret splits what a played path took into par, choices and luck.
//
// The idea: judge a step by what it was worth before its outcome was known.
// With V the planner's expected seconds of a belief and Q those of the step
// taken, a step's regret is Q - V: zero exactly for steps as good as the best,
// and negative only for steps outside the plan's rules (a gamble on parts that
// pays on average). Its luck is what its outcome added or saved against Q.
// Summed over a path they telescope:
//
//	seconds + still to do = par + choices + luck
//
// where par is V at the start and luck has mean zero over the priors whatever
// the policy, so nobody is marked for it. A score charges regrets and credits none,
// so it never exceeds 100; a small tolerance is forgiven to each step that could
// rule something out, and one to the job (see charge). Values are exact fractions of
// seconds (integers over the weight of the belief), so the identity holds to
// the last digit. Where a value could only be bounded the lower possible
// regret counts, and the rest is booked as luck.
package regret
