package main

import (
	"fmt"
	"image/color"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"coldbay/sim/trace"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// panel is one of the sheet's diagrams: channels of one unit over time.
type panel struct {
	about    string // y axis, without the unit
	channels []string
	low      float64 // 0, 0: by the data
	high     float64
}

// sheet is what is drawn of the usual channels, from the air to what it is for.
var sheet = []panel{
	{about: "air flow", channels: []string{"air_flow", "engine_air", "air_flow_2"}},
	{about: "pump current", channels: []string{"pump_current"}},
	{about: "vacuum", channels: []string{"manifold_vacuum", "chamber_vacuum", "chamber_vacuum_2"}},
	{about: "pipe pressure", channels: []string{"pipe_pressure"}},
	{about: "exhaust ratio", channels: []string{"exhaust_ratio", "exhaust_ratio_2"}, low: 0.7, high: 1.6},
	{about: "catalyst", channels: []string{"catalyst_front", "catalyst_middle", "catalyst_rear"}},
	{about: "catalyst 2", channels: []string{"catalyst_front_2", "catalyst_middle_2", "catalyst_rear_2"}},
}

// Colours that people with any colour vision tell apart, on white; the second run is drawn in the same ones, dashed.
var curveColours = []color.NRGBA{{0, 92, 158, 255}, {200, 80, 0, 255}, {0, 128, 90, 255}, {140, 60, 130, 255}, {90, 90, 90, 255}}

var (
	inkColour  = color.NRGBA{40, 40, 44, 255}
	gridColour = color.NRGBA{226, 228, 232, 255}
	markColour = color.NRGBA{170, 30, 40, 255}
)

const (
	sheetWidth  = 21 * vg.Centimeter
	panelHeight = 4.4 * vg.Centimeter
	headHeight  = 2.0 * vg.Centimeter
)

// drawTrace draws records of the same scenario on one sheet, as .svg or .png by the file's name.
func drawTrace(file, title string, labels []string, runs []*trace.Record) error {
	panels := slices.DeleteFunc(panelsFor(runs[0]), func(p panel) bool { return empty(p, runs) })
	if len(panels) == 0 {
		return fmt.Errorf("%s: none of the recorded channels can be drawn", file)
	}
	height := headHeight + vg.Length(len(panels))*panelHeight
	if strings.ToLower(filepath.Ext(file)) == ".svg" {
		canvas := vgsvg.New(sheetWidth, height)
		if err := drawSheet(draw.New(canvas), title, labels, runs, panels); err != nil {
			return err
		}
		return toFile(file, func(w io.Writer) error { _, err := canvas.WriteTo(w); return err })
	}
	canvas := vgimg.NewWith(vgimg.UseWH(sheetWidth, height), vgimg.UseDPI(110), vgimg.UseBackgroundColor(color.White))
	if err := drawSheet(draw.New(canvas), title, labels, runs, panels); err != nil {
		return err
	}
	return toFile(file, func(w io.Writer) error { _, err := vgimg.PngCanvas{Canvas: canvas}.WriteTo(w); return err })
}

// panelsFor are the sheet's panels with what was recorded of them, or one for each unit when other channels were asked for.
func panelsFor(r *trace.Record) []panel {
	usual := true
	for _, c := range r.Channels {
		usual = usual && slices.Contains(trace.Usual(), c.ID)
	}
	var out []panel
	if usual {
		for _, p := range sheet {
			p.channels = slices.DeleteFunc(slices.Clone(p.channels), func(id string) bool { return r.Find(id) < 0 })
			if len(p.channels) > 0 {
				out = append(out, p)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	for _, c := range r.Channels {
		i := slices.IndexFunc(out, func(p panel) bool { return p.about == c.Unit })
		if i < 0 {
			out = append(out, panel{about: c.Unit})
			i = len(out) - 1
		}
		out[i].channels = append(out[i].channels, c.ID)
	}
	for i := range out {
		out[i].about = ""
	}
	return out
}

func drawSheet(c draw.Canvas, title string, labels []string, runs []*trace.Record, panels []panel) error {
	c.SetColor(color.White)
	c.Fill(c.Rectangle.Path())
	// One axis of time for all: from the start of the engine where there is one.
	zero := runs[0].Started
	axis := "time since the engine started, s"
	if math.IsNaN(zero) {
		zero, axis = 0, "time, s"
	}
	grid := make([][]*plot.Plot, len(panels))
	for i, p := range panels {
		d, err := diagram(p, runs, zero, i == len(panels)-1, axis)
		if err != nil {
			return err
		}
		grid[i] = []*plot.Plot{d}
	}
	head := draw.Crop(c, 0, 0, c.Size().Y-headHeight, 0)
	heading(head, title, labels, len(runs))
	body := draw.Crop(c, 4*vg.Millimeter, -5*vg.Millimeter, 2*vg.Millimeter, -headHeight)
	tiles := draw.Tiles{Rows: len(panels), Cols: 1, PadY: 4 * vg.Millimeter}
	for i, row := range plot.Align(grid, tiles, body) {
		grid[i][0].Draw(row[0])
		marks(row[0], grid[i][0], panels[i], runs, zero)
	}
	return nil
}

// lettering is sans serif of a size in points.
func lettering(size vg.Length, colour color.Color) text.Style {
	return text.Style{Color: colour, Font: font.From(font.Font{Typeface: "Liberation", Variant: "Sans"}, size), Handler: plot.DefaultTextHandler}
}

func heading(c draw.Canvas, title string, labels []string, runs int) {
	c.FillText(lettering(13, inkColour), vg.Point{X: c.Min.X + 6*vg.Millimeter, Y: c.Max.Y - 7*vg.Millimeter}, title)
	x, y := c.Min.X+6*vg.Millimeter, c.Max.Y-13*vg.Millimeter
	for i := range runs {
		style := draw.LineStyle{Color: inkColour, Width: vg.Points(1.3), Dashes: dashes(i)}
		c.StrokeLine2(style, x, y+1.1*vg.Millimeter, x+10*vg.Millimeter, y+1.1*vg.Millimeter)
		s := lettering(10, inkColour)
		name := strings.NewReplacer("_", " ", ":", ", severity ").Replace(labels[i])
		c.FillText(s, vg.Point{X: x + 12*vg.Millimeter, Y: y}, name)
		x += 20*vg.Millimeter + s.Width(name)
	}
}

func dashes(run int) []vg.Length {
	if run == 0 {
		return nil
	}
	return []vg.Length{vg.Points(4), vg.Points(2.5)}
}

func diagram(p panel, runs []*trace.Record, zero float64, last bool, axis string) (*plot.Plot, error) {
	d := plot.New()
	d.BackgroundColor = color.White
	for _, a := range []*plot.Axis{&d.X, &d.Y} {
		a.Label.TextStyle.Font = lettering(9.5, inkColour).Font
		a.Label.TextStyle.Color = inkColour
		a.Tick.Label.Font = lettering(8.5, inkColour).Font
		a.Tick.Label.Color = inkColour
		a.LineStyle.Color, a.Tick.LineStyle.Color = inkColour, inkColour
		a.LineStyle.Width, a.Tick.LineStyle.Width = vg.Points(0.6), vg.Points(0.6)
		a.Padding = 0
		a.Tick.Length = vg.Points(3)
	}
	d.Y.Tick.Marker = evenTicks{5}
	d.X.Tick.Marker = evenTicks{9}
	lines := plotter.NewGrid()
	lines.Vertical = draw.LineStyle{Color: gridColour, Width: vg.Points(0.5)}
	lines.Horizontal = lines.Vertical
	d.Add(lines)
	unit := ""
	for k, r := range runs {
		for n, id := range p.channels {
			i := r.Find(id)
			unit = r.Channels[i].Unit
			style := draw.LineStyle{Color: curveColours[n%len(curveColours)], Width: vg.Points(1.3), Dashes: dashes(k)}
			for _, part := range pieces(r, i, zero, p) {
				line, err := plotter.NewLine(part)
				if err != nil {
					return nil, fmt.Errorf("%s: %w", id, err)
				}
				line.LineStyle = style
				d.Add(line)
			}
		}
	}
	d.Y.Label.Text = p.about
	switch {
	case unit != "" && p.about != "":
		d.Y.Label.Text += ", " + unit
	case unit != "":
		d.Y.Label.Text = unit
	}
	if p.high > p.low {
		d.Y.Min, d.Y.Max = p.low, p.high
	} else {
		roomy(&d.Y)
	}
	t := runs[0].Time
	d.X.Min, d.X.Max = t[0]-zero, t[len(t)-1]-zero
	if last {
		d.X.Label.Text = axis
	} else {
		d.X.Tick.Marker = unlabelled{evenTicks{9}}
	}
	return d, nil
}

// roomy widens an axis to a little more than the data and lets small curves start at zero.
func roomy(a *plot.Axis) {
	if math.IsInf(a.Min, 0) || math.IsInf(a.Max, 0) {
		a.Min, a.Max = 0, 1
		return
	}
	if a.Min > 0 && a.Min < 0.5*a.Max {
		a.Min = 0
	}
	span := a.Max - a.Min
	if span < 1e-9 {
		span = max(1e-3, math.Abs(a.Max)*0.1)
	}
	a.Max += 0.08 * span
	if a.Min != 0 {
		a.Min -= 0.05 * span
	}
}

// empty says that nothing of a panel can be drawn: a ratio with the engine off, say.
func empty(p panel, runs []*trace.Record) bool {
	for _, r := range runs {
		for _, id := range p.channels {
			if len(pieces(r, r.Find(id), 0, p)) > 0 {
				return false
			}
		}
	}
	return true
}

// pieces are the stretches of a curve that can be drawn: a ratio without burning is none, and nothing is drawn off the panel.
func pieces(r *trace.Record, channel int, zero float64, p panel) []plotter.XYs {
	var out []plotter.XYs
	var now plotter.XYs
	flush := func() {
		if len(now) > 1 {
			out = append(out, now)
		}
		now = nil
	}
	for i, t := range r.Time {
		v := r.Values[channel][i]
		if math.IsNaN(v) || math.IsInf(v, 0) || p.high > p.low && (v > p.high || v < p.low) {
			flush()
			continue
		}
		now = append(now, plotter.XY{X: t - zero, Y: v})
	}
	flush()
	return out
}

// marks writes the curves' names into a panel, and the light-off into that of the catalyst.
func marks(c draw.Canvas, d *plot.Plot, p panel, runs []*trace.Record, zero float64) {
	area := d.DataCanvas(c)
	if len(p.channels) > 1 || p.about == "" {
		y := area.Max.Y + 1.2*vg.Millimeter // above the curves
		x := area.Max.X
		for n := len(p.channels) - 1; n >= 0; n-- {
			i := runs[0].Find(p.channels[n])
			s := lettering(9, curveColours[n%len(curveColours)])
			name := runs[0].Channels[i].Name
			x -= s.Width(name)
			area.FillText(s, vg.Point{X: x, Y: y}, name)
			x -= 5 * vg.Millimeter
		}
	}
	x, y := d.Transforms(&area)
	if slices.Contains(p.channels, "exhaust_ratio") && d.Y.Min < 1 && d.Y.Max > 1 {
		area.StrokeLine2(draw.LineStyle{Color: inkColour, Width: vg.Points(0.6)}, area.Min.X, y(1), area.Max.X, y(1))
		s := lettering(8, inkColour)
		area.FillText(s, vg.Point{X: area.Min.X, Y: area.Max.Y + 1.2*vg.Millimeter}, "rich below the line at 1") // above the curves
	}
	for _, bank := range []struct {
		channel string
		lit     func(r *trace.Record) float64
	}{{"catalyst_front", func(r *trace.Record) float64 { return r.LightOff }}, {"catalyst_front_2", func(r *trace.Record) float64 { return r.LitSecond }}} {
		if !slices.Contains(p.channels, bank.channel) {
			continue
		}
		for k, r := range runs {
			lit := bank.lit(r)
			if !(lit > 0) || math.IsNaN(r.Started) {
				continue
			}
			at := lit + r.Started - zero
			if at < d.X.Min || at > d.X.Max {
				continue
			}
			area.StrokeLine2(draw.LineStyle{Color: markColour, Width: vg.Points(0.9), Dashes: dashes(k)}, x(at), area.Min.Y, x(at), area.Max.Y)
			// Before light-off the metal is far from its hottest: the corner above is free.
			words := fmt.Sprintf("light-off %.1f s", lit)
			left := x(at) - lettering(8.5, markColour).Width(words) - 2.4*vg.Millimeter
			label(area, vg.Point{X: max(left, area.Min.X), Y: area.Max.Y - (3.4+3.8*vg.Length(k))*vg.Millimeter}, words)
		}
	}
}

// label writes on a patch of white, since curves pass below.
func label(c draw.Canvas, at vg.Point, words string) {
	s := lettering(8.5, markColour)
	const edge = 0.7 * vg.Millimeter
	c.SetColor(color.White)
	box := vg.Rectangle{Min: vg.Point{X: at.X, Y: at.Y - edge}, Max: vg.Point{X: at.X + s.Width(words) + 2*edge, Y: at.Y + 2.4*vg.Millimeter + edge}}
	c.Fill(box.Path())
	c.FillText(s, vg.Point{X: at.X + edge, Y: at.Y}, words)
}

// evenTicks places round ticks, about so many.
type evenTicks struct{ about int }

// Ticks has labels without superfluous digits.
func (e evenTicks) Ticks(low, high float64) []plot.Tick {
	step := roundStep((high - low) / float64(e.about))
	var out []plot.Tick
	for i := math.Ceil(low/step - 1e-9); i*step <= high+1e-9*step; i++ {
		out = append(out, plot.Tick{Value: i * step, Label: fmt.Sprintf("%.4g", i*step+0)})
	}
	return out
}

// roundStep is 1, 2 or 5 times a power of ten, at least v.
func roundStep(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return 1
	}
	base := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5} {
		if m*base >= v*(1-1e-9) {
			return m * base
		}
	}
	return 10 * base
}

// unlabelled keeps the ticks of another marker and drops their labels.
type unlabelled struct{ plot.Ticker }

// Ticks are those of the other marker, without labels.
func (u unlabelled) Ticks(low, high float64) []plot.Tick {
	out := u.Ticker.Ticks(low, high)
	for i := range out {
		out[i].Label = " "
	}
	return out
}
