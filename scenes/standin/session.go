package standin

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"coldbay/sim/bench"
)

// Session pretends to be a bench.
type Session struct {
	cat    bench.Catalogue
	view   bench.View
	ledger []bench.Finding
}

// NewSession makes a fresh one.
func NewSession(car string) (*Session, error) {
	cat, err := Catalogue(car)
	if err != nil {
		return nil, err
	}
	s := &Session{cat: cat}
	v := &s.view
	v.Key, v.Engine, v.Coolant, v.Place = "off", "off", "cold", "front"
	for _, h := range cat.Hoses {
		v.HoseEnds = append(v.HoseEnds, bench.HoseEnd{ID: h.ID + ".a", At: h.PortA}, bench.HoseEnd{ID: h.ID + ".b", At: h.PortB})
		v.Ports = append(v.Ports, bench.PortState{ID: h.PortA, Hose: h.ID + ".a"}, bench.PortState{ID: h.PortB, Hose: h.ID + ".b"})
	}
	for _, c := range cat.Connectors {
		v.Connectors = append(v.Connectors, bench.OnOff{ID: c.ID})
	}
	for _, p := range cat.Parts {
		v.Parts = append(v.Parts, bench.OnOff{ID: p.ID})
	}
	return s, nil
}

// Catalogue is car A's.
func (s *Session) Catalogue() bench.Catalogue { return s.cat }

// View is the pretended bench.
func (s *Session) View() bench.View { return s.view }

// Ledger lists what was done.
func (s *Session) Ledger() []bench.Finding { return slices.Clone(s.ledger) }

