// Package plan computes the shortest diagnostic sequence over a dictionary of
// predicted readings, and proves how short it can be.
//
// The idea: a dictionary lists suspects (a fault at a severity, with an integer
// prior weight and the unit whose repair would cure it), bench configurations
// with the seconds it takes to change between them, and tests, each with its
// duration, the configurations it may be done in and the outcome class that
// each suspect would show. What is left to do depends only on the pair (S, q):
// the suspects that fit everything seen so far, and the bench as it stands.
// The smallest expected remaining time obeys
//
//	W(S,q) = T(S,q)                                          S within one unit
//	W(S,q) = min over tests t and configurations a of
//	           P(S) (d(q,a) + c_t) + sum over outcomes W(S_o, post(t,a))
//
// where P(S) is the weight of S, d the cheapest set-up time and T the set-up,
// repair and verification of the unit. Values are kept unnormalised, as
// integers (weight times seconds); divide by P(S) for expected seconds. Ties
// are therefore exact, and a certificate of optimality needs no tolerance.
//
// A part goes on only when the suspects left lie in its unit (proof before
// parts), or when they span several units that no test can tell apart: such a
// group is closed by replacing and verifying in the cheapest order, which is
// the rule of weight over cost when nothing has to be set up. The Economic
// option lifts that rule and prices gambling on parts.
//
// Search is depth-first AND/OR branch and bound with a memo of exact values
// and of failed budgets, two admissible bounds (Huffman on sorted costs; the
// dearest separation each suspect still needs, with set-ups), and exact
// reductions that drop set-ups which could be put off. The pruning ideas
// follow the test-sequencing literature: K. R. Pattipati and M. G.
// Alexandridis, IEEE Trans. SMC 20(4):872-887, 1990 (Huffman bound); S. Ruan,
// F. Tu, K. Pattipati and A. Patterson-Hine, IEEE Trans. SMC-B
// 34(3):1490-1499, 2004 (set-ups as part of the state).
//
// The package uses the standard library only and runs in a browser build.
package plan
