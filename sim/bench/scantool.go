package bench

import (
	"fmt"
	"slices"
	"strings"

	"coldbay/sim/scan"
)

// The scan tool plugs in at the dash and is carried along from there on. It shows nothing that has not been through the bytes of the
// standard messages: what the controller says is encoded, sent, and decoded again.

// scanReady refuses without a tool that is plugged in and a controller that is awake.
func (l *Local) scanReady(j *job) error {
	if !l.s.scan.plugged {
		return j.no("the scan tool is not plugged in")
	}
	if !l.w.KeyOn() {
		return j.no("turn the key on first; the controller sleeps")
	}
	return nil
}

func (l *Local) doScanOn(j *job) error {
	if !l.lay.scanPort {
		return j.no("this car has no diagnostic socket")
	}
	if err := l.tool(j); err != nil {
		return err
	}
	if l.s.scan.plugged {
		return j.no("the scan tool is plugged in already")
	}
	l.walk(j, placeDash)
	l.spend(j, l.tar.Seconds.ScanOn)
	l.s.scan = scanState{plugged: true}
	return nil
}

func (l *Local) doScanOff(j *job) error {
	if !l.s.scan.plugged {
		return j.no("the scan tool is not plugged in")
	}
	if l.s.scan.actuator != "" {
		return j.no("the actuator test is on; switch it off first")
	}
	l.walk(j, placeDash)
	l.spend(j, l.tar.Seconds.Away)
	l.s.scan = scanState{}
	return nil
}

// page lets the time of one page pass and starts a new screen.
func (l *Local) page(j *job, title string) {
	l.spend(j, l.tar.Seconds.ScanPage)
	l.s.scan.lines = []string{title}
}

func (l *Local) line(format string, a ...any) {
	l.s.scan.lines = append(l.s.scan.lines, fmt.Sprintf(format, a...))
}

// doCodes reads stored, pending or permanent codes.
func (l *Local) doCodes(j *job) error {
	if j.a.Mode == "" {
		j.a.Mode = "stored"
	}
	service, ok := map[string]scan.Service{
		"stored": scan.ConfirmedCodes, "pending": scan.PendingCodes, "permanent": scan.PermanentCodes,
	}[j.a.Mode]
	if !ok {
		return j.no("stored, pending or permanent codes?")
	}
	if err := l.scanReady(j); err != nil {
		return err
	}
	l.page(j, j.a.Mode+" codes")
	r, err := l.ask(scan.Request{Service: service})
	if err != nil {
		return err
	}
	l.tellCodes(j, r.Codes, j.a.Mode)
	return nil
}

// ask sends a request to the controller and reads its answer. No answer is an empty one: on this bus a controller keeps silent about
// what it does not have.
func (l *Local) ask(q scan.Request) (scan.Response, error) {
	b, err := q.Bytes()
	if err != nil {
		return scan.Response{}, err
	}
	answer := l.w.Scan(b)
	if answer == nil {
		return scan.Response{Service: q.Service}, nil
	}
	r, err := scan.ParseResponse(answer)
	if err != nil {
		return scan.Response{}, fmt.Errorf("answer % X to % X: %w", answer, b, err)
	}
	return r, nil
}

// readCodes asks for the confirmed or the pending codes.
func (l *Local) readCodes(pending bool) ([]scan.DTC, error) {
	q := scan.Request{Service: scan.ConfirmedCodes}
	if pending {
		q.Service = scan.PendingCodes
	}
	r, err := l.ask(q)
	return r.Codes, err
}

func (l *Local) tellCodes(j *job, codes []scan.DTC, of string) {
	if len(codes) == 0 {
		l.line("none")
		j.see(Percept{Sense: Scan, Key: "code", Of: of, Word: "none"})
	}
	for _, c := range codes {
		name, _ := c.Name()
		l.line("%s  %s", c, name)
		j.see(Percept{Sense: Scan, Key: "code", Of: of, Word: c.String()})
	}
}

// doFreeze shows the data that were stored with the first code.
func (l *Local) doFreeze(j *job) error {
	if err := l.scanReady(j); err != nil {
		return err
	}
	l.page(j, "freeze frame")
	r, err := l.ask(scan.Request{Service: scan.FreezeData, IDs: []byte{scan.PIDFreezeCode}})
	if err != nil {
		return err
	}
	if len(r.Items) == 0 || scan.DTCOf(r.Items[0].Data[0], r.Items[0].Data[1]) == 0 {
		l.line("none")
		j.see(Percept{Sense: Scan, Key: "freeze", Of: "frame 0", Word: "none"})
		return nil
	}
	var ids []byte
	for _, base := range []byte{0x00, 0x20, 0x40} {
		r, err := l.ask(scan.Request{Service: scan.FreezeData, IDs: []byte{base}})
		if err != nil {
			return err
		}
		for _, item := range r.Items {
			ids = append(ids, scan.Supported(base, [4]byte(item.Data))...)
		}
	}
	return l.tellItems(j, "freeze", scan.FreezeData, ids, 3)
}

