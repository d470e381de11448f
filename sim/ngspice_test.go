package sim

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// The circuit of car A with its pump running, and with the pump's ground corroded, solved by a general circuit simulator: ngspice,
// live where it is installed, otherwise what it answered when the netlist beside the test was last written. The netlist is made here
// from the car file and not from the program's own branches. To write both anew, with ngspice installed:
//
//	COLDBAY_NGSPICE=write go test -run Ngspice ./sim
func TestNgspiceAgrees(t *testing.T) {
	for _, c := range []struct {
		name string
		f    []FaultChoice
	}{{"running", nil}, {"ground_corroded", []FaultChoice{{"pump_ground_corroded", 1}}}} {
		t.Run(c.name, func(t *testing.T) {
			data, err := os.ReadFile("samebits/testdata/car.yaml") // a copy of car A that stands still
			require.NoError(t, err)
			model, err := car.Parse("car.yaml", data)
			require.NoError(t, err)
			w, err := New(model, Conditions{AmbientK: 293.15, AmbientPa: 101325}, c.f...)
			require.NoError(t, err)
			start(t, w)
			until(w, 20)
			require.NoError(t, w.Err())
			net, nodes := netlist(t, w)
			file := filepath.Join("testdata", "ngspice", c.name)
			answers := solveBySpice(t, net, file)
			require.Len(t, answers, len(nodes))
			for _, n := range nodes {
				require.InDelta(t, answers[spiceNode(n)], volts(t, w, n, "bat_neg"), 1e-5, n)
			}
		})
	}
}

func solveBySpice(t *testing.T, net []byte, file string) map[string]float64 {
	write := os.Getenv("COLDBAY_NGSPICE") == "write"
	if !write {
		kept, err := os.ReadFile(file + ".cir")
		require.NoError(t, err)
		require.Equal(t, string(kept), string(net), "the model has changed since ngspice was asked: write its answers anew")
	}
	spice, err := exec.LookPath("ngspice")
	if err != nil {
		out, err := os.ReadFile(file + ".txt")
		require.NoError(t, err)
		t.Log("no ngspice here: compared with its kept answers")
		return readSpice(t, out)
	}
	at := filepath.Join(t.TempDir(), "car.cir")
	require.NoError(t, os.WriteFile(at, net, 0o644))
	out, err := exec.Command(spice, "-b", at).Output()
	require.NoError(t, err, string(out))
	answers := readSpice(t, out)
	if write {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file+".cir", net, 0o644))
		b := &bytes.Buffer{}
		for _, line := range strings.Split(string(out), "\n") {
			if f := strings.Fields(line); len(f) == 3 && f[1] == "=" {
				fmt.Fprintln(b, line)
			}
		}
		require.NoError(t, os.WriteFile(file+".txt", b.Bytes(), 0o644))
	}
	return answers
}

// readSpice takes lines "v(name) = 1.0e+00".
func readSpice(t *testing.T, out []byte) map[string]float64 {
	got := map[string]float64{}
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		f := strings.Fields(lines.Text())
		if len(f) == 3 && f[1] == "=" && strings.HasPrefix(f[0], "v(") {
			v, err := strconv.ParseFloat(f[2], 64)
			require.NoError(t, err)
			got[strings.TrimSuffix(f[0][2:], ")")] = v
		}
	}
	return got
}

func spiceNode(terminal string) string {
	if terminal == "bat_neg" {
		return "0"
	}
	return strings.ToLower(terminal)
}

