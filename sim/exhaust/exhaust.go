// Package exhaust follows the burned gas from the ports to the tailpipe: mixing with secondary air, burning on in the
// port where it is hot enough, heating manifold, pipe and catalyst, and what the oxygen sensor sees. One-dimensional
// balances per slice of gas; the catalyst is a row of cells with an Arrhenius rate that gives 50 % conversion at its
// light-off temperature (form as in the monolith literature, e.g. Oh & Cavendish 1982, from memory; numbers per car).
package exhaust

import (
	"math"

	"coldbay/sim/dmath"
)

// MaxCells bounds the catalyst's cells.
const MaxCells = 16

// Spec is an exhaust system as a car file describes it.
type Spec struct {
	Back       float64  `yaml:"back_pa_s2_kg2"` // mean port gauge pressure = Back m^2
	Pulse      float64  `yaml:"pulse_share"`    // swing of the port pressure to either side, share of its mean; 0: none
	Pulses     float64  `yaml:"pulses_turn"`    // exhaust pulses of a bank in a turn of the engine: half its cylinders
	JointUnit  string   `yaml:"joint_unit"`     // service unit of the joint before the oxygen sensor; empty: it never leaks
	JointUnit2 string   `yaml:"joint_unit_2"`   // the same of a second bank
	CpGas      float64  `yaml:"cp_gas"`
	CpAir      float64  `yaml:"cp_air"`
	Share0     float64  `yaml:"share0"` // of burned fuel energy leaving the cylinder as gas enthalpy at best spark
	Share1     float64  `yaml:"share1"` // more per unit of lost spark efficiency
	CoolShare  float64  `yaml:"cool_share"`
	OxK        float64  `yaml:"oxidise_k"`
	OxWidth    float64  `yaml:"oxidise_width_k"`
	OxMax      float64  `yaml:"oxidise_max"`
	MixShare   float64  `yaml:"mix_share"`
	Unburned0  float64  `yaml:"unburned0"`
	ManJK      float64  `yaml:"man_j_k"`
	ManHA      float64  `yaml:"man_ha_w_k"`
	ManLoss    float64  `yaml:"man_loss_w_k"`
	PipeJK     float64  `yaml:"pipe_j_k"`
	PipeHA     float64  `yaml:"pipe_ha_w_k"`
	PipeLoss   float64  `yaml:"pipe_loss_w_k"`
	Ref        float64  `yaml:"ref_kg_s"`
	TailMM     float64  `yaml:"tailpipe_mm"`
	Catalyst   Catalyst `yaml:"catalyst"`
}

// Catalyst describes the monolith.
type Catalyst struct {
	Cells int     `yaml:"cells"`
	JK    float64 `yaml:"heat_j_k"`
	HA    float64 `yaml:"ha_w_k"`
	Loss  float64 `yaml:"loss_w_k"`
	Axial float64 `yaml:"axial_w_k"`
	T50   float64 `yaml:"t50_k"`
	EaR   float64 `yaml:"ea_over_r_k"`
	Ref   float64 `yaml:"ref_kg_s"`
}

// State is everything about the exhaust that changes.
type State struct {
	ManK, PipeK float64
	Cat         [MaxCells]float64
	PortK       float64 // gas after the port
	Lambda      float64 // true relative air-fuel ratio at the sensor
	Seen        float64 // the same after transport and sensor lag
	SensorK     float64
	Flow        float64 // kg/s through the tailpipe
	Engine      float64 // relative air-fuel ratio of the cylinders, 0 when nothing burns
	Missed      float64 // share of the fuel that escaped their flame
	Left        float64 // share of what was combustible after them that leaves the tailpipe unburnt
	Bed         float64 // the bed's own conversion, 0 to 1
	LitAt       float64 // engine seconds of the first time Bed reached 0.5; 0: not yet
}

// Inputs of a step.
type Inputs struct {
	Dt       float64
	AmbientK float64
	Air      float64 // kg/s from the cylinders
	Fuel     float64 // kg/s injected
	Burnt    float64 // kg/s burnt in the cylinders
	Second   float64 // kg/s of secondary air
	Leak     float64 // kg/s of air drawn in before the sensor
	Spark    float64 // spark efficiency
	EtaInd   float64
	HV       float64
	AFR      float64
	Run      float64 // s since start
	LagS     float64
	TauS     float64
	FinalK   float64
	Heater   bool // sensor heater powered
}