// tellItems asks for parameters, so many at a time, and shows what comes.
func (l *Local) tellItems(j *job, kind string, service scan.Service, ids []byte, most int) error {
	ids = slices.DeleteFunc(ids, func(id byte) bool { return id%0x20 == 0 }) // bit maps
	for group := range slices.Chunk(ids, most) {
		r, err := l.ask(scan.Request{Service: service, IDs: group})
		if err != nil {
			return err
		}
		for _, item := range r.Items {
			readings, err := item.Readings()
			if err != nil {
				return err
			}
			for _, reading := range readings {
				l.tellReading(j, kind, reading)
			}
		}
	}
	return nil
}

// doData shows live parameters. An empty list asks for all that the car answers.
func (l *Local) doData(j *job) error {
	if err := l.scanReady(j); err != nil {
		return err
	}
	pids := l.w.PIDs()
	list := make([]string, 0, len(pids))
	for _, p := range pids {
		list = append(list, hexPID(p))
	}
	want := make([]string, 0, len(j.a.List))
	for _, id := range j.a.List {
		id = strings.ToUpper(id)
		if !slices.Contains(list, id) {
			return j.no("this car does not answer for %q; it answers for: %s", id, strings.Join(list, ", "))
		}
		want = append(want, id)
	}
	if len(want) == 0 {
		want = list
	}
	l.page(j, "live data")
	l.s.scan.data = want
	return l.readData(j, want)
}

func hexPID(pid byte) string { return fmt.Sprintf("%02X", pid) }

func (l *Local) readData(j *job, list []string) error {
	l.s.scan.lines = []string{"live data"}
	var ids []byte
	for _, pid := range l.w.PIDs() {
		if slices.Contains(list, hexPID(pid)) {
			ids = append(ids, pid)
		}
	}
	return l.tellItems(j, "pid", scan.LiveData, ids, 6)
}

// tellReading shows one decoded value and makes a percept of it: key "pid.0C" or "freeze.0C", of the value's name.
func (l *Local) tellReading(j *job, kind string, r scan.Reading) {
	p := Percept{Sense: Scan, Key: kind + "." + hexPID(r.PID), Of: r.Name, Unit: r.Unit}
	switch {
	case r.NotUsed:
		p.Word = "not used"
	case r.Text != "":
		p.Word, p.Unit = r.Text, ""
	default:
		p.Value = tidy(r.Value, r.Resolution)
	}
	l.line("%s  %s", r.Name, display(p))
	j.see(p)
}

// tidy shows a decoded value with the decimals that its resolution is worth.
func tidy(v, resolution float64) float64 {
	switch {
	case resolution >= 0.5:
		return round(v, 1)
	case resolution >= 0.05:
		return round(v, 10)
	case resolution >= 0.005:
		return round(v, 100)
	}
	return round(v, 1000)
}

// doActuator runs an output: on for some seconds, off for some seconds, over and over until switched off. The controller refuses it
// unless its own conditions are met, and says so.
func (l *Local) doActuator(j *job) error {
	switch j.a.Mode {
	case "pump", "solenoid", "both", "off":
	default:
		return j.no("which output? pump, solenoid, both, or off")
	}
	if err := l.scanReady(j); err != nil {
		return err
	}
	if j.a.Mode == "off" && l.s.scan.actuator == "" {
		return j.no("no actuator test is on")
	}
	if l.s.noticed.engine == engineRunning && j.a.Mode != "off" {
		return j.no("the controller runs an actuator test only with the engine off")
	}
	l.page(j, "actuator test")
	accepted, err := l.control(j.a.Mode)
	if err != nil {
		return err
	}
	l.s.scan.actuator = ""
	if !accepted {
		l.line("conditions not correct")
		j.see(Percept{Sense: Scan, Key: "actuator", Of: j.a.Mode, Word: "conditions not correct"})
		return nil
	}
	if j.a.Mode != "off" {
		l.s.scan.actuator = j.a.Mode
	}
	l.line("%s: accepted", j.a.Mode)
	j.see(Percept{Sense: Scan, Key: "actuator", Of: j.a.Mode, Word: "accepted"})
	l.step(j, 20) // long enough to hear a pump come up
	if j.a.Mode == "off" {
		return nil
	}
	l.readAll(j)
	answer := l.w.Scan(scan.RoutineRequest{Do: scan.RoutineResults, ID: routineOf(j.a.Mode)}.Bytes())
	if answer == nil {
		return nil
	}
	if r, _, err := scan.ParseRoutineReply(answer); err != nil {
		return err
	} else if r.Shut {
		l.line("output shut down: over-current")
		j.see(Percept{Sense: Scan, Key: "actuator", Of: "output", Word: "over-current"})
	}
	return nil
}

