package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// warmRig is a battery, a charging source and a coil, each on its own switch.
type warmRig struct {
	t   *testing.T
	n   *Net
	s   State
	par []float64
	in  Inputs
	at  map[string]int
}

func newWarmRig(t *testing.T, charge float64) *warmRig {
	r := &warmRig{t: t, at: map[string]int{}, in: Inputs{Dt: 0.1, TempK: refK}}
	var err error
	r.n, err = Build("0", []Element{
		{ID: "battery", Kind: "battery", A: "p", B: "0", Params: map[string]float64{"emf_v": 12.65, "discharge_ohm": 0.006, "charge_ohm": 0.12, "capacity_ah": 60}},
		{ID: "alternator", Kind: "alternator", A: "p", B: "0", Params: map[string]float64{"emf_v": 14.3, "ohm": 0.015, "limit_a": 70, "field_lag_s": 0.3}},
		{ID: "feed", Kind: "switch", A: "p", B: "q", When: "key", Params: map[string]float64{"ohm": 0.01}},
		{ID: "coil", Kind: "coil", A: "q", B: "0", Params: map[string]float64{"ohm": 30, "pull_a": 0.25, "drop_a": 0.08}},
		{ID: "lamp", Kind: "load", A: "p", B: "0", When: "run", Params: map[string]float64{"amps": 5}},
		{ID: "starter", Kind: "load", A: "p", B: "0", When: "crank", Params: map[string]float64{"amps": 150}},
	}, func(owner, name string, v float64) int {
		r.par = append(r.par, v)
		r.at[owner+"."+name] = len(r.par) - 1
		return len(r.par) - 1
	})
	require.NoError(t, err)
	r.s = r.n.NewState(refK)
	r.s.Charge = charge
	return r
}

func (r *warmRig) run(seconds float64, on ...string) {
	r.in.On = [16]bool{}
	for _, c := range on {
		r.in.On[r.n.Command(c)] = true
	}
	for range int(seconds*10 + 0.5) {
		require.NoError(r.t, r.n.Step(&r.s, r.par, r.in))
	}
}

func (r *warmRig) charging() float64 {
	e, _ := r.n.Elem("battery")
	return r.n.Amps(&r.s, e)
}

// A coil under current warms by I2R against what it gives off and gains resistance by copper's coefficient (0.00393/K: see copper.csv); an ohmmeter
// finds it so, and finds it cold again after it has cooled.
func TestCoilWarms(t *testing.T) {
	r := newWarmRig(t, 1)
	coil, _ := r.n.Elem("coil")
	ohms := func() float64 {
		q, _ := r.n.Node("q")
		r.n.Attach(&r.s, 0, Instrument{Kind: Ohmmeter, A: q, B: 0}, refK)
		r.run(0.1)
		got, ok := r.s.Instrument(0)
		require.True(t, ok)
		r.n.Detach(&r.s, 0)
		return got.Ohms
	}
	require.InDelta(t, 30, ohms(), 0.05)
	r.run(10, "key")
	// 12.65 V on 30 ohm are 5.33 W; of 25 J/K, 0.09 W/K: after ten seconds 2.1 K.
	require.InDelta(t, 2.1, r.n.CoilK(&r.s, coil)-refK, 0.1)
	r.run(3600, "key")
	// Settled: V2 / (R (1 + a x)) = 0.09 x with V 12.64 on the sagging battery's 12.6: x = 51 K.
	rise := r.n.CoilK(&r.s, coil) - refK
	amps := r.n.CoilAmps(&r.s, coil)
	require.InDelta(t, amps*amps*30*(1+0.00393*rise), 0.09*rise, 0.02)
	require.InDelta(t, 51, rise, 2)
	require.InEpsilon(t, 30*(1+0.00393*rise), ohms(), 5e-3)
	require.InEpsilon(t, 30*(1+0.00393*rise), r.n.CoilOhm(&r.s, r.par, coil), 5e-3)
	r.run(3600)
	require.InDelta(t, 30, ohms(), 0.1)
	r.in.TempK = refK - 20
	r.run(3600)
	require.InDelta(t, 30*(1-0.00393*20), ohms(), 0.1)
}

