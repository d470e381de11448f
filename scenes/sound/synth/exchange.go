package synth

import "sync/atomic"

// exchange hands the newest block from one writer to one reader without a lock and without allocation. Of its three blocks the writer
// owns one, the reader owns one, and the third lies in between, marked when it is new.
type exchange struct {
	blocks [3]Params
	write  uint32        // index of the writer's block; the writer's goroutine only
	read   uint32        // index of the reader's block; the reader's goroutine only
	middle atomic.Uint32 // index of the block between, with fresh when the reader has not seen it
}

const fresh = 4

func (x *exchange) init() {
	x.write, x.read = 0, 1
	x.middle.Store(2)
}

func (x *exchange) put(p Params) {
	x.blocks[x.write] = p
	x.write = x.middle.Swap(x.write|fresh) &^ fresh
}

// take gives the reader's block, and whether it was replaced since the last time.
func (x *exchange) take() (*Params, bool) {
	if x.middle.Load()&fresh == 0 {
		return &x.blocks[x.read], false
	}
	x.read = x.middle.Swap(x.read) &^ fresh
	return &x.blocks[x.read], true
}
