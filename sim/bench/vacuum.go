package bench

import (
	"math"
	"strconv"

	"coldbay/sim"
)

// gaugePlay is half the play of the hand pump's needle, Pa [practice].
const gaugePlay = 500

// follow moves the needle, which stays where it is until the vacuum has run away from it by its play.
func (h *handState) follow(vacuum float64) {
	if vacuum > h.gauge+gaugePlay {
		h.gauge = vacuum - gaugePlay
	} else if vacuum < h.gauge-gaugePlay {
		h.gauge = vacuum + gaugePlay
	}
}

// doHandPump pushes the hand vacuum pump on a free port or hose end.
func (l *Local) doHandPump(j *job) error {
	if err := l.tool(j); err != nil {
		return err
	}
	if l.s.hand.on != "" {
		return j.no("the hand pump is on %s; take it off first", l.s.hand.on)
	}
	if err := l.mustBeFree(j, j.a.On); err != nil {
		return err
	}
	if l.bigBore(j.a.On) {
		return j.no("the hand pump fits the vacuum lines only; this is an air hose")
	}
	place, _ := l.lay.openingPlace(j.a.On)
	l.walk(j, place)
	if found, err := l.foundTaken(j, j.a.On); found || err != nil {
		return err
	}
	l.spend(j, l.tar.Seconds.Gauge)
	l.s.hand = handState{on: j.a.On}
	return l.w.AttachTool(sim.HandPump, j.a.On)
}

// bigBore says whether an opening is one of the wide air hoses: an effective area above 20 mm2.
func (l *Local) bigBore(opening string) bool {
	if i, ok := l.lay.port[opening]; ok {
		return l.lay.ports[i].bore > 2e-5
	}
	i, ok := l.lay.end[opening]
	return ok && l.lay.ends[i].bore > 2e-5
}

// atHandPump refuses without a pump in place; otherwise goes there, or leaves it to the helper.
func (l *Local) atHandPump(j *job) error {
	if l.s.hand.on == "" {
		return j.no("the hand pump is on nothing; push it on a port or hose end first")
	}
	return nil
}

// doStroke pumps and reads the gauge. The hand pump holds what it has drawn, but for its own small leak, so that one can walk to the
// tailpipe afterwards.
func (l *Local) doStroke(j *job) error {
	if err := l.atHandPump(j); err != nil {
		return err
	}
	n := int(j.a.N)
	if n < 1 || n > 100 || float64(n) != j.a.N {
		return j.no("how many strokes? 1 to 100")
	}
	l.byHelper(j, l.instrumentPlace("gauge"))
	for range n {
		l.w.Stroke()
		l.spend(j, l.tar.Seconds.Stroke)
	}
	l.s.hand.strokes += n
	l.spend(j, 1)
	l.readGauge(j)
	return nil
}

// doHoldVac watches the gauge for N seconds and tells the drop.
func (l *Local) doHoldVac(j *job) error {
	if err := l.atHandPump(j); err != nil {
		return err
	}
	if j.a.N < 1 || j.a.N > 600 {
		return j.no("watch the gauge for how long? 1 to 600 seconds")
	}
	l.byHelper(j, l.instrumentPlace("gauge"))
	before := l.s.hand.kPa()
	l.spend(j, j.a.N)
	l.readGauge(j)
	j.see(Percept{Sense: Gauge, Key: "drop", Of: l.s.hand.on, Value: round(before-l.s.hand.shown, 1), Unit: "kPa"})
	return nil
}

func (l *Local) doRelease(j *job) error {
	if err := l.atHandPump(j); err != nil {
		return err
	}
	l.byHelper(j, l.instrumentPlace("gauge"))
	l.w.ToolVent(true)
	l.spend(j, 2)
	l.w.ToolVent(false)
	l.s.hand.strokes = 0
	l.readGauge(j)
	return nil
}

func (l *Local) doPumpOff(j *job) error {
	if err := l.atHandPump(j); err != nil {
		return err
	}
	l.walk(j, l.instrumentPlace("gauge"))
	l.spend(j, l.tar.Seconds.Gauge)
	l.w.DetachTool()
	l.s.hand = handState{}
	return nil
}

func (h *handState) kPa() float64 { return round(math.Max(0, h.gauge)/1000, 1) }

// readGauge reads the needle to the next kPa.
func (l *Local) readGauge(j *job) {
	h := &l.s.hand
	h.shown = h.kPa()
	h.text = strconv.FormatFloat(h.shown, 'f', 0, 64) + " kPa"
	j.see(Percept{Sense: Gauge, Key: "vacuum", Of: h.on, Value: h.shown, Unit: "kPa"})
}

// doBlow blows gently through a clean hose into an opening: how hard it goes, and where it comes out again.
func (l *Local) doBlow(j *job) error {
	if err := l.tool(j); err != nil {
		return err
	}
	if l.s.hand.on != "" {
		return j.no("take the hand pump off first: one pair of hands")
	}
	if err := l.mustBeFree(j, j.a.On); err != nil {
		return err
	}
	place, _ := l.lay.openingPlace(j.a.On)
	l.walk(j, place)
	if found, err := l.foundTaken(j, j.a.On); found || err != nil {
		return err
	}
	before := l.outflows()
	if err := l.w.AttachTool(sim.Breath, j.a.On); err != nil {
		return err
	}
	l.spend(j, l.tar.Seconds.Blow)
	j.see(Percept{Sense: Hand, Key: "breath", Of: j.a.On, Word: graded(math.Abs(l.w.ToolFlow()), breathWords)})
	after := l.outflows()
	for i, o := range l.openOutlets() {
		if o == j.a.On || i >= len(before) {
			continue
		}
		word := graded(math.Max(0, after[i]-before[i]), breathOutWords)
		if word != "none" {
			j.see(Percept{Sense: Hand, Key: "breath_out", Of: o, Word: word})
		}
	}
	l.w.DetachTool()
	return nil
}

// openOutlets are the openings where a breath could come out: free ports, free hose ends, and the solenoids' vents.
func (l *Local) openOutlets() []string {
	var out []string
	for i, p := range l.lay.ports {
		if l.believedOn(p.id) < 0 && !l.s.plugged[i] {
			out = append(out, p.id)
		}
	}
	for i, e := range l.lay.ends {
		if l.s.ends[i].at == "" && !l.s.ends[i].plugged {
			out = append(out, e.id)
		}
	}
	return append(out, l.lay.vents...)
}

func (l *Local) outflows() []float64 {
	list := l.openOutlets()
	out := make([]float64, len(list))
	for i, o := range list {
		out[i] = l.flowOut(o)
	}
	return out
}
