package car

import (
	"strings"

	"coldbay/sim/air"
	"coldbay/sim/car/strict"
	"coldbay/sim/circuit"
)

// limit is what a number of engine or exhaust may be, ends included. They are wide: they find another unit, a slipped point or a missing
// value, not an unusual engine [invented].
type limit struct {
	key      string
	v        float64
	low, top float64
}

func (c *Car) engineLimits() []limit {
	e, m := &c.Engine, &c.Engine.Mixture
	return []limit{
		{"displacement_m3", e.Displacement, 3e-4, 1e-2}, {"ve_slope", e.VeSlope, 0.3, 1.5}, {"ve_offset_pa", e.VeOffset, 0, 4e4},
		{"charge_k_cold", e.ChargeCold, 250, 350}, {"charge_rise_k", e.ChargeRise, 0, 80}, {"heating_value_j_kg", e.HeatingValue, 2e7, 6e7},
		{"stoich_afr", e.StoichAFR, 5, 20}, {"eta_indicated", e.EtaInd, 0.1, 0.5}, {"spark_idle", e.SparkIdle, 0.3, 1}, {"spark_heat", e.SparkHeat, 0.3, 1},
		{"spark_tau_s", e.SparkTau, 0.01, 20}, {"spark_per_rpm", e.SparkPerRad, 0, 0.1}, {"fmep0_pa", e.Fmep0, 1e4, 3e5}, {"fmep1_pa_s", e.Fmep1, 0, 2e3},
		{"fmep_cold", e.FmepCold, 0, 5}, {"inertia_kgm2", e.Inertia, 0.01, 2}, {"starter_nm", e.StarterNm, 5, 500}, {"starter_rad_s", e.StarterRad, 5, 100},
		{"alternator_eta", e.AltEta, 0.2, 1}, {"idle_area_max_m2", e.AreaMax, 5e-6, 1e-3}, {"idle_area_min_m2", e.AreaMin, 1e-8, e.AreaMax},
		{"idle_ff_cold_m2", e.FFCold, e.AreaMin, e.AreaMax}, {"idle_ff_warm_m2", e.FFWarm, e.AreaMin, e.AreaMax}, {"idle_kp", e.Kp, 0, 1e-4},
		{"idle_ki", e.Ki, 0, 1e-4}, {"idle_cold_rpm", e.IdleCold, 400, 2500}, {"idle_warm_rpm", e.IdleWarm, 400, 1500},
		{"heat_coolant_j_k", e.HeatCoolant, 1e3, 1e6}, {"heat_block_j_k", e.HeatBlock, 1e3, 1e6}, {"link_w_k", e.Link, 1, 1e4},
		{"block_loss_w_k", e.BlockLoss, 0.1, 1e3}, {"radiator_w_k", e.Radiator, 10, 1e5}, {"thermostat_k", e.ThermostatK, 320, 400},
		{"mixture.start", m.Start, 0.5, 1}, {"mixture.air_end", m.AirEnd, 0.5, 1}, {"mixture.tail_s", m.TailS, 1, 300}, {"mixture.trim_max", m.TrimMax, 0.01, 0.5},
		{"mixture.trim_rate", m.TrimRate, 1e-3, 1}, {"mixture.trim_soft", m.TrimSoft, 1e-3, 1}, {"mixture.long_rate", m.LongRate, 0, 1},
		{"mixture.lag_s", m.LagS, 0.01, 5}, {"mixture.sensor_ready_k", m.ReadyK, 400, 1000}, {"mixture.sensor_tau_s", m.TauS, 0.5, 200},
		{"mixture.sensor_final_k", m.FinalK, m.ReadyK, 1300},
	}
}

func (c *Car) exhaustLimits() []limit {
	x, k := &c.Exhaust, &c.Exhaust.Catalyst
	return []limit{
		{"back_pa_s2_kg2", x.Back, 1e4, 1e8}, {"pulse_share", x.Pulse, 0, 20}, {"pulses_turn", x.Pulses, 0, 6}, {"cp_gas", x.CpGas, 900, 1500}, {"cp_air", x.CpAir, 900, 1200},
		{"share0", x.Share0, 0, 0.6}, {"share1", x.Share1, 0, 1}, {"cool_share", x.CoolShare, 0, 1}, {"oxidise_k", x.OxK, 400, 1500},
		{"oxidise_width_k", x.OxWidth, 1, 500}, {"oxidise_max", x.OxMax, 0, 1}, {"mix_share", x.MixShare, 0, 1}, {"unburned0", x.Unburned0, 0, 0.2},
		{"man_j_k", x.ManJK, 10, 1e5}, {"man_ha_w_k", x.ManHA, 0.1, 1e3}, {"man_loss_w_k", x.ManLoss, 0, 200},
		{"pipe_j_k", x.PipeJK, 10, 1e5}, {"pipe_ha_w_k", x.PipeHA, 0.1, 1e3}, {"pipe_loss_w_k", x.PipeLoss, 0, 200},
		{"ref_kg_s", x.Ref, 1e-3, 0.2}, {"tailpipe_mm", x.TailMM, 15, 150},
		{"catalyst.heat_j_k", k.JK, 10, 1e5}, {"catalyst.ha_w_k", k.HA, 1, 1e4}, {"catalyst.loss_w_k", k.Loss, 0, 200}, {"catalyst.axial_w_k", k.Axial, 0, 100},
		{"catalyst.t50_k", k.T50, 400, 800}, {"catalyst.ea_over_r_k", k.EaR, 1e3, 1e5}, {"catalyst.ref_kg_s", k.Ref, 1e-3, 0.2},
	}
}

