// Package dictionary builds what the planner works on: for one order, every procedure run in every suspect's world, from
// every bench configuration it may be done in. Nothing is written down by hand but the procedures' steps; what they show
// comes from the worlds.
package dictionary
