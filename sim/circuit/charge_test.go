package circuit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Kirchhoff's current law: in random networks with batteries, a charging source, motors at speed, loads, fuses, drivers and
// instruments the currents at every node sum to nothing, to rounding of the largest.
func TestChargeIsConserved(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		nodes := rapid.IntRange(3, 12).Draw(rt, "nodes")
		name := func(i int) string { return fmt.Sprint(i) }
		ohm := func() float64 { return math.Pow(10, rapid.Float64Range(-3, 6).Draw(rt, "log ohm")) }
		var elems []Element
		add := func(kind string, a, b int, params map[string]float64) *Element {
			elems = append(elems, Element{ID: fmt.Sprintf("%s%d", kind, len(elems)), Kind: kind, A: name(a), B: name(b), Params: params})
			return &elems[len(elems)-1]
		}
		add("battery", 1, 0, map[string]float64{"emf_v": 12.65, "discharge_ohm": 0.006, "charge_ohm": 0.12, "capacity_ah": 60})
		add("alternator", 1, 0, map[string]float64{"emf_v": 14.3, "ohm": 0.015, "limit_a": 70})
		for i := 2; i < nodes; i++ {
			add("resistor", rapid.IntRange(0, i-1).Draw(rt, "to"), i, map[string]float64{"ohm": ohm()})
		}
		for range rapid.IntRange(0, 8).Draw(rt, "more") {
			a := rapid.IntRange(0, nodes-1).Draw(rt, "a")
			b := (a + rapid.IntRange(1, nodes-1).Draw(rt, "b")) % nodes
			switch rapid.IntRange(0, 4).Draw(rt, "kind") {
			case 0:
				add("resistor", a, b, map[string]float64{"ohm": ohm()})
			case 1:
				add("load", a, b, map[string]float64{"amps": 5}).When = "key"
			case 2:
				add("motor", a, b, map[string]float64{"ra_ohm": 0.085, "brush_v": 0.5, "ke_v_s": 0.0085, "j_kgm2": 2e-4, "bearing_nm": 0.01, "cv_nms": 0})
			case 3:
				add("fuse", a, b, map[string]float64{"ohm": 0.002, "rating_a": 40})
			case 4:
				add("driver", a, b, map[string]float64{"on_ohm": 0.3, "limit_a": 2.5}).Drive = "pump"
			}
		}
		r := &rig{at: map[string]int{}, in: Inputs{Dt: 0.01, TempK: 293.15}}
		var err error
		r.n, err = Build("0", elems, func(owner, param string, v float64) int {
			r.par = append(r.par, v)
			return len(r.par) - 1
		})
		if err != nil {
			rt.Skip(err.Error()) // more motors than a car may have
		}
		r.s = r.n.NewState(293.15)
		r.n.Attach(&r.s, 0, Instrument{Kind: Voltmeter, A: nodes - 1, B: 0}, 293.15)
		r.n.Attach(&r.s, 1, Instrument{Kind: Ohmmeter, A: nodes - 1, B: 1}, 293.15)
		for i := range r.in.On {
			r.in.On[i] = true
		}
		for step := range 5 {
			for m := range r.n.motors {
				r.s.W[m] = rapid.Float64Range(0, 1300).Draw(rt, "w")
			}
			require.NoError(t, r.step())
			checkNodes(rt, r, step)
			if r.n.repiece(&r.s, r.par, &r.in, false) {
				rt.Fatalf("step %d: a part is not on the piece that its own current asks for", step)
			}
		}
	})
}

func checkNodes(t *rapid.T, r *rig, step int) {
	var sum [MaxNodes]float64
	largest := 1.0
	put := func(a, b int16, amps float64) {
		sum[a] -= amps
		sum[b] += amps
		largest = max(largest, math.Abs(amps))
	}
	for i := range r.n.branches {
		b := &r.n.branches[i]
		put(b.a, b.b, r.n.amps(&r.s, i))
	}
	for k := range r.s.slots() {
		if s := &r.s.leads.slot[k]; s.a >= 0 {
			put(s.a, s.b, s.amps(&r.s))
		}
	}
	for i, name := range r.n.nodes {
		if math.Abs(sum[i]) > 1e-7*largest {
			t.Fatalf("step %d: %g A too much at node %s, largest current %g A", step, sum[i], name, largest)
		}
	}
}
