// Package ladder plays simulated students over an order's dictionary, to show that the score ranks skill and not luck.
//
// The idea: a score that is right must put students whose skill is known in the known order. So students are made whose rule of
// choice can be written down (a clairvoyant; the plan; most information per minute; the trade's sheet; chance; parts by
// likelihood), each is played against every suspect's cell as the truth, weighted by the priors, and every play is accounted for by
// the same package regret that marks trainees. Two things must then hold on every order, whatever the numbers: nobody proves a fault
// in less than the proof line of hindsight, and nobody who proves before he repairs needs less than par in the mean. The rest is a
// claim about people that the numbers have to support: it is stated with intervals and may fail.
//
// A student that draws lots is played in replicates. Within a replicate the draw depends only on the replicate and on how many
// steps were taken, never on the truth, so each replicate is a fixed rule, for which expectations over the priors are exact; only the
// mean over the replicates has an interval (95 %, Student's t).
//
// The dictionary decides what a procedure shows; no world is run here.
package ladder
