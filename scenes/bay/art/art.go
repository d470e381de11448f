// Package art paints the things of the bay: engine compartments, engines, pumps, valves, batteries, dashes. A thing is painted into a
// box, in the units of the view, and looks the same whichever car it is in; what differs from car to car is where things stand, which
// is the drawing's data, and the coat of paint. A new kind of thing is a method of Kit and a row of its table.
package art

import (
	"math"

	"coldbay/scenes/paint"
)

// Painter paints one thing into its box.
type Painter func(l *paint.List, r paint.Rect)

// Kit holds what one car is painted with.
type Kit struct {
	coat
	table map[string]Painter
}

// coat is a car's paint: its body's sheet metal in three lights, the compartment's wall and floor from top to bottom, and the dark
// behind everything.
type coat struct {
	sheetHi, sheet, sheetLo paint.Ink
	wall, wallLo            paint.Ink
	floor, floorLo          paint.Ink
	deep                    paint.Ink
}

// coats are the paints that a drawing may name; the first is used where it names none.
func coats(name string) coat {
	rgb := paint.RGB
	switch name {
	case "brick":
		return coat{rgb(0xa05a49), rgb(0x7d4033), rgb(0x45221c), rgb(0x4b302b), rgb(0x271917), rgb(0x2c2827), rgb(0x191616), rgb(0x140d0c)}
	case "sage":
		return coat{rgb(0x7c8b72), rgb(0x5c6a54), rgb(0x313a2d), rgb(0x3b4538), rgb(0x1f261e), rgb(0x272d26), rgb(0x171b16), rgb(0x0e120d)}
	case "sand":
		return coat{rgb(0xcbb684), rgb(0xa8925f), rgb(0x66573a), rgb(0x6a5d42), rgb(0x3a3224), rgb(0x3a352b), rgb(0x221f19), rgb(0x17140e)}
	}
	return coat{rgb(0x4a6d79), rgb(0x35545f), rgb(0x213841), rgb(0x27434d), rgb(0x14272e), rgb(0x1c3138), rgb(0x10232a), rgb(0x0a1a20)}
}

// New makes the kit of a car with a coat of paint: "", brick, sage, sand.
func New(name string) *Kit {
	k := &Kit{coat: coats(name)}
	k.table = map[string]Painter{
		"body": k.paintBody, "engine": k.paintEngine, "tray": k.paintTray, "floor": k.paintFloor, "head": k.paintHead, "plenum": k.paintPlenum,
		"cabin": k.paintCabin, "tail": k.paintTail, "inset_dash": k.paintInsetDash, "inset_tail": k.paintInsetTail,
		"battery": k.paintBattery, "ground_stud": k.paintStud, "fusebox": k.paintFuseBox, "fusebox_lid": k.paintFuseLid,
		"relay": k.paintRelay, "main_relay": k.paintRelay, "relay_socket": k.paintRelaySocket, "fuse_socket": k.paintFuseSocket,
		"fuse_orange": k.paintFuseOrange, "fuse_blue": k.paintFuseBlue, "ecm_plug": k.paintEcmPlug, "plug_level": k.paintPlug,
		"airbox": k.paintAirbox, "pump": k.paintPump, "airvalve": k.paintValve, "reservoir": k.paintReservoir, "solenoid": k.paintSolenoid,
		"checkvalve": k.paintCheck, "plate": k.paintPlate, "post": k.paintPost, "cable": k.paintCable, "panel": k.paintPanel, "crate": k.paintCrate, "gap": k.paintGap,
		"body_round": k.paintBodyRound, "arch": k.paintArch, "engine_dual": k.paintEngineDual, "airbox_flat": k.paintAirboxFlat,
		"pump_upright": k.paintPumpUpright, "airvalve_push": k.paintValvePush, "manifold_cast": k.paintManifoldCast,
		"strip_box": k.paintStripBox, "fuse_strip": k.paintFuseStrip, "strip_lid": k.paintStripLid, "block_stud": k.paintBlockStud,
		"relay_small": k.paintRelaySmall, "cabin_pods": k.paintCabinPods, "tail_hatch": k.paintTailHatch,
		"body_old": k.paintBodyOld, "bulkhead": k.paintBulkhead, "engine_upright": k.paintEngineUpright, "belt_run": k.paintBeltRun,
		"air_cleaner": k.paintAirCleaner, "pump_belt": k.paintPumpBelt, "diverter": k.paintDiverter, "check_flap": k.paintCheckFlap,
		"manifold_rail": k.paintManifoldRail, "plenum_old": k.paintPlenumOld, "belt_floor": k.paintBeltFloor, "crank_wheel": k.paintCrankWheel,
		"fuse_panel": k.paintFusePanel, "fuse_red": k.paintFuseRed, "battery_old": k.paintBatteryOld, "fan_old": k.paintFanOld,
		"cabin_old": k.paintCabinOld, "tail_old": k.paintTailOld,
		"body_wide": k.paintBodyWide, "engine_vee": k.paintEngineVee, "brace": k.paintBrace, "pump_long": k.paintPumpLong, "fork": k.paintFork,
		"tee": k.paintTee, "head_vee": k.paintHeadVee, "valley": k.paintValley, "plenum_vee": k.paintPlenumVee,
		"cabin_wide": k.paintCabinWide, "tail_wide": k.paintTailWide,
	}
	return k
}

// Paint paints a thing by its kind and tells whether there is such a kind.
func (k *Kit) Paint(kind string, l *paint.List, r paint.Rect) bool {
	f := k.table[kind]
	if f != nil {
		f(l, r)
	}
	return f != nil
}

// Has tells whether the kit can paint a kind of thing.
func (k *Kit) Has(kind string) bool { return k.table[kind] != nil }

// Materials that the scene paints with too.
var (
	Steel  = alloyHi
	Iron   = alloyLo
	Brass  = brass
	Rubber = rubber
	Casing = plasHi
	Tag    = labelled
	Vacuum = vacuum
)

// Materials.
var (
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

// Ink are the colours that a drawing's wires and hoses may name.
func Ink(name string) paint.Ink {
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
	case "steel":
		return alloy
	case "duct":
		return paint.RGB(0x30393d)
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

// Sub is part of a box by shares of its width and height.
func Sub(r paint.Rect, x, y, w, h float64) paint.Rect {
	return paint.Rect{X: r.X + r.W*x, Y: r.Y + r.H*y, W: r.W * w, H: r.H * h}
}

// Pt is a point of a box by shares of its width and height.
func Pt(r paint.Rect, x, y float64) paint.Pt { return paint.Pt{X: r.X + r.W*x, Y: r.Y + r.H*y} }

// Tube paints a hose or cable along points: dark edge, body, a lighter line along it.
func Tube(m *paint.Mesh, pts []paint.Pt, width float64, ink paint.Ink) {
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

// Ribs paints the rings of a corrugated hose.
func Ribs(m *paint.Mesh, pts []paint.Pt, width float64) {
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
