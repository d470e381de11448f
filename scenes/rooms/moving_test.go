package rooms_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/sim/bench"
)

// moving is what the bay paints of what moves at a time, s.
func (x *house) moving(seconds float64) *paint.Mesh {
	m := &paint.Mesh{Scale: 1}
	x.Scenes[stage.Bay].Live(m, seconds)
	return m
}

// lowest is the lowest point on the screen of what a mesh holds.
func lowest(m *paint.Mesh) float32 {
	y := float32(0)
	for _, v := range m.V {
		y = max(y, v.DstY)
	}
	return y
}

// The stem of a valve that lies beside the car goes where the bench saw it go: in steps that eyes can follow, or at once where motion is reduced. Of a
// valve in its place nothing of it is painted.
func TestStemsMove(t *testing.T) {
	for id, part := range map[string]string{"car_a": "valve", "car_b": "valve", "car_c": "valve_2", "car_d": "diverter"} {
		t.Run(id, func(t *testing.T) {
			x := openWith(t, 1024, 600, "en", &standin.Orders{Car: id})
			x.press("board.open.first", "order.read", "order.go", "go."+part)
			require.Empty(t, x.moving(1).V, "a valve in its place hides its stem")
			for i := range x.Desk.View.Parts {
				if p := &x.Desk.View.Parts[i]; p.ID == part {
					p.On = true
				}
			}
			show := func(share float64) { x.Desk.View.Stems = []bench.Stem{{ID: part, Share: share}} }
			show(0)
			down := lowest(x.moving(1))
			show(1)
			begun, on, up := lowest(x.moving(1.05)), lowest(x.moving(1.1)), float32(0)
			for i := range 20 {
				up = lowest(x.moving(1.2 + 0.1*float64(i)))
			}
			require.Greater(t, down, begun)
			require.Greater(t, begun, on)
			require.Greater(t, on, up)
			show(0)
			require.Equal(t, down, lowest(x.moving(0)), "with reduced motion it is there at once")
			show(1)
			require.Equal(t, up, lowest(x.moving(0)))
		})
	}
}

// The drive belt of car D runs with the engine, faster with a faster one, stands when the engine does and when motion is reduced, and is not there when it
// was found to be gone.
func TestBeltRunsWithTheEngine(t *testing.T) {
	x := openWith(t, 1024, 600, "en", &standin.Orders{Car: "car_d"})
	x.press("board.open.first", "order.read", "order.go", "go.pump")
	require.Empty(t, x.moving(1).V)
	x.press("engine.start")
	v := &x.Desk.View
	v.PumpTurning = false
	x.moving(1)
	a, b := x.moving(1.05), x.moving(1.1)
	require.NotEmpty(t, a.V)
	require.NotEqual(t, a.Sum(), b.Sum())
	require.Equal(t, b.Sum(), x.moving(1.1).Sum(), "no time has passed")
	still := x.moving(0)
	require.Equal(t, still.Sum(), x.moving(0).Sum())
	v.Engine, v.Rpm = "off", 0
	stood := x.moving(2)
	require.NotEmpty(t, stood.V, "its marks stand where they came to rest")
	require.Equal(t, stood.Sum(), x.moving(2.1).Sum())
	v.Engine, v.Rpm = "running", 1000
	x.Desk.Ledger = append(x.Desk.Ledger, bench.Finding{Percepts: []bench.Percept{{Sense: bench.Eye, Key: "sign", Of: "air_pump", Word: "the pump's belt is gone"}}})
	require.Less(t, len(x.moving(3).V), len(stood.V))
}
