package sound

import (
	"coldbay/scenes/sound/hearing"
	"coldbay/scenes/sound/synth"
	"coldbay/sim/bench"
)

// FromView is what is heard on a car with the usual places; see [hearing.FromView].
func FromView(v bench.View, last []bench.Finding) synth.Params { return hearing.FromView(v, last) }

// Captions lists what is heard, in words, whether there is a device or not: keys of the message catalogue, first what goes on. name gives
// the words for an id. New captions have a Seq beyond the last one that was shown.
func Captions(c *bench.Catalogue, v *bench.View, last []bench.Finding, name func(id string) string) []hearing.Caption {
	return hearing.New(*c).Listen(*v, last).Captions(name)
}
