// Package grading is not run through by a step: it may do as it likes.
package grading

import (
	"math"
	"time"
)

func free(m map[string]float64, x, y, z float64) (s float64) { // want free:`unfit`
	for _, v := range m {
		s += v * float64(time.Now().Unix())
	}
	go free(nil, 0, 0, 0)
	return s + math.Exp(x) + y*z
}
