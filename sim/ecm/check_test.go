package ecm

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A calibration that contradicts itself is refused by the key.
func TestCheck(t *testing.T) {
	for _, c := range []struct {
		bend func(p *Spec)
		path []any
	}{
		{func(p *Spec) { p.Enable.Run[1].CoolantK = 200 }, []any{"enable", "run", 1, "coolant_k"}},
		{func(p *Spec) { p.Enable.Run[0].S = -1 }, []any{"enable", "run", 0, "s"}},
		{func(p *Spec) { p.Enable.CoolantMaxK = 200 }, []any{"enable", "coolant_max_k"}},
		{func(p *Spec) { p.Enable.IntakeMaxK = 200 }, []any{"enable", "intake_max_k"}},
		{func(p *Spec) { p.Enable.BatteryMax = 10 }, []any{"enable", "battery_max_v"}},
		{func(p *Spec) { p.Circuit.OpenMaxV = 1 }, []any{"circuit", "open_max_v"}},
		{func(p *Spec) { p.Flow.High = 0.5 }, []any{"flow", "high"}},
		{func(p *Spec) { p.Flow.JudgeS = 0 }, []any{"flow"}},
		{func(p *Spec) { p.Flow.Expected.BaroExp = 1 }, []any{"flow", "expected", "baro_pa"}},
		{func(p *Spec) { p.Codes.FlowLow = "P49" }, []any{"codes", "flow_low"}},
		{func(p *Spec) { p.Codes.Pump.High = "p2258" }, []any{"codes", "pump", "high"}},
		{func(p *Spec) { p.VehicleNumber = "SHORT" }, []any{"vehicle_number"}},
		{func(p *Spec) { p.Actuator.Rearm = "sometimes" }, []any{"actuator", "rearm"}},
		{func(p *Spec) { p.Actuator.OnS = 0 }, []any{"actuator", "on_s"}},
	} {
		p := spec()
		p.Enable.Run = append([]RunPoint(nil), p.Enable.Run...)
		c.bend(&p)
		err := p.Check()
		var where *CheckError
		require.ErrorAs(t, err, &where)
		require.Equal(t, c.path, where.Path)
		require.NotEmpty(t, where.Msg)
	}
	require.NoError(t, new(Spec).Check(), "a car without any of this")
}
