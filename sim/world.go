package sim

import (
	"errors"
	"fmt"
	"math"

	"coldbay/sim/air"
	"coldbay/sim/car"
	"coldbay/sim/circuit"
	"coldbay/sim/ecm"
	"coldbay/sim/engine"
	"coldbay/sim/exhaust"
	"coldbay/sim/fault"
)

// Tick is the bench's smallest step, s.
const Tick = 0.1

// ModelVersion changes whenever a percept of the same attempt may change.
const ModelVersion = 5

// ErrDiverged ends a world whose equations gave no solution: none at all, none of finite numbers within what a car can hold, or none that
// agrees with itself. What is wrapped with it names the network and the place.
var ErrDiverged = errors.New("the car's equations have no solution any more")

// diverged wraps what a subsystem says of its equations.
func diverged(err error) error { return fmt.Errorf("%w: %w", ErrDiverged, err) }

// Conditions are the surroundings of a car.
type Conditions struct {
	AmbientK  float64 // K
	AmbientPa float64 // Pa
	Draw      uint64  // seed of the car-to-car draw; 0: the nominal car
}

// FaultChoice names a fault, a fault set or "no fault found" of the car, and a severity in (0, 1].
type FaultChoice struct {
	ID       string
	Severity float64
}

// World is one car. Copying it by Clone copies the car; the parts it points to are immutable, or shared until one of the copies writes
// them. What the garbage collector has to look at comes first.
type World struct {
	car     *car.Car
	healthy *[car.MaxParams]float64 // this car's own healthy values
	link    *links
	cond    *Conditions
	par     *shared[[car.MaxParams]float64]
	ex2     *shared[exhaust.State] // second bank, never written in a car with one
	late    *shared[[maxLate]late] // nil: none
	err     error
	el      circuit.State
	pn      air.State
	en      engine.State
	ex      exhaust.State
	ec      ecm.State
	elIn    circuit.Inputs
	pnIn    air.Inputs
	key     bool
	starter bool
	hold    float64           // rad/s
	ms      int64             // bench time
	brisk   int               // ms for which steps stay short after something switched
	nap     int               // ms that a resting car may leave unstepped
	owed    int               // ms left unstepped
	pipeK   [maxSeats]float64 // K, the hose before each valve that keeps exhaust back
}

// links are the indices that tie the subsystems of a car together; immutable.
type links struct {
	coil                             [air.MaxParts]int // circuit element of each three-way valve, -1
	motor                            [air.MaxParts]int // motor of each pump, -1
	pumpOf                           [4]int            // pneumatic part of each motor, -1
	belts                            []int             // pneumatic parts that the engine turns by a belt
	sensor                           int               // pneumatic part, -1
	key, run, crank, fuel, pump, sol int               // commands, -1
	supply, ground, fuelOut          int               // nodes of the controller
	pumpPin, solPin                  int
	pumpDrv, solDrv                  int // elements
	batt, alt                        int // elements
	battA, battB                     int // nodes
	sensed                           sensed
}

// New builds a cold-soaked car with the given faults.
func New(c *car.Car, cond Conditions, faults ...FaultChoice) (*World, error) {
	if cond.AmbientK < 200 || cond.AmbientK > 340 || cond.AmbientPa < 4e4 || cond.AmbientPa > 1.2e5 {
		return nil, fmt.Errorf("conditions %.1f K and %.0f Pa: allowed is 200 to 340 K and 40 to 120 kPa", cond.AmbientK, cond.AmbientPa)
	}
	w := &World{car: c, cond: &cond, healthy: &[car.MaxParams]float64{}}
	for i, p := range c.Params {
		w.healthy[i] = p.Value
	}
	draw(c, cond.Draw, w.healthy)
	w.par = &shared[[car.MaxParams]float64]{v: *w.healthy}
	link, err := join(c)
	if err != nil {
		return nil, err
	}
	w.link = link
	w.el = c.Circuit.NewState(cond.AmbientK)
	w.pn = c.Air.NewState(cond.AmbientPa)
	w.en = engine.NewState(&c.Engine, cond.AmbientK)
	w.ex = exhaust.NewState(&c.Exhaust, cond.AmbientK)
	w.ex2 = &shared[exhaust.State]{v: w.ex}
	w.pipeK = [maxSeats]float64{cond.AmbientK, cond.AmbientK}
	for _, f := range faults {
		members, err := c.Members(f.ID)
		if err != nil {
			return nil, err
		}
		for _, m := range members {
			if err := fault.Apply(shop{w}, m, f.Severity); err != nil {
				return nil, err
			}
		}
	}
	w.touch()
	return w, nil
}