func routineOf(mode string) uint16 {
	return map[string]uint16{"pump": scan.RoutinePump, "solenoid": scan.RoutineSolenoid, "both": scan.RoutineBoth}[mode]
}

// control starts an output test, or stops the one that is on; a test that has run out meanwhile is as good as stopped.
func (l *Local) control(mode string) (accepted bool, err error) {
	q := scan.RoutineRequest{Do: scan.StartRoutine}
	if mode == "off" {
		q.Do, mode = scan.StopRoutine, l.s.scan.actuator
	}
	q.ID = routineOf(mode)
	answer := l.w.Scan(q.Bytes())
	if answer == nil {
		return false, nil
	}
	_, refused, err := scan.ParseRoutineReply(answer)
	return refused == scan.NotRefused || refused == scan.WrongSequence, err
}

func (l *Local) doErase(j *job) error {
	if err := l.scanReady(j); err != nil {
		return err
	}
	if l.s.noticed.engine == engineRunning {
		return j.no("the controller erases codes only with the engine off")
	}
	l.page(j, "erase codes")
	l.spend(j, l.tar.Seconds.Erase)
	r, err := l.ask(scan.Request{Service: scan.ClearCodes})
	if err != nil {
		return err
	}
	if r.Refused != scan.NotRefused {
		l.line("conditions not correct")
		j.see(Percept{Sense: Scan, Key: "erase", Of: "codes", Word: "conditions not correct"})
		return nil
	}
	l.line("done")
	j.see(Percept{Sense: Scan, Key: "erase", Of: "codes", Word: "done"})
	return nil
}

// doReadiness says which monitors have run since codes were erased.
func (l *Local) doReadiness(j *job) error {
	if err := l.scanReady(j); err != nil {
		return err
	}
	l.page(j, "readiness")
	return l.tellReadiness(j)
}

// toldMonitors are the monitors that a technician asks for, the one of this trade first.
var toldMonitors = []struct {
	monitor scan.Monitor
	of      string
}{{scan.SecondaryAir, "secondary air"}, {scan.Catalyst, "catalyst"}, {scan.OxygenSensor, "oxygen sensor"}, {scan.OxygenHeater, "oxygen sensor heater"}}

func (l *Local) tellReadiness(j *job) error {
	r, err := l.ask(scan.Request{Service: scan.LiveData, IDs: []byte{scan.PIDReadiness}})
	if err != nil || len(r.Items) == 0 {
		return err
	}
	status := scan.ParseReadiness([4]byte(r.Items[0].Data))
	for _, m := range toldMonitors {
		if !status.Supported.Has(m.monitor) {
			continue
		}
		word := "complete"
		if status.Incomplete.Has(m.monitor) {
			word = "not complete"
		}
		l.line("%s  %s", m.monitor, word)
		j.see(Percept{Sense: Scan, Key: "monitor", Of: m.of, Word: word})
	}
	return nil
}

// doResults shows what the on-board monitor of the secondary air measured last, with its limits.
func (l *Local) doResults(j *job) error {
	if err := l.scanReady(j); err != nil {
		return err
	}
	l.page(j, "monitor results")
	var results []scan.Result
	for _, mid := range []byte{scan.MIDSecondaryAir1, scan.MIDSecondaryAir2} {
		r, err := l.ask(scan.Request{Service: scan.MonitorResults, IDs: []byte{mid}})
		if err != nil {
			return err
		}
		results = append(results, r.Results...)
	}
	if len(results) == 0 {
		l.line("none")
		j.see(Percept{Sense: Scan, Key: "result", Of: "secondary air", Word: "none"})
	}
	for _, t := range results {
		m, err := t.Measured()
		if err != nil {
			return err
		}
		name, ok := scan.TestName(t.MID, t.TID)
		if !ok {
			name = "test " + hexPID(t.TID)
		}
		if t.MID == scan.MIDSecondaryAir2 {
			name += ", bank 2"
		}
		p := Percept{Sense: Scan, Key: "result", Of: name, Word: "fail"}
		switch {
		case t.Value == 0 && t.Min == 0 && t.Max == 0:
			p.Word = "not run"
		case m.Pass:
			p.Word = "pass"
		}
		j.see(p)
		if p.Word == "not run" {
			l.line("%s  not run", name)
			continue
		}
		v := Percept{Sense: Scan, Key: "result." + hexPID(t.TID), Of: name, Value: tidy(m.Value, 0.05), Unit: m.Unit}
		l.line("%s  %s, limits %g to %g: %s", name, display(v), tidy(m.Min, 0.05), tidy(m.Max, 0.05), p.Word)
		j.see(v)
	}
	return nil
}
