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
	if err := l.tool(j, ToolScan); err != nil {
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

// doCodes reads stored or pending codes.
func (l *Local) doCodes(j *job) error {
	if j.a.Mode == "" {
		j.a.Mode = "stored"
	}
	if j.a.Mode != "stored" && j.a.Mode != "pending" {
		return j.no("stored or pending codes?")
	}
	if err := l.scanReady(j); err != nil {
		return err
	}
	l.page(j, j.a.Mode+" codes")
	codes, err := l.readCodes(j.a.Mode == "pending")
	if err != nil {
		return err
	}
	l.tellCodes(j, codes, j.a.Mode)
	return nil
}

// readCodes asks the controller and passes the answer through the message of service $03 or $07.
func (l *Local) readCodes(pending bool) ([]scan.DTC, error) {
	r := scan.Response{Service: scan.ConfirmedCodes}
	if pending {
		r.Service = scan.PendingCodes
	}
	for _, c := range l.w.Codes(pending) {
		dtc, err := scan.ParseDTC(c)
		if err != nil {
			return nil, err
		}
		r.Codes = append(r.Codes, dtc)
	}
	raw, err := r.Bytes()
	if err != nil {
		return nil, err
	}
	back, err := scan.ParseResponse(raw)
	return back.Codes, err
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
	code, pids, values := l.w.FreezeFrame()
	if code == "" {
		l.line("none")
		j.see(Percept{Sense: Scan, Key: "freeze", Of: "frame 0", Word: "none"})
		return nil
	}
	dtc, err := scan.ParseDTC(code)
	if err != nil {
		return err
	}
	frame := scan.FreezeFrame{Code: dtc}
	for i, pid := range pids {
		if err := frame.Store(pid, values[i]); err != nil {
			return err
		}
	}
	readings, err := frame.Readings()
	if err != nil {
		return err
	}
	for _, r := range readings {
		l.tellReading(j, "freeze", r)
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
	for _, pid := range l.w.PIDs() {
		if !slices.Contains(list, hexPID(pid)) {
			continue
		}
		values, ok := l.w.PID(pid)
		if !ok {
			continue
		}
		if p, known := scan.Lookup(pid); known {
			for len(values) < len(p.Fields) {
				values = append(values, 0) // a second bank or fuel system that this car does not have
			}
		}
		raw, err := scan.Encode(pid, values...)
		if err != nil {
			return err
		}
		readings, err := scan.Decode(pid, raw)
		if err != nil {
			return err
		}
		for _, r := range readings {
			l.tellReading(j, "pid", r)
		}
	}
	return nil
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
	if err := l.w.Actuate(j.a.Mode); err != nil {
		l.s.scan.actuator = ""
		l.line("conditions not correct: %v", err)
		j.see(Percept{Sense: Scan, Key: "actuator", Of: j.a.Mode, Word: "conditions not correct"})
		return nil
	}
	l.s.scan.actuator = j.a.Mode
	if j.a.Mode == "off" {
		l.s.scan.actuator = ""
	}
	l.line("%s: accepted", j.a.Mode)
	j.see(Percept{Sense: Scan, Key: "actuator", Of: j.a.Mode, Word: "accepted"})
	l.step(j, 20) // long enough to hear a pump come up
	if j.a.Mode != "off" {
		l.readAll(j)
	}
	return nil
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
	if err := l.w.EraseCodes(); err != nil {
		l.line("conditions not correct: %v", err)
		j.see(Percept{Sense: Scan, Key: "erase", Of: "codes", Word: "conditions not correct"})
		return nil
	}
	l.line("done")
	j.see(Percept{Sense: Scan, Key: "erase", Of: "codes", Word: "done"})
	return nil
}

// doReadiness says whether the monitor of the system has run since codes were erased.
func (l *Local) doReadiness(j *job) error {
	if err := l.scanReady(j); err != nil {
		return err
	}
	l.page(j, "readiness")
	return l.tellReadiness(j)
}

func (l *Local) tellReadiness(j *job) error {
	set := scan.MonitorsOf(scan.SecondaryAir)
	r := scan.Readiness{Supported: set}
	if !l.w.MonitorRan() {
		r.Incomplete = set
	}
	back := scan.ParseReadiness(r.Bytes())
	word := "complete"
	if back.Incomplete.Has(scan.SecondaryAir) {
		word = "not complete"
	}
	l.line("%s  %s", scan.SecondaryAir, word)
	j.see(Percept{Sense: Scan, Key: "monitor", Of: "secondary air", Word: word})
	return nil
}
