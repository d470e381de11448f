package ecm

import (
	"fmt"

	"coldbay/sim/scan"
)

// CheckError names the key of a calibration that cannot be.
type CheckError struct {
	Path []any // keys below controller
	Msg  string
}

func (e *CheckError) Error() string { return fmt.Sprintf("controller %v: %s", e.Path, e.Msg) }

// Check refuses a calibration that contradicts itself: windows upside down, curves that do not rise, unknown words.
func (p *Spec) Check() error {
	bad := func(msg string, path ...any) error { return &CheckError{path, msg} }
	e := &p.Enable
	for i := range e.Run {
		if r := e.Run[i]; r.S < 0 || r.S > 600 {
			return bad(fmt.Sprintf("found %g, allowed is 0 to 600 s", r.S), "enable", "run", i, "s")
		}
		if i > 0 && e.Run[i].CoolantK <= e.Run[i-1].CoolantK {
			return bad("must be above the point before", "enable", "run", i, "coolant_k")
		}
	}
	switch {
	case len(e.Run) > 0 && e.CoolantMaxK <= e.CoolantMinK:
		return bad("must be above coolant_min_k", "enable", "coolant_max_k")
	case e.IntakeMaxK != 0 && e.IntakeMaxK <= e.IntakeMinK:
		return bad("must be above intake_min_k", "enable", "intake_max_k")
	case e.BatteryMax != 0 && e.BatteryMax <= e.BatteryMin:
		return bad("must be above battery_min_v", "enable", "battery_max_v")
	case p.Circuit.OpenMaxV < p.Circuit.OpenMinV || p.Circuit.OpenMinV < p.Circuit.LowV:
		return bad("low_v, open_min_v and open_max_v must rise", "circuit", "open_max_v")
	case p.Flow.High != 0 && p.Flow.High <= p.Flow.Low:
		return bad("must be above low", "flow", "high")
	case p.Flow.Low != 0 && (p.Flow.JudgeS <= 0 || p.Flow.Expected.KgH <= 0):
		return bad("a flow monitor needs judge_s and expected.kg_h above 0", "flow")
	case p.Pipe.TestS != 0 && (p.Pipe.ShutPa <= p.Pipe.OffPa || p.Pipe.OffPa <= 0 || p.Pipe.OpenPart <= 0 || p.Pipe.SettleS <= 0):
		return bad("a pipe monitor needs shut_pa above off_pa, open_share and settle_s above 0", "pipe")
	case len(p.VehicleNumber) != 0 && len(p.VehicleNumber) != 17:
		return bad(fmt.Sprintf("%d characters, it has 17", len(p.VehicleNumber)), "vehicle_number")
	case len(p.Calibration) > 16:
		return bad("at most 16 characters are allowed", "calibration")
	case p.Actuator.OnS < 0 || p.Actuator.OffS < 0 || p.Actuator.OnS == 0 && p.Actuator != (Outputs{}):
		return bad("an actuator test needs on_s above 0 and off_s of at least 0", "actuator", "on_s")
	}
	if err := p.Codes.check(); err != nil {
		return err
	}
	x := &p.Flow.Expected
	for _, r := range []struct {
		exp, ref float64
		key      string
	}{{x.BaroExp, x.BaroPa, "baro_pa"}, {x.IntakeEx, x.IntakeK, "intake_k"}, {x.SupplyEx, x.SupplyV, "supply_v"}} {
		if r.exp != 0 && r.ref <= 0 {
			return bad("an exponent needs its reference above 0", "flow", "expected", r.key)
		}
	}
	switch p.Actuator.Rearm {
	case "", atOnce, keyCycle, engineRun:
	default:
		return bad(fmt.Sprintf("found %q, allowed is at_once, key_cycle, engine_run", p.Actuator.Rearm), "actuator", "rearm")
	}
	return nil
}

// check refuses what is no trouble code.
func (c *Codes) check() error {
	driver := func(name string, d *DriverCodes) []codeAt {
		return []codeAt{{[]any{name, "open"}, d.Open}, {[]any{name, "low"}, d.Low}, {[]any{name, "high"}, d.High}, {[]any{name, "circuit"}, d.Circuit}}
	}
	all := []codeAt{{[]any{"flow_low"}, c.FlowLow}, {[]any{"flow_low_2"}, c.FlowLow2},
		{[]any{"pipe", "valve_open"}, c.Pipe.ValveOpen}, {[]any{"pipe", "valve_shut"}, c.Pipe.ValveShut},
		{[]any{"pipe", "pump_on"}, c.Pipe.PumpOn}, {[]any{"pipe", "pump_off"}, c.Pipe.PumpOff}, {[]any{"pipe", "range"}, c.Pipe.Range},
		{[]any{"flow_high"}, c.FlowHigh}, {[]any{"air_after"}, c.AirAfter}, {[]any{"supply_low"}, c.SupplyLow},
		{[]any{"lean"}, c.Lean}, {[]any{"rich"}, c.Rich}, {[]any{"lean_2"}, c.Lean2}, {[]any{"rich_2"}, c.Rich2}, {[]any{"heater"}, c.Heater}}
	all = append(all, driver("pump", &c.Pump)...)
	all = append(all, driver("solenoid", &c.Solenoid)...)
	for _, at := range all {
		if at.code == "" {
			continue
		}
		if d, err := scan.ParseDTC(at.code); err != nil {
			return &CheckError{append([]any{"codes"}, at.path...), err.Error()}
		} else if d.String() != at.code {
			return &CheckError{append([]any{"codes"}, at.path...), fmt.Sprintf("found %q, write it %s", at.code, d)}
		}
	}
	return nil
}

type codeAt struct {
	path []any
	code string
}
