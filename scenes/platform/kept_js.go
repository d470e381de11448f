//go:build js

package platform

import "syscall/js"

const keptPrefix = "coldbay/kept/"

// Keep keeps a small value under a key.
func Keep(key string, data []byte) error {
	s, err := store()
	if err != nil {
		return err
	}
	_, err = call(s, "setItem", keptPrefix+key, string(data))
	return err
}

// Kept reads what was kept under a key; ErrNotKept when there is nothing.
func Kept(key string) ([]byte, error) {
	s, err := store()
	if err != nil {
		return nil, err
	}
	v, err := call(s, "getItem", keptPrefix+key)
	if err != nil {
		return nil, err
	}
	if v.Type() != js.TypeString {
		return nil, ErrNotKept
	}
	return []byte(v.String()), nil
}
