// Package engine is a mean-value model of a spark-ignition engine at and near idle: how much air the cylinders take, how
// fast the crankshaft turns, what the governor does about it, how the coolant warms. Forms and typical numbers follow
// J. B. Heywood, Internal Combustion Engine Fundamentals, 1988 (from memory); each car's own numbers are in its file.
package engine

import (
	"math"

	"coldbay/sim/dmath"
)

// Spec is an engine as a car file describes it, in SI units.
type Spec struct {
	Displacement float64 `yaml:"displacement_m3"`
	VeSlope      float64 `yaml:"ve_slope"`
	VeOffset     float64 `yaml:"ve_offset_pa"`
	ChargeCold   float64 `yaml:"charge_k_cold"`
	ChargeRise   float64 `yaml:"charge_rise_k"`
	HeatingValue float64 `yaml:"heating_value_j_kg"`
	StoichAFR    float64 `yaml:"stoich_afr"`
	EtaInd       float64 `yaml:"eta_indicated"`
	SparkIdle    float64 `yaml:"spark_idle"`
	SparkHeat    float64 `yaml:"spark_heat"`
	SparkTau     float64 `yaml:"spark_tau_s"`
	SparkPerRad  float64 `yaml:"spark_per_rpm"`
	Fmep0        float64 `yaml:"fmep0_pa"`
	Fmep1        float64 `yaml:"fmep1_pa_s"`
	FmepCold     float64 `yaml:"fmep_cold"`
	Inertia      float64 `yaml:"inertia_kgm2"`
	StarterNm    float64 `yaml:"starter_nm"`
	StarterRad   float64 `yaml:"starter_rad_s"`
	AltEta       float64 `yaml:"alternator_eta"`
	AreaMax      float64 `yaml:"idle_area_max_m2"`
	AreaMin      float64 `yaml:"idle_area_min_m2"`
	FFCold       float64 `yaml:"idle_ff_cold_m2"`
	FFWarm       float64 `yaml:"idle_ff_warm_m2"`
	Kp           float64 `yaml:"idle_kp"`
	Ki           float64 `yaml:"idle_ki"`
	IdleCold     float64 `yaml:"idle_cold_rpm"`
	IdleWarm     float64 `yaml:"idle_warm_rpm"`
	HeatCoolant  float64 `yaml:"heat_coolant_j_k"`
	HeatBlock    float64 `yaml:"heat_block_j_k"`
	Link         float64 `yaml:"link_w_k"`
	BlockLoss    float64 `yaml:"block_loss_w_k"`
	Radiator     float64 `yaml:"radiator_w_k"`
	ThermostatK  float64 `yaml:"thermostat_k"`
	Mixture      Mixture `yaml:"mixture"`
}

// Mixture is the controller's fuelling calibration.
type Mixture struct {
	Start    float64 `yaml:"start"`   // relative air-fuel ratio after a start at 20 degC
	AirEnd   float64 `yaml:"air_end"` // value reached when the secondary air stops
	TailS    float64 `yaml:"tail_s"`
	TrimMax  float64 `yaml:"trim_max"`
	TrimRate float64 `yaml:"trim_rate"`
	TrimSoft float64 `yaml:"trim_soft"`
	LongRate float64 `yaml:"long_rate"`
	LagS     float64 `yaml:"lag_s"`
	ReadyK   float64 `yaml:"sensor_ready_k"`
	TauS     float64 `yaml:"sensor_tau_s"`
	FinalK   float64 `yaml:"sensor_final_k"`
}

// State is everything about an engine that changes.
type State struct {
	W        float64 // crankshaft, rad/s
	CoolantK float64
	BlockK   float64
	Spark    float64 // spark efficiency against best timing
	integral float64 // governor, m2
	CylAir   float64 // kg/s into the cylinders
	Burnt    float64 // kg/s of fuel that burns in them
	Fuel     float64 // kg/s of fuel injected
	Area     float64 // m2, effective idle air area
	Torque   float64 // N m, net
}

// Inputs of a fast step.
type Inputs struct {
	Dt         float64
	AmbientPa  float64
	ManifoldPa float64
	Crank      bool
	Fire       bool    // spark and fuel are on and the first combustion is due
	Heating    bool    // late ignition to heat the catalyst
	HoldRad    float64 // speed to hold, rad/s; 0: the idle target
	Fuel       float64 // kg/s
	AltWatts   float64 // electrical power drawn from the charging source
	StarterV   float64 // battery voltage at the starter, V
	BeltNm     float64 // what belt-driven pumps ask of the crankshaft, N m
}

// Rpm turns rad/s into revolutions per minute.
const Rpm = 60 / (2 * math.Pi)

