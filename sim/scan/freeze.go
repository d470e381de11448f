package scan

import (
	"fmt"
	"slices"
)

// FreezeFrame is the data that a controller stored with a code (service $02).
// The zero FreezeFrame is empty: its code is 0 and the scan tool shows "none".
type FreezeFrame struct {
	Number byte // 0 is the one that the standard requires
	Code   DTC
	items  []Item
}

// Store records a parameter's values, encoded, in place of earlier ones. A copy
// of the frame made before is not changed.
func (f *FreezeFrame) Store(pid byte, values ...float64) error {
	data, err := Encode(pid, values...)
	if err != nil {
		return fmt.Errorf("freeze frame %d: %w", f.Number, err)
	}
	items := slices.Clone(f.items)
	item := Item{ID: pid, Frame: f.Number, Data: data}
	if i := slices.IndexFunc(items, func(i Item) bool { return i.ID == pid }); i >= 0 {
		items[i] = item
	} else {
		items = append(items, item)
	}
	f.items = items
	return nil
}

// Stored lists the recorded parameters in the order of recording, after the
// code itself.
func (f FreezeFrame) Stored() []byte {
	ids := []byte{PIDFreezeCode}
	for _, item := range f.items {
		ids = append(ids, item.ID)
	}
	return ids
}

// Answer is the response to a request for some of the parameters. Parameters
// that were not stored are left out; a frame without a code answers only for
// its code, and the bit maps of supported parameters are answered always.
func (f FreezeFrame) Answer(pids ...byte) Response {
	r := Response{Service: FreezeData}
	for _, pid := range pids {
		if item, ok := f.item(pid); ok {
			item.Frame = f.Number
			item.Data = append([]byte(nil), item.Data...)
			r.Items = append(r.Items, item)
		}
	}
	return r
}

func (f FreezeFrame) item(pid byte) (Item, bool) {
	if pid == PIDFreezeCode {
		b := f.Code.Bytes()
		return Item{ID: pid, Data: b[:]}, true
	}
	if p, ok := Lookup(pid); ok && p.Fields[0].Form == Support {
		ids := f.Stored()
		for _, chained := range []byte{0x20, 0x40, 0x60} {
			if slices.Max(ids) > chained {
				ids = append(ids, chained)
			}
		}
		mask := SupportMask(pid, ids...)
		return Item{ID: pid, Data: mask[:]}, true
	}
	if f.Code == 0 {
		return Item{}, false
	}
	for _, item := range f.items {
		if item.ID == pid {
			return item, true
		}
	}
	return Item{}, false
}

// Readings decodes the whole frame as a scan tool shows it.
func (f FreezeFrame) Readings() ([]Reading, error) {
	var all []Reading
	for _, item := range f.Answer(f.Stored()...).Items {
		r, err := item.Readings()
		if err != nil {
			return nil, fmt.Errorf("freeze frame %d: %w", f.Number, err)
		}
		all = append(all, r...)
	}
	return all, nil
}
