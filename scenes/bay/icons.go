package bay

import (
	"math"

	"coldbay/scenes/bay/art"
	"coldbay/scenes/paint"
)

// icon paints a tool's sign into a box, in one ink: outlines of our own.
func icon(t tool) func(l *paint.List, r paint.Rect, ink paint.Ink) {
	return func(l *paint.List, box paint.Rect, ink paint.Ink) {
		s := math.Min(box.W, box.H)
		r := paint.Rect{X: box.X + (box.W-s)/2, Y: box.Y + (box.H-s)/2, W: s, H: s}
		w := s * 0.085
		p := func(x, y float64) paint.Pt { return art.Pt(r, x, y) }
		line := func(pts ...paint.Pt) { l.Rope(pts, w, ink) }
		switch t {
		case toolStep:
			line(p(.5, .12), p(.5, .88))
			line(p(.12, .5), p(.88, .5))
			l.Ring(p(.5, .5), s*.3, w, ink)
		case toolEye:
			line(paint.Curve([]paint.Pt{p(.06, .5), p(.28, .26), p(.5, .2), p(.72, .26), p(.94, .5)})...)
			line(paint.Curve([]paint.Pt{p(.06, .5), p(.28, .74), p(.5, .8), p(.72, .74), p(.94, .5)})...)
			l.Disc(p(.5, .5), s*.15, ink)
		case toolEar:
			line(paint.Curve([]paint.Pt{p(.3, .42), p(.36, .16), p(.6, .1), p(.78, .28), p(.72, .52), p(.58, .66), p(.54, .84), p(.4, .92), p(.3, .82)})...)
			line(paint.Curve([]paint.Pt{p(.44, .4), p(.54, .28), p(.62, .4), p(.52, .54)})...)
		case toolHand:
			for i, h := range []float64{.26, .12, .16, .28} {
				x := .30 + .14*float64(i)
				line(p(x, .6), p(x, h))
			}
			line(p(.16, .48), p(.3, .68))
			l.Box(art.Sub(r, .25, .52, .54, .36), s*.14, ink)
		case toolHands:
			line(p(.18, .86), p(.56, .46))
			l.Arc(p(.68, .32), s*.2, 20, 290, w*1.3, ink)
			line(p(.60, .90), p(.88, .62))
			line(p(.70, .68), p(.80, .82))
		case toolMeter:
			l.Frame(art.Sub(r, .2, .06, .6, .88), s*.08, w*.8, ink)
			l.Box(art.Sub(r, .3, .17, .4, .2), 1, ink)
			l.Ring(p(.5, .6), s*.13, w*.8, ink)
			line(p(.5, .6), p(.58, .52))
		case toolClamp:
			l.Arc(p(.5, .34), s*.25, -60, 240, w*1.4, ink)
			line(p(.36, .56), p(.36, .92))
			line(p(.64, .56), p(.64, .92))
			line(p(.36, .92), p(.64, .92))
			l.Disc(p(.5, .34), s*.06, ink)
		case toolLamp:
			l.Ring(p(.62, .34), s*.2, w, ink)
			line(p(.54, .27), p(.7, .42))
			line(p(.7, .27), p(.54, .42))
			line(p(.46, .48), p(.12, .88))
		case toolSmoke:
			for i := range 3 {
				x := .26 + .22*float64(i)
				line(paint.Curve([]paint.Pt{p(x, .6), p(x-.08, .46), p(x+.08, .3), p(x, .12)})...)
			}
			l.Box(art.Sub(r, .12, .68, .7, .22), s*.06, ink)
		case toolGas:
			l.Frame(art.Sub(r, .3, .08, .62, .5), s*.06, w*.8, ink)
			line(p(.4, .46), p(.5, .3), p(.6, .4), p(.82, .2))
			line(paint.Curve([]paint.Pt{p(.44, .6), p(.4, .84), p(.2, .86), p(.08, .74)})...)
		case toolJumper:
			line(paint.Curve([]paint.Pt{p(.2, .3), p(.2, .6), p(.4, .78), p(.6, .6), p(.8, .44), p(.8, .7)})...)
			l.Box(art.Sub(r, .1, .1, .2, .24), 2, ink)
			l.Box(art.Sub(r, .7, .66, .2, .24), 2, ink)
		case toolHandPump:
			line(p(.1, .66), p(.62, .66))
			line(p(.1, .52), p(.1, .8))
			l.Frame(art.Sub(r, .36, .54, .36, .24), 2, w, ink)
			l.Ring(p(.74, .28), s*.19, w, ink)
			line(p(.74, .28), p(.84, .2))
			line(p(.72, .66), p(.92, .66))
		case toolBreath:
			for i, y := range []float64{.3, .5, .7} {
				line(paint.Curve([]paint.Pt{p(.1, y), p(.34, y-.08), p(.58, y+.06), p(.82-.1*math.Abs(float64(i)-1), y)})...)
			}
			line(p(.78, .4), p(.92, .5), p(.78, .6))
		case toolScan:
			l.Frame(art.Sub(r, .14, .1, .5, .8), s*.07, w, ink)
			l.Box(art.Sub(r, .24, .22, .3, .3), 1, ink)
			line(p(.64, .74), p(.8, .74), p(.8, .5))
			l.Box(art.Sub(r, .7, .3, .22, .2), 1, ink)
		case toolExtract:
			l.Ring(p(.26, .56), s*.15, w, ink)
			line(paint.Curve([]paint.Pt{p(.3, .4), p(.5, .26), p(.7, .4), p(.9, .2)})...)
			line(paint.Curve([]paint.Pt{p(.34, .7), p(.56, .54), p(.74, .68), p(.92, .48)})...)
		case toolHelper:
			l.Disc(p(.36, .26), s*.13, ink)
			l.Box(art.Sub(r, .18, .44, .36, .46), s*.14, ink)
			line(p(.68, .5), p(.92, .5))
			line(p(.8, .38), p(.8, .62))
		case toolRepair:
			l.Box(art.Sub(r, .08, .62, .84, .12), 1, ink)
			line(p(.2, .74), p(.2, .92))
			line(p(.8, .74), p(.8, .92))
			line(p(.34, .56), p(.62, .2))
			l.Box(art.Sub(r, .52, .08, .26, .2), 2, ink)
		}
	}
}