// A full battery takes less and less of the charging current, an empty one keeps taking it, and a load undoes the taper.
func TestChargingTapers(t *testing.T) {
	full := newWarmRig(t, 0.999)
	full.run(5, "run")
	first := full.charging()
	require.InDelta(t, (14.3-12.65)/(0.12+0.015), first, 1.5)
	last := first
	for range 60 {
		full.run(60, "run")
		require.LessOrEqual(t, full.charging(), last+1e-9, "it never rises")
		last = full.charging()
	}
	require.Less(t, last, 0.2*first)
	require.Greater(t, last, 0.1*first)
	full.run(30, "crank")
	full.run(3, "run")
	require.Greater(t, full.charging(), 1.3*last)

	empty := newWarmRig(t, 0.5)
	empty.run(5, "run")
	first = empty.charging()
	empty.run(3600, "run")
	require.Greater(t, empty.s.Charge, 0.6)
	require.Greater(t, empty.charging(), 0.7*first, "below four fifths of the charge only the rest voltage rises")
}

// A joint under current warms by I2R against what it gives off: with a steady current the rise is P/k (1 - exp(-k t/C)), by hand. A
// relay's contact, a connector's pins and a plain joint are followed where they are asked for, and nothing else is.
func TestJointsWarm(t *testing.T) {
	par, at := []float64{}, map[string]int{}
	n, err := Build("0", []Element{
		{ID: "battery", Kind: "battery", A: "p", B: "0", Params: map[string]float64{"emf_v": 12.65, "discharge_ohm": 0.006, "charge_ohm": 0.12, "capacity_ah": 600}},
		{ID: "bad", Kind: "resistor", A: "p", B: "q", JointJK: 6, JointWK: 0.1, Params: map[string]float64{"ohm": 0.1}},
		{ID: "plug", Kind: "connector", Pins: [][2]string{{"q", "r"}, {"s", "0"}}, JointJK: 6, JointWK: 0.1, Params: map[string]float64{"ohm": 0.01}},
		{ID: "load", Kind: "resistor", A: "r", B: "s", Params: map[string]float64{"ohm": 1}},
	}, func(owner, name string, v float64) int {
		par = append(par, v)
		at[owner+"."+name] = len(par) - 1
		return len(par) - 1
	})
	require.NoError(t, err)
	s := n.NewState(refK)
	in := Inputs{Dt: 0.05, TempK: refK}
	bad, _ := n.Elem("bad")
	plug, _ := n.Elem("plug")
	load, _ := n.Elem("load")
	for range 1200 {
		require.NoError(t, n.Step(&s, par, in))
	}
	amps := n.Amps(&s, load)
	require.InDelta(t, 11.2, amps, 0.1)
	got, ok := n.JointK(&s, bad)
	require.True(t, ok)
	require.InEpsilon(t, amps*amps*0.1/0.1*(1-math.Exp(-0.1*60/6)), got-refK, 5e-3)
	pin, ok := n.JointK(&s, plug)
	require.True(t, ok)
	require.InEpsilon(t, (got-refK)/10, pin-refK, 5e-3)
	_, ok = n.JointK(&s, load)
	require.False(t, ok)

	for _, bad := range []Element{
		{ID: "x", Kind: "resistor", A: "p", B: "0", JointJK: 6, Params: map[string]float64{"ohm": 1}},
		{ID: "x", Kind: "load", A: "p", B: "0", When: "key", JointJK: 6, JointWK: 1, Params: map[string]float64{"amps": 1}},
	} {
		_, err := Build("0", []Element{bad}, func(string, string, float64) int { return 0 })
		require.ErrorContains(t, err, `element "x": joint_j_k`)
	}
}