// netlist describes the circuit of a running engine with the air system on. Sources with a kink are behavioural: a battery whose
// resistance depends on the direction, a charging source that gives between nothing and its limit. Wire by the resistances of the
// common wire-gauge table in mohm/m (HyperPhysics, after Floyd, 12 AWG; 20 AWG by the geometry of ASTM B258).
func netlist(t *testing.T, w *World) (net []byte, nodes []string) {
	c := w.car
	b := &bytes.Buffer{}
	fmt.Fprintf(b, "* %s, engine running, air pump on; motor at %.6f rad/s, winding %.4f K, battery charge %.8f\n", c.ID, w.PumpSpeed("pump_motor"),
		w.MotorK("pump_motor"), w.el.Charge)
	par := func(e, name string) float64 {
		v, err := w.Param(e, name)
		require.NoError(t, err)
		return v
	}
	seen := map[string]bool{"bat_neg": true}
	node := func(n string) string {
		if !seen[n] {
			seen[n] = true
			nodes = append(nodes, n)
		}
		return spiceNode(n)
	}
	resistor := func(id, p, q string, ohm float64) { fmt.Fprintf(b, "r_%s %s %s %.9g\n", id, node(p), node(q), ohm) }
	coil := func(id string, ohm float64) float64 {
		i, ok := c.Circuit.Elem(id)
		require.True(t, ok)
		warm := c.Circuit.CoilOhm(&w.el, w.par.v[:], i)
		require.InEpsilon(t, ohm*(1+0.00393*(c.Circuit.CoilK(&w.el, i)-293.15)), warm, 2.5e-3)
		return warm
	}
	on := map[string]bool{"key": true, "run": true, "fuel": true, "pump": true, "solenoid": true}
	for _, e := range c.Electrical.Elements {
		p, q := "", ""
		if e.A != "" {
			p, q = node(e.A), node(e.B)
		}
		switch e.Kind {
		case "resistor":
			resistor(e.ID, e.A, e.B, par(e.ID, "ohm"))
		case "wire":
			perMetre := map[int]float64{12: 5.2106e-3, 20: 33.308e-3}[e.AWG]
			require.NotZero(t, perMetre, "gauge of %s", e.ID)
			resistor(e.ID, e.A, e.B, par(e.ID, "length_m")*perMetre+par(e.ID, "add_ohm"))
		case "switch":
			if on[e.When] {
				resistor(e.ID, e.A, e.B, par(e.ID, "ohm"))
			}
		case "fuse":
			resistor(e.ID, e.A, e.B, par(e.ID, "ohm"))
		case "coil":
			resistor(e.ID, e.A, e.B, coil(e.ID, par(e.ID, "ohm")))
		case "connector":
			for k, pin := range e.Pins {
				resistor(fmt.Sprintf("%s%d", e.ID, k), pin[0], pin[1], par(e.ID, "ohm"))
			}
		case "relay":
			resistor(e.ID+"_coil", e.A, e.B, coil(e.ID, par(e.ID, "coil_ohm")))
			resistor(e.ID+"_contact", e.C, e.D, par(e.ID, "contact_ohm"))
		case "driver":
			require.True(t, on[e.Drive])
			resistor(e.ID, e.A, e.B, par(e.ID, "on_ohm"))
		case "load":
			if on[e.When] {
				fmt.Fprintf(b, "i_%s %s %s %.9g\n", e.ID, p, q, par(e.ID, "amps"))
			}
		case "battery":
			emf := par(e.ID, "emf_v") - 0.80*(1-w.el.Charge) // the first quarter of the rest-voltage table
			cold := 1 + (298.15-293.15)/43
			charging := c.Circuit.ChargeOhm(&w.el, w.par.v[:])
			require.Greater(t, charging, par(e.ID, "charge_ohm"))
			require.Less(t, charging, 1.1*par(e.ID, "charge_ohm"), "a minute after the start it has hardly fallen off")
			fmt.Fprintf(b, "b_%s %s %s i = v(%s) > %.9g ? (v(%s)-%.9g)/%.9g : (v(%s)-%.9g)/%.9g\n", e.ID, p, q, p, emf, p, emf, charging,
				p, emf, par(e.ID, "discharge_ohm")*cold)
		case "alternator":
			fmt.Fprintf(b, "b_%s %s %s i = -min(max((%.9g-v(%s,%s))/%.9g, 0), %.9g)\n", e.ID, p, q, par(e.ID, "emf_v"), p, q, par(e.ID, "ohm"), par(e.ID, "limit_a"))
		case "motor":
			ra := w.el.ArmatureOhm(0)
			require.InEpsilon(t, par(e.ID, "ra_ohm")*(1+0.00393*(w.MotorK(e.ID)-293.15)), ra, 2.5e-3)
			fmt.Fprintf(b, "r_%s %s %s_inside %.9g\n", e.ID, p, e.ID, ra)
			fmt.Fprintf(b, "v_%s %s_inside %s %.9g\n", e.ID, e.ID, q, par(e.ID, "brush_v")+par(e.ID, "ke_v_s")*w.PumpSpeed(e.ID))
		default:
			t.Fatalf("%s is a %s", e.ID, e.Kind)
		}
	}
	fmt.Fprintf(b, ".nodeset v(bat_pos)=13.9\n.options reltol=1e-9 abstol=1e-12 vntol=1e-9 numdgt=9\n.control\nset numdgt=9\nop\n")
	for _, n := range nodes {
		fmt.Fprintf(b, "print v(%s)\n", spiceNode(n))
	}
	fmt.Fprintf(b, "quit\n.endc\n.end\n")
	return b.Bytes(), nodes
}
