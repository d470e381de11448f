package circuit

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// bench is a net with its parameters, for tests.
type rig struct {
	n   *Net
	s   State
	par []float64
	at  map[string]int
	in  Inputs
}

func build(t *testing.T, elems ...Element) *rig {
	t.Helper()
	r := &rig{at: map[string]int{}, in: Inputs{Dt: 0.01, TempK: 298.15}}
	var err error
	r.n, err = Build("0", elems, func(owner, name string, v float64) int {
		r.par = append(r.par, v)
		r.at[owner+"."+name] = len(r.par) - 1
		return len(r.par) - 1
	})
	require.NoError(t, err)
	r.s = r.n.NewState(293.15)
	return r
}

func (r *rig) step() error {
	err := r.n.Step(&r.s, r.par, r.in)
	r.n.Part(&r.s, r.par)
	return err
}

func (r *rig) v(t *testing.T, node string) float64 {
	i, ok := r.n.Node(node)
	require.True(t, ok, node)
	return r.s.Volts(i, 0)
}

func res(id, a, b string, ohm float64) Element {
	return Element{ID: id, Kind: "resistor", A: a, B: b, Params: map[string]float64{"ohm": ohm}}
}

func batt(id, a, b string, emf, ohm float64) Element {
	return Element{ID: id, Kind: "battery", A: a, B: b, Params: map[string]float64{"emf_v": emf, "discharge_ohm": ohm, "charge_ohm": ohm, "capacity_ah": 1000}}
}

// Case A of the check values: solved with ngspice-39 and an independent nodal program, which agree to six digits.
func TestStalledPumpNetwork(t *testing.T) {
	r := build(t,
		batt("bat", "b", "0", 12.6, 0.010),
		res("fuse", "b", "n1", 0.0025), res("w1", "n1", "n2", 0.0208399), res("contact", "n2", "n3", 0.004),
		res("w2", "n3", "p", 0.0104199), res("motor", "p", "g", 0.45), res("w3", "g", "0", 0.00521),
		res("f2", "b", "c1", 0.008), res("coil", "c1", "c2", 80), res("d1", "c2", "0", 0.2),
		res("sol", "c1", "s2", 30), res("d2", "s2", "0", 0.2))
	require.NoError(t, r.step())
	for node, want := range map[string]float64{"b": 12.34398, "n1": 12.28138, "n2": 11.75954, "n3": 11.65938, "p": 11.39847,
		"g": 0.130459, "c1": 12.33948, "c2": 0.030772, "s2": 0.081718} {
		require.InDelta(t, want, r.v(t, node), 1e-5, node)
	}
	bat, _ := r.n.Elem("bat")
	require.InDelta(t, -25.6025, r.n.Amps(&r.s, bat), 1e-4)
	m, _ := r.n.Elem("motor")
	require.InDelta(t, 25.0400, r.n.Amps(&r.s, m), 1e-4)
}

// Case C of the check values: a 10 Mohm meter through a leak, and through a bad joint with and without a lamp.
func TestMeterLoading(t *testing.T) {
	for _, c := range []struct {
		name        string
		joint, lamp float64
		want        float64
	}{{"1 Mohm leak", 1e6, 0, 11.4545}, {"10 kohm joint", 1e4, 0, 12.5874}, {"10 kohm joint and 24 ohm lamp", 1e4, 24, 0.03017}} {
		t.Run(c.name, func(t *testing.T) {
			r := build(t, batt("bat", "b", "0", 12.6, 1e-5), res("joint", "b", "x", c.joint))
			x, _ := r.n.Node("x")
			r.n.Attach(&r.s, 0, Instrument{Kind: Voltmeter, A: x, B: 0}, 293.15)
			if c.lamp > 0 {
				r.n.Attach(&r.s, 1, Instrument{Kind: TestLamp, A: x, B: 0, Watts: 144 / c.lamp}, 293.15)
			}
			require.NoError(t, r.step())
			got, ok := r.s.Instrument(0)
			require.True(t, ok)
			require.InDelta(t, c.want, got.Volts, 1e-4)
		})
	}
}