// NewState is an exhaust at rest.
func NewState(p *Spec, tempK float64) State {
	s := State{ManK: tempK, PipeK: tempK, PortK: tempK, Lambda: 1, Seen: 1, SensorK: tempK}
	for i := range p.Catalyst.Cells {
		s.Cat[i] = tempK
	}
	return s
}

// Step advances by in.Dt (0.1 s) and returns the heat in W that the gas leaves in the cylinders' coolant.
func Step(p *Spec, s *State, in *Inputs) (coolantW float64) {
	m := in.Air + in.Fuel
	s.Flow = m + max(in.Second, 0) + in.Leak
	s.SensorK += float64((goalK(in) - s.SensorK) * (in.Dt / (in.TauS + in.Dt)))
	if m < 1e-5 {
		s.standing(p, in)
		return 0
	}
	q := in.Burnt * in.HV
	share := p.Share0 + float64(p.Share1*(1-in.Spark))
	coolantW = float64(p.CoolShare * q * max(0, 1-float64(in.EtaInd*in.Spark)-share))
	cylK := in.AmbientK + share*q/(m*p.CpGas)
	raw := max(in.Fuel-in.Burnt, 0) + float64(p.Unburned0*in.Burnt)
	unburned := raw
	air := max(in.Second, 0) + in.Leak
	spare := air + float64(p.Unburned0*in.Burnt*in.AFR) + max(0, in.Air-float64(in.Burnt*in.AFR))
	heatFlow := float64(m*p.CpGas) + float64(air*p.CpAir)
	mixK := (float64(m*p.CpGas*cylK) + float64(air*p.CpAir*in.AmbientK)) / heatFlow
	hot := 1 / (1 + dmath.Exp(-(mixK-p.OxK)/p.OxWidth))
	burn := min(unburned*p.OxMax*hot, p.MixShare*spare/in.AFR)
	unburned -= burn
	spare -= float64(burn * in.AFR)
	t := mixK + burn*in.HV/heatFlow
	s.PortK = t
	scale := dmath.Exp(float64(0.7 * dmath.Log(s.Flow/p.Ref)))
	t = wall(&s.ManK, t, p.ManHA*scale, heatFlow, p.ManJK, p.ManLoss, in)
	t = wall(&s.PipeK, t, p.PipeHA*scale, heatFlow, p.PipeJK, p.PipeLoss, in)
	unburned = s.catalyst(p, in, t, heatFlow, unburned, spare)
	s.Engine, s.Left, s.Lambda = 0, 0, 4
	if in.Fuel > 0 {
		s.Engine, s.Lambda = min(in.Air/(in.AFR*in.Fuel), 4), min((in.Air+air)/(in.AFR*in.Fuel), 4)
		s.Missed = p.Unburned0 * in.Burnt / in.Fuel
		if raw > 0 {
			s.Left = unburned / raw
		}
	}
	s.Seen += float64((s.Lambda - s.Seen) * (in.Dt / (in.LagS + in.Dt)))
	return coolantW
}

func goalK(in *Inputs) float64 {
	if in.Heater {
		return in.FinalK
	}
	return in.AmbientK
}

// wall exchanges heat between gas and a wall; the gas leaves at the returned temperature.
func wall(k *float64, gasK, ha, heatFlow, jk, loss float64, in *Inputs) float64 {
	left := dmath.Exp(-ha / heatFlow)
	out := *k + float64((gasK-*k)*left)
	*k += in.Dt * (float64(heatFlow*(gasK-out)) - float64(loss*(*k-in.AmbientK))) / jk
	return out
}

