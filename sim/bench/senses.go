package bench

import (
	"coldbay/sim/car"
	"math"
	"slices"
	"strings"
)

// doLook looks over a place: hose ends that are not where they belong, what is open or off, and the signs that the car's data
// gives to parts past their thresholds. Mode "bend" moves hoses and covers while looking.
func (l *Local) doLook(j *job) error {
	if j.a.On == "" {
		j.a.On = l.s.place
	}
	if _, err := j.oneOf(l.lay.place, j.a.On, "place", l.lay.PlaceIDs()); err != nil {
		return err
	}
	bend := j.a.Mode == "bend"
	if j.a.Mode != "" && !bend {
		return j.no("one looks plainly or with \"bend\", moving hoses and covers")
	}
	l.walk(j, j.a.On)
	l.spend(j, l.tar.Seconds.Look)
	if bend {
		l.spend(j, l.tar.Seconds.Bend)
	}
	before := len(j.f.Percepts)
	for i := range l.lay.ends {
		if err := l.lookAtEnd(j, i, j.a.On); err != nil {
			return err
		}
	}
	for i, c := range l.lay.connectors {
		if c.place == j.a.On && l.s.connectors[i] {
			j.see(Percept{Sense: Eye, Key: "sign", Of: c.id, Word: "open"})
		}
	}
	for i, p := range l.lay.parts {
		if p.place == j.a.On && l.s.parts[i] {
			j.see(Percept{Sense: Eye, Key: "sign", Of: p.id, Word: "off"})
		}
	}
	for _, sg := range l.lay.signs {
		if err := l.lookForSign(j, sg, bend); err != nil {
			return err
		}
	}
	for i, m := range l.lay.motors {
		if m.place == j.a.On && l.w.PumpTone(m.id) > pumpAudible {
			word := "shakes evenly"
			if l.w.PumpDrag(m.id) >= dragWords[0].below {
				word = "shakes roughly"
			}
			l.s.noticed.rough = word == "shakes roughly"
			l.s.noticed.pumps[i] = true
			j.see(Percept{Sense: Eye, Key: "pump", Of: m.id, Word: word})
		}
	}
	if j.a.On == placeDash && l.w.KeyOn() {
		j.see(Percept{Sense: Eye, Key: "lamp", Of: placeDash, Word: onOff(l.w.Lamp())})
		l.s.noticed.lamp = l.w.Lamp()
		j.see(Percept{Sense: Eye, Key: "coolant", Of: placeDash, Word: coolantWord(l.w.CoolantK())})
		l.s.noticed.coolant = coolantWord(l.w.CoolantK())
		l.rev(j)
	}
	if len(j.f.Percepts) == before {
		j.see(Percept{Sense: Eye, Key: "sign", Of: j.a.On, Word: "nothing unusual"})
	}
	return nil
}

// lookAtEnd finds out where a hose end is when it can be seen from place, and tells it unless it sits where it belongs.
func (l *Local) lookAtEnd(j *job, i int, place string) error {
	e := l.lay.ends[i]
	at, plugged, err := l.w.HoseEndAt(e.id)
	if err != nil {
		return err
	}
	seenAt := e.place
	if at != "" {
		seenAt = l.lay.ports[l.lay.port[at]].place
	}
	if place != e.place && place != seenAt {
		return nil
	}
	l.s.ends[i] = endState{at: at, plugged: plugged}
	if at != e.home {
		j.see(endSign(e, at, plugged))
	}
	return nil
}

func endSign(e hoseEnd, at string, plugged bool) Percept {
	word := "hangs free"
	switch {
	case at != "":
		word = "sits on " + at
	case plugged:
		word = "hangs plugged"
	}
	return Percept{Sense: Eye, Key: "sign", Of: e.id, Word: word}
}

func (l *Local) lookForSign(j *job, sg sign, bend bool) error {
	if sg.place != j.a.On || (sg.bend && !bend) {
		return nil
	}
	if sg.removed != "" && !l.s.parts[l.lay.part[sg.removed]] {
		return nil
	}
	if sg.open != "" && !l.s.connectors[l.lay.connector[sg.open]] {
		return nil
	}
	if sg.pulled != "" {
		end, _, err := l.w.PortHas(sg.pulled)
		if err != nil {
			return err
		}
		if end != "" {
			return nil
		}
	}
	v, err := l.w.Param(sg.of, sg.param)
	if err != nil {
		return err
	}
	if v >= sg.from && (sg.upto == 0 || v < sg.upto) {
		if i := slices.IndexFunc(l.lay.parts, func(p part) bool { return p.world == sg.of && p.full > 0 }); i >= 0 && sg.param == "stuck" {
			l.s.noticed.stems[i].seen = l.stemShare(&l.lay.parts[i])
		}
		j.see(Percept{Sense: Eye, Key: "sign", Of: sg.of, Word: sg.see})
	}
	return nil
}

