//go:build js

package sound

import (
	"errors"
	"syscall/js"
)

// probe asks whether the browser has Web Audio.
func probe() error {
	for _, name := range []string{"AudioContext", "webkitAudioContext"} {
		if js.Global().Get(name).Truthy() {
			return nil
		}
	}
	return errors.New("no sound device: the browser has no Web Audio")
}