// NewState is an engine at rest at one temperature.
func NewState(p *Spec, tempK float64) State {
	return State{CoolantK: tempK, BlockK: tempK, Spark: p.SparkIdle, Area: p.AreaMin}
}

// warm is 0 at 20 degC coolant and 1 at 90 degC.
func warm(coolantK float64) float64 { return min(max((coolantK-293.15)/70, 0), 1) }

// ChargeK is the temperature of the air in the intake manifold, K.
func ChargeK(p *Spec, s *State, ambientK float64) float64 {
	return ambientK + (p.ChargeCold - 293.15) + float64(p.ChargeRise*warm(s.CoolantK))
}

// Breathing gives the coefficients of what the cylinders take from the manifold: k (slope pMan - offset) kg/s, the
// speed-density rule with one displacement per two revolutions.
func Breathing(p *Spec, s *State, chargeK float64) (k, slope, offset float64) {
	n := max(s.W, 0) * Rpm
	return p.Displacement * n / (120 * 287.05 * chargeK), p.VeSlope, p.VeOffset
}

// IdleTarget is the governed speed in rad/s.
func IdleTarget(p *Spec, coolantK float64) float64 {
	x := min(max((coolantK-293.15)/60, 0), 1)
	return (p.IdleCold + float64((p.IdleWarm-p.IdleCold)*x)) / Rpm
}

// Step advances crankshaft, spark and governor.
func Step(p *Spec, s *State, in *Inputs) {
	target := IdleTarget(p, s.CoolantK)
	if in.HoldRad > 0 {
		target = in.HoldRad
	}
	goal := p.SparkIdle
	if in.Heating {
		goal = p.SparkHeat
	}
	s.Spark += float64((goal - s.Spark) * (in.Dt / (p.SparkTau + in.Dt)))
	perRad := p.Displacement / (4 * math.Pi) // N m per Pa of mean effective pressure
	fric := float64((p.Fmep0 + float64(p.Fmep1*s.W)) * (1 + float64(p.FmepCold*(1-warm(s.CoolantK)))) * perRad)
	pumping := float64((in.AmbientPa - in.ManifoldPa) * perRad)
	drive := 0.0
	s.Fuel, s.Burnt = in.Fuel, 0
	if in.Fire {
		s.Burnt = min(in.Fuel, s.CylAir/p.StoichAFR)
		eff := s.Spark + float64(p.SparkPerRad*(target-s.W))
		eff = min(max(eff, 0.3), 1)
		drive = p.EtaInd * eff * p.HeatingValue * s.Burnt / max(s.W, 15)
	}
	if in.Crank {
		drive += max(0, p.StarterNm*(in.StarterV/12-s.W/p.StarterRad))
	}
	drag := pumping + fric
	if s.W > 5 {
		drag += in.AltWatts/p.AltEta/s.W + in.BeltNm
	}
	s.Torque = drive - drag
	w := s.W + in.Dt*s.Torque/p.Inertia
	s.W = max(w, 0)
	x := min(max((s.CoolantK-293.15)/60, 0), 1)
	ff := p.FFCold + float64((p.FFWarm-p.FFCold)*x)
	err := target - s.W
	if in.Fire && s.W > 40 {
		s.integral += float64(p.Ki * err * in.Dt)
		s.integral = min(max(s.integral, -p.AreaMax), p.AreaMax)
	} else if !in.Fire {
		s.integral, err = 0, 0
	}
	s.Area = min(max(ff+s.integral+float64(p.Kp*err), p.AreaMin), p.AreaMax)
}

// Warm moves the temperatures by dt seconds with heat watts going into the coolant.
func Warm(p *Spec, s *State, heat, ambientK, dt float64) {
	q := heat - float64(p.Link*(s.CoolantK-s.BlockK))
	if s.CoolantK > p.ThermostatK {
		q -= float64(p.Radiator * min((s.CoolantK-p.ThermostatK)/3, 1) * (s.CoolantK - ambientK))
	}
	s.CoolantK += dt * q / p.HeatCoolant
	s.BlockK += dt * (float64(p.Link*(s.CoolantK-s.BlockK)) - float64(p.BlockLoss*(s.BlockK-ambientK))) / p.HeatBlock
}

// Cool lets a standing engine approach the surroundings for a long time: one decay of the joined heat capacities.
func Cool(p *Spec, s *State, ambientK, seconds float64) {
	c := p.HeatCoolant + p.HeatBlock
	mean := (float64(s.CoolantK*p.HeatCoolant) + float64(s.BlockK*p.HeatBlock)) / c
	mean = ambientK + float64((mean-ambientK)*dmath.Exp(-seconds*p.BlockLoss/c))
	s.CoolantK, s.BlockK = mean, mean
}
