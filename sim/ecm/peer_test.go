package ecm

import (
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"coldbay/sim/scan"

	"github.com/stretchr/testify/require"
)

// The bytes held against an independent program: tshark knows CAN, ISO 15765-2, OBD-II and UDS. The conversation of a scan tool with the controller
// is written as a candump log; what tshark makes of it is kept in testdata/scan, with the commands in README.md there, and made anew where tshark is
// installed.
var recordPeer = flag.Bool("record-peer", false, "write the conversation and what tshark makes of it into testdata/scan")

var peerDir = filepath.Join("..", "..", "testdata", "scan")

// talk is a conversation being written down.
type talk struct {
	r   *rig
	log strings.Builder
	us  int
}

func (k *talk) frame(id uint32, f [8]byte) {
	fmt.Fprintf(&k.log, "(%d.%06d) can0 %03X#%X\n", k.us/1000000, k.us%1000000, id, f[:])
	k.us += 1000
}

// say sends a request and takes down the answer with the frames that a tool and a controller exchange for it.
func (k *talk) say(request ...byte) {
	frames, err := scan.Frames(request)
	require.NoError(k.r.t, err)
	k.frame(scan.FunctionalID, frames[0])
	defer func() { k.us += 50000 }()
	answer := Answer(&k.r.p, &k.r.s, request)
	if answer == nil {
		return
	}
	frames, err = scan.Frames(answer)
	require.NoError(k.r.t, err)
	for i, f := range frames {
		k.frame(scan.AnswerID, f)
		if i == 0 && len(frames) > 1 {
			k.frame(scan.PhysicalID, scan.FlowControl)
		}
	}
}

// conversation has every service, with the engine off, with the air on, and in closed loop with trims away from zero.
func conversation(t testing.TB) string {
	r := newRig(t)
	r.p.Active.OnS = 0
	r.cycles("FF")
	k := &talk{r: r}
	all := append([]byte{0x00, 0x20, 0x40, scan.PIDReadiness, scan.PIDWarmUps, scan.PIDMonitorCycle}, PIDs(&r.p, 1)...)
	live := func() {
		for _, pid := range all {
			k.say(0x01, pid)
		}
	}
	r.in.IntakeK, r.in.MapPa, r.in.Throttle, r.in.Load, r.in.SupplyV = 279.4, 47300, 0.1333, 0.4117, 13.457
	r.share, r.stay = 0.93, 0.05
	r.start()
	r.in.Rpm = 1187.3
	r.run(22)
	live()
	k.say(0x01, 0x05, 0x0C, 0x12)
	k.say(0x04) // refused: the engine runs
	r.in.Rpm = 911.6
	r.run(80)
	live()
	r.stop()
	r.in.Key, r.in.SupplyV = true, 12.45
	r.run(1)
	live()
	for _, q := range [][]byte{{0x03}, {0x07}, {0x0A}, {0x02, 0x00, 0}, {0x02, 0x02, 0}, {0x02, 0x05, 0, 0x0C, 0}, {0x06, 0x00}, {0x06, 0x60}, {0x06, 0x71}, {0x09, 0x00},
		{0x09, 0x02}, {0x09, 0x04}, {0x09, 0x08}, {0x09, 0x0A}, {0x01, 0x0D}} {
		k.say(q...)
	}
	start := scan.RoutineRequest{Do: scan.StartRoutine, ID: scan.RoutineBoth}.Bytes()
	k.say(start...)
	r.run(1)
	k.say(0x01, 0x12)
	k.say(scan.RoutineRequest{Do: scan.RoutineResults, ID: scan.RoutineBoth}.Bytes()...)
	k.say(scan.RoutineRequest{Do: scan.StopRoutine, ID: scan.RoutineBoth}.Bytes()...)
	k.say(scan.RoutineRequest{Do: scan.StopRoutine, ID: scan.RoutineBoth}.Bytes()...) // refused: it does not run
	k.say(0x04)
	k.say(0x03)
	return k.log.String()
}

