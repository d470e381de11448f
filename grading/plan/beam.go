package plan

import "math/bits"

// beam follows, at every state, the width best-looking options and records the
// best plan found as the state's upper bound. An option looks good when it
// cuts much weight between suspects of different units per second, set-up
// included; counting only pairs of different units keeps it from splitting
// what one repair cures.
func (s *search) beam(set Set, q, width int) {
	b := beam{s: s, width: width, seen: map[state]int64{}}
	b.value(set, q, s.every, 0)
}

type beam struct {
	s     *search
	width int
	seen  map[state]int64
}

// beamStates times the square of the width bounds the states of one beam.
const beamStates = 400

// across is the weight of pairs of suspects in different units.
func (m *model) across(list []mass) int64 {
	var p, same int64
	for k, x := range list {
		p += x.w
		own := x.w
		for _, y := range list[:k] {
			if m.atoms[y.atom].unit == m.atoms[x.atom].unit {
				own += 2 * y.w
			}
		}
		same += x.w * own
	}
	return (p*p - same) / 2
}

// better compares gain per second: a/b > c/d without division.
func better(a, b, c, d int64) bool {
	hi1, lo1 := bits.Mul64(uint64(a), uint64(max(d, 0)))
	hi2, lo2 := bits.Mul64(uint64(c), uint64(max(b, 0)))
	return hi1 > hi2 || hi1 == hi2 && lo1 > lo2
}

func (b *beam) value(set Set, q int, candidates []int32, depth int) int64 {
	s, m := b.s, b.s.m
	// A beam keeps its own working space: it never runs inside a frame in use.
	f := s.frame(depth)
	if v, ok := s.closed(set, q, f); ok {
		return v
	}
	key := state{set, int32(q)}
	if v, ok := b.seen[key]; ok {
		return v
	}
	// A wide beam may not run away: past its allowance it goes on narrow.
	if b.width > 1 && (len(b.seen) > beamStates*b.width*b.width || len(b.seen)&63 == 0 && s.ctx.Err() != nil) {
		b.width = 1
	}
	s.breathe()
	m.split(set, candidates, f)
	m.options(set, q, f)
	type pick struct {
		gain, seconds int64
		st            step
	}
	picks := make([]pick, 0, b.width+1)
	total := m.across(m.masses(set, f.list))
	gains := make([]int64, len(f.groups))
	for g := range gains {
		gains[g] = -1
	}
	for _, st := range f.steps {
		if gains[st.group] < 0 {
			rest := int64(0)
			g := f.groups[st.group]
			for _, part := range f.parts[g.lo:g.hi] {
				f.list = m.masses(part, f.list)
				rest += m.across(f.list)
			}
			gains[st.group] = max(0, total-rest)
		}
		p := pick{gains[st.group], st.act.way.seconds, st}
		k := len(picks)
		for k > 0 && better(p.gain, p.seconds, picks[k-1].gain, picks[k-1].seconds) {
			k--
		}
		if k >= b.width {
			continue
		}
		picks = append(picks, p)
		copy(picks[k+1:], picks[k:])
		picks[k] = p
		picks = picks[:min(len(picks), b.width)]
	}
	weight := m.weigh(set)
	best, act := infinity, noAction
	for _, p := range picks {
		g := f.groups[p.st.group]
		v := weight * p.seconds
		for _, part := range f.parts[g.lo:g.hi] {
			v += b.value(part, int(p.st.act.way.post), f.useful, depth+1)
			if v >= best {
				break
			}
		}
		if v < best {
			best, act = v, p.st.act
		}
	}
	b.seen[key] = best
	e := s.memo.at(key)
	if best < e.hi {
		e.hi, e.act = best, act
	}
	return min(best, e.hi)
}
