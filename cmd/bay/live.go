package main

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"coldbay/grading/belief"
	"coldbay/sim/bench"
)

// Slices of computing between rests. In the browser everything shares one thread, and a rest is when the page is drawn and
// heard. Behind the trainee's back less than half of the time is taken; when somebody waits for the debrief, nearly all.
const (
	quietWork, quietRest = 4 * time.Millisecond, 6 * time.Millisecond
	hurryWork, hurryRest = 12 * time.Millisecond, time.Millisecond
)

// tellEvery is how often somebody who waits is told how far the work is.
const tellEvery = 200 * time.Millisecond

// oneThread says that whatever works keeps the window from being drawn and heard.
const oneThread = runtime.GOOS == "js"

// breather gives a function that rests now and then. It is for one goroutine.
func breather(hurry func() bool) func() {
	last := time.Now()
	return func() {
		work, rest := quietWork, quietRest
		if hurry() {
			work, rest = hurryWork, hurryRest
		}
		if time.Since(last) >= work {
			time.Sleep(rest)
			last = time.Now()
		}
	}
}

func always() bool { return true }

// follower keeps the belief about an attempt up to date in the background while it is played, so that the debrief is there
// when the order is closed. Nothing of it reaches the trainee before.
type follower struct {
	hurry atomic.Bool
	stop  context.CancelFunc
	mu    sync.Mutex
	todo  []bench.Finding
	all   int           // findings, seen and still to be seen
	more  chan struct{} // signals new findings
	idle  chan struct{} // closed while nothing is left to do
	b     *belief.Belief
	err   error
}

// follow begins with what was done before; begin gives the belief as the car comes in.
func follow(cfg bench.Config, begin func(context.Context, bench.Config) (*belief.Belief, error), before []bench.Finding) *follower {
	ctx, stop := context.WithCancel(context.Background())
	f := &follower{stop: stop, todo: append([]bench.Finding(nil), before...), all: len(before), more: make(chan struct{}, 1), idle: make(chan struct{})}
	cfg.Log = nil
	cfg.Breathe = breather(f.hurry.Load)
	go f.work(ctx, func() (*belief.Belief, error) { return begin(ctx, cfg) })
	return f
}

func (f *follower) work(ctx context.Context, begin func() (*belief.Belief, error)) {
	b, err := begin()
	f.mu.Lock()
	f.b, f.err = b, err
	f.mu.Unlock()
	for err == nil {
		f.mu.Lock()
		if len(f.todo) == 0 {
			f.rest()
			f.mu.Unlock()
			select {
			case <-f.more:
				continue
			case <-ctx.Done():
				return
			}
		}
		next := f.todo[0]
		f.todo = f.todo[1:]
		f.mu.Unlock()
		if _, err = b.See(ctx, next); err != nil {
			f.mu.Lock()
			f.err = err
			f.mu.Unlock()
		}
	}
	f.mu.Lock()
	f.rest()
	f.mu.Unlock()
}

// rest says that there is nothing left to do; f.mu is held.
func (f *follower) rest() {
	select {
	case <-f.idle:
	default:
		close(f.idle)
	}
}

// see hands on the next finding.
func (f *follower) see(x bench.Finding) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.err != nil {
		return
	}
	select {
	case <-f.idle:
		f.idle = make(chan struct{})
	default:
	}
	f.todo = append(f.todo, x)
	f.all++
	select {
	case f.more <- struct{}{}:
	default:
	}
}

// belief waits until everything was seen, and tells how many findings were, of how many; of none while the suspects' cars are being
// brought in. It is nil when the following failed: then the grader does the work itself.
func (f *follower) belief(ctx context.Context, tell func(done, of int)) *belief.Belief {
	f.hurry.Store(true)
	again := time.NewTicker(tellEvery)
	defer again.Stop()
	for {
		f.mu.Lock()
		idle, left, of := f.idle, len(f.todo), f.all
		if f.b == nil {
			of = 0
		}
		f.mu.Unlock()
		tell(max(0, of-left-1), of)
		select {
		case <-again.C:
			continue
		case <-idle:
		case <-ctx.Done():
			return nil
		}
		if left == 0 || f.failed() {
			break
		}
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.err != nil || len(f.todo) > 0 {
		return nil
	}
	return f.b
}

func (f *follower) failed() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.err != nil
}

// followed is a session whose findings a follower sees.
type followed struct {
	*bench.Local
	f *follower
}

// Do carries out an action and lets the follower see what it gave.
func (s followed) Do(ctx context.Context, a bench.Action) (bench.Finding, error) {
	x, err := s.Local.Do(ctx, a)
	if err == nil && x.Seq > 0 {
		s.f.see(x)
	}
	return x, err
}
