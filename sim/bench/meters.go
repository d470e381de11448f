package bench

import (
	"math"
	"strconv"

	"coldbay/sim"
)

// Modes of the meter.
const (
	modeVolts = "volts"
	modeOhms  = "ohms"
	modeAmps  = "amps"
)

// probes checks two different terminals that a probe reaches now.
func (l *Local) probes(j *job) (red, black terminal, err error) {
	if red, err = l.reach(j, j.a.On); err != nil {
		return
	}
	if black, err = l.reach(j, j.a.To); err != nil {
		return
	}
	if red.id == black.id {
		err = j.no("both ends are on the same terminal; two different ones are needed")
	}
	return
}

func (l *Local) reach(j *job, id string) (terminal, error) {
	i, err := j.oneOf(l.lay.terminal, id, "terminal", l.lay.terminalIDs())
	if err != nil {
		return terminal{}, err
	}
	t := l.lay.terminals[i]
	if c, ok := l.lay.connector[t.whenOpen]; ok && !l.s.connectors[c] {
		return t, j.no("%s can be reached only with %s open; open %s first", t.name, l.lay.connectors[c].name, t.whenOpen)
	}
	if p, ok := l.lay.part[t.whenRemoved]; ok && !l.s.parts[p] {
		return t, j.no("%s can be reached only with the %s taken out; remove %s first", t.name, l.lay.parts[p].name, t.whenRemoved)
	}
	return t, nil
}

// doMeter puts the leads on two terminals and reads once. Leads that sit there already cost nothing.
func (l *Local) doMeter(j *job) error {
	if err := l.tool(j); err != nil {
		return err
	}
	m := &l.s.meter
	kind := sim.Voltmeter
	switch j.a.Mode {
	case modeVolts:
	case modeOhms:
		kind = sim.Ohmmeter
	case modeAmps:
		kind = sim.Ammeter
	default:
		return j.no("the meter reads volts, ohms or amps")
	}
	red, black, err := l.probes(j)
	if err != nil {
		return err
	}
	if m.mode == j.a.Mode && m.red == red.id && m.black == black.id {
		return j.no("the meter is there already; read it with: read meter")
	}
	if m.red != red.id {
		l.walk(j, red.place)
		l.spend(j, l.tar.Seconds.Probe)
	}
	if m.black != black.id {
		l.walk(j, black.place)
		l.spend(j, l.tar.Seconds.Probe)
	}
	if kind == sim.Ammeter && m.blown {
		l.spend(j, l.tar.Seconds.Probe)
		m.blown = false
		j.f.Cost += l.tar.Prices.MeterFuse
	}
	m.mode, m.red, m.black, m.ring = j.a.Mode, red.id, black.id, ring{}
	if err := l.w.Attach(slotMeter, sim.Instrument{Kind: kind, A: red.id, B: black.id}); err != nil {
		return err
	}
	l.spend(j, l.tar.Seconds.Settle)
	l.readMeter(j)
	return nil
}

func (l *Local) doMeterOff(j *job) error {
	if l.s.meter.mode == "" {
		return j.no("the meter is not connected")
	}
	l.spend(j, l.tar.Seconds.Away)
	l.w.Detach(slotMeter)
	l.s.meter = meterState{blown: l.s.meter.blown}
	return nil
}

