// Package car says what a car is: the YAML types of a car file, their validation, and the immutable networks built from
// them. Every number that a fault, a repair or a car-to-car spread may change gets one place in a list of parameters,
// named "owner.param", each with the service unit it belongs to.
package car