// draw moves this car's healthy values off the nominal ones: each spread parameter by an even share either way, from a
// counter-based generator, so that the order of the list does not matter to the other entries.
func draw(c *car.Car, seed uint64, healthy *[car.MaxParams]float64) {
	if seed == 0 {
		return
	}
	for _, s := range c.Spread {
		i, ok := c.Param(s.Set)
		if !ok {
			continue
		}
		key := i
		if s.Key > 0 {
			key = s.Key
		}
		u := float64(float64(mix(seed, uint64(key))>>11) / (1 << 52)) // 0 to 2, rounded here: division by a power of two may become a product
		healthy[i] *= 1 + float64(s.Share*(u-1))
	}
}

// mix is the splitmix64 finaliser (Steele, Lea and Flood 2014; from memory) over a seed and a counter.
func mix(seed, n uint64) uint64 {
	x := seed + n*0x9E3779B97F4A7C15 + 0x9E3779B97F4A7C15
	x = (x ^ x>>30) * 0xBF58476D1CE4E5B9
	x = (x ^ x>>27) * 0x94D049BB133111EB
	return x ^ x>>31
}

// Clone copies the world: one allocation. What changes rarely is copied later, by the copy that writes it.
func (w *World) Clone() *World {
	w.el.Share()
	w.pn.Share()
	w.ec.Share()
	w.par.share()
	w.ex2.share()
	w.late.share()
	c := new(World)
	*c = *w
	return c
}

// Car is the car this world was built from.
func (w *World) Car() *car.Car { return w.car }

// Time is the bench time stepped so far, s.
func (w *World) Time() float64 { return float64(w.ms) / 1000 }

// Err is the error that ended the world, or nil.
func (w *World) Err() error { return w.err }

// touch makes the next step rebuild what depends on parameters and topology, and take it in short strides.
func (w *World) touch() {
	w.el.Touch()
	w.pn.Touch()
	w.brisk = max(w.brisk, 300)
}

func join(c *car.Car) (*links, error) {
	l := &links{batt: -1, alt: -1, sensor: -1}
	for i := range l.coil {
		l.coil[i], l.motor[i] = -1, -1
	}
	for i := range l.pumpOf {
		l.pumpOf[i] = -1
	}
	motors := c.Circuit.Motors()
	c.Air.Parts(func(i int, kind, coil, motor string, _ int) {
		if e, ok := c.Circuit.Elem(coil); ok && kind == "three_way" {
			l.coil[i] = e
		}
		switch kind {
		case "belt_pump":
			l.belts = append(l.belts, i)
		case "pressure_sensor":
			l.sensor = i
		}
		for m, id := range motors {
			if kind == "pump" && id == motor {
				l.motor[i], l.pumpOf[m] = m, i
			}
		}
	})
	n := c.Circuit
	l.key, l.run, l.crank, l.fuel = n.Command("key"), n.Command("run"), n.Command("crank"), n.Command("fuel")
	l.pump, l.sol = n.Command("drive:pump"), n.Command("drive:solenoid")
	l.pumpDrv, l.solDrv, l.pumpPin, l.solPin = -1, -1, -1, -1
	for _, e := range c.Electrical.Elements {
		el, _ := n.Elem(e.ID)
		pin, _ := n.Node(e.A)
		switch {
		case e.Kind == "battery":
			l.batt = el
			l.battA, _ = n.Node(e.A)
			l.battB, _ = n.Node(e.B)
		case e.Kind == "alternator":
			l.alt = el
		case e.Kind == "driver" && e.Drive == "pump":
			l.pumpDrv, l.pumpPin = el, pin
		case e.Kind == "driver" && e.Drive == "solenoid":
			l.solDrv, l.solPin = el, pin
		case e.Kind == "load" && e.When == "key":
			l.supply, l.ground = pin, 0
			l.ground, _ = n.Node(e.B)
		case e.Kind == "switch" && e.When == "fuel":
			l.fuelOut, _ = n.Node(e.B)
		}
	}
	l.sensed = senseLinks(c)
	if l.batt < 0 || l.supply == 0 {
		return nil, fmt.Errorf("%s: a car needs a battery and a controller (a load with when: key)", c.Name)
	}
	return l, nil
}

// shop lets faults work on a world.
type shop struct{ w *World }

func (s shop) Set(param string, f func(float64) float64) error {
	i, ok := s.w.car.Param(param)
	if !ok {
		return fmt.Errorf("no parameter %q", param)
	}
	own(&s.w.par)[i] = f(s.w.healthy[i])
	return nil
}

func (s shop) Detach(end string) error { return s.w.PullEnd(end) }

func (s shop) Swap(a, b string) error {
	n := s.w.car.Air
	ea, eb := n.End(a), n.End(b)
	if ea < 0 || eb < 0 {
		return fmt.Errorf("no hose ends %q and %q", a, b)
	}
	pa, pb := s.w.pn.At(ea), s.w.pn.At(eb)
	n.Pull(&s.w.pn, ea)
	n.Pull(&s.w.pn, eb)
	if pb >= 0 {
		if err := n.Fit(&s.w.pn, ea, pb); err != nil {
			return err
		}
	}
	if pa >= 0 {
		return n.Fit(&s.w.pn, eb, pa)
	}
	return nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
