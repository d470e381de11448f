package bench

import (
	"fmt"
	"strings"
)

// doConnector opens or closes an electrical connector.
func (l *Local) doConnector(j *job, open bool) error {
	i, err := j.oneOf(l.lay.connector, j.a.On, "connector", l.lay.connectorIDs())
	if err != nil {
		return err
	}
	c := l.lay.connectors[i]
	if l.s.connectors[i] == open {
		return j.no("%s is already %s", c.name, map[bool]string{true: "open", false: "closed"}[open])
	}
	if !open {
		for k, p := range l.lay.parts {
			if p.connector == c.id && l.s.parts[k] {
				return j.no("%s is off the car; refit it first", p.name)
			}
		}
		if err := l.leadsClear(j, func(t terminal) bool { return t.whenOpen == c.id }); err != nil {
			return err
		}
	}
	l.walk(j, c.place)
	l.spend(j, l.tar.Seconds.Connector)
	l.s.connectors[i] = open
	return l.w.SetConnector(c.id, open)
}

// leadsClear refuses when an instrument or a jumper lead sits on a terminal that is about to be covered.
func (l *Local) leadsClear(j *job, covered func(terminal) bool) error {
	check := func(tool, id string) error {
		if i, ok := l.lay.terminal[id]; ok && covered(l.lay.terminals[i]) {
			return j.no("the %s is still on %s; take it off first", tool, l.lay.terminals[i].name)
		}
		return nil
	}
	for _, v := range []struct{ tool, id string }{
		{"meter", l.s.meter.red}, {"meter", l.s.meter.black}, {"test lamp", l.s.lamp.red}, {"test lamp", l.s.lamp.black},
	} {
		if err := check(v.tool, v.id); err != nil {
			return err
		}
	}
	for _, jp := range l.s.jumpers {
		if err := check("jumper lead", jp.from); err != nil {
			return err
		}
		if err := check("jumper lead", jp.to); err != nil {
			return err
		}
	}
	return nil
}

// believedOn is the hose end that the trainee takes to sit on a port, or -1.
func (l *Local) believedOn(port string) int {
	for i := range l.s.ends {
		if l.s.ends[i].at == port {
			return i
		}
	}
	return -1
}

// mustBeFree refuses an opening that, as far as the trainee knows, is covered.
func (l *Local) mustBeFree(j *job, opening string) error {
	if i, ok := l.lay.port[opening]; ok {
		if k := l.believedOn(opening); k >= 0 {
			return j.no("%s sits on %s; pull it first (pull %s)", l.lay.ends[k].name, l.lay.ports[i].name, l.lay.ends[k].id)
		}
		if l.s.plugged[i] {
			return j.no("%s is plugged; unplug it first", l.lay.ports[i].name)
		}
	} else if i, ok := l.lay.end[opening]; ok {
		if l.s.ends[i].at != "" {
			return j.no("%s is on a port; pull it first (pull %s)", l.lay.ends[i].name, opening)
		}
		if l.s.ends[i].plugged {
			return j.no("%s is plugged; unplug it first", l.lay.ends[i].name)
		}
	} else {
		return j.no("there is no opening %q; there are: %s", opening, strings.Join(l.lay.openingIDs(), ", "))
	}
	if l.s.hand.on == opening {
		return j.no("the hand pump is on it; take it off first")
	}
	return nil
}

// foundTaken tells, standing there, when an opening thought free turns out to carry a hose that belongs elsewhere.
func (l *Local) foundTaken(j *job, opening string) (bool, error) {
	if _, ok := l.lay.port[opening]; !ok {
		return false, nil
	}
	end, _, err := l.w.PortHas(opening)
	if err != nil || end == "" {
		return false, err
	}
	i := l.lay.end[end]
	l.s.ends[i] = endState{at: opening}
	j.see(endSign(l.lay.ends[i], opening, false))
	return true, nil
}

// doPull pulls a hose end off whatever it sits on. That it was off already, or elsewhere, is found there and then.
func (l *Local) doPull(j *job) error {
	i, err := j.oneOf(l.lay.end, j.a.On, "hose end", l.lay.endIDs())
	if err != nil {
		return err
	}
	e := l.lay.ends[i]
	if l.s.ends[i].at == "" {
		return j.no("%s hangs free already", e.name)
	}
	l.walk(j, e.place)
	at, plugged, err := l.w.HoseEndAt(e.id)
	if err != nil {
		return err
	}
	if at != l.s.ends[i].at {
		j.see(endSign(e, at, plugged))
		l.s.ends[i] = endState{at: at, plugged: plugged}
		if at == "" {
			return nil
		}
	}
	l.spend(j, l.tar.Seconds.Pull)
	l.s.ends[i] = endState{}
	return l.w.PullEnd(e.id)
}

