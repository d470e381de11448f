package bay

import (
	"math"

	"coldbay/scenes/paint"
)

// art paints one thing into its box, in the units of the view.
type art func(l *paint.List, r paint.Rect)

// arts are the things that a drawing's props may name.
func arts() map[string]art {
	return map[string]art{
		"body": artBody, "engine": artEngine, "tray": artTray, "floor": artFloor, "head": artHead, "plenum": artPlenum,
		"cabin": artCabin, "tail": artTail, "inset_dash": artInsetDash, "inset_tail": artInsetTail,
		"battery": artBattery, "ground_stud": artStud, "fusebox": artFuseBox, "fusebox_lid": artFuseLid,
		"relay": artRelay, "main_relay": artRelay, "relay_socket": artRelaySocket, "fuse_socket": artFuseSocket,
		"fuse_orange": artFuseOrange, "fuse_blue": artFuseBlue, "ecm_plug": artEcmPlug, "plug_level": artPlug,
		"airbox": artAirbox, "pump": artPump, "airvalve": artValve, "reservoir": artReservoir, "solenoid": artSolenoid,
		"checkvalve": artCheck, "plate": artPlate, "post": artPost, "cable": artCable, "panel": artPanel, "crate": artCrate, "gap": artGap,
	}
}

// Materials.
var (
	sheet    = paint.RGB(0x35545f) // painted sheet metal
	sheetHi  = paint.RGB(0x4a6d79)
	sheetLo  = paint.RGB(0x213841)
	alloy    = paint.RGB(0x93a2a4)
	alloyHi  = paint.RGB(0xbcc8c8)
	alloyLo  = paint.RGB(0x5d6c70)
	plastic  = paint.RGB(0x2a3236)
	plasHi   = paint.RGB(0x424d52)
	plasLo   = paint.RGB(0x181d20)
	rubber   = paint.RGB(0x14181a)
	rust     = paint.RGB(0x8a5a3c)
	rustLo   = paint.RGB(0x5c3b29)
	brass    = paint.RGB(0xc9a24e)
	vacuum   = paint.RGB(0x5f93b0)
	ridge    = paint.RGB(0x333c40)
	labelled = paint.RGB(0xd9d2bd)
)

// inks are the colours that a drawing's wires and hoses may name.
func inks(name string) paint.Ink {
	switch name {
	case "red":
		return paint.RGB(0xa63a2a)
	case "black":
		return rubber
	case "brown":
		return paint.RGB(0x6d4a33)
	case "grey":
		return paint.RGB(0x75848a)
	case "loom":
		return paint.RGB(0x1b2124)
	case "vacuum":
		return vacuum
	case "air":
		return paint.RGB(0x20272b)
	}
	return paint.Mist
}

func bolt(l *paint.List, x, y, r float64) {
	l.Disc(paint.Pt{X: x, Y: y + r*0.15}, r, paint.Fade(paint.Black, 0.5))
	l.Disc(paint.Pt{X: x, Y: y}, r, alloyLo)
	hex := make([]paint.Pt, 6)
	for i := range hex {
		a := float64(i) * math.Pi / 3
		hex[i] = paint.Pt{X: x + r*0.7*math.Cos(a), Y: y + r*0.7*math.Sin(a)}
	}
	l.Fill(hex, alloyHi)
}

// shade darkens the ground below a thing.
func shade(l *paint.List, r paint.Rect, round float64) {
	l.Box(paint.Rect{X: r.X - r.W*0.01, Y: r.Y + r.H*0.03, W: r.W * 1.04, H: r.H * 1.03}, round, paint.Fade(paint.Black, 0.35))
}

// block is a box with a lit top edge.
func block(l *paint.List, r paint.Rect, round float64, hi, mid, lo paint.Ink) {
	l.Box(r, round, lo)
	in := paint.Rect{X: r.X + 1.5, Y: r.Y + 1.5, W: r.W - 3, H: r.H - 4}
	l.BoxGrad(in, round-1, hi, mid)
}

// part of a box by shares of its width and height.
func sub(r paint.Rect, x, y, w, h float64) paint.Rect {
	return paint.Rect{X: r.X + r.W*x, Y: r.Y + r.H*y, W: r.W * w, H: r.H * h}
}

func pt(r paint.Rect, x, y float64) paint.Pt { return paint.Pt{X: r.X + r.W*x, Y: r.Y + r.H*y} }

// tube paints a hose or cable along points: dark edge, body, a lighter line along it.
func tube(m *paint.Mesh, pts []paint.Pt, width float64, ink paint.Ink) {
	m.Rope(pts, width+3, paint.Fade(paint.Black, 0.85))
	m.Rope(pts, width, ink)
	if width >= 5 {
		hi := make([]paint.Pt, len(pts))
		for i, p := range pts {
			hi[i] = paint.Pt{X: p.X - width*0.10, Y: p.Y - width*0.20}
		}
		m.Line(hi, width*0.18, paint.Fade(paint.White, 0.28))
	}
}

// ribs paints the rings of a corrugated hose.
func ribs(m *paint.Mesh, pts []paint.Pt, width float64) {
	run := 0.0
	for i := 1; i < len(pts); i++ {
		d := pts[i].Sub(pts[i-1])
		run += d.Len()
		if run < width*0.30 {
			continue
		}
		run = 0
		n := paint.Pt{X: -d.Y, Y: d.X}.Unit().Mul(width * 0.46)
		m.Line([]paint.Pt{pts[i].Sub(n), pts[i].Add(n)}, width*0.07, ridge)
	}
}
