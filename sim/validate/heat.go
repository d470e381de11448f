package validate

import (
	"fmt"
	"math"

	"coldbay/sim"
	"coldbay/sim/exhaust"
)

// books are the heat of the exhausts of a car, J above the surroundings.
type books struct {
	gas, burnt        float64 // in: carried by the cylinders' gas; freed in ports and bed
	tailpipe, walls   float64 // out
	stored            float64 // in metal
	unburnt, fuelHeat float64 // for scale: what left unburnt, what was injected
}

func (b *books) in() float64       { return b.gas + b.burnt }
func (b *books) residual() float64 { return b.in() - b.tailpipe - b.walls - b.stored }

// enter books a step of one bank. The gas's way past manifold, pipe and bed is walked again here, by number of transfer units and the standard
// library's exponential; what burnt is what is no longer there at the tailpipe.
func (b *books) enter(p *exhaust.Spec, in exhaust.Inputs, before, after exhaust.State) {
	cells := p.Catalyst.Cells
	n := float64(cells)
	for i := range cells {
		b.stored += p.Catalyst.JK / n * (after.Cat[i] - before.Cat[i])
		b.walls += in.Dt * p.Catalyst.Loss / n * (before.Cat[i] - in.AmbientK)
	}
	b.stored += p.ManJK*(after.ManK-before.ManK) + p.PipeJK*(after.PipeK-before.PipeK)
	b.walls += in.Dt * (p.ManLoss*(before.ManK-in.AmbientK) + p.PipeLoss*(before.PipeK-in.AmbientK))
	m, second := in.Air+in.Fuel, max(in.Second, 0)+in.Leak
	if m < 1e-5 {
		return // nothing burns and the gas stands still
	}
	b.gas += in.Dt * (p.Share0 + p.Share1*(1-in.Spark)) * in.Burnt * in.HV
	escaped := max(in.Fuel-in.Burnt, 0) + p.Unburned0*in.Burnt
	b.burnt += in.Dt * escaped * (1 - after.Left) * in.HV
	b.unburnt += in.Dt * escaped * after.Left * in.HV
	b.fuelHeat += in.Dt * in.Fuel * in.HV
	carried := m*p.CpGas + second*p.CpAir // W/K
	scale := math.Pow(after.Flow/p.Ref, 0.7)
	t := after.PortK
	for _, w := range []struct{ k, ha float64 }{{before.ManK, p.ManHA * scale}, {before.PipeK, p.PipeHA * scale}} {
		t = w.k + (t-w.k)*math.Exp(-w.ha/carried)
	}
	for i := range cells {
		t = before.Cat[i] + (t-before.Cat[i])*math.Exp(-p.Catalyst.HA/n/carried)
	}
	b.tailpipe += in.Dt * carried * (t - in.AmbientK)
}

// exhaustHeat keeps the books over a cold start of 130 s and ten minutes after the engine has stopped.
func exhaustHeat(g *Ground, s *sheet) error {
	w, err := g.world("", 0)
	if err != nil {
		return err
	}
	if err := startUp(w); err != nil {
		return err
	}
	var b books
	watch := sim.Refinement{Heat: func(_ int, in exhaust.Inputs, before, after exhaust.State) {
		b.enter(&g.Car.Exhaust, in, before, after)
	}}
	w.Follow(1300, watch)
	running := b
	w.SetKey(false)
	w.Follow(20, watch)
	stopped := b
	w.Follow(600, sim.Refinement{FastMS: 100, Heat: watch.Heat}) // a finer stride takes no rests
	if err := w.Err(); err != nil {
		return err
	}
	src := Source{Property, "energy: what the gas brings from the cylinders and what burns after them leaves by the tailpipe, through the walls, or stays in the metal"}
	s.atMost("law.heat", fmt.Sprintf("heat of the whole exhaust in a cold start of 130 s: %.0f kJ with the gas and %.0f kJ burnt after the cylinders, less %.0f kJ out of the tailpipe, %.0f kJ from the walls and %.0f kJ in the metal, of all that came",
		running.gas/1e3, running.burnt/1e3, running.tailpipe/1e3, running.walls/1e3, running.stored/1e3), math.Abs(running.residual())/running.in(), 1e-6, "", src)
	lost, gone := b.walls-stopped.walls, stopped.stored-b.stored
	s.atMost("law.heat_stopped", fmt.Sprintf("a minute with the engine stopped: %.1f kJ less in the metal, and as much from the walls, apart by", gone/1e3), math.Abs(gone-lost)/lost, 1e-6, "", src)
	s.band("law.heat_share", "what the exhaust gets of the fuel's heat, burning after the cylinders included", running.in()/running.fuelHeat, 0.3, 0.6, "",
		Source{Memory, "Heywood 1988, ch. 12: exhaust enthalpy 34 to 45 % of the fuel's heat, chemical energy of a rich mixture besides; late ignition puts more there"})
	return nil
}

// finerHeat cuts only the slow part, which moves coolant, block, exhaust and catalyst each 0.1 s, into halves and quarters, over a cold start, a drive
// until the thermostat opens, and an idle.
func finerHeat(g *Ground, s *sheet) error {
	first, err := g.world("", 0)
	if err != nil {
		return err
	}
	if err := startUp(first); err != nil {
		return err
	}
	var w [3]*sim.World
	for i := range w {
		w[i] = first.Clone()
	}
	var coolant, manifold, bed, ratio, flow float64
	var q steadily
	for tick := range 6000 {
		for i := range w {
			switch tick {
			case 1300:
				w[i].HoldSpeed(2500)
			case 5000:
				w[i].HoldSpeed(0)
			}
			w[i].Follow(1, sim.Refinement{Slow: 1 << i})
			if err := w[i].Err(); err != nil {
				return err
			}
		}
		x, y := w[0], w[1]
		coolant = max(coolant, math.Abs(x.CoolantK()-y.CoolantK()))
		manifold = max(manifold, math.Abs(x.ExhaustPartK()-y.ExhaustPartK()))
		for i := range g.Car.Exhaust.Catalyst.Cells {
			bed = max(bed, math.Abs(x.CatalystK(i)-y.CatalystK(i)))
		}
		if q.at(x) && (tick < 1300 || tick > 1400 && tick < 5000 || tick > 5100) {
			ratio = max(ratio, math.Abs(x.Lambda()-y.Lambda()))
			flow = max(flow, 3600*math.Abs(x.AirFlow()-y.AirFlow()))
		}
	}
	src := Source{Property, "the same drive of ten minutes with the slow part in halves of 0.05 s; the last digit of the instrument that shows it (common practice, no source)"}
	s.atMost("slow.coolant", "coolant changes by at most", coolant, 0.5, "K", src)
	s.atMost("slow.manifold", "exhaust manifold", manifold, 1, "K", src)
	s.atMost("slow.bed", "any cell of the catalyst", bed, 10, "K", Source{Property, "the same; no instrument of the bench shows the bed, and 10 K move its light-off by less than half a second"})
	s.atMost("slow.ratio", "exhaust ratio", ratio, 0.01, "", src)
	s.atMost("slow.flow", "air into the exhaust", flow, 0.15, "kg/h", src)
	once, twice := w[0].LitAt()-w[1].LitAt(), w[1].LitAt()-w[2].LitAt()
	s.atMost("slow.lit", "light-off", math.Abs(once), 0.5, "s", src)
	s.atMost("slow.residue", "light-off at a step of 0.1 s against the limit of ever finer steps, by Richardson's rule", math.Abs(once+twice*2), 0.5, "s",
		Source{Worked, "first order: the rest is what the last halving brought, once more"})
	return nil
}