// readMeter says what the display shows: 3.5 digits (1999 counts), ranging by itself, with the gain error of this meter.
func (l *Local) readMeter(j *job) {
	m := &l.s.meter
	p := Percept{Sense: Meter, Of: m.red + "/" + m.black}
	r, _ := l.w.Instrument(slotMeter)
	gain := 1 + float64(0.003*l.calibration(1)) // 0.5 % class, this one within 0.3 % [practice]
	switch m.mode {
	case modeVolts:
		p.Key, p.Unit = modeVolts, "V"
		p.Value = digits(float64(m.ring.mean()*gain), []float64{0.2, 2, 20, 200})
	case modeAmps:
		p.Key, p.Unit = modeAmps, "A"
		p.Value = digits(float64(m.ring.mean()*gain), []float64{2, 20})
		if r.FuseBlown {
			p.Value, p.Flag = 0, "fuse blown"
			if !m.blown {
				m.blown = true
				j.hurt("meter_fuse", p.Of, false)
			}
		}
	default:
		p.Key, p.Unit = modeOhms, "ohm"
		v := m.ring.mean()
		if math.IsNaN(v) || v > 20e6 {
			p.Word = "OL"
		} else {
			p.Value = digits(math.Max(0, float64(v*gain)), []float64{200, 2e3, 20e3, 200e3, 2e6, 20e6})
		}
		if r.Live {
			p.Flag = "live circuit"
		}
	}
	m.text = display(p)
	j.see(p)
}

// digits rounds to the resolution of the smallest range that still holds the value.
func digits(v float64, ranges []float64) float64 {
	for _, full := range ranges {
		if math.Abs(v) < full {
			return round(v, 2000/full)
		}
	}
	return round(v, 2000/ranges[len(ranges)-1])
}

// calibration is the error of one instrument of this bay as a share of its tolerance, -1..1. It comes from the order, not from the
// car's fault, so that every suspect's world is measured with the same instruments.
func (l *Local) calibration(instrument uint64) float64 {
	x := l.cfg.Seed() ^ spread(instrument)
	x += 0x9e3779b97f4a7c15
	x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9
	x = (x ^ (x >> 27)) * 0x94d049bb133111eb
	x ^= x >> 31
	return float64(float64(x>>11)/(1<<52)) - 1
}

// spread lays a small number out over 64 bits.
func spread(n uint64) uint64 { return n * 0xd6e8feb86659fd93 }

// doClamp puts the current clamp round a wire and reads once. Mode "zero" zeroes it first; without, it is off by up to an ampere.
func (l *Local) doClamp(j *job) error {
	if err := l.tool(j); err != nil {
		return err
	}
	i, err := j.oneOf(l.lay.clamp, j.a.On, "clamp point", l.lay.clampIDs())
	if err != nil {
		return err
	}
	if j.a.Mode != "" && j.a.Mode != "zero" {
		return j.no("the clamp goes on as it is, or zeroed first (zero)")
	}
	c := &l.s.clamp
	if c.on == j.a.On && j.a.Mode == "" {
		return j.no("the clamp is there already; read it with: read clamp")
	}
	l.walk(j, l.lay.clamps[i].place)
	if j.a.Mode == "zero" {
		l.spend(j, l.tar.Seconds.Zero)
		c.zeroed = true
	}
	c.on, c.ring = j.a.On, ring{}
	l.spend(j, l.tar.Seconds.Clamp)
	l.readClamp(j)
	return nil
}

func (l *Local) doClampOff(j *job) error {
	if l.s.clamp.on == "" {
		return j.no("the clamp is on nothing")
	}
	l.walk(j, l.lay.clamps[l.lay.clamp[l.s.clamp.on]].place)
	l.spend(j, l.tar.Seconds.Away)
	l.s.clamp = clampState{}
	return nil
}

func (l *Local) readClamp(j *job) {
	c := &l.s.clamp
	p := Percept{Sense: Clamp, Key: modeAmps, Of: c.on, Unit: "A"}
	v := float64(c.ring.mean() * (1 + float64(0.015*l.calibration(2)))) // 1.5 % class [practice]
	if !c.zeroed {
		v += 0.4 + float64(0.4*math.Abs(l.calibration(3))) // remanence [practice]
		p.Flag = "not zeroed"
	}
	p.Value = round(v, 10)
	c.text = display(p)
	j.see(p)
}