// Do pretends to do it.
func (s *Session) Do(ctx context.Context, a bench.Action) (bench.Finding, error) {
	if err := ctx.Err(); err != nil {
		return bench.Finding{}, err
	}
	f := bench.Finding{Seq: len(s.ledger) + 1, Action: a, Start: s.view.Bench, Seconds: 5}
	refuse := func(format string, x ...any) (bench.Finding, error) {
		return bench.Finding{}, &bench.Refusal{Action: a, Missing: fmt.Sprintf(format, x...)}
	}
	see := func(sense bench.Sense, key, of string, value float64, unit, word string) {
		f.Percepts = append(f.Percepts, bench.Percept{Sense: sense, Key: key, Of: of, Value: value, Unit: unit, Word: word})
	}
	v := &s.view
	switch a.Verb {
	case bench.Look:
		see(bench.Eye, "sign", a.On, 0, "", "nothing")
		v.Place = a.On
	case bench.Listen:
		see(bench.Ear, "sound", a.On, 0, "", "none")
	case bench.Feel:
		see(bench.Hand, "flow", a.On, 0, "", "none")
	case bench.Key:
		v.Key = a.Mode
	case bench.Start:
		v.Key, v.Engine, v.Rpm, v.PumpTurning = "on", "running", 1250, true
	case bench.Stop:
		v.Key, v.Engine, v.Rpm, v.PumpTurning = "off", "off", 0, false
	case bench.Watch:
		f.Seconds = a.N
	case bench.Open, bench.Close:
		set(v.Connectors, a.On, a.Verb == bench.Open)
	case bench.Remove, bench.Refit:
		set(v.Parts, a.On, a.Verb == bench.Remove)
	case bench.Pull:
		i := slices.IndexFunc(v.HoseEnds, func(e bench.HoseEnd) bool { return e.ID == a.On })
		if i < 0 || v.HoseEnds[i].At == "" {
			return refuse("That end hangs free already.")
		}
		s.port(v.HoseEnds[i].At).Hose, v.HoseEnds[i].At = "", ""
	case bench.Fit:
		i := slices.IndexFunc(v.HoseEnds, func(e bench.HoseEnd) bool { return e.ID == a.On })
		p := s.port(a.To)
		if i < 0 || p == nil || p.Hose != "" {
			return refuse("There is no free port of that name.")
		}
		p.Hose, v.HoseEnds[i].At = a.On, a.To
	case bench.MeterOn:
		v.Meter = bench.MeterView{Mode: a.Mode, Red: a.On, Black: a.To, Text: "12.64 V"}
		see(bench.Meter, a.Mode, a.On+"/"+a.To, 12.64, "V", "")
	case bench.MeterOff:
		v.Meter = bench.MeterView{}
	case bench.ClampOn:
		v.Clamp = bench.MeterView{Mode: "clamp", Red: a.On, Text: "0.0 A"}
		see(bench.Clamp, "amps", a.On, 0, "A", "")
	case bench.LampOn:
		v.Lamp21 = bench.MeterView{Mode: a.Mode, Red: a.On, Black: a.To, Text: "bright"}
		see(bench.Lamp, "glow", a.On+"/"+a.To, 0, "", "bright")
	case bench.Jump:
		j := bench.JumperView{From: a.On, To: a.To}
		fmt.Sscanf(a.Mode, "%dawg %dA", &j.AWG, &j.Fuse)
		v.Jumpers = append(v.Jumpers, j)
	case bench.Unjump:
		v.Jumpers = nil
	case bench.HandPump:
		v.HandPump = bench.HandPumpView{On: a.On, Text: "0 kPa"}
	case bench.Stroke:
		v.HandPump.Strokes += int(a.N)
		v.HandPump.KPa = min(80, 24*float64(v.HandPump.Strokes))
		v.HandPump.Text = fmt.Sprintf("%.0f kPa", v.HandPump.KPa)
		see(bench.Gauge, "vacuum", v.HandPump.On, v.HandPump.KPa, "kPa", "")
	case bench.ScanOn:
		v.Scan.Plugged = true
	case bench.Codes:
		see(bench.Scan, "code", "ecm", 0, "", "P0491")
		v.Scan.Lines = []string{"P0491"}
	case bench.Data:
		for i, p := range s.cat.PIDs {
			see(bench.Scan, "pid."+p.PID, p.Name, float64(10+i), p.Unit, "")
		}
	case bench.Strike:
		v.Struck = append(v.Struck, a.On)
		f.Seconds = 0
	case bench.Unstrike:
		v.Struck = slices.DeleteFunc(slices.Clone(v.Struck), func(x string) bool { return x == a.On })
		f.Seconds = 0
	case bench.Note:
		v.Notes = append(v.Notes, a.Text)
		f.Seconds = 0
	case bench.Repair:
		for _, u := range s.cat.Units {
			if u.ID == a.On {
				f.Cost, f.Seconds = u.Price, float64(u.Minutes*60)
			}
		}
	case bench.Extract:
		v.Extract = strings.EqualFold(a.Mode, "on")
	case bench.Helper:
		v.Helper = strings.EqualFold(a.Mode, "on")
	case bench.Finish:
		v.Closed = true
	}
	v.Bench += f.Seconds
	v.Calendar += f.Seconds
	v.Bill += f.Cost
	s.ledger = append(s.ledger, f)
	return f, nil
}

func set(list []bench.OnOff, id string, on bool) {
	for i := range list {
		if list[i].ID == id {
			list[i].On = on
		}
	}
}

func (s *Session) port(id string) *bench.PortState {
	for i := range s.view.Ports {
		if s.view.Ports[i].ID == id {
			return &s.view.Ports[i]
		}
	}
	return nil
}

// stretch makes the lists as long as a large catalogue's: at least 70 suspects and 40 units.
func (s *Session) stretch() {
	for i := 0; len(s.cat.Suspects) < 75; i++ {
		x := s.cat.Suspects[i]
		x.ID, x.Name, x.Share = fmt.Sprintf("%s_%d", x.ID, i), x.Name+" again", 1
		s.cat.Suspects = append(s.cat.Suspects, x)
	}
	for i := 0; len(s.cat.Units) < 42; i++ {
		u := s.cat.Units[i]
		u.ID = fmt.Sprintf("%s_%d", u.ID, i)
		s.cat.Units = append(s.cat.Units, u)
	}
}
