package circuit

import (
	"math"
	"math/bits"
	"sync/atomic" //samebits:ok a mark that copies share; it decides who may write in place, never what is written
)

// Kind of an instrument that is put between two terminals.
type InstrumentKind uint8

// The instruments.
const (
	Voltmeter  InstrumentKind = iota // 10 Mohm
	Ohmmeter                         // 3 V behind 3 kohm: about a milliampere of test current
	Ammeter                          // 10 mohm shunt and a 10 A fuse
	TestLamp                         // a filament of so many watts at 12 V, taken at its hot resistance
	JumperLead                       // copper of a gauge, two clips, perhaps a fuse
)

// Instrument describes what is attached. A and B are node indices.
type Instrument struct {
	Kind    InstrumentKind
	A, B    int
	Watts   float64 // TestLamp
	AWG     int     // JumperLead
	LengthM float64 // JumperLead
	FuseA   float64 // JumperLead; 0: none
}

const (
	meterOhm   = 10e6
	ohmTestV   = 3.0
	ohmTestOhm = 3000.0
	shuntOhm   = 0.010
	meterFuseA = 10.0
	clipOhm    = 0.004 // both clips of a lead [common practice, no source]
	// Heat balance of a lead's copper and insulation per metre, chosen so that 18 AWG at its chassis-wiring current of 16 A
	// (Handbook of Electronic Tables and Formulas) settles about 50 K above its surroundings and takes a minute to do so.
	leadHeat18 = 6.0   // J/(K m)
	leadCool18 = 0.108 // W/(K m)
	// Insulation softens from 105 degC (from memory: PVC of automotive wire) and the clips lose their grip, up to three times the cold
	// resistance [invented]: a lead that starves a pump still glows on a dead short.
	leadSoftK   = 378.15 // K
	leadSoftens = 0.008  // per K
	leadSoftest = 2.0
)

// leads are the attached instruments. Copies of a state share them until one of them changes them.
type leads struct {
	shared atomic.Bool
	slot   [MaxSlots]instrument
}

// slots is the number of slots to look at: none as long as nothing is attached.
func (s *State) slots() int {
	if s.leads == nil {
		return 0
	}
	return MaxSlots
}

// ownLeads are the instruments for writing.
func (s *State) ownLeads() *[MaxSlots]instrument {
	switch l := s.leads; {
	case l == nil:
		s.leads = &leads{}
		for i := range s.leads.slot {
			s.leads.slot[i].a = -1
		}
	case l.shared.Load():
		s.leads = &leads{slot: l.slot}
	}
	return &s.leads.slot
}

type instrument struct {
	kind    InstrumentKind
	blown   bool
	solved  bool  // a step has seen it
	a, b    int16 // nodes; a is -1 in an empty slot
	rating  float64
	heat    float64
	ohm     float64
	cold    float64 // jumper lead: resistance when it was put on
	leadK   float64
	capJK   float64
	coolWK  float64
	attachK float64
	softK   float64 // highest insulation temperature so far
}

// Reading of an attached instrument at the last step.
type Reading struct {
	Volts     float64 // V, A against B
	Amps      float64 // A, A to B
	Ohms      float64 // ohmmeter: what it shows; +Inf: open
	Live      bool    // ohmmeter: a foreign voltage spoils the reading
	FuseBlown bool
	LeadK     float64 // jumper lead: temperature of its insulation, K
}

// Attach puts an instrument into a slot, replacing what was there.
func (n *Net) Attach(s *State, slot int, in Instrument, tempK float64) {
	t := instrument{kind: in.Kind, a: int16(in.A), b: int16(in.B), leadK: tempK, attachK: tempK, softK: tempK}
	switch in.Kind {
	case Voltmeter:
		t.ohm = meterOhm
	case Ohmmeter:
		t.ohm = ohmTestOhm
	case Ammeter:
		t.ohm, t.rating = shuntOhm, meterFuseA
	case TestLamp:
		t.ohm = 144 / max(in.Watts, 0.1)
	case JumperLead:
		r, err := wireOhmPerMetre(in.AWG)
		if err != nil {
			r = 0.021
		}
		area := wireArea(in.AWG) / wireArea(18)
		t.ohm = float64(r*in.LengthM) + clipOhm
		t.rating = in.FuseA
		if t.rating > 0 {
			t.ohm += 0.07 / t.rating // cold resistance of a blade fuse falls with its rating [from memory]
		}
		t.cold = t.ohm
		t.capJK = leadHeat18 * area * in.LengthM
		t.coolWK = leadCool18 * math.Sqrt(area) * in.LengthM
	}
	s.ownLeads()[slot] = t
	s.dirty = true
}

