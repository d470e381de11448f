package plan

import (
	"fmt"
	"iter"
	"math/bits"
	"strconv"
	"strings"
)

// setWords is the number of 64-bit words in a Set.
const setWords = 4

// MaxHypotheses is the largest number of hypotheses a Set can hold.
const MaxHypotheses = 64 * setWords

// Set is a set of hypothesis indices, 0 to MaxHypotheses-1. It is a value:
// comparable, usable as a map key, and its zero value is the empty set.
type Set [setWords]uint64

// SetOf returns the set of the given indices; indices out of range are ignored.
func SetOf(indices ...int) Set {
	var s Set
	for _, i := range indices {
		s = s.With(i)
	}
	return s
}

// FirstN returns the set 0..n-1, clipped to MaxHypotheses.
func FirstN(n int) Set {
	var s Set
	for i := 0; i < n && i < MaxHypotheses; i++ {
		s[i>>6] |= 1 << (i & 63)
	}
	return s
}

// Has reports whether i is in the set.
func (s Set) Has(i int) bool {
	return i >= 0 && i < MaxHypotheses && s[i>>6]&(1<<(i&63)) != 0
}

// With returns the set with i added; an index out of range changes nothing.
func (s Set) With(i int) Set {
	if i >= 0 && i < MaxHypotheses {
		s[i>>6] |= 1 << (i & 63)
	}
	return s
}

// Without returns the set with i removed.
func (s Set) Without(i int) Set {
	if i >= 0 && i < MaxHypotheses {
		s[i>>6] &^= 1 << (i & 63)
	}
	return s
}

// And returns the intersection.
func (s Set) And(o Set) Set {
	for k := range s {
		s[k] &= o[k]
	}
	return s
}

// Or returns the union.
func (s Set) Or(o Set) Set {
	for k := range s {
		s[k] |= o[k]
	}
	return s
}

// Minus returns the members of s that are not in o.
func (s Set) Minus(o Set) Set {
	for k := range s {
		s[k] &^= o[k]
	}
	return s
}

// Empty reports whether the set has no member.
func (s Set) Empty() bool { return s == Set{} }

// Within reports whether every member of s is in o.
func (s Set) Within(o Set) bool {
	return s[0]&^o[0]|s[1]&^o[1]|s[2]&^o[2]|s[3]&^o[3] == 0
}

// Count returns the number of members.
func (s Set) Count() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// First returns the smallest member, or -1 when the set is empty.
func (s Set) First() int {
	for k, w := range s {
		if w != 0 {
			return k<<6 + bits.TrailingZeros64(w)
		}
	}
	return -1
}

// All yields the members in rising order.
func (s Set) All() iter.Seq[int] {
	return func(yield func(int) bool) {
		for k, w := range s {
			for ; w != 0; w &= w - 1 {
				if !yield(k<<6 + bits.TrailingZeros64(w)) {
					return
				}
			}
		}
	}
}

// String writes the set as hexadecimal, lowest index in the last digit.
func (s Set) String() string {
	var b strings.Builder
	for k := setWords - 1; k >= 0; k-- {
		switch {
		case b.Len() > 0:
			fmt.Fprintf(&b, "%016x", s[k])
		case s[k] != 0 || k == 0:
			fmt.Fprintf(&b, "%x", s[k])
		}
	}
	return b.String()
}

// MarshalText writes the hexadecimal form of String.
func (s Set) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText wrote.
func (s *Set) UnmarshalText(text []byte) error {
	t := string(text)
	if t == "" || len(t) > 16*setWords {
		return fmt.Errorf("suspect set %q: want 1 to %d hexadecimal digits", t, 16*setWords)
	}
	var out Set
	for k := 0; len(t) > 0; k++ {
		cut := max(0, len(t)-16)
		w, err := strconv.ParseUint(t[cut:], 16, 64)
		if err != nil {
			return fmt.Errorf("suspect set %q: %w", string(text), err)
		}
		out[k], t = w, t[:cut]
	}
	*s = out
	return nil
}
