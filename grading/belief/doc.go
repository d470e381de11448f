// Package belief says which suspects still fit an attempt, step by step, and why the others fell.
//
// Every suspect is a family of worlds over its severity. All of them live through the order's history and then through the
// trainee's own actions; a world stays while its percepts fall into the same classes as the ones the trainee had
// ([bench.Percept.Class] and nothing else decides). A suspect is out only when no severity fits: where the readings of two
// neighbouring severities lie on either side of the one seen, the family is refined by bisection before it falls.
package belief
