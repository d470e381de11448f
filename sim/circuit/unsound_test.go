package circuit

import (
	"math"
	"testing"

	"coldbay/sim/sparse"

	"github.com/stretchr/testify/require"
)

// What has no solution ends in an error that names the place, never in a panic.
func TestNoSolution(t *testing.T) {
	wires := []Element{batt("bat", "b", "0", 12.6, 0.01), res("near", "b", "x", 1), res("far", "x", "0", 5),
		{ID: "fuse", Kind: "fuse", A: "b", B: "y", Params: map[string]float64{"ohm": 0.01, "rating_a": 10}},
		{ID: "motor", Kind: "motor", A: "y", B: "0", Params: map[string]float64{"ra_ohm": 0.5, "brush_v": 0.5, "ke_v_s": 0.01, "j_kgm2": 1e-4, "bearing_nm": 0.01, "cv_nms": 0}}}
	for _, c := range []struct {
		param         string
		v             float64
		element, node string
		says          string
	}{
		{"near.ohm", math.NaN(), "near", "", `electrical network at the element "near": conductance = NaN S`},
		{"near.ohm", 0, "near", "", `conductance = +Inf S`},
		{"far.ohm", -1, "far", "", `conductance = -1 S`},
		{"motor.ra_ohm", math.NaN(), "motor", "", `conductance = NaN S`},
		{"bat.emf_v", 1e300, "", "b", `electrical network at the terminal "b": 9.79e+299 V`},
		{"bat.emf_v", math.NaN(), "", "b", `electrical network at the terminal "b": NaN V`},
		{"bat.emf_v", math.Inf(1), "", "b", `V`},
		{"fuse.rating_a", 0, "fuse", "", `electrical network at the element "fuse": heating = +Inf times its rating`},
		{"motor.heat_j_k", math.NaN(), "motor", "", `electrical network at the element "motor": winding temperature = NaN K`},
		{"bat.capacity_ah", math.NaN(), "bat", "", `electrical network at the element "bat": state of charge = NaN`},
	} {
		t.Run(c.says, func(t *testing.T) {
			r := build(t, wires...)
			require.NoError(t, r.step())
			r.par[r.at[c.param]] = c.v
			r.s.Touch()
			err := r.step()
			var at *SolveError
			require.ErrorAs(t, err, &at)
			require.Equal(t, c.element, at.Element)
			require.Equal(t, c.node, at.Node)
			require.ErrorContains(t, err, c.says)
		})
	}
}

// A part that is held by next to nothing at both ends has no voltage: what holds it is lost in rounding.
func TestSingularNamesItsTerminal(t *testing.T) {
	r := build(t, batt("bat", "b", "0", 12.6, 0.01), res("pin", "b", "x", 1), res("coil", "x", "y", 80), res("pin_2", "y", "0", 1))
	require.NoError(t, r.step())
	r.par[r.at["pin.ohm"]], r.par[r.at["pin_2.ohm"]] = 1e300, 1e300
	r.s.Touch()
	err := r.step()
	require.ErrorIs(t, err, sparse.ErrSingular)
	require.ErrorContains(t, err, `electrical network at the element "pin`)
	require.ErrorContains(t, err, `nothing holds its voltage (singular network)`)
}

// The tries of a step that don't agree may differ by rounding and no more: the battery without a current stands on its kink.
func TestChatter(t *testing.T) {
	r := build(t, batt("bat", "b", "0", 12.6, 0.01), res("load", "b", "x", 1), res("back", "x", "0", 1))
	require.NoError(t, r.step())
	from := r.s.piece
	to := from
	to[0] = 2
	for _, c := range []struct {
		apart float64
		ok    bool
	}{{0, true}, {3e-10, true}, {chatterV, true}, {2 * chatterV, false}, {5, false}} {
		var seen spread
		for k := range lastTries {
			s := r.s
			s.piece = to
			s.volt[1] = 12 + c.apart*float64(k%2)*(1-1e-9)
			seen.add(r.n, &s, &from)
		}
		err := seen.check(r.n)
		if c.ok {
			require.NoError(t, err, c.apart)
			continue
		}
		require.ErrorContains(t, err, `electrical network at the element "bat", terminal "b": no solution that agrees with itself in 40 tries: it goes from 12`)
	}
}

// Sources of 1e300 V have solutions that rounding throws about by as much: the step says so.
func TestNoAgreement(t *testing.T) {
	r := build(t, batt("bat", "b", "0", 12.6, 0.01), res("coil", "b", "x", 30),
		Element{ID: "drv", Kind: "driver", A: "x", B: "0", Drive: "solenoid", Params: map[string]float64{"on_ohm": 0.2, "limit_a": 3}})
	require.NoError(t, r.step())
	r.par[r.at["drv.bias_v"]] = 1e300
	r.s.Touch()
	require.ErrorContains(t, r.step(), "electrical network")
}
