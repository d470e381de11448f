// Package scantool is the hand-held scan tool: codes, freeze frame, readiness, live data, actuator tests, and erasing.
package scantool

import (
	"slices"

	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
	"coldbay/scenes/ui"
	"coldbay/sim/bench"
)

// maxPIDs is how many parameters fit on the tool's screen at once.
const maxPIDs = 8

// Scene is the scan tool.
type Scene struct {
	desk *stage.Desk
	pids []string
	ask  bool // erase asked for, not yet confirmed
	page int  // of the screen
	list int  // page of the parameters
	of   int  // the desk's turn of the attempt that all this is about
}

// New makes the scan tool of a desk.
func New(desk *stage.Desk) *Scene { return &Scene{desk: desk} }

// Live moves nothing.
func (s *Scene) Live(*paint.Mesh, float64) {}

// Build shows the tool at the left and its keys at the right.
func (s *Scene) Build(b *ui.Build) {
	if s.of != s.desk.Turn {
		*s = Scene{desk: s.desk, of: s.desk.Turn}
	}
	stage.Bar(b, s.desk, stage.ScanTool)
	b.Page.Title = b.T("scan.title")
	room := stage.Below(b.W, b.H).Pad(12, 8)
	left, right := room.CutLeft(room.W*0.52, 20)
	s.tool(b, left)
	s.keys(b, right)
	b.Escape(func() { s.desk.Go(stage.Bay) })
}

func (s *Scene) tool(b *ui.Build, r paint.Rect) {
	l := b.Front
	l.Box(r, 30, paint.Black)
	l.BoxGrad(r.Inset(3), 28, paint.RGB(0x3c5a52), paint.RGB(0x22362f))
	l.Box(paint.Rect{X: r.X + 3, Y: r.Y + 90, W: 10, H: r.H - 180}, 4, paint.Orange)
	l.Box(paint.Rect{X: r.Right() - 13, Y: r.Y + 90, W: 10, H: r.H - 180}, 4, paint.Orange)
	screen := r.Pad(34, 34)
	l.Box(screen.Inset(-4), 8, paint.Black)
	l.BoxGrad(screen, 4, paint.RGB(0x0f2320), paint.RGB(0x0a1917))
	in := screen.Pad(16, 12)
	ink := paint.RGB(0xbfe8cf)
	head, body := in.CutTop(24, 8)
	sc := &s.desk.View.Scan
	state := b.T("scan.unplugged")
	if sc.Plugged {
		state = b.T("scan.plugged")
	}
	l.TextIn(state, paint.SmallB, paint.Rect{X: head.X, Y: head.Y, W: head.W * 0.5, H: 24}, paint.Left, ink)
	b.Read(state)
	if sc.Actuator != "" && sc.Actuator != "off" {
		words := b.T("scan.actuating", "what", b.Msg.Or("mode."+sc.Actuator, "phrase.id", "id", sc.Actuator))
		l.TextIn(words, paint.SmallB, paint.Rect{X: head.X + head.W*0.5, Y: head.Y, W: head.W * 0.5, H: 24}, paint.Right, paint.Orange)
		b.Read(words)
	}
	l.Box(paint.Rect{X: in.X, Y: head.Bottom() + 2, W: in.W, H: 1.5}, 0, paint.Fade(ink, 0.5))
	if !sc.Plugged || len(sc.Lines) == 0 {
		key := "scan.empty"
		if !sc.Plugged {
			key = "scan.plugfirst"
		}
		l.Para(b.T(key), paint.Body, body, ink)
		b.Read(b.T(key))
		return
	}
	st := paint.Style{Face: paint.Mono, Size: 14}
	var lines []row
	for _, line := range sc.Lines {
		line = s.desk.Phrase.Screen(line)
		lines = append(lines, rows(l.Fonts, line, st, body.W)...)
		b.Read(line)
	}
	var chart paint.Rect
	if len(s.traces()) > 0 {
		chart, body = body.CutBottom(body.H*0.45, 8)
	}
	per := max(1, int((body.H-34)/st.LineHeight()))
	pages := (len(lines) + per - 1) / per
	s.page = min(s.page, pages-1)
	for i := range per {
		if n := s.page*per + i; n < len(lines) {
			y := body.Y + float64(i)*st.LineHeight()
			l.Text(lines[n].name, st, body.X, y, ink)
			if v := lines[n].value; v != "" {
				l.Text(v, st, body.Right()-l.Fonts.Width(v, st), y, ink)
			}
		}
	}
	if chart.H > 0 {
		s.chart(b, chart)
	}
	b.Group("screen")
	b.Pager("scan.page", paint.Pt{X: body.Right() - 150, Y: body.Bottom() - 28}, s.page, pages, false, screen, func(d int) { s.page += d; s.desk.Touch() })
}

