// Package hearing says what a trainee hears where he stands, as numbers for the synthesiser and as captions.
//
// It knows only what a session gives: the view and the findings. So the loudspeaker tells nothing that was not perceived: the pump has
// one of three pitches, by the word that listening gave, and no pitch at all before anybody listened; a hiss is heard where it was
// listened for, until hands change something; an armature clicks when a finding says so.
package hearing
