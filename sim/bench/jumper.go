package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"coldbay/sim"
)

// jumperLength is the length of every jumper lead in the bay, m [invented].
const jumperLength = 2.0

// Gauges and in-line fuses of the jumper leads in the bay.
var (
	jumperGauges = [...]int{18, 14, 12, 10}
	jumperFuses  = [...]int{0, 3, 5, 10, 20, 30, 40}
)

// parseLead reads "12awg 30A" or "18awg none".
func parseLead(mode string) (awg, fuse int, ok bool) {
	fields := strings.Fields(strings.ToLower(mode))
	if len(fields) != 2 {
		return 0, 0, false
	}
	g, found := strings.CutSuffix(fields[0], "awg")
	awg, err := strconv.Atoi(g)
	if !found || err != nil || !slices.Contains(jumperGauges[:], awg) {
		return 0, 0, false
	}
	if fields[1] != "none" {
		f, found := strings.CutSuffix(fields[1], "a")
		if fuse, err = strconv.Atoi(f); !found || err != nil || fuse == 0 || !slices.Contains(jumperFuses[:], fuse) {
			return 0, 0, false
		}
	}
	return awg, fuse, true
}

// doJump bridges two terminals with a lead.
func (l *Local) doJump(j *job) error {
	if err := l.tool(j); err != nil {
		return err
	}
	awg, fuse, ok := parseLead(j.a.Mode)
	if !ok {
		return j.no("which lead? 18awg, 14awg, 12awg or 10awg with a fuse of 3A, 5A, 10A, 20A, 30A, 40A or none, such as \"12awg 30A\"")
	}
	a, b, err := l.probes(j)
	if err != nil {
		return err
	}
	slot := -1
	for i := range l.s.jumpers {
		if jp := &l.s.jumpers[i]; jp.from == "" && slot < 0 {
			slot = i
		} else if (jp.from == a.id && jp.to == b.id) || (jp.from == b.id && jp.to == a.id) {
			return j.no("a lead bridges those two already")
		}
	}
	if slot < 0 {
		return j.no("all %d jumper leads are in use", maxJumpers)
	}
	l.walk(j, a.place)
	l.spend(j, l.tar.Seconds.Jumper)
	l.walk(j, b.place)
	l.spend(j, l.tar.Seconds.Jumper)
	l.s.jumpers[slot] = jumperState{from: a.id, to: b.id, awg: awg, fuse: float64(fuse)}
	err = l.w.Attach(slotJumper+slot, sim.Instrument{
		Kind: sim.JumperLead, A: a.id, B: b.id, AWG: awg, LengthM: jumperLength, FuseA: float64(fuse),
	})
	if err != nil {
		return err
	}
	l.tick(j)
	l.arc(j, slot, a.id+"/"+b.id, fuse)
	l.spend(j, 1)
	return nil
}

// arc tells of the bang when a lead closes a short circuit: more current than any load draws, or a fuse that went at once.
func (l *Local) arc(j *job, slot int, of string, fuse int) {
	r, ok := l.w.Instrument(slotJumper + slot)
	if !ok {
		return
	}
	amps := r.Amps
	if amps < 0 {
		amps = -amps
	}
	if amps > arcAmps || (r.FuseBlown && fuse >= 20) {
		j.hurt("short_arc", of, fuse == 0)
		j.see(Percept{Sense: Eye, Key: "lead", Of: of, Word: "flash and bang"})
	}
}

// doUnjump takes a lead off again.
func (l *Local) doUnjump(j *job) error {
	var on []string
	for i := range l.s.jumpers {
		jp := &l.s.jumpers[i]
		if jp.from == "" {
			continue
		}
		on = append(on, fmt.Sprintf("%s %s", jp.from, jp.to))
		if (jp.from == j.a.On && jp.to == j.a.To) || (jp.from == j.a.To && jp.to == j.a.On) || (j.a.On == "" && j.a.To == "") {
			j.a.On, j.a.To = jp.from, jp.to
			l.walk(j, l.lay.terminals[l.lay.terminal[jp.from]].place)
			l.spend(j, l.tar.Seconds.Jumper)
			l.w.Detach(slotJumper + i)
			*jp = jumperState{}
			return nil
		}
	}
	if len(on) == 0 {
		return j.no("no jumper lead is in place")
	}
	return j.no("no lead bridges those two; in place: %s", strings.Join(on, "; "))
}