func (s *Scene) keys(b *ui.Build, r paint.Rect) {
	b.Group("keys")
	l := b.Front
	off := !s.desk.View.Scan.Plugged
	y := r.Y
	line := func(n int, h float64) []paint.Rect {
		row := paint.Rect{X: r.X, Y: y, W: r.W, H: h}.Columns(n, 8)
		y += h + 8
		return row
	}
	act := func(id string, box paint.Rect, a bench.Action, disabled bool) {
		b.Control(ui.Control{ID: "scan." + id, Name: b.T("scan.key." + id), Role: ui.Push, Rect: box, Off: disabled,
			Do: func() { s.page, s.ask = 0, false; s.desk.Act(a) }}, b.T("scan.key."+id), ui.Look{Align: paint.Centre})
	}
	head := func(key string) {
		l.Text(b.T(key), paint.SmallB, r.X, y+2, paint.Mist)
		y += 22
	}
	plug := line(2, 34)
	act("plug", plug[0], bench.Action{Verb: bench.ScanOn}, !off)
	act("unplug", plug[1], bench.Action{Verb: bench.ScanOff}, off)
	k := line(2, 34)
	key := s.desk.View.Key
	for i, mode := range []string{"off", "on"} {
		b.Control(ui.Control{ID: "scan.ignition." + mode, Name: b.T("side.key." + mode), Role: ui.Toggle, Rect: k[i], On: key == mode,
			Do: func() { s.desk.Act(bench.Action{Verb: bench.Key, Mode: mode}) }}, b.T("side.key."+mode), ui.Look{Align: paint.Centre})
	}
	head("scan.codes")
	row := line(4, 34)
	act("stored", row[0], bench.Action{Verb: bench.Codes, Mode: "stored"}, off)
	act("pending", row[1], bench.Action{Verb: bench.Codes, Mode: "pending"}, off)
	act("freeze", row[2], bench.Action{Verb: bench.Freeze}, off)
	act("ready", row[3], bench.Action{Verb: bench.Readiness}, off)
	head("scan.actuators")
	row = line(4, 34)
	for i, m := range []string{"pump", "solenoid", "both", "off"} {
		act("act."+m, row[i], bench.Action{Verb: bench.Actuator, Mode: m}, off || m != "off" && !slices.Contains(s.desk.Cat.Outputs, m))
	}
	head("scan.data")
	const pidH, gap = 23.0, 3.0
	pids := s.desk.Cat.PIDs
	room := r.Bottom() - 46 - y
	per := max(2, 2*int(room/(pidH+gap)))
	pages := (len(pids) + per - 1) / per
	if pages > 1 {
		per = max(2, 2*int((room-32)/(pidH+gap)))
		pages = (len(pids) + per - 1) / per
	}
	s.list = min(s.list, max(pages-1, 0))
	cols := paint.Rect{X: r.X, Y: y, W: r.W, H: pidH}.Columns(2, 8)
	for i := 0; i < per && s.list*per+i < len(pids); i++ {
		p := pids[s.list*per+i]
		box := cols[i%2]
		box.Y += float64(i/2) * (pidH + gap)
		b.Control(ui.Control{ID: "scan.pid." + p.PID, Name: b.T("scan.pid", "pid", p.PID, "name", p.Name), Role: ui.Toggle, Rect: box, On: slices.Contains(s.pids, p.PID),
			Do: func() { s.choose(p.PID) }}, p.Name, ui.Look{Style: paint.Label, Align: paint.Centre})
	}
	y += float64((min(per, len(pids))+1)/2)*(pidH+gap) + 4
	if pages > 1 {
		b.Pager("scan.list", paint.Pt{X: r.Right() - 150, Y: y}, s.list, pages, false, r, func(d int) { s.list += d; s.desk.Touch() })
		y += 32
	}
	row = line(3, 34)
	act("data", row[0], bench.Action{Verb: bench.Data, List: slices.Clone(s.pids)}, off)
	follow := s.desk.Play && s.desk.Repeat.Verb == bench.Data
	b.Control(ui.Control{ID: "scan.follow", Name: b.T("scan.key.follow.name"), Role: ui.Toggle, Rect: row[1], On: follow, Off: off || len(s.pids) == 0, Do: s.follow},
		b.T("scan.key.follow"), ui.Look{Align: paint.Centre})
	if s.ask {
		b.Control(ui.Control{ID: "scan.erase.yes", Name: b.T("scan.key.erase.sure"), Role: ui.Push, Rect: row[2], Off: off,
			Do: func() { s.ask = false; s.desk.Act(bench.Action{Verb: bench.Erase}) }}, b.T("scan.key.erase.sure"), ui.Look{Primary: true, Align: paint.Centre})
	} else {
		b.Control(ui.Control{ID: "scan.erase", Name: b.T("scan.key.erase"), Role: ui.Push, Rect: row[2], Off: off,
			Do: func() { s.ask = true; s.desk.Touch() }}, b.T("scan.key.erase"), ui.Look{Align: paint.Centre})
	}
}

// follow reads the chosen parameters once a second, or stops doing so.
func (s *Scene) follow() {
	s.desk.Play = !s.desk.Play
	s.desk.Repeat = bench.Action{}
	if s.desk.Play {
		s.desk.Repeat = bench.Action{Verb: bench.Data, List: slices.Clone(s.pids)}
	}
	s.desk.Touch()
}

// choose takes a parameter onto the screen or off it.
func (s *Scene) choose(pid string) {
	if s.desk.Repeat.Verb != "" {
		s.desk.Play, s.desk.Repeat = false, bench.Action{}
	}
	if i := slices.Index(s.pids, pid); i >= 0 {
		s.pids = slices.Delete(s.pids, i, i+1)
	} else if len(s.pids) < maxPIDs {
		s.pids = append(s.pids, pid)
	} else {
		s.desk.Say(s.desk.Msg.T("scan.full", "n", stage.Num(maxPIDs)), true)
	}
	s.desk.Touch()
}