// doListen listens at a place: the pump's pitch and roughness, armatures that click, hissing air, the idle.
func (l *Local) doListen(j *job) error {
	if j.a.On == "" {
		j.a.On = l.s.place
	}
	if _, err := j.oneOf(l.lay.place, j.a.On, "place", l.lay.PlaceIDs()); err != nil {
		return err
	}
	n := ticksOf(l.tar.Seconds.Listen)
	if j.a.N != 0 {
		if j.a.N < perTick || j.a.N > 600 {
			return j.no("one listens for 0.1 to 600 seconds")
		}
		n = ticksOf(j.a.N)
	}
	place := j.a.On
	l.walk(j, place)
	ear := earNotes{clicks: make([]int, len(l.lay.coils)), speed: make([]float64, len(l.lay.motors)), low: math.Inf(1)}
	for i, c := range l.lay.coils {
		ear.clicks[i] = l.w.CoilClicks(c.id)
	}
	done := 0
	for ; done < n && !j.cut && (done == 0 || j.ctx.Err() == nil); done++ {
		l.tick(j)
		l.hear(&ear)
	}
	if done < n {
		j.a.N = secs(done)
	}
	l.tellSounds(j, place, &ear)
	return nil
}

type earNotes struct {
	clicks    []int
	speed     []float64 // highest while listening
	hiss      float64   // highest, kg/s
	low, high float64   // rpm
	engine    bool
}

func (l *Local) hear(e *earNotes) {
	for i, m := range l.lay.motors {
		e.speed[i] = math.Max(e.speed[i], l.w.PumpTone(m.id))
	}
	if l.w.Running() {
		e.engine = true
		e.low, e.high = math.Min(e.low, l.w.Rpm()), math.Max(e.high, l.w.Rpm())
	}
	e.hiss = math.Max(e.hiss, l.hissAt(l.s.place))
}

// hissAt is what leaks sound like at a place: the loudest one, leaks elsewhere in the engine compartment damped.
func (l *Local) hissAt(place string) float64 {
	loudest := 0.0
	add := func(flow float64, at string) {
		flow = math.Abs(flow)
		if at != place {
			if !near(at) || !near(place) {
				return
			}
			flow = float64(flow * hissAway)
		}
		loudest = math.Max(loudest, flow)
	}
	for _, h := range l.lay.hoses {
		a, b := l.lay.ends[h.ends[0]], l.lay.ends[h.ends[1]]
		flow := l.w.LeakFlow(h.id)
		if place == a.place {
			add(flow, a.place)
		} else {
			add(flow, b.place)
		}
	}
	for _, c := range l.lay.chambers {
		add(l.w.LeakFlow(c.id), c.place)
	}
	bank, joints := 0, car.ExhaustJoints()
	for _, p := range l.lay.parts { // each bank's joint is heard where the first part on its hot side is
		if p.hot && bank < len(joints) {
			add(l.w.LeakFlow(joints[bank]), p.place)
			bank++
		}
	}
	for i, e := range l.lay.ends {
		if at, plugged, err := l.w.HoseEndAt(l.lay.ends[i].id); err == nil && at == "" && !plugged {
			add(l.flowOut(e.id), e.place)
		}
	}
	for _, p := range l.lay.ports {
		if end, plugged, err := l.w.PortHas(p.id); err == nil && end == "" && !plugged {
			add(l.flowOut(p.id), p.place)
		}
	}
	return loudest
}

func (l *Local) tellSounds(j *job, place string, e *earNotes) {
	for i, m := range l.lay.motors {
		if !near(place) && e.engine {
			continue
		}
		word := graded(e.speed[i], pumpWords)
		l.s.noticed.pumps[i] = l.w.PumpTone(m.id) > pumpAudible
		j.see(Percept{Sense: Ear, Key: "whine", Of: m.id, Word: word})
		if place == m.place && e.speed[i] > pumpAudible {
			rough := graded(l.w.PumpDrag(m.id), dragWords)
			l.s.noticed.rough = rough != "smooth"
			j.see(Percept{Sense: Ear, Key: "bearing", Of: m.id, Word: rough})
			if noise := l.w.PumpNoise(m.id); noise != "" {
				j.see(Percept{Sense: Ear, Key: "noise", Of: m.id, Word: noise})
			}
		}
	}
	for i, c := range l.lay.coils {
		if c.place != place {
			continue
		}
		word := "no click"
		if l.w.CoilClicks(c.id) > e.clicks[i] {
			word = "clicks"
		}
		j.see(Percept{Sense: Ear, Key: "click", Of: c.id, Word: word})
	}
	hiss := e.hiss
	if e.engine {
		hiss = float64(hiss * 0.5) // the engine covers half of it [practice]
	}
	j.see(Percept{Sense: Ear, Key: "hiss", Of: place, Word: graded(hiss, hissWords)})
	if e.engine {
		word := "even"
		if e.high-e.low > idleHunts {
			word = "hunts"
		}
		j.see(Percept{Sense: Ear, Key: "idle", Of: "engine", Word: word})
	}
}

