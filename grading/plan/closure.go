package plan

// unreachable is a set-up time larger than any real one.
const unreachable = int64(1) << 40

// infinity is larger than any value the search can form.
const infinity = int64(1) << 62

// closure holds the cheapest set-up time between every two configurations,
// and the first edge of each cheapest way. A test that moves the bench counts
// as an edge too: it can be run for what it does rather than what it shows.
type closure struct {
	dist [][]int64
	hop  [][]int32 // first edge on the way, index into edges; -1 when none
	edge []edge
}

type edge struct {
	from, to int
	seconds  int64
	setUp    int // index of the set-up, or -1
	test     int // index of the test run only to move the bench, or -1
}

// newClosure runs Floyd-Warshall over set-ups and moving tests. Ties keep the
// edge listed first, set-ups before tests, so that printed ways are stable.
func newClosure(d *Dictionary) *closure {
	c := &closure{}
	for k, s := range d.SetUps {
		c.edge = append(c.edge, edge{s.From, s.To, s.Seconds, k, -1})
	}
	for k, t := range d.Tests {
		for _, p := range t.At {
			if p.Pre != p.Post {
				c.edge = append(c.edge, edge{p.Pre, p.Post, t.Seconds, -1, k})
			}
		}
	}
	n := len(d.Configs)
	c.dist, c.hop = emptyDistances(n), make([][]int32, n)
	for a := range c.hop {
		c.hop[a] = make([]int32, n)
		for b := range c.hop[a] {
			c.hop[a][b] = -1
		}
	}
	// Distances carry the number of edges in their low bits while the closure
	// is formed: of equally quick ways the one with fewest steps is kept, and
	// following first edges always ends, even where edges take no time.
	const low = 12
	for a := range n {
		for b := range n {
			c.dist[a][b] <<= low
		}
	}
	for k, e := range c.edge {
		if s := e.seconds<<low + 1; s < c.dist[e.from][e.to] {
			c.dist[e.from][e.to], c.hop[e.from][e.to] = s, int32(k)
		}
	}
	for m := range n {
		for a := range n {
			for b := range n {
				if s := c.dist[a][m] + c.dist[m][b]; s < c.dist[a][b] {
					c.dist[a][b], c.hop[a][b] = s, c.hop[a][m]
				}
			}
		}
	}
	for a := range n {
		for b := range n {
			c.dist[a][b] >>= low
		}
	}
	return c
}

func emptyDistances(n int) [][]int64 {
	d := make([][]int64, n)
	for a := range d {
		d[a] = make([]int64, n)
		for b := range d[a] {
			if a != b {
				d[a][b] = unreachable
			}
		}
	}
	return d
}

// way returns the edges of the cheapest way from a to b.
func (c *closure) way(a, b int) []edge {
	var out []edge
	for a != b {
		e := c.edge[c.hop[a][b]]
		out = append(out, e)
		a = e.to
	}
	return out
}

// freeMoves returns the closure in which tests, and with repairs also repairs
// and verifications, move the bench for nothing. It is what a lower bound may
// charge for set-up on a path whose other steps it does not know.
func (c *closure) freeMoves(d *Dictionary, repairs bool) [][]int64 {
	n := len(d.Configs)
	free := emptyDistances(n)
	for a := range n {
		copy(free[a], c.dist[a])
	}
	relax := func(at []Placement) {
		for _, p := range at {
			if free[p.Pre][p.Post] == 0 {
				continue
			}
			for a := range n {
				for b := range n {
					free[a][b] = min(free[a][b], free[a][p.Pre]+free[p.Post][b])
				}
			}
		}
	}
	for _, t := range d.Tests {
		relax(t.At)
	}
	if repairs {
		for _, u := range d.Units {
			relax(u.RepairAt)
			relax(u.VerifyAt)
		}
	}
	return free
}
