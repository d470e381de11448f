package air

import (
	"maps"
	"math"
	. "math"
	mr "math/rand/v2" // want `imports math/rand/v2: randomness`
	"slices"
	"time" // want `imports time: time is the world's own`
)

const limit = time.Second

func mathematics(x float64) float64 {
	f := math.Tanh                                                                 // want `math.Tanh: its last bits`
	return math.Sqrt(x) + math.Exp(x) + f(x) + Log(x) + math.Abs(x) + mr.Float64() // want `math.Exp: its last bits depend on the architecture, sim/dmath has its own` `math.Log: `
}

func loops[M ~map[string]int](m map[string]float64, l []float64, c chan int, g M) (s float64) {
	for _, v := range m { // want `loops over a map, in the order of the moment`
		s += v
	}
	for range g { // want `loops over a map`
	}
	for k := range maps.Keys(m) { // want `maps.Keys gives the order of the moment`
		s += m[k]
	}
	for _, k := range slices.Sorted(maps.Keys(m)) {
		s += m[k]
	}
	for _, v := range l {
		s += v
	}
	for range c { // want `a channel`
	}
	//samebits:ok the greatest is the greatest in any order
	for _, v := range m {
		s = max(s, v)
	}
	for _, v := range m { //samebits:ok the same
		s = max(s, v)
	}
	for range m { //samebits:ok // want `reason` `loops over a map`
	}
	//samebits:ok nothing here // want `excuses nothing`
	return s
}

func races(c chan int) {
	go func() {}() // want `a goroutine`
	select {       // want `select`
	case <-c: // want `a channel`
	default:
	}
	c <- 1 // want `a channel`
}
