package sparse

import "sync" //samebits:ok worlds of one car share the shelf; a plan depends on its topology alone, whoever made it

// shelved bounds the plans that a shelf keeps. A car's switches, hands and tools make some dozens of topologies in a day's work.
const shelved = 512

// Shelf keeps plans by the topology that they were made for, so that worlds of one car share them. Its zero value is empty and ready;
// it is safe for concurrent use. What is on it makes no difference to any result.
type Shelf struct {
	mu    sync.RWMutex
	plans map[topology]*Plan
}

type topology struct {
	n   int
	adj [Max]uint64
}

// Plan is [NewPlan], made at most once while it is kept.
func (s *Shelf) Plan(n int, adj []uint64) (*Plan, error) {
	key := topology{n: n}
	copy(key.adj[:], adj[:min(n, len(adj), Max)])
	s.mu.RLock()
	p := s.plans[key]
	s.mu.RUnlock()
	if p != nil {
		return p, nil
	}
	p, err := NewPlan(n, adj)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.plans == nil || len(s.plans) >= shelved {
		s.plans = map[topology]*Plan{}
	}
	s.plans[key] = p
	return p, nil
}
