package air

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// rig is a network with its parameters, for tests.
type rig struct {
	n   *Net
	s   State
	par []float64
	at  map[string]int
	in  Inputs
}

func build(t require.TestingT, spec Spec) *rig {
	r := &rig{at: map[string]int{}}
	spec.Volumes = append(spec.Volumes, Volume{ID: "manifold", M3: 3e-3})
	var err error
	r.n, err = Build(spec, func(owner, name string, v float64) int {
		r.par = append(r.par, v)
		r.at[owner+"."+name] = len(r.par) - 1
		return len(r.par) - 1
	})
	require.NoError(t, err)
	r.in = Inputs{Dt: 0.1, AmbientPa: 101325, AmbientK: 293.15, ChargeK: 293.15, ExhaustPa: 101325, ExhaustK: 293.15, Exhaust2Pa: 101325}
	r.s = r.n.NewState(r.in.AmbientPa)
	return r
}

func (r *rig) step(t require.TestingT) { require.NoError(t, r.n.Step(&r.s, r.par, &r.in)) }

// mass of the air in everything but the manifold, kg, at the surroundings' temperature.
func (r *rig) mass() float64 {
	sum := 0.0
	for i := 2; i < len(r.n.nodes); i++ {
		if i == r.n.manifold || i == r.n.tool && r.s.tool == NoTool {
			continue
		}
		v := r.n.volume[i]
		if i == r.n.tool {
			v += r.s.drawn
		}
		for k := range r.n.parts {
			if p := &r.n.parts[k]; p.chamber == i {
				v -= r.par[p.par+4] * r.s.lift[k]
			}
		}
		sum += r.s.P[i] * v / (R * r.in.AmbientK)
	}
	return sum
}

const inHg = 3386.389 // Pa, conventional

// Air leaking into 100 cm3 through a hole while choked: the gauge falls linearly; rates and seconds per inHg worked out, isothermal
// at 293.15 K. "No more than 1 inHg in 60 s" is an 18.9 um hole.
func TestVacuumHold(t *testing.T) {
	for _, c := range []struct{ mm, rate, secs float64 }{{0.10, 1580.7, 2.14}, {0.05, 395.2, 8.57}, {0.02, 63.2, 53.6}, {0.01, 15.8, 214}, {0.0189, 0, 60}} {
		r := build(t, Spec{Volumes: []Volume{{ID: "can", M3: 1e-4}},
			Parts: []Part{{ID: "hole", Kind: "orifice", A: "ambient", B: "can", Params: map[string]float64{"cda_m2": math.Pi / 4 * c.mm * c.mm * 1e-6}}}})
		can := r.n.Node("can")
		from := 101325 - 20*inHg
		r.s.P[can] = from
		secs := 0.0
		for r.s.P[can] < from+inHg {
			before := r.s.P[can]
			r.step(t)
			secs += r.in.Dt
			if rate := (r.s.P[can] - before) / r.in.Dt; c.rate > 0 {
				require.InEpsilon(t, c.rate, rate, 2e-3)
			}
			if r.s.P[can] > from+inHg { // back to the moment of the mark
				secs -= r.in.Dt * (r.s.P[can] - from - inHg) / (r.s.P[can] - before)
			}
		}
		require.InEpsilon(t, c.secs, secs, 6e-3, "%g mm", c.mm)
	}
}

// closed is a chamber under a diaphragm, a hose and a reservoir, open to nothing but the hand pump.
func closed(t require.TestingT) *rig {
	r := build(t, Spec{
		Volumes: []Volume{{ID: "chamber", M3: 2.5e-5}, {ID: "reservoir", M3: 4e-4}, {ID: "pipe", M3: 5e-4}, {ID: "gallery", M3: 1e-4}},
		Ports: []Port{{ID: "nipple", On: "chamber", CdA: 2.47e-6, LaminarPa: 300}, {ID: "res", On: "reservoir", CdA: 2.47e-6, LaminarPa: 300},
			{ID: "tap", On: "reservoir", CdA: 2.47e-6, LaminarPa: 300}},
		Hoses: []Hose{{ID: "line", M3: 3.5e-6, Bore: 2.47e-6, A: "nipple", B: "res"}},
		Parts: []Part{{ID: "valve", Kind: "diaphragm_valve", A: "pipe", B: "gallery", Chamber: "chamber", Params: map[string]float64{
			"area_m2": 2e-4, "cd": 0.7, "reed_cda_m2": 1.6e-4, "reed_crack_pa": 100, "dia_m2": 1.2e-3, "lift0_pa": 18000, "lift1_pa": 32000,
			"lift_m": 0.006, "tau_s": 0.01}}},
	})
	return r
}