// doLamp puts the test lamp between two terminals and looks at it.
func (l *Local) doLamp(j *job) error {
	if err := l.tool(j); err != nil {
		return err
	}
	watts := 21.0
	switch j.a.Mode {
	case "", "21":
		j.a.Mode = "21"
	case "5":
		watts = 5
	default:
		return j.no("there are two test lamps: 21 and 5 watts")
	}
	red, black, err := l.probes(j)
	if err != nil {
		return err
	}
	t := &l.s.lamp
	if t.red == red.id && t.black == black.id && t.watts == watts {
		return j.no("the lamp is there already; read it with: read lamp")
	}
	if t.red != red.id {
		l.walk(j, red.place)
		l.spend(j, l.tar.Seconds.Probe)
	}
	if t.black != black.id {
		l.walk(j, black.place)
		l.spend(j, l.tar.Seconds.Probe)
	}
	*t = lampState{red: red.id, black: black.id, watts: watts}
	if err := l.w.Attach(slotLamp, sim.Instrument{Kind: sim.TestLamp, A: red.id, B: black.id, Watts: watts}); err != nil {
		return err
	}
	l.spend(j, l.tar.Seconds.Settle)
	l.readLamp(j)
	return nil
}

func (l *Local) doLampOff(j *job) error {
	if l.s.lamp.red == "" {
		return j.no("the test lamp is not connected")
	}
	l.spend(j, l.tar.Seconds.Away)
	l.w.Detach(slotLamp)
	l.s.lamp = lampState{}
	return nil
}

func (l *Local) readLamp(j *job) {
	t := &l.s.lamp
	t.text = graded(t.ring.mean()/t.watts, lampWords)
	j.see(Percept{Sense: Lamp, Key: "glow", Of: t.red + "/" + t.black, Word: t.text})
}

// doRead reads an instrument that is in place once more.
func (l *Local) doRead(j *job) error {
	placed := map[string]bool{
		ToolMeter: l.s.meter.mode != "", ToolClamp: l.s.clamp.on != "", ToolLamp: l.s.lamp.red != "", "gauge": l.s.hand.on != "",
	}
	in, known := placed[j.a.On]
	if !known {
		return j.no("read what? There are: meter, clamp, lamp, gauge")
	}
	if !in {
		return j.no("the %s is not connected", map[bool]string{true: toolName(j.a.On), false: j.a.On}[j.a.On == ToolLamp])
	}
	if !near(l.s.place) && !l.s.helper {
		l.walk(j, l.instrumentPlace(j.a.On))
	}
	l.spend(j, l.tar.Seconds.Settle)
	switch j.a.On {
	case ToolMeter:
		l.readMeter(j)
	case ToolClamp:
		l.readClamp(j)
	case ToolLamp:
		l.readLamp(j)
	default:
		l.readGauge(j)
	}
	return nil
}

// instrumentPlace is where an instrument lies.
func (l *Local) instrumentPlace(tool string) string {
	switch tool {
	case ToolMeter:
		return l.lay.terminals[l.lay.terminal[l.s.meter.black]].place
	case ToolClamp:
		return l.lay.clamps[l.lay.clamp[l.s.clamp.on]].place
	case ToolLamp:
		return l.lay.terminals[l.lay.terminal[l.s.lamp.black]].place
	}
	p, _ := l.lay.openingPlace(l.s.hand.on)
	return p
}

// readAll reads every instrument in view: from the engine compartment one sees them all; from the tailpipe none, unless a helper reads
// them out; at the dash those that are propped against the windscreen, which is what one does.
func (l *Local) readAll(j *job) {
	if l.s.place == placeTailpipe && !l.s.helper {
		return
	}
	if l.s.meter.mode != "" {
		l.readMeter(j)
	}
	if l.s.clamp.on != "" {
		l.readClamp(j)
	}
	if l.s.lamp.red != "" {
		l.readLamp(j)
	}
	if l.s.hand.on != "" {
		l.readGauge(j)
	}
}

// display is a number as an instrument shows it.
func display(p Percept) string {
	if p.Word != "" {
		return p.Word
	}
	text := strconv.FormatFloat(p.Value, 'f', -1, 64)
	if p.Unit != "" {
		text += " " + p.Unit
	}
	if p.Flag != "" {
		text += " (" + p.Flag + ")"
	}
	return text
}