// checkLimits refuses numbers of engine and exhaust that are out of range, those that are missing among them.
func (c *Car) checkLimits(doc *strict.Doc) error {
	for _, part := range []struct {
		name string
		list []limit
	}{{"engine", c.engineLimits()}, {"exhaust", c.exhaustLimits()}} {
		for _, l := range part.list {
			if l.v >= l.low && l.v <= l.top {
				continue
			}
			path := []any{part.name}
			for _, key := range strings.Split(l.key, ".") {
				path = append(path, key)
			}
			if !doc.Has(path...) {
				return doc.Errorf(path, "missing; allowed is %g to %g", l.low, l.top)
			}
			return doc.Errorf(path, "found %g, allowed is %g to %g", l.v, l.low, l.top)
		}
	}
	if e := &c.Controller.Enable; len(e.Run) > 0 && e.OffCoolantK <= e.CoolantMaxK {
		return doc.Errorf([]any{"controller", "enable", "off_coolant_k"}, "found %g, must be above coolant_max_k, or the air never runs", e.OffCoolantK)
	}
	return nil
}

// Span is what a parameter "owner.param" of the networks may be, ends included; ok is false where the networks set no limit.
func (c *Car) Span(param string) (low, top float64, ok bool) {
	owner, name, _ := strings.Cut(param, ".")
	for _, e := range c.Electrical.Elements {
		if e.ID == owner {
			list, _ := circuit.KindParams(e.Kind)
			for _, p := range list {
				if p.Name == name {
					return p.Min, p.Max, true
				}
			}
		}
	}
	kind := ""
	for _, p := range c.Pneumatic.Parts {
		if p.ID == owner {
			kind = p.Kind
		}
	}
	for _, h := range c.Pneumatic.Hoses {
		if h.ID == owner {
			kind = "hose"
		}
	}
	for _, p := range c.Pneumatic.Ports {
		if p.ID == owner {
			kind = "port"
		}
	}
	list, _ := air.KindParams(kind)
	for _, p := range list {
		if p.Name == name {
			return p.Min, p.Max, true
		}
	}
	return 0, 0, false
}

// checkRanges refuses faults that would take a parameter where the networks do not allow it, and spreads that could.
func (c *Car) checkRanges(doc *strict.Doc) error {
	for i, f := range c.Faults {
		for j, ch := range f.Changes {
			low, top, ok := c.Span(ch.Set)
			if ch.Set == "" || !ok {
				continue
			}
			path := []any{"faults", i, "changes", j}
			if ch.To < low || ch.To > top {
				return doc.Errorf(append(path, "to"), "%s: found %g, allowed is %g to %g", ch.Set, ch.To, low, top)
			}
			if ch.Scale == "log" && (ch.From < low || ch.From > top) {
				return doc.Errorf(append(path, "from"), "%s: found %g, allowed is %g to %g", ch.Set, ch.From, low, top)
			}
			if ch.Scale == "shut" && (ch.To < 0 || ch.To >= 1) {
				return doc.Errorf(append(path, "to"), "%s: found %g, a shut scale allows 0 up to but not 1", ch.Set, ch.To)
			}
			if ch.Curve < 0 || ch.Curve > 20 {
				return doc.Errorf(append(path, "curve"), "found %g, allowed is 0 to 20", ch.Curve)
			}
		}
	}
	for i, f := range c.Faults {
		par := c.values()
		for _, ch := range f.Changes {
			if k, ok := c.Param(ch.Set); ok {
				par[k] = ch.To
			}
		}
		if err := c.Air.Fits(par); err != nil {
			return doc.Errorf([]any{"faults", i, "changes"}, "with fault %q: %v", f.ID, err)
		}
	}
	for i, s := range c.Spread {
		if s.Share < 0 || s.Share > 0.5 {
			return doc.Errorf([]any{"spread", i, "share"}, "found %g, allowed is 0 to 0.5", s.Share)
		}
		if s.Key < 0 {
			return doc.Errorf([]any{"spread", i, "key"}, "found %d, allowed is 0 and up", s.Key)
		}
	}
	for i, u := range c.Units {
		if u.Part < 0 || u.Part > 1e7 || u.Minutes < 0 || u.Minutes > 1000 {
			return doc.Errorf([]any{"units", i}, "unit %q: a part at %d cents and %g minutes; allowed are 0 to 10000000 cents, 0 to 1000 minutes", u.ID, u.Part, u.Minutes)
		}
	}
	return nil
}

// values are the parameters of the sound car.
func (c *Car) values() []float64 {
	par := make([]float64, len(c.Params))
	for i := range c.Params {
		par[i] = c.Params[i].Value
	}
	return par
}