// doFeel puts a hand to the tailpipe, an open port or hose end, or a place or part.
func (l *Local) doFeel(j *job) error {
	on := j.a.On
	if on == openTailpipe {
		if l.s.extract {
			return j.no("the extraction hose is on the tailpipe; take it off first")
		}
		l.walk(j, placeTailpipe)
		// Air at room temperature: a hand feels speed, and the exhaust of a cold engine is not far from it.
		speed := l.feelFlow(j, openTailpipe) / float64(1.2*tailpipeArea)
		j.see(Percept{Sense: Hand, Key: "flow", Of: on, Word: graded(math.Abs(speed), tailpipeWords)})
		return nil
	}
	if place, ok := l.lay.openingPlace(on); ok {
		return l.feelOpening(j, on, place)
	}
	if i, ok := l.lay.part[on]; ok {
		return l.feelHeat(j, on, l.lay.parts[i].place)
	}
	if _, ok := l.lay.place[on]; ok {
		return l.feelHeat(j, on, on)
	}
	for _, h := range l.lay.hoses {
		if h.id == on {
			l.walk(j, l.lay.ends[h.ends[1]].place)
			l.spend(j, l.tar.Seconds.Feel)
			j.see(Percept{Sense: Hand, Key: "heat", Of: on, Word: graded(l.w.HoseK(on), heatWords)})
			return nil
		}
	}
	return j.no("feel what? There are: %s, %s; places: %s; open ports and hose ends", openTailpipe,
		strings.Join(l.lay.partIDs(), ", "), strings.Join(l.lay.PlaceIDs(), ", "))
}

// feelFlow keeps the hand there for a while and gives the strongest flow that came or went, kg/s: an actuator test blows in pulses.
func (l *Local) feelFlow(j *job, opening string) float64 {
	most := 0.0
	for range ticksOf(l.tar.Seconds.Feel) {
		l.tick(j)
		if f := l.flowOut(opening); math.Abs(f) > math.Abs(most) {
			most = f
		}
	}
	return most
}

// tailpipeArea is the bore of a 50 mm pipe in m2.
const tailpipeArea = 1.963495e-3

func (l *Local) feelOpening(j *job, on, place string) error {
	if err := l.mustBeFree(j, on); err != nil {
		return err
	}
	l.walk(j, place)
	if found, err := l.foundTaken(j, on); found || err != nil {
		return err
	}
	flow := l.feelFlow(j, on)
	word := graded(math.Abs(flow), openingWords)
	if word != "none" {
		if flow < 0 {
			word += " suction"
		} else {
			word += " blowing"
		}
	}
	j.see(Percept{Sense: Hand, Key: "flow", Of: on, Word: word})
	return nil
}

func (l *Local) feelHeat(j *job, on, place string) error {
	l.walk(j, place)
	l.spend(j, l.tar.Seconds.Feel)
	heat := l.w.NearEngineK(l.lay.places[l.lay.place[place]].warm)
	for _, d := range l.lay.warm {
		if d.place == place {
			heat = max(heat, l.w.PartK(d.id))
		}
	}
	for _, m := range l.lay.motors {
		if m.place == place {
			heat = max(heat, l.w.MotorK(m.id))
			shake := "none"
			if l.w.PumpTone(m.id) > pumpAudible {
				shake = graded(l.w.PumpDrag(m.id), dragWords)
				l.s.noticed.rough = shake != "smooth"
			}
			j.see(Percept{Sense: Hand, Key: "vibration", Of: m.id, Word: shake})
		}
	}
	if p := l.hotPart(place); p != nil {
		heat = max(heat, l.w.ExhaustSideK(p.world))
		l.burn(j, on)
	}
	j.see(Percept{Sense: Hand, Key: "heat", Of: on, Word: graded(heat, heatWords)})
	return nil
}

// hotPart is the part by which the exhaust side is at a place: one that the car's data calls hot is bolted on there. nil: none is.
func (l *Local) hotPart(place string) *part {
	for i, p := range l.lay.parts {
		if p.hot && p.place == place {
			return &l.lay.parts[i]
		}
	}
	return nil
}

// flowOut is the flow out of an opening that is known to exist, kg/s.
func (l *Local) flowOut(opening string) float64 {
	flow, err := l.w.FlowOut(opening)
	if err != nil {
		return 0
	}
	return flow
}
