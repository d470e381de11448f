package bench

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
)

// Runner plays a session without a screen: it reads lines, does the actions, and prints what was perceived in sentences.
type Runner struct {
	Session Session
	Out     io.Writer
	// Echo prints each line before what it gave, for scripts.
	Echo bool
	// Strict makes a refusal end a script; otherwise it is printed and costs nothing, as at the bench.
	Strict bool

	say *Sayer
}

// maxLine bounds one line of a script, bytes.
const maxLine = 64 << 10

// Script plays every line of r. An error names the file and the line.
func (r *Runner) Script(ctx context.Context, name string, in io.Reader) error {
	sc := bufio.NewScanner(in)
	sc.Buffer(nil, maxLine)
	n := 0
	for sc.Scan() {
		n++
		if r.Echo && strings.TrimSpace(sc.Text()) != "" {
			if _, err := fmt.Fprintf(r.Out, "> %s\n", strings.TrimSpace(sc.Text())); err != nil {
				return err
			}
		}
		err := r.Line(ctx, sc.Text())
		var no *Refusal
		if errors.As(err, &no) && !r.Strict {
			err = r.printf("  can't: %s\n", no.Missing)
		}
		if err != nil {
			return fmt.Errorf("%s:%d: %w", name, n, err)
		}
	}
	if err := sc.Err(); err != nil {
		return fmt.Errorf("%s:%d: %w", name, n+1, err)
	}
	return nil
}

// Line does one line: an action, or one of the words that only ask: help, order, list, view, ledger. What can't be done comes back as
// a *Refusal, a line that can't be read as another error; after both the session goes on.
func (r *Runner) Line(ctx context.Context, line string) error {
	words := strings.Fields(line)
	if len(words) > 0 {
		if done, err := r.ask(words); done {
			return err
		}
	}
	a, err := ParseLine(line)
	if err != nil || a.Verb == "" {
		return err
	}
	f, err := r.Session.Do(ctx, a)
	if f.Seq > 0 {
		if e := r.Print(f); e != nil {
			return e
		}
	}
	return err
}

func (r *Runner) printf(format string, a ...any) error {
	_, err := fmt.Fprintf(r.Out, format, a...)
	return err
}

func (r *Runner) sayer() *Sayer {
	if r.say == nil {
		r.say = NewSayer(r.Session.Catalogue())
	}
	return r.say
}

// Print writes a finding: its line number, clock and duration, what was perceived, what went wrong, what it cost.
func (r *Runner) Print(f Finding) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%3d  %s  %s", f.Seq, Clock(f.Start), FormatLine(f.Action))
	if f.Seconds > 0 {
		fmt.Fprintf(&b, "  (%g s)", f.Seconds)
	}
	b.WriteByte('\n')
	for _, p := range f.Percepts {
		fmt.Fprintf(&b, "       %s\n", r.sayer().Percept(p))
	}
	for _, h := range f.Hazards {
		fmt.Fprintf(&b, "     ! %s\n", r.sayer().Hazard(h))
	}
	if f.Cost > 0 {
		fmt.Fprintf(&b, "       on the bill: %s\n", Money(f.Cost))
	}
	return r.printf("%s", b.String())
}

// ask answers the words that only ask; done is false when the line is something else.
func (r *Runner) ask(words []string) (done bool, err error) {
	switch words[0] {
	case "help":
		return true, r.printf("%s", LineHelp)
	case "order":
		return true, r.order()
	case "list":
		return true, r.list(words[1:])
	case "view":
		return true, r.view()
	case "ledger":
		for _, f := range r.Session.Ledger() {
			if err := r.Print(f); err != nil {
				return true, err
			}
		}
		return true, nil
	}
	return false, nil
}

func (r *Runner) order() error {
	c := r.Session.Catalogue()
	o := c.Order
	err := r.printf("%s\n%s\n%s\nComplaint: %s\nHistory: %s\nAllow about %d minutes.\n",
		o.Title, o.Customer, o.Vehicle, o.Complaint, o.History, o.Minutes)
	for _, s := range c.Cautions {
		if err == nil {
			err = r.printf("! %s\n", s)
		}
	}
	return err
}

func (r *Runner) list(words []string) error {
	c := r.Session.Catalogue()
	row := func(id, text string) error { return r.printf("  %-22s %s\n", id, text) }
	spots := func(list []Spot) error {
		for _, s := range list {
			text := s.Name + " [" + s.Place + "]"
			if s.When != "" {
				text += " " + s.When
			}
			if err := row(s.ID, text); err != nil {
				return err
			}
		}
		return nil
	}
	what := ""
	if len(words) > 0 {
		what = words[0]
	}
	switch what {
	case "places":
		for _, p := range c.Places {
			if err := row(p.ID, p.Name); err != nil {
				return err
			}
		}
		return nil
	case "terminals":
		return spots(c.Terminals)
	case "ports":
		return spots(c.Ports)
	case "connectors":
		return spots(c.Connectors)
	case "parts":
		return spots(c.Parts)
	case "clamps":
		return spots(c.Clamps)
	case "hoses":
		for _, h := range c.Hoses {
			if err := row(h.ID, fmt.Sprintf("%s; .a on %s, .b on %s", h.Name, h.PortA, h.PortB)); err != nil {
				return err
			}
		}
		return nil
	case "units":
		for _, u := range c.Units {
			if err := row(u.ID, fmt.Sprintf("%s, part %s, %d min", u.Name, Money(u.Price), u.Minutes)); err != nil {
				return err
			}
		}
		return nil
	case "suspects":
		for _, s := range c.Suspects {
			if err := row(s.ID, fmt.Sprintf("%s, about %d %%", s.Name, s.Share)); err != nil {
				return err
			}
		}
		return nil
	case "tools":
		return r.printf("  %s\n", strings.Join(c.Tools, " "))
	case "pids":
		for _, p := range c.PIDs {
			if err := row(p.PID, p.Name); err != nil {
				return err
			}
		}
		return nil
	case "spec":
		for _, s := range c.Spec {
			if err := row(s[0], s[1]); err != nil {
				return err
			}
		}
		return nil
	}
	return fmt.Errorf("list what? places, terminals, ports, hoses, connectors, parts, clamps, units, suspects, tools, pids, spec")
}

func (r *Runner) view() error {
	v := r.Session.View()
	err := r.printf("  %s at the bench, bill %s, labour %s; you stand at: %s; key %s, engine %s\n",
		Clock(v.Bench), Money(v.Bill), Money(v.Labour), r.sayer().Name(v.Place), v.Key, v.Engine)
	show := func(format string, a ...any) {
		if err == nil {
			err = r.printf(format, a...)
		}
	}
	for _, e := range v.HoseEnds {
		if e.At == "" {
			show("  %s hangs free\n", e.ID)
		}
	}
	for _, c := range v.Connectors {
		if c.On {
			show("  %s is open\n", c.ID)
		}
	}
	for _, p := range v.Parts {
		if p.On {
			show("  %s is off\n", p.ID)
		}
	}
	if v.Meter.Mode != "" {
		show("  meter %s %s %s: %s\n", v.Meter.Mode, v.Meter.Red, v.Meter.Black, v.Meter.Text)
	}
	for _, j := range v.Jumpers {
		show("  jumper %s %s %d AWG %s\n", j.From, j.To, j.AWG, j.State)
	}
	if v.HandPump.On != "" {
		show("  hand pump on %s: %s\n", v.HandPump.On, v.HandPump.Text)
	}
	return err
}
