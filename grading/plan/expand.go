package plan

import (
	"cmp"
	"slices"
)

// frame is the working space of one depth of the search. Slices are reused.
type frame struct {
	useful []int32 // tests that split the set
	group  []int32 // partition of each, index into groups
	groups []partition
	parts  []Set // parts of all partitions, one after another
	child  []int64
	steps  []step
	best   []int64 // cheapest way to (group, end configuration)
	bestOf []action
	posts  []int32
	list   []mass
	costs  []int64
	work   []int64
	order  []int
}

// partition is how a test divides the set.
type partition struct {
	hash   uint64
	lo, hi int32 // range in parts
	cost   int64 // least duration of a test that divides the set so
}

// step is one option at a state: a partition, and how the bench ends.
type step struct {
	f      int64 // lower bound of choosing it
	group  int32
	child  int32 // first of its child bounds in frame.child
	act    action
	number int32 // to keep sorting deterministic
}

// split finds the tests among candidates that divide s, and groups those that
// divide it alike.
func (m *model) split(s Set, candidates []int32, f *frame) {
	f.useful, f.group, f.groups, f.parts = f.useful[:0], f.group[:0], f.groups[:0], f.parts[:0]
	for _, t := range candidates {
		start := len(f.parts)
		for _, mask := range m.masks[t] {
			if part := s.And(mask); !part.Empty() {
				f.parts = append(f.parts, part)
			}
		}
		if len(f.parts)-start < 2 {
			f.parts = f.parts[:start]
			continue
		}
		own := f.parts[start:]
		for i := 1; i < len(own); i++ {
			for j := i; j > 0 && own[j].First() < own[j-1].First(); j-- {
				own[j], own[j-1] = own[j-1], own[j]
			}
		}
		var h uint64
		for _, p := range own {
			h = h*31 + state{p, 0}.hash()
		}
		g := m.sameGroup(f, h, own)
		if g >= 0 {
			f.parts = f.parts[:start]
			f.groups[g].cost = min(f.groups[g].cost, m.d.Tests[t].Seconds)
		} else {
			g = int32(len(f.groups))
			f.groups = append(f.groups, partition{h, int32(start), int32(len(f.parts)), m.d.Tests[t].Seconds})
		}
		f.useful, f.group = append(f.useful, t), append(f.group, g)
	}
}

func (m *model) sameGroup(f *frame, h uint64, own []Set) int32 {
	for g, p := range f.groups {
		if p.hash == h && slices.Equal(f.parts[p.lo:p.hi], own) {
			return int32(g)
		}
	}
	return -1
}

// reset prepares the table of cheapest ways for the given number of groups.
func (f *frame) reset(size int) {
	f.steps, f.child = f.steps[:0], f.child[:0]
	if cap(f.best) < size {
		f.best, f.bestOf = make([]int64, size), make([]action, size)
	}
	f.best, f.bestOf = f.best[:size], f.bestOf[:size]
	for k := range f.best {
		f.best[k] = infinity
	}
}

// options lists what may be done at (s, q), without those that another makes
// needless: of tests that divide s alike, only the cheapest way to each end
// configuration counts, and only if it cannot be reached from another's end
// as cheaply. Bounds are left to the caller.
func (m *model) options(s Set, q int, f *frame) {
	f.reset(len(f.groups) * m.q)
	for k, t := range f.useful {
		base := int(f.group[k]) * m.q
		for _, o := range m.ways[q][t] {
			if x := base + int(o.post); o.seconds < f.best[x] {
				f.best[x], f.bestOf[x] = o.seconds, action{t, o}
			}
		}
	}
	for g := range f.groups {
		row := f.best[g*m.q : (g+1)*m.q]
		f.posts = f.posts[:0]
		for p, s := range row {
			if s < infinity {
				f.posts = append(f.posts, int32(p))
			}
		}
		if len(f.posts) > 1 {
			slices.SortStableFunc(f.posts, func(a, b int32) int { return cmp.Compare(row[a], row[b]) })
		}
		kept := 0
		for _, p := range f.posts {
			if !slices.ContainsFunc(f.posts[:kept], func(k int32) bool {
				return row[k]+m.close.dist[k][p] <= row[p]
			}) {
				f.posts[kept] = p
				kept++
				f.steps = append(f.steps, step{group: int32(g), act: f.bestOf[g*m.q+int(p)]})
			}
		}
	}
	if m.bound.economic {
		m.gambles(s, q, f)
	}
	for k := range f.steps {
		f.steps[k].number = int32(k)
	}
}

// gambles adds the replacement of each unit present: it cures its own
// suspects and leaves the others.
func (m *model) gambles(s Set, q int, f *frame) {
	for u, in := range m.unitSet {
		if s.And(in).Empty() {
			continue
		}
		g := int32(len(f.groups))
		f.parts = append(f.parts, s.Minus(in))
		f.groups = append(f.groups, partition{0, int32(len(f.parts) - 1), int32(len(f.parts)), 0})
		for _, o := range m.moves[q][u] {
			f.steps = append(f.steps, step{group: g, act: action{int32(len(m.d.Tests) + u), o}})
		}
	}
}