// catalyst advances the bed and its conversion and gives the fuel that leaves it unburnt, kg/s.
func (s *State) catalyst(p *Spec, in *Inputs, gasK, heatFlow, fuel, air float64) float64 {
	c := &p.Catalyst
	n := float64(c.Cells)
	ha, jk, loss := c.HA/n, c.JK/n, c.Loss/n
	left := dmath.Exp(-ha / heatFlow)
	sum := 0.0
	before := s.Cat
	for i := range c.Cells {
		tk := before[i]
		k := float64(0.6931471805599453 / n * c.Ref / s.Flow * dmath.Exp(float64(-c.EaR*(1/tk-1/c.T50))))
		sum += k
		burn := min(fuel*(1-dmath.Exp(-k)), max(air, 0)/in.AFR)
		fuel -= burn
		air -= float64(burn * in.AFR)
		out := tk + float64((gasK-tk)*left)
		q := float64(heatFlow*(gasK-out)) + float64(burn*in.HV) - float64(loss*(tk-in.AmbientK))
		if i > 0 {
			q += float64(c.Axial * (before[i-1] - tk))
		}
		if i < c.Cells-1 {
			q += float64(c.Axial * (before[i+1] - tk))
		}
		s.Cat[i] = tk + in.Dt*q/jk
		gasK = out
	}
	was := s.Bed
	s.Bed = 1 - dmath.Exp(-sum)
	if s.Bed >= 0.5 && s.LitAt == 0 {
		s.LitAt = in.Run - float64(in.Dt*(s.Bed-0.5)/(s.Bed-min(was, 0.5)+1e-9)) // between the steps, by the straight line
	}
	return fuel
}

// standing is the exhaust without combustion: slow cooling, pump air passing through cold.
func (s *State) standing(p *Spec, in *Inputs) {
	s.Lambda, s.PortK, s.Engine = 4, s.ManK, 0
	if in.Second > 1e-5 { // otherwise the gas in the pipe stands still
		s.Seen += float64((s.Lambda - s.Seen) * (in.Dt / (in.LagS + in.Dt)))
	}
	s.Bed = 0
	s.ManK += in.Dt * (-p.ManLoss * (s.ManK - in.AmbientK)) / p.ManJK
	s.PipeK += in.Dt * (-p.PipeLoss * (s.PipeK - in.AmbientK)) / p.PipeJK
	c := &p.Catalyst
	for i := range c.Cells {
		s.Cat[i] += in.Dt * (-c.Loss * (s.Cat[i] - in.AmbientK)) / c.JK
	}
}

// Cool lets everything approach the surroundings for a long time.
func Cool(p *Spec, s *State, ambientK, seconds float64) {
	fall := func(k *float64, loss, jk float64) {
		*k = ambientK + float64((*k-ambientK)*dmath.Exp(-seconds*loss/jk))
	}
	fall(&s.ManK, p.ManLoss, p.ManJK)
	fall(&s.PipeK, p.PipeLoss, p.PipeJK)
	for i := range p.Catalyst.Cells {
		fall(&s.Cat[i], p.Catalyst.Loss, p.Catalyst.JK)
	}
	s.PortK, s.SensorK, s.Lambda, s.Seen, s.Bed, s.LitAt = ambientK, ambientK, 1, 1, 0, 0
}

// PulsePa is how far the port pressure swings to either side of its mean for a flow of burnt gas in kg/s.
func PulsePa(p *Spec, flow float64) float64 { return float64(p.Pulse * PortPa(p, flow)) }

// Joint is what a leaking joint of leak m2 (effective) before the sensor draws in and lets out, kg/s: the trough of each pulse sucks air of the
// density given, the crest blows gas out.
func Joint(p *Spec, leak, flow, density float64) (drawn, blown float64) {
	if leak <= 0 {
		return 0, 0
	}
	mean, swing := PortPa(p, flow), PulsePa(p, flow)
	drawn = leak / 2 * math.Sqrt(2*density*max(swing-mean, 0))
	blown = leak / 2 * (math.Sqrt(density*(mean+swing)) + math.Sqrt(density*max(mean-swing, 0))) // hot gas, half as dense
	return drawn, blown
}

// Breath is the exhaust in kg/s that the pulses push through a leak of leak m2 (effective) into a closed space of volume m3 behind it and that
// comes out again between them: no more than the leak lets through in half of the time, nor than fills the space by twice the swing at each
// pulse. Nothing passes on the mean, but heat and soot do. GasK and density are those of the gas there; rpm is the engine's.
func Breath(p *Spec, leak, volume, swing, gasK, density, rpm float64) float64 {
	if leak <= 0 || rpm <= 0 {
		return 0
	}
	fill := volume * 2 * swing / float64(1.4*287.05*gasK) * float64(p.Pulses*rpm/60)
	return min(leak/2*math.Sqrt(2*density*swing), fill)
}

// PortPa is the mean gauge pressure at the exhaust ports in Pa for a tailpipe flow in kg/s.
func PortPa(p *Spec, flow float64) float64 { return float64(p.Back * flow * flow) }