// peerFields are the columns asked of tshark in the two readings of the log, as OBD-II and as UDS; liveFields are those of a parameter.
var (
	liveFields = []struct {
		pid   byte
		field string
		part  int // which of the parameter's values
	}{
		{0x03, "fuel_system1_status", 0}, {0x04, "engine_load", 0}, {0x05, "engine_coolant_temp", 0}, {0x06, "short_term_fuel_bank1", 0},
		{0x07, "long_term_fuel_bank1", 0}, {0x0B, "intake_manifold_absolute_pressure", 0}, {0x0C, "engine_rpm", 0}, {0x0F, "intake_air_temp", 0},
		{0x10, "maf_air_flow_rate", 0}, {0x11, "throttle_position", 0}, {0x12, "secondary_air_status", 0}, {0x1F, "engine_uptime", 0},
		{0x30, "warm_ups", 0}, {0x33, "absolute_barometric_pressure", 0}, {0x34, "oxygen_sensor_fuel_air_ratio", 0}, {0x34, "oxygen_sensor_current", 1},
		{0x3C, "catalyst_temp_11", 0}, {0x42, "control_module_voltage", 0}, {0x44, "fuel_air_commanded_equiv_ratio", 0},
	}
	obdFields = []string{"frame.number", "can.id", "obd-ii.mode", "obd-ii.mode01_pid", "obd-ii.mode01_supported_pid", "obd-ii.mode09_pid", "obd-ii.mode09_supported_pid"}
	udsFields = []string{"frame.number", "can.id", "uds.sid", "uds.reply", "uds.err.sid", "uds.err.code", "uds.rc.type", "uds.rc.identifier", "uds.rc.info"}
)

func obdColumns() []string {
	out := append([]string(nil), obdFields...)
	for _, f := range liveFields {
		out = append(out, "obd-ii.mode01_"+f.field)
	}
	return out
}

func tshark(t *testing.T, log, above string, columns []string) string {
	t.Helper()
	args := []string{"-r", log, "-d", "can.subdissector,iso15765", "-d", "iso15765.subdissector," + above, "-Y", above, "-T", "fields", "-E", "header=y", "-E", "occurrence=a"}
	for _, c := range columns {
		args = append(args, "-e", c)
	}
	out, err := exec.Command("tshark", args...).Output()
	require.NoError(t, err)
	return string(out)
}

type row map[string]string

// table reads what tshark printed.
func table(t *testing.T, text string) []row {
	t.Helper()
	var out []row
	lines := strings.Split(strings.TrimRight(text, "\n"), "\n")
	head := strings.Split(lines[0], "\t")
	for _, line := range lines[1:] {
		r := row{}
		for i, cell := range strings.Split(line, "\t") {
			r[head[i]] = cell
		}
		out = append(out, r)
	}
	return out
}

func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	if n, ok := strings.CutPrefix(r[column], "0x"); ok {
		v, err := strconv.ParseUint(n, 16, 32)
		require.NoError(t, err, column)
		return float64(v)
	}
	v, err := strconv.ParseFloat(r[column], 64)
	require.NoError(t, err, column)
	return v
}

func TestPeerAgrees(t *testing.T) {
	logFile := filepath.Join(peerDir, "conversation.log")
	text := conversation(t)
	if *recordPeer {
		require.NoError(t, os.WriteFile(logFile, []byte(text), 0o644))
	}
	kept, err := os.ReadFile(logFile)
	require.NoError(t, err)
	require.Equal(t, string(kept), text, "the controller no longer answers as it did when the conversation was kept")

	answers := heard(t, text)
	check := func(obd, uds string) {
		values := checkOBD(t, table(t, obd), answers)
		require.Greater(t, values, 3*len(liveFields)-1, "each parameter at three moments")
		checkUDS(t, table(t, uds))
	}
	if _, err := exec.LookPath("tshark"); err != nil {
		t.Log("tshark is not installed: only what it said before is compared")
	} else {
		obd, uds := tshark(t, logFile, "obd-ii", obdColumns()), tshark(t, logFile, "uds", udsFields)
		if *recordPeer {
			require.NoError(t, os.WriteFile(filepath.Join(peerDir, "obd.tsv"), []byte(obd), 0o644))
			require.NoError(t, os.WriteFile(filepath.Join(peerDir, "uds.tsv"), []byte(uds), 0o644))
		}
		check(obd, uds)
	}
	keptText := func(name string) string {
		b, err := os.ReadFile(filepath.Join(peerDir, name))
		require.NoError(t, err)
		return string(b)
	}
	check(keptText("obd.tsv"), keptText("uds.tsv"))
}

