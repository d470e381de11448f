package bench

import "strings"

// carryOut does the action of j. A refusal must come before anything is changed or any time has passed; what depends on the
// hidden state of the car is never refused but found out, at the cost of going there.
func (l *Local) carryOut(j *job) error {
	switch j.a.Verb {
	case Look:
		return l.doLook(j)
	case Listen:
		return l.doListen(j)
	case Feel:
		return l.doFeel(j)
	case Key:
		return l.doKey(j)
	case Start:
		return l.doStart(j)
	case Stop:
		return l.doStop(j)
	case Hold:
		return l.doHold(j)
	case Watch:
		return l.doWatch(j)
	case Soak:
		return l.doSoak(j)
	case Open, Close:
		return l.doConnector(j, j.a.Verb == Open)
	case Pull:
		return l.doPull(j)
	case Fit:
		return l.doFit(j)
	case Plug, Unplug:
		return l.doPlug(j, j.a.Verb == Plug)
	case Remove:
		return l.doRemove(j)
	case Refit:
		return l.doRefit(j)
	case MeterOn:
		return l.doMeter(j)
	case MeterOff:
		return l.doMeterOff(j)
	case ClampOn:
		return l.doClamp(j)
	case ClampOff:
		return l.doClampOff(j)
	case LampOn:
		return l.doLamp(j)
	case LampOff:
		return l.doLampOff(j)
	case Jump:
		return l.doJump(j)
	case Unjump:
		return l.doUnjump(j)
	case Read:
		return l.doRead(j)
	case HandPump:
		return l.doHandPump(j)
	case Stroke:
		return l.doStroke(j)
	case HoldVac:
		return l.doHoldVac(j)
	case Release:
		return l.doRelease(j)
	case PumpOff:
		return l.doPumpOff(j)
	case Blow:
		return l.doBlow(j)
	case SmokeIn:
		return l.doSmoke(j)
	case Analyse:
		return l.doAnalyse(j)
	case Helper:
		return l.doHelper(j)
	case Extract:
		return l.doExtract(j)
	case ScanOn:
		return l.doScanOn(j)
	case ScanOff:
		return l.doScanOff(j)
	case Codes:
		return l.doCodes(j)
	case Freeze:
		return l.doFreeze(j)
	case Data:
		return l.doData(j)
	case Actuator:
		return l.doActuator(j)
	case Erase:
		return l.doErase(j)
	case Readiness:
		return l.doReadiness(j)
	case Results:
		return l.doResults(j)
	case Repair:
		return l.doRepair(j)
	case Drive:
		return l.doDrive(j)
	case Note:
		return l.doNote(j)
	case Strike, Unstrike:
		return l.doStrike(j, j.a.Verb == Strike)
	case Predict:
		return l.doPredict(j)
	case Finish:
		return l.doFinish(j)
	}
	return j.no("%q is nothing that can be done here; possible are: %s", string(j.a.Verb), strings.Join(VerbWords(), ", "))
}

// VerbWords lists every verb in the order of verbs.go.
func VerbWords() []string {
	return []string{
		string(Look), string(Listen), string(Feel), string(Key), string(Start), string(Stop), string(Hold), string(Watch), string(Soak),
		string(Open), string(Close), string(Pull), string(Fit), string(Plug), string(Unplug), string(Remove), string(Refit),
		string(MeterOn), string(MeterOff), string(ClampOn), string(ClampOff), string(LampOn), string(LampOff),
		string(Jump), string(Unjump), string(Read),
		string(HandPump), string(Stroke), string(HoldVac), string(Release), string(PumpOff), string(Blow), string(SmokeIn), string(Analyse), string(Helper), string(Extract),
		string(ScanOn), string(ScanOff), string(Codes), string(Freeze), string(Data), string(Actuator), string(Erase), string(Readiness),
		string(Results),
		string(Repair), string(Drive), string(Note), string(Strike), string(Unstrike), string(Predict), string(Finish),
	}
}

// oneOf finds the id in an index or refuses with what is allowed.
func (j *job) oneOf(index map[string]int, id, what string, allowed []string) (int, error) {
	if i, ok := index[id]; ok {
		return i, nil
	}
	if id == "" {
		return 0, j.no("which %s? There are: %s", what, strings.Join(allowed, ", "))
	}
	return 0, j.no("there is no %s %q here; there are: %s", what, id, strings.Join(allowed, ", "))
}

// tool refuses what the order withholds.
func (l *Local) tool(j *job) error {
	if name := j.a.Verb.Tool(); name != "" && !l.cfg.Order.Allows(name) {
		return j.no("this order is to be done without the %s", toolName(name))
	}
	return nil
}

func toolName(tool string) string {
	switch tool {
	case ToolLamp:
		return "test lamp"
	case ToolJumper:
		return "jumper leads"
	case ToolHandPump:
		return "hand vacuum pump"
	case ToolBreath:
		return "clean hose to blow through"
	case ToolSmoke:
		return "smoke generator"
	case ToolGas:
		return "exhaust gas analyser"
	case ToolScan:
		return "scan tool"
	}
	return tool
}
