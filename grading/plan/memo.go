package plan

// state is what the rest of a plan depends on.
type state struct {
	set Set
	q   int32
}

func (k state) hash() uint64 {
	h := uint64(k.q)*0x9E3779B97F4A7C15 + 0x2545F4914F6CDD1D
	for _, w := range k.set {
		h = (h ^ w) * 0xFF51AFD7ED558CCD
		h ^= h >> 29
	}
	return h
}

// is compares word by word, cheaper than the comparison of the whole that the
// language makes.
func (k *state) is(o *state) bool {
	return k.q == o.q && k.set[0] == o.set[0] && k.set[1] == o.set[1] && k.set[2] == o.set[2] && k.set[3] == o.set[3]
}

// entry is what is known of a state: lo is proven, hi is the value of a plan
// that can be followed, act the first step of that plan. Values are W.
type entry struct {
	lo, hi int64
	act    action
}

// action is a first step: a test, or in economic plans a replacement.
type action struct {
	test int32 // index of the test; tests+u for unit u; -1 for none
	way  option
}

var noAction = action{test: -1}

// memo is an open-addressed table from state to entry.
type memo struct {
	keys    []state
	entries []entry
	slots   []slot
}

// slot points to an entry: its index+1, 0 for none, and the top of its key's hash, so that few keys need to be compared.
type slot struct {
	n   int32
	tag uint32
}

func (t *memo) find(k state) *entry { return t.findAt(&k, k.hash()) }

// findAt is find for a key whose hash is known.
func (t *memo) findAt(k *state, h uint64) *entry {
	if len(t.slots) == 0 {
		return nil
	}
	tag := uint32(h >> 32)
	for i, mask := h, uint64(len(t.slots)-1); ; i++ {
		s := t.slots[i&mask]
		if s.n == 0 {
			return nil
		}
		if s.tag == tag && t.keys[s.n-1].is(k) {
			return &t.entries[s.n-1]
		}
	}
}

// at returns the entry of k, adding one that knows nothing. The pointer holds
// until the next call.
func (t *memo) at(k state) *entry {
	if e := t.find(k); e != nil {
		return e
	}
	if 2*(len(t.keys)+1) > len(t.slots) {
		t.slots = make([]slot, max(1024, 2*len(t.slots)))
		for n, old := range t.keys {
			t.place(old, int32(n+1))
		}
	}
	t.keys = append(t.keys, k)
	t.entries = append(t.entries, entry{hi: infinity, act: noAction})
	t.place(k, int32(len(t.keys)))
	return &t.entries[len(t.entries)-1]
}

func (t *memo) place(k state, n int32) {
	mask := uint64(len(t.slots) - 1)
	h := k.hash()
	i := h & mask
	for t.slots[i].n != 0 {
		i = (i + 1) & mask
	}
	t.slots[i] = slot{n, uint32(h >> 32)}
}
