package car

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// What a reader of the car files would point at.
func TestAnatomy(t *testing.T) {
	for id, want := range map[string]struct {
		motor, pipe     string
		pumped          []string
		valves, chamber []string
		dumps           []string
	}{
		"car_a": {"pump_motor", "scroll", []string{"airbox", "scroll", "gallery", "inlet_hose", "pressure_pipe"}, []string{"air_valve"}, []string{"chamber"}, nil},
		"car_b": {"blower", "scroll", []string{"airbox", "scroll", "gallery", "inlet_hose", "pressure_pipe"}, []string{"air_valve"}, nil, nil},
		"car_c": {"pump_motor", "scroll", []string{"airbox", "scroll", "fork", "gallery", "gallery_2", "inlet_hose", "pressure_pipe", "branch_pipe", "branch_pipe_2"},
			[]string{"air_valve", "air_valve_2"}, []string{"chamber", "chamber_2"}, nil},
		"car_d": {"", "outlet", []string{"airbox", "outlet", "check_body", "rail", "inlet_hose", "pump_hose", "air_hose"}, []string{"diverter"}, []string{"chamber"}, []string{"div_dump"}},
	} {
		data, err := os.ReadFile("../../scenarios/cars/" + id + ".yaml")
		require.NoError(t, err)
		c, err := Parse(id+".yaml", data)
		require.NoError(t, err)
		a := c.Anatomy()
		require.Equal(t, want.motor, a.Motor, id)
		require.Equal(t, want.motor != "", a.Relay != "", id)
		require.Equal(t, want.pipe, a.Pipe, id)
		require.Equal(t, want.pumped, a.Pumped, id)
		require.Equal(t, want.valves, a.Valves, id)
		require.Equal(t, want.chamber, a.Chambers, id)
		require.Equal(t, want.dumps, a.Dumps, id)
		require.Equal(t, []string{"filter"}, a.Inlets, id)
		require.Equal(t, "battery", a.Battery, id)
	}
}