func TestOhmmeter(t *testing.T) {
	r := build(t, batt("bat", "b", "0", 12.6, 0.006), res("load", "b", "y", 5), res("coil", "y", "z", 30.2), res("end", "z", "0", 1))
	sw := Element{ID: "plug", Kind: "connector", Pins: [][2]string{{"y", "p1"}, {"z", "p2"}}, Params: map[string]float64{"ohm": 0.001}}
	r2 := build(t, batt("bat", "b", "0", 12.6, 0.006), res("load", "b", "y", 5), res("end", "z", "0", 1), sw, res("coil", "p1", "p2", 30.2))
	a, _ := r2.n.Node("p1")
	b, _ := r2.n.Node("p2")
	plug, _ := r2.n.Elem("plug")
	r2.n.SetOpen(&r2.s, plug, true)
	r2.n.Attach(&r2.s, 0, Instrument{Kind: Ohmmeter, A: a, B: b}, 293.15)
	require.NoError(t, r2.step())
	got, _ := r2.s.Instrument(0)
	require.InDelta(t, 30.2, got.Ohms, 1e-6)
	require.False(t, got.Live)
	y, _ := r.n.Node("y")
	z, _ := r.n.Node("z")
	r.n.Attach(&r.s, 0, Instrument{Kind: Ohmmeter, A: y, B: z}, 293.15)
	require.NoError(t, r.step())
	got, _ = r.s.Instrument(0)
	require.True(t, got.Live, "an ohmmeter on a live circuit must say so")
}

// Fuse times against the upper bounds of ISO 8820-3 (values from memory) and "110 % never opens".
func TestFuseTimes(t *testing.T) {
	for _, c := range []struct{ share, least, most float64 }{{1.35, 0.75, 600}, {1.6, 0.25, 50}, {2, 0.15, 5}, {3.5, 0.04, 0.5}, {6, 0.02, 0.1}} {
		f := Element{ID: "f", Kind: "fuse", A: "b", B: "x", Params: map[string]float64{"ohm": 0.001, "rating_a": 10}}
		r := build(t, batt("bat", "b", "0", 50, 1e-5), f, res("load", "x", "0", 50/(10*c.share)))
		r.in.Dt = 0.001
		secs := 0.0
		for r.par[r.at["f.blown"]] < 0.5 && secs < 700 {
			require.NoError(t, r.step())
			secs += r.in.Dt
		}
		require.GreaterOrEqual(t, secs, c.least, c.share)
		require.LessOrEqual(t, secs, c.most, c.share)
	}
	f := Element{ID: "f", Kind: "fuse", A: "b", B: "x", Params: map[string]float64{"ohm": 0.001, "rating_a": 10}}
	r := build(t, batt("bat", "b", "0", 50, 1e-5), f, res("load", "x", "0", 50/11.0))
	for range 100000 {
		require.NoError(t, r.step())
	}
	require.Zero(t, r.par[r.at["f.blown"]])
}

// AWG resistance at 20 degC, ohm per 1000 ft from the common wire-gauge table (HyperPhysics, after Floyd).
func TestWireTable(t *testing.T) {
	for awg, want := range map[int]float64{10: 0.9989, 12: 1.588, 14: 2.525, 16: 4.016, 18: 6.385, 22: 16.14} {
		r, err := wireOhmPerMetre(awg)
		require.NoError(t, err)
		require.InEpsilon(t, want, r*304.8, 1e-3)
	}
}

func TestFloatingPartReadsZero(t *testing.T) {
	r := build(t, batt("bat", "b", "0", 12.6, 0.006), res("load", "b", "0", 5), res("loose", "x", "y", 10))
	require.NoError(t, r.step())
	require.Zero(t, r.v(t, "x"))
}