// doFit pushes a free hose end on a free port within its reach and of its bore.
func (l *Local) doFit(j *job) error {
	i, err := j.oneOf(l.lay.end, j.a.On, "hose end", l.lay.endIDs())
	if err != nil {
		return err
	}
	e := l.lay.ends[i]
	if j.a.To == "" {
		j.a.To = e.home
	}
	pi, err := j.oneOf(l.lay.port, j.a.To, "port", l.lay.portIDs())
	if err != nil {
		return err
	}
	p := l.lay.ports[pi]
	if err := l.mustBeFree(j, e.id); err != nil {
		return err
	}
	if err := l.mustBeFree(j, p.id); err != nil {
		return err
	}
	if p.bore != e.bore {
		return j.no("%s does not fit on %s: another bore", e.name, p.name)
	}
	if p.place != e.place {
		return j.no("%s does not reach %s", e.name, p.name)
	}
	for k, pt := range l.lay.parts {
		if l.s.parts[k] {
			for _, id := range pt.ends {
				if l.lay.ends[l.lay.end[id]].home == p.id {
					return j.no("%s is off the car; refit it first", pt.name)
				}
			}
		}
	}
	l.walk(j, p.place)
	if found, err := l.foundTaken(j, p.id); found || err != nil {
		return err
	}
	l.spend(j, l.tar.Seconds.Fit)
	l.s.ends[i] = endState{at: p.id}
	return l.w.FitEnd(e.id, p.id)
}

// doPlug plugs or frees an open hose end or port.
func (l *Local) doPlug(j *job, plug bool) error {
	place, ok := l.lay.openingPlace(j.a.On)
	if !ok {
		return j.no("there is no opening %q; there are: %s", j.a.On, strings.Join(l.lay.openingIDs(), ", "))
	}
	pi, isPort := l.lay.port[j.a.On]
	ei := l.lay.end[j.a.On]
	if plug {
		if err := l.mustBeFree(j, j.a.On); err != nil {
			return err
		}
	} else if (isPort && !l.s.plugged[pi]) || (!isPort && !l.s.ends[ei].plugged) {
		return j.no("there is no plug in it")
	}
	l.walk(j, place)
	if plug {
		if found, err := l.foundTaken(j, j.a.On); found || err != nil {
			return err
		}
	}
	l.spend(j, l.tar.Seconds.Plug)
	if isPort {
		l.s.plugged[pi] = plug
	} else {
		l.s.ends[ei].plugged = plug
	}
	return l.w.SetPlug(j.a.On, plug)
}

// doRemove takes a part off: a fuse or relay out of its socket, the pump or the air valve off the car.
func (l *Local) doRemove(j *job) error {
	i, err := j.oneOf(l.lay.part, j.a.On, "part", l.lay.partIDs())
	if err != nil {
		return err
	}
	p := l.lay.parts[i]
	if l.s.parts[i] {
		return j.no("%s is off already", p.name)
	}
	if p.plug && !l.s.connectors[l.lay.connector[p.connector]] {
		return j.no("open %s first", p.connector)
	}
	var on []string
	for _, id := range p.ends {
		if l.s.ends[l.lay.end[id]].at != "" {
			on = append(on, id)
		}
	}
	if len(on) > 0 {
		return j.no("first pull: %s", strings.Join(on, ", "))
	}
	if l.s.hand.on != "" && p.world != "" {
		return j.no("take the hand pump off first")
	}
	l.walk(j, p.place)
	if p.hot {
		l.burn(j, p.id)
	}
	l.step(j, p.off)
	l.s.parts[i] = true
	if p.hot && l.w.Running() {
		l.openPorts(j)
	}
	return l.setPart(p, true)
}

// doRefit puts a part back; the air valve gets a new gasket.
func (l *Local) doRefit(j *job) error {
	i, err := j.oneOf(l.lay.part, j.a.On, "part", l.lay.partIDs())
	if err != nil {
		return err
	}
	p := l.lay.parts[i]
	if !l.s.parts[i] {
		return j.no("%s is in its place", p.name)
	}
	if err := l.leadsClear(j, func(t terminal) bool { return t.whenRemoved == p.id }); err != nil {
		return err
	}
	l.walk(j, p.place)
	if p.hot {
		l.burn(j, p.id)
	}
	l.step(j, p.on)
	l.s.parts[i] = false
	return l.setPart(p, false)
}

func (l *Local) setPart(p part, off bool) error {
	switch {
	case p.fuse != "":
		return l.w.SetElementOut(p.fuse, off)
	case p.world != "":
		return l.w.SetPartOff(p.world, off)
	case p.connector != "":
		return l.w.SetConnector(p.connector, off)
	}
	return fmt.Errorf("part %s: the car does not say what comes off", p.id)
}

// doHelper calls a second pair of hands or lets them go.
func (l *Local) doHelper(j *job) error {
	on, err := j.switched(l.s.helper, "the helper is on already", "the helper is off already")
	if err != nil {
		return err
	}
	if err := l.tool(j); err != nil {
		return err
	}
	if on {
		l.spend(j, l.tar.Seconds.Helper)
	}
	l.s.helper = on
	return nil
}

// doExtract puts the extraction hose on the tailpipe or takes it off.
func (l *Local) doExtract(j *job) error {
	on, err := j.switched(l.s.extract, "the extraction hose is on already", "the extraction hose is off already")
	if err != nil {
		return err
	}
	l.walk(j, placeTailpipe)
	l.spend(j, l.tar.Seconds.Extract)
	l.s.extract = on
	return nil
}

// switched reads Mode on or off and refuses what is so already.
func (j *job) switched(now bool, isOn, isOff string) (bool, error) {
	if j.a.Mode != "on" && j.a.Mode != "off" {
		return false, j.no("on or off?")
	}
	on := j.a.Mode == "on"
	switch {
	case on && now:
		return false, j.no("%s", isOn)
	case !on && !now:
		return false, j.no("%s", isOff)
	}
	return on, nil
}
