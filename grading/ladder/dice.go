package ladder

// Dice draws a number from 0 to n-1.
type Dice func(n int) int

// mix scrambles 64 bits (the finaliser of SplitMix64: G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number generators",
// OOPSLA 2014; constants from memory).
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// dice are those of one replicate of a student on an order: the k-th draw depends on nothing else. The bias of taking a remainder is
// below n in 2^64.
func dice(seed uint64, order, student string, replicate int) Dice {
	key := mix(seed + 0x9e3779b97f4a7c15)
	for _, s := range []string{order, student} {
		for _, c := range []byte(s) {
			key = mix(key ^ uint64(c))
		}
		key = mix(key + 0x9e3779b97f4a7c15)
	}
	key = mix(key ^ uint64(replicate))
	return func(n int) int {
		key += 0x9e3779b97f4a7c15
		return int(mix(key) % uint64(n))
	}
}
