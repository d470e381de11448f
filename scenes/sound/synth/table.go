package synth

// The numbers behind the sounds. All of them are invented: chosen by ear and by looking at spectrograms, for the sake of telling
// sounds apart on a laptop's speaker. None is measured on a pump, relay or engine.
const (
	// Limits of what is taken, wide of anything sensible.
	maxPumpSpeed = 2000  // rad/s
	maxRpm       = 7000  //
	maxHunt      = 300   // rpm
	openCutoff   = 16000 // Hz: a path that swallows nothing

	// Air pump. The pitches are multiples of the shaft's turns, which is what makes a speed audible.
	usualPump     = 1080.0 // rad/s at which the levels below hold
	vanes         = 11     // blades of the impeller: the whine, about 1.9 kHz
	bars          = 8      // segments of the commutator: the lower tone
	shaftLevel    = 0.05   // imbalance, once a turn
	barLevel      = 0.10
	vaneLevel     = 0.17
	vaneOctave    = 0.05
	airLevel      = 0.34  // rushing air
	airTop        = 2400  // Hz, at the usual speed
	airBottom     = 250   // Hz
	unclearAir    = 0.5   // more air when the pitch can't be made out, so that the loudness stays
	roughPitch    = 0.022 // jitter of the pitch at full roughness, share, one sigma
	roughSwing    = 0.30  // jitter of the loudness, one sigma
	roughRate     = 45    // Hz, how quick both are
	grindLevel    = 0.50  // metal on metal
	grindPitch    = 1350  // Hz
	bumpsATurn    = 3     // balls that pass the worn spot
	bumpDecay     = 0.004 // s
	pumpUp        = 0.30  // s, time constant of spinning up
	pumpDown      = 0.75  // s, of running down
	pumpInaudible = 12.0  // rad/s below which there is nothing

	// Engine: pulses of firing, two a turn.
	firingsATurn = 2
	bodyLevel    = 0.50
	bodyPitch    = 85.0 // Hz, the exhaust
	chestLevel   = 0.70
	chestPitch   = 260.0 // Hz, the intake
	clatterLevel = 0.60
	clatterPitch = 1300.0 // Hz, valve train
	unlike       = 0.16   // how much the four cylinders differ
	openLevel    = 1.1    // bark of an open port
	openPitch    = 480.0  // Hz
	huntSlow     = 0.55   // Hz, the swing of a hunting idle
	flare        = 1.55   // times the idle speed, where it catches
	engineGlide  = 0.28   // s
	engineDies   = 0.22   // s
	rpmInaudible = 90.0

	// Cranking.
	crankPulses = 6.4   // Hz, compressions while the starter turns it
	crankTone   = 285.0 // Hz, the starter's gears
	crankSag    = 0.20  // how far a compression pulls the starter down
	crankLevel  = 0.24
	crankThump  = 0.5
	crankCatch  = 1.1 // s until it catches
	crankVain   = 2.6 // s until one gives up
	crankEdge   = 0.05

	// Hiss. A small leak is thin and high, a big one broad.
	hissLevel   = 0.55
	hissHigh    = 7200.0 // Hz, centre of a faint one
	hissLow     = 3600.0 // Hz, centre of a strong one
	hissFlutter = 0.12   // one sigma
	hissRate    = 9      // Hz

	// Clicks: how long after the armature went in it falls out, and how much softer.
	relayOut    = 0.30 // s
	solenoidOut = 0.42 // s
	outSofter   = 0.6

	beepPitch = 1568.0 // Hz
	beepLong  = 0.07   // s
	beepGap   = 0.11   // s from the first to the second
	beepLevel = 0.16
	arcDecay  = 0.022 // s
	arcLevel  = 0.8

	// Glides of gains and paths, s.
	gainGlide   = 0.02
	pathGlide   = 0.06
	masterGlide = 0.025
)

// mode is one damped resonance of a click.
type mode struct {
	pitch float64 // Hz
	decay float64 // s to 1/e
	level float64
}

// relayModes are small and tinny, solenoidModes heavier. Chosen by ear.
var (
	relayModes    = [modes]mode{{1850, 0.0042, 0.26}, {3300, 0.0034, 0.22}, {5600, 0.0018, 0.16}}
	solenoidModes = [modes]mode{{620, 0.0095, 0.34}, {1480, 0.0060, 0.22}, {2750, 0.0028, 0.12}}
)

const modes = 3
