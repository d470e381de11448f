// Compare times the cold start of car A three ways in one run: the program's own world, SUNDIALS CVODE (coldstart.c) and SciPy LSODA
// (coldstart.py). The solvers get the loosest tolerances at which their steady readings are as near to a run with tight tolerances as the
// world's are. The runs are interleaved, because other work on the machine slows them all alike; medians are told.
//
//	go run ./testdata/outside/coldstart/compare              from the top of the repository
//	go run ./testdata/outside/coldstart/compare -write       the same, into testdata/outside/coldstart/RESULT.md
package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

const folder = "testdata/outside/coldstart"

// patience is how long a solver may take for one trace: at some tolerances LSODA gets stuck where the pump coasts down.
const patience = 20 * time.Second

// way is one way to compute the cold start.
type way struct {
	name      string
	reference string // the tight run that it is held against
	tol       string
	tried     []trial
	worst     reading
	devs      map[string]float64
	seconds   []float64
	cost      string
	slow      bool // one solution at a time is enough
	trace     func(tol string) (table, error)
	run       func(tol string, n int) ([]float64, string, error)
}

// times is how many solutions are timed in one go.
func (w *way) times(n int) int {
	if w.slow {
		return 1
	}
	return n
}

type trial struct {
	tol     string
	seconds float64
	digits  float64
}

func main() {
	rounds := flag.Int("rounds", 15, "interleaved rounds")
	write := flag.Bool("write", false, "write RESULT.md")
	flag.Parse()
	text, err := compare(*rounds)
	if err == nil && *write {
		err = os.WriteFile(filepath.Join(folder, "RESULT.md"), []byte(text), 0o644)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "compare:", err)
		os.Exit(1)
	}
	fmt.Print(text)
}

func compare(rounds int) (string, error) {
	dir, err := os.MkdirTemp("", "coldstart")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	program := filepath.Join(dir, "coldstart")
	build := exec.Command("cc", "-O2", "-o", program, filepath.Join(folder, "coldstart.c"), "-lsundials_cvode", "-lsundials_nvecserial",
		"-lsundials_sunmatrixdense", "-lsundials_sunlinsoldense", "-lm")
	if out, err := build.CombinedOutput(); err != nil {
		return "", fmt.Errorf("coldstart.c: %w\n%s", err, out)
	}
	python := "python3"
	if exec.Command(python, "-c", "import scipy").Run() != nil {
		python = "/usr/bin/python3"
	}
	world, err := ownWorld()
	if err != nil {
		return "", err
	}
	c := []string{program, filepath.Join(folder, "car_a.txt")}
	py := []string{python, filepath.Join(folder, "coldstart.py"), filepath.Join(folder, "car_a.txt")}
	ways := []*way{
		world,
		outside("CVODE, controller continuous", "continuous.csv", c),
		outside("CVODE, controller sampled", "tight.csv", c, "sampled"),
		outside("LSODA, controller continuous", "continuous.csv", py),
	}
	ways[3].slow = true
	for i, w := range ways {
		limit := math.Inf(1)
		if i > 0 {
			limit = ways[0].worst.digits
		}
		if err := w.choose(limit); err != nil {
			return "", fmt.Errorf("%s: %w", w.name, err)
		}
	}
	for r := range rounds {
		for _, w := range ways {
			if w.slow && r%3 != 0 {
				continue
			}
			s, cost, err := w.run(w.tol, w.times(5))
			if err != nil {
				return "", fmt.Errorf("%s: %w", w.name, err)
			}
			w.seconds, w.cost = append(w.seconds, s...), cost
		}
	}
	return page(ways, rounds), nil
}

// choose finds the tolerance that needs the fewest evaluations of those that are as near to the tight run as limit, in digits. Evaluations do
// not depend on what else the machine does.
func (w *way) choose(limit float64) error {
	tight, err := readTable(filepath.Join(folder, w.reference))
	if err != nil {
		return err
	}
	tols := []string{"1e-2", "3e-3", "1e-3", "3e-4", "1e-4", "3e-5", "1e-5", "3e-6", "1e-6"}
	if w.tol != "" {
		tols = []string{w.tol}
	}
	best := math.Inf(1)
	for _, tol := range tols {
		got, err := w.trace(tol)
		if err != nil {
			w.tried = append(w.tried, trial{tol, math.NaN(), math.NaN()})
			continue // too loose to get through
		}
		worst, devs, err := deviations(got, tight)
		if err != nil {
			return err
		}
		s, cost, err := w.run(tol, w.times(7))
		if err != nil {
			w.tried = append(w.tried, trial{tol, math.NaN(), math.NaN()})
			continue
		}
		t := trial{tol, slices.Min(s), worst.digits}
		w.tried = append(w.tried, t)
		if n := evaluations(cost); t.digits <= limit && n < best {
			best, w.tol, w.worst, w.devs = n, tol, worst, devs
		}
	}
	if w.devs == nil {
		return fmt.Errorf("no tolerance comes within %.2f digits", limit)
	}
	return nil
}

// evaluations reads their number out of what a solution cost; the world has none.
func evaluations(cost string) float64 {
	f := strings.Fields(cost)
	for i := 1; i < len(f); i++ {
		if strings.HasPrefix(f[i], "evaluations") {
			n, err := strconv.ParseFloat(f[i-1], 64)
			if err == nil {
				return n
			}
		}
	}
	return 0
}

// outside is a program that prints a trace, or the seconds that each of n solutions took.
func outside(name, reference string, command []string, more ...string) *way {
	call := func(args ...string) ([]byte, error) {
		ctx, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		cmd := exec.CommandContext(ctx, command[0], append(append(slices.Clone(command[1:]), args...), more...)...)
		cmd.Env = append(os.Environ(), "PYTHONDONTWRITEBYTECODE=1")
		return cmd.Output()
	}
	return &way{name: name, reference: reference,
		trace: func(tol string) (table, error) {
			out, err := call("trace", tol)
			if err != nil {
				return nil, err
			}
			return parseTable(out)
		},
		run: func(tol string, n int) ([]float64, string, error) {
			out, err := call("time", tol, strconv.Itoa(n), "0")
			if err != nil {
				return nil, "", err
			}
			var all []float64
			cost := ""
			for line := range strings.Lines(string(bytes.TrimSpace(out))) {
				f := strings.Fields(line)
				s, err := strconv.ParseFloat(f[0], 64)
				if err != nil {
					return nil, "", err
				}
				all = append(all, s)
				cost = f[len(f)-2] + " evaluations"
				if len(f) == 5 {
					cost = fmt.Sprintf("%s steps, %s evaluations, %s Jacobians", f[1], f[2], f[3])
				}
			}
			return all, cost, nil
		}}
}

func timed(f func() error) (float64, error) {
	from := time.Now()
	err := f()
	return time.Since(from).Seconds(), err
}
