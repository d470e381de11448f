package synth

// engineVoice is an engine that runs: pulses of firing, filtered by exhaust, intake and valve train.
type engineVoice struct {
	rpm, hunt, open, level ramp
	turn                   float64 // in firings, counts to four cylinders
	sway                   float64 // phase of the hunting, turns
	wander                 drift
	each                   [4]float64
	body, chest, clatter   band
	bark                   band
	out                    way
	quiet                  bool
}

func (v *engineVoice) init(n *noise) {
	v.wander = newDrift(1.5)
	for i := range v.each {
		v.each[i] = 1 + unlike*n.next()
	}
	v.body.tune(bodyPitch, 1.2)
	v.chest.tune(chestPitch, 1.4)
	v.clatter.tune(clatterPitch, 0.9)
	v.bark.tune(openPitch, 0.8)
	v.quiet = true
}

// aim follows a block's numbers. While held the starter turns the engine, which makes its own sound; caught is true when it has just
// been let go.
func (v *engineVoice) aim(p *Engine, held, caught bool) bool {
	rpm := p.Rpm
	if held {
		rpm = 0
	}
	if v.quiet {
		if rpm == 0 || p.Gain == 0 {
			return false
		}
		from := rpm
		if caught {
			from = rpm * flare
		}
		v.rpm.jump(from)
		v.hunt.jump(p.Hunt)
		v.open.jump(p.Open)
		v.level.jump(0)
	}
	if rpm > 0 {
		v.rpm.aim(rpm, glide(engineGlide))
		v.level.aim(1, glide(gainGlide*3))
	} else {
		v.rpm.aim(0, glide(engineDies))
		v.level.aim(within((v.rpm.end-rpmInaudible)/500, 0, 1), glide(gainGlide))
	}
	v.hunt.aim(p.Hunt, glide(engineGlide))
	v.open.aim(p.Open, glide(pathGlide))
	v.out.aim(&p.Path, 1, v.quiet)
	v.quiet = false
	if rpm == 0 && v.level.still() || p.Gain == 0 && v.out.left.still() && v.out.right.still() {
		v.quiet = true
		v.level.jump(0)
		for _, b := range []*band{&v.body, &v.chest, &v.clatter, &v.bark} {
			b.low, b.mid = 0, 0
		}
		return false
	}
	return true
}

func (v *engineVoice) render(s *sines, n *noise, buf *[block]float64) {
	v.wander.advance(n)
	rpm, hunt, open, level, wander := v.rpm.v, v.hunt.v, v.open.v, v.level.v, v.wander.v
	for i := range buf {
		rpm += v.rpm.d
		hunt += v.hunt.d
		open += v.open.d
		level += v.level.d
		wander += v.wander.d
		v.sway += huntSlow * seconds
		if v.sway >= 1 {
			v.sway--
		}
		now := max(rpm+hunt*(s.at(v.sway)+0.25*wander), 0)
		v.turn += now / 60 * firingsATurn * seconds
		if v.turn >= 4 {
			v.turn -= 4
		}
		cylinder := int(v.turn)
		push := pulse(v.turn-float64(cylinder)) * v.each[cylinder]
		gate := max(push, 0)
		white := n.next()
		y := bodyLevel*v.body.step(push) + chestLevel*v.chest.step(push) + clatterLevel*v.clatter.step(white)*(0.25+gate)
		if open > 0 {
			y += open * openLevel * v.bark.step(push+0.7*white*gate)
		}
		buf[i] = y * level
	}
	v.rpm.v, v.hunt.v, v.open.v, v.level.v = v.rpm.end, v.hunt.end, v.open.end, v.level.end
}