// Detach empties a slot.
func (n *Net) Detach(s *State, slot int) {
	s.dirty = true
	if s.leads == nil {
		return
	}
	s.ownLeads()[slot] = instrument{a: -1}
	for i := range s.leads.slot {
		if s.leads.slot[i].a >= 0 {
			return
		}
	}
	s.leads = nil
}

// Instrument reads a slot; ok is false when it is empty.
func (s *State) Instrument(slot int) (r Reading, ok bool) {
	if s.leads == nil || s.leads.slot[slot].a < 0 {
		return r, false
	}
	t := &s.leads.slot[slot]
	r = Reading{Volts: s.volt[t.a] - s.volt[t.b], Amps: t.amps(s), FuseBlown: t.blown, LeadK: t.leadK, Ohms: math.Inf(1)}
	if t.kind == Ohmmeter {
		// The instrument divides the voltage at its leads by its own test current; an outside voltage makes nonsense of it.
		i := -r.Amps
		v := r.Volts
		r.Live = v < -0.01 || v > ohmTestV+0.01 || i < -1e-7
		if i > 0 && !r.Live {
			r.Ohms = math.Abs(v / i)
			if r.Ohms > 50e6 {
				r.Ohms = math.Inf(1)
			}
		}
	}
	return r, true
}

// conductance between the tips, S.
func (t *instrument) conductance() float64 {
	if t.blown || t.a == t.b {
		return 0
	}
	return 1 / t.ohm
}

// emf is the instrument's own source, V.
func (t *instrument) emf() float64 {
	if t.kind == Ohmmeter {
		return ohmTestV
	}
	return 0
}

// amps is the current at the last step, A, from tip a to tip b.
func (t *instrument) amps(s *State) float64 {
	if !t.solved {
		return 0
	}
	return t.conductance() * (s.volt[t.a] - s.volt[t.b] - t.emf())
}

// moveInstruments heats fuses and leads. A lead's copper gains resistance as it warms; above about 105 degC its insulation
// softens and the clips lose their grip for good, which is how an overloaded lead starves what it feeds.
func (n *Net) moveInstruments(s *State, in *Inputs) {
	for k := range s.slots() {
		t := &s.leads.slot[k]
		if t.a < 0 || t.solved && t.rating == 0 && t.capJK == 0 {
			continue
		}
		t = &s.ownLeads()[k]
		t.solved = true
		if t.rating > 0 && !t.blown {
			r := t.amps(s) / t.rating
			t.heat += float64((float64(r*r) - t.heat) * (in.Dt / (fuseTau + in.Dt)))
			if t.heat > fuseOpen {
				t.blown = true
				s.Moved, s.dirty = true, true
			}
		}
		if t.capJK > 0 {
			c := t.amps(s)
			loss := float64(c * c * t.ohm)
			t.leadK += in.Dt * (loss - float64(t.coolWK*(t.leadK-in.TempK))) / (t.capJK + float64(in.Dt*t.coolWK))
			if t.leadK > t.softK+5 {
				t.softK = t.leadK
				grip := min(float64(leadSoftens*max(0, t.softK-leadSoftK)), leadSoftest)
				t.ohm = t.cold * (1 + float64(copperAlpha*(t.softK-t.attachK))) * (1 + grip)
				s.dirty = true
			}
		}
	}
}

func trailing(x uint64) int { return bits.TrailingZeros64(x) }
