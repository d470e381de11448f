package bench

// Verb is what the hands, eyes or ears do; the words are those of the trade.
type Verb string

// The verbs and the fields of Action that each one uses.
const (
	Look   Verb = "look"   // On: place; Mode "" plain, "bend" moves hoses and covers while looking
	Listen Verb = "listen" // On: place
	Feel   Verb = "feel"   // On: tailpipe, an open port or hose end (flow), a place or part (heat, vibration)
	Key    Verb = "key"    // Mode: off, on
	Start  Verb = "start"  // crank until it runs (at most 5 s)
	Stop   Verb = "stop"   // key off with the engine running
	Hold   Verb = "hold"   // N: rpm to hold, 0 idle
	Watch  Verb = "watch"  // N: seconds; reads every instrument in view at the end
	Soak   Verb = "soak"   // the car stands overnight and comes back cold

	Open   Verb = "open"   // On: connector
	Close  Verb = "close"  // On: connector
	Pull   Verb = "pull"   // On: hose end
	Fit    Verb = "fit"    // On: hose end; To: port
	Plug   Verb = "plug"   // On: open hose end or port
	Unplug Verb = "unplug" // On: plugged hose end or port
	Remove Verb = "remove" // On: part
	Refit  Verb = "refit"  // On: part

	MeterOn  Verb = "meter"    // Mode: volts, ohms, amps; On red terminal; To black terminal; reads once
	MeterOff Verb = "meteroff" // takes the leads off
	ClampOn  Verb = "clamp"    // On: clamp point; reads once
	ClampOff Verb = "clampoff"
	LampOn   Verb = "lamp" // On, To: terminals; Mode "21" or "5" watts; reads once
	LampOff  Verb = "lampoff"
	Jump     Verb = "jump"   // On, To: terminals; Mode "12awg 30A" or "18awg none"
	Unjump   Verb = "unjump" // On, To as placed
	Read     Verb = "read"   // On: meter, clamp, lamp, gauge; reads it again

	HandPump Verb = "handpump" // On: port or open hose end: push it on
	Stroke   Verb = "stroke"   // N: strokes, then reads the gauge
	HoldVac  Verb = "holdvac"  // N: seconds of watching the gauge; gives the drop
	Release  Verb = "release"  // let the vacuum go
	PumpOff  Verb = "pumpoff"  // take the hand pump off
	Blow     Verb = "blow"     // On: port or open hose end: breath through a clean hose; says where it comes out
	SmokeIn  Verb = "smoke"    // On: port or open hose end: low-pressure smoke; says how much goes in and where it comes out
	Analyse  Verb = "analyse"  // exhaust gas analyser at the tailpipe: O2, CO, CO2, HC, computed lambda
	Helper   Verb = "helper"   // Mode: on, off: a second pair of hands
	Extract  Verb = "extract"  // Mode: on, off: exhaust extraction hose

	ScanOn    Verb = "scan"     // plug in
	ScanOff   Verb = "scanoff"  // unplug
	Codes     Verb = "codes"    // Mode: stored, pending, permanent
	Freeze    Verb = "freeze"   // freeze frame
	Data      Verb = "data"     // List: PIDs in hex, "0C"; empty: the usual set
	Actuator  Verb = "actuator" // Mode: pump, solenoid, both, off
	Erase     Verb = "erase"    // erase codes
	Readiness Verb = "readiness"
	Results   Verb = "results" // on-board monitor results

	Repair Verb = "repair" // On: unit: replace with a part, or mend, as the unit says
	Drive  Verb = "drive"  // verify: overnight cold start with the monitor, a drive, codes read again

	Note     Verb = "note"     // Text
	Strike   Verb = "strike"   // On: suspect
	Unstrike Verb = "unstrike" // On: suspect
	Predict  Verb = "predict"  // Text: reading expected; List: suspects it would split
	Finish   Verb = "finish"   // List: suspects named as the cause; On: unit; N: ledger line that proves it
)

// Tool is the tool that a verb works with, one of [AllTools]; "" for bare hands and senses, and for the extraction hose, which no order
// withholds.
func (v Verb) Tool() string {
	switch v {
	case MeterOn, MeterOff:
		return ToolMeter
	case ClampOn, ClampOff:
		return ToolClamp
	case LampOn, LampOff:
		return ToolLamp
	case Jump, Unjump:
		return ToolJumper
	case HandPump, Stroke, HoldVac, Release, PumpOff:
		return ToolHandPump
	case Blow:
		return ToolBreath
	case SmokeIn:
		return ToolSmoke
	case Analyse:
		return ToolGas
	case Helper:
		return ToolHelper
	case ScanOn, ScanOff, Codes, Freeze, Data, Actuator, Erase, Readiness, Results:
		return ToolScan
	}
	return ""
}