// heard puts the controller's answers together by the number of their last frame, as our own codec does.
func heard(t *testing.T, log string) map[int]scan.Response {
	t.Helper()
	out := map[int]scan.Response{}
	var open [][8]byte
	left := 0
	for i, line := range strings.Split(strings.TrimSpace(log), "\n") {
		at := strings.Index(line, "7E8#")
		if at < 0 {
			continue
		}
		var f [8]byte
		_, err := fmt.Sscanf(line[at+4:], "%16x", (*hexBytes)(&f))
		require.NoError(t, err)
		switch f[0] >> 4 {
		case 0:
			open, left = nil, 1
		case 1:
			n := int(f[0]&15)<<8 | int(f[1])
			open, left = nil, 1+(n-6+6)/7
		}
		open = append(open, f)
		if left--; left > 0 {
			continue
		}
		message, err := scan.Join(open)
		require.NoError(t, err)
		if message[0] == byte(scan.Routine)+0x40 || message[0] == 0x7F && message[1] == byte(scan.Routine) {
			continue
		}
		r, err := scan.ParseResponse(message)
		require.NoError(t, err, "% X", message)
		out[i+1] = r
	}
	return out
}

// hexBytes reads eight bytes of hexadecimal digits.
type hexBytes [8]byte

// Scan implements fmt.Scanner.
func (h *hexBytes) Scan(state fmt.ScanState, _ rune) error {
	digits, err := state.Token(true, nil)
	if err != nil {
		return err
	}
	for i := range h {
		v, err := strconv.ParseUint(string(digits[2*i:2*i+2]), 16, 8)
		if err != nil {
			return err
		}
		h[i] = byte(v)
	}
	return nil
}

// checkOBD compares every value that tshark decoded with our own; it gives their number.
func checkOBD(t *testing.T, rows []row, answers map[int]scan.Response) (values int) {
	t.Helper()
	seen := map[scan.Service]bool{}
	for _, r := range rows {
		if r.number(t, "can.id") != float64(scan.AnswerID) || r["obd-ii.mode"] == "" {
			continue
		}
		ours, ok := answers[int(r.number(t, "frame.number"))]
		if !ok || ours.Refused != scan.NotRefused {
			continue // a routine or a refusal, which are not of this protocol
		}
		require.Equal(t, float64(ours.Service), r.number(t, "obd-ii.mode"))
		seen[ours.Service] = true
		if ours.Service != scan.LiveData || len(ours.Items) != 1 {
			continue
		}
		item := ours.Items[0]
		require.Equal(t, float64(item.ID), r.number(t, "obd-ii.mode01_pid"))
		if item.ID%0x20 == 0 {
			var ids []string
			for _, id := range scan.Supported(item.ID, [4]byte(item.Data)) {
				ids = append(ids, fmt.Sprintf("0x%02x", id))
			}
			require.Equal(t, strings.Join(ids, ","), r["obd-ii.mode01_supported_pid"])
			continue
		}
		readings, err := item.Readings()
		require.NoError(t, err)
		for _, f := range liveFields {
			if f.pid != item.ID {
				continue
			}
			theirs := r.number(t, "obd-ii.mode01_"+f.field)
			require.InDelta(t, theirs, readings[f.part].Value, 1e-6*max(1, math.Abs(theirs)), "%02X %s", f.pid, f.field)
			values++
		}
	}
	for _, s := range []scan.Service{scan.LiveData, scan.FreezeData, scan.ConfirmedCodes, scan.PendingCodes, scan.MonitorResults, scan.VehicleInfo, scan.PermanentCodes, scan.ClearCodes} {
		require.True(t, seen[s], "service %02X", byte(s))
	}
	return values
}

// checkUDS looks for the output test's routines and for the refusals.
func checkUDS(t *testing.T, rows []row) {
	t.Helper()
	var got []string
	for _, r := range rows {
		if r.number(t, "can.id") != float64(scan.AnswerID) {
			continue
		}
		switch {
		case r["uds.err.code"] != "":
			got = append(got, r["uds.err.sid"]+" refused "+r["uds.err.code"])
		case r["uds.rc.identifier"] != "":
			got = append(got, r["uds.rc.type"]+" "+r["uds.rc.identifier"]+" "+r["uds.rc.info"])
		}
	}
	require.Equal(t, []string{"0x04 refused 0x22", "0x01 0x0a03 0x01", "0x03 0x0a03 0x01", "0x02 0x0a03 0x00", "0x31 refused 0x24"}, got)
}
