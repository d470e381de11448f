package air

import (
	"math"
	"math/rand"
)

func inTest(x, y, z float64) float64 { return x*y + math.Exp(z) + rand.Float64() }
