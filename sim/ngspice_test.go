package sim

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"coldbay/sim/car"

	"github.com/stretchr/testify/require"
)

// The circuit of each car with its air system running, and of the cars with a pump motor once more with a resistance in the motor's loop,
// solved by a general circuit simulator: ngspice, live where it is installed, otherwise what it answered when the netlist beside the test
// was last written. The netlist is made here from the car file and not from the program's own branches. Tolerance: 10 uV on every
// node, of which ngspice's own (reltol 1e-9) is nothing. To write all anew, with ngspice installed:
//
//	COLDBAY_NGSPICE=write go test -run Ngspice ./sim
func TestNgspiceAgrees(t *testing.T) {
	for _, id := range []string{"car_a", "car_b", "car_c", "car_d"} {
		c, prefix := carFile(t, id), id+"_"
		if id == "car_a" {
			data, err := os.ReadFile("samebits/testdata/car.yaml") // a copy of car A that stands still
			require.NoError(t, err)
			c, err = car.Parse("car.yaml", data)
			require.NoError(t, err)
			prefix = ""
		}
		cases := map[string][]FaultChoice{"running": nil}
		if c.Anatomy().Motor != "" {
			for _, f := range c.Faults {
				if !f.Fixed && f.Changes[0].Set == "j_gnd.ohm" {
					cases["ground_corroded"] = []FaultChoice{{f.ID, 1}}
				}
			}
			require.Len(t, cases, 2, id)
		}
		for name, f := range cases {
			t.Run(prefix+name, func(t *testing.T) {
				w, err := New(c, Conditions{AmbientK: 293.15, AmbientPa: 101325}, f...)
				require.NoError(t, err)
				start(t, w)
				until(w, 20)
				for motor := c.Anatomy().Motor; ; w.Step(1) { // an operating point is one of a motor that stays as fast: 2 mrad/s more in 0.1 s are 10 uV
					next := w.Clone()
					next.Step(1)
					if math.Abs(next.PumpSpeed(motor)-w.PumpSpeed(motor)) < 2e-3 {
						break
					}
					require.Less(t, w.RunS(), 40.0)
				}
				require.NoError(t, w.Err())
				net, nodes := netlist(t, w)
				file := filepath.Join("testdata", "ngspice", prefix+name)
				answers := solveBySpice(t, net, file)
				require.Len(t, answers, len(nodes))
				for _, n := range nodes {
					require.InDelta(t, answers[spiceNode(n)], volts(t, w, n, "bat_neg"), 1e-5, n)
				}
			})
		}
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
// resistance depends on the direction, a charging source that gives between nothing and its limit. Wire in ohm/m by the geometry of ASTM
// B258, 0.127 mm times 92^((36-n)/39), and 0.017241 ohm mm2/m (NBS Handbook 100); the common wire-gauge table (HyperPhysics, after
// Floyd) has the same to four digits.
func netlist(t *testing.T, w *World) (net []byte, nodes []string) {
	c := w.car
	b := &bytes.Buffer{}
	if m := c.Anatomy().Motor; m != "" {
		fmt.Fprintf(b, "* %s, engine running, air pump on; motor at %.6f rad/s, winding %.4f K, battery charge %.8f\n", c.ID, w.PumpSpeed(m), w.MotorK(m), w.el.Charge)
	} else {
		fmt.Fprintf(b, "* %s, engine running, air to the exhaust; battery charge %.8f\n", c.ID, w.el.Charge)
	}
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
	on := map[string]bool{"key": true, "run": true, "fuel": true, "pump": w.PumpCommand(), "solenoid": w.ValveCommand()}
	for _, e := range c.Electrical.Elements {
		p, q := "", ""
		if e.A != "" {
			p, q = node(e.A), node(e.B)
		}
		switch e.Kind {
		case "resistor":
			resistor(e.ID, e.A, e.B, par(e.ID, "ohm"))
		case "wire":
			perMetre := map[int]float64{10: 3.27704e-3, 12: 5.2106e-3, 18: 20.9478e-3, 20: 33.308e-3}[e.AWG]
			require.NotZero(t, perMetre, "gauge of %s", e.ID)
			resistor(e.ID, e.A, e.B, par(e.ID, "length_m")*perMetre+par(e.ID, "add_ohm"))
		case "stray": // two wires that do not touch
			require.Greater(t, par(e.ID, "ohm"), 1e9, e.ID)
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