// Air is neither made nor lost: in closed volumes at different pressures the mass stays, to rounding, while it flows. The rising
// diaphragm's kinks cost at most a thousandth of what is in its chamber.
func TestMassIsConserved(t *testing.T) {
	r := closed(t)
	require.NoError(t, r.s.PlugPort(r.n.Port("tap"), true))
	r.s.P[r.n.Node("reservoir")] = 85000
	r.in.Dt = 0.01
	before := r.mass()
	for range 200 {
		r.step(t)
		require.InEpsilon(t, before, r.mass(), 1e-12, "the diaphragm does not lift yet")
	}
	require.InDelta(t, r.s.P[r.n.Node("chamber")], r.s.P[r.n.Node("reservoir")], 1, "all at one pressure in the end")

	r = closed(t)
	require.NoError(t, r.s.PlugPort(r.n.Port("tap"), true))
	r.s.P[r.n.Node("reservoir")] = 40000
	r.in.Dt = 0.05
	before = r.mass()
	for range 200 {
		r.step(t)
	}
	require.Greater(t, r.s.Lift(0), 0.0059)
	chamber := 101325 * 2.5e-5 / (R * 293.15)
	require.InDelta(t, before, r.mass(), 1e-3*chamber)
}

// A pull of the lever expands what is in the pump, its gauge and what hangs on it by 15 cm3 (isothermal; worked out by the law of
// Boyle and Mariotte). The model's pump has a leak of its own, which in this time is worth less than the tolerance.
func TestStroke(t *testing.T) {
	const tool, stroke = 20e-6, 15e-6
	for _, c := range []struct {
		name  string
		port  string
		stuck bool
		m3    float64
	}{{"chamber, valve stuck", "nipple", true, 25e-6}, {"reservoir", "tap", false, 400e-6}} {
		r := closed(t)
		r.in.Dt = 0.01
		r.n.Pull(&r.s, r.n.End("line.a"))
		r.n.Pull(&r.s, r.n.End("line.b"))
		require.NoError(t, r.s.PlugPort(r.n.Port("res"), true))
		if c.stuck {
			r.par[r.at["valve.stuck"]] = 1
		}
		require.NoError(t, r.n.SetTool(&r.s, HandPump, -1, r.n.Port(c.port), r.in.AmbientPa))
		want := r.in.AmbientPa
		for range 5 {
			r.s.Stroke()
			for range 300 {
				r.step(t)
			}
			// The chamber follows the pump while the lever moves; the plunger's share then leaves.
			want *= (c.m3 + tool) / (c.m3 + tool + stroke)
			require.InDelta(t, want, r.n.ToolPa(&r.s), 0.02*(101325-want)+20, c.name)
		}
	}
}

// Random networks of volumes, open ends and a turning pump never leave the positive pressures or the finite numbers.
func TestStaysPhysical(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := closed(t)
		for i := 2; i < len(r.n.nodes); i++ {
			r.s.P[i] = rapid.Float64Range(1000, 200000).Draw(t, "pa")
		}
		r.s.Throttle = rapid.Float64Range(0, 1e-4).Draw(t, "throttle")
		r.s.CylK, r.s.CylSlope = rapid.Float64Range(0, 1e-6).Draw(t, "cyl"), 0.9
		r.s.CylOffset = 1e4
		for range 40 {
			switch rapid.IntRange(0, 6).Draw(t, "act") {
			case 0:
				r.n.Pull(&r.s, rapid.IntRange(0, r.n.Ends()-1).Draw(t, "end"))
			case 1:
				_ = r.n.Fit(&r.s, rapid.IntRange(0, r.n.Ends()-1).Draw(t, "end"), rapid.IntRange(0, 2).Draw(t, "port"))
			case 2:
				_ = r.n.SetTool(&r.s, HandPump, -1, 2, r.in.AmbientPa)
			case 3:
				r.s.Stroke()
			case 4:
				_ = r.n.SetTool(&r.s, Breath, -1, 2, r.in.AmbientPa)
			case 5:
				r.s.DropTool()
			}
			r.in.Dt = rapid.SampledFrom([]float64{0.005, 0.02, 0.1, 10, 600}).Draw(t, "dt")
			r.step(t)
			for i, p := range r.s.P[:len(r.n.nodes)] {
				if !(p > 0 && p < 2.5e5) {
					t.Fatalf("%s at %g Pa", r.n.nodes[i], p)
				}
			}
		}
	})
}

// A chamber whose diaphragm is half way when it is let full of air does not end above what fills it, however long the stride: the air that a
// diaphragm which went on falling would take is not let in. Found by TestStaysPhysical.
func TestNoStrideCarriesAChamberPastWhatFeedsIt(t *testing.T) {
	for _, from := range []float64{70325, 71325, 75325, 80325} {
		for _, dt := range []float64{0.05, 0.1, 1, 10, 600} {
			r := closed(t)
			fed := []int{r.n.Node("chamber"), r.n.Node("reservoir"), r.n.Node("line")}
			for range 10 {
				for _, i := range fed {
					r.s.P[i] = from
				}
				r.step(t)
			}
			for _, i := range fed[1:] {
				r.s.P[i] = 101325
			}
			mass := r.mass()
			r.in.Dt = dt
			for range 20 {
				r.step(t)
				require.LessOrEqual(t, r.s.P[fed[0]], 101325.0+201, "from %g Pa in strides of %g s", from, dt)
			}
			require.InEpsilon(t, mass, r.mass(), 0.01, "from %g Pa in strides of %g s", from, dt)
		}
	}
}
