package tongue

import (
	"slices"

	"coldbay/assets/messages"
	"coldbay/grading/score"
	"coldbay/scenarios"
	"coldbay/sim/bench/phrase"
)

// Case gives what an attempt is graded on the words of another language: its dictionary, its order's title and customer, and the titles of
// the orders that may come next. What is computed from stays as it is. Of the case that is given nothing changes but these fields, which
// are copied first. Errors: a language that can't be loaded, an order of the candidates that can't be read.
func Case(msg *messages.Catalogue, lib *scenarios.Library, c *score.Case) error {
	if msg.Lang() == messages.Languages()[0] {
		return nil
	}
	o := *c.Config.Order
	said := phrase.Order(msg, &o)
	o.Title, o.Customer = said.Title, said.Customer
	c.Config.Order = &o
	c.Candidates = slices.Clone(c.Candidates)
	for i, x := range c.Candidates {
		other, err := lib.Load(x.Order)
		if err != nil {
			return err
		}
		c.Candidates[i].Title = phrase.Order(msg, other.Order).Title
	}
	return nil
}
