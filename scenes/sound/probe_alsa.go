//go:build unix && !darwin && !android && !js

package sound

// #cgo pkg-config: alsa
//
// #include <alsa/asoundlib.h>
//
// static void coldbay_quiet(const char *file, int line, const char *function, int err, const char *fmt, ...) {}
//
// // coldbay_probe opens the default device the way it will be played on, and closes it again.
// static int coldbay_probe(unsigned int rate) {
//     snd_pcm_t *pcm = NULL;
//     int err;
//     snd_lib_error_set_handler(coldbay_quiet);
//     err = snd_pcm_open(&pcm, "default", SND_PCM_STREAM_PLAYBACK, SND_PCM_NONBLOCK);
//     if (err >= 0) {
//         err = snd_pcm_set_params(pcm, SND_PCM_FORMAT_FLOAT_LE, SND_PCM_ACCESS_RW_INTERLEAVED, 2, rate, 1, 100000);
//         snd_pcm_close(pcm);
//     }
//     snd_lib_error_set_handler(NULL);
//     return err;
// }
import "C"

import (
	"fmt"

	"coldbay/scenes/sound/synth"
)

// probe tries the default device. Without it the engine would end the program when it finds none.
func probe() error {
	if err := C.coldbay_probe(synth.Rate); err < 0 {
		return fmt.Errorf("no sound device: %s", C.GoString(C.snd_strerror(err)))
	}
	return nil
}
