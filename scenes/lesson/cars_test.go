package lesson_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/cutaway"
	"coldbay/scenes/paint"
	"coldbay/scenes/stage"
)

// Every car can be chosen in the cutaway by itself, and each is legible in every view, alone and with a car beside it, whether its numbers are
// there (in the first window) or still being worked out. No part is without its name: it stands beside it, or in the key to its number.
func TestEveryCarIsLaidOpen(t *testing.T) {
	shelf, err := lessons.Builtin()
	require.NoError(t, err)
	require.Equal(t, []string{"car_a", "car_b", "car_c", "car_d"}, shelf.Cars())
	for n, v := range views {
		t.Run(fmt.Sprintf("%gx%g %s", v.w, v.h, v.lang), func(t *testing.T) {
			x := open(t, v.w, v.h, v.lang)
			x.hasty = n > 0 && os.Getenv("COLDBAY_SHOTS") == ""
			x.press("lesson.free", "cutaway.car")
			x.good("cars-" + v.lang)
			x.press("car.close")
			for _, car := range shelf.Cars() {
				if x.panel().Sheet.CarOf().ID != car {
					x.press("cutaway.car", "car."+car)
				}
				require.Equal(t, stage.Cutaway, x.Desk.Scene())
				p := x.panel()
				require.Equal(t, car, p.Sheet.CarOf().ID)
				p.Seek(30)
				x.settle()
				for _, view := range p.Sheet.ViewIDs() {
					x.press("view."+view, "beside.nothing")
					x.good(car + "-" + v.lang + "-" + view)
					x.named(p)
					if n == 0 {
						x.read(p)
					}
					x.press("beside.without_air")
					x.good(car + "-" + v.lang + "-" + view + "-two")
					x.named(p)
				}
				x.press("view.all", "beside.nothing")
			}
			x.panel().Leave()
		})
	}
}

// read requires that a reading of every part in view that has one is written on the screen: at the part, or in the key.
func (x *house) read(p *cutaway.Panel) {
	x.t.Helper()
	f, ok := p.Film(p.Shown().Run, p.Shown().Who())
	require.True(x.t, ok)
	wanted := map[string]int{}
	for n := range p.Sheet.Items {
		it := &p.Sheet.Items[n]
		if _, shown := x.Page.Find("part.0." + it.ID); !shown || len(it.Shows) == 0 {
			continue
		}
		c, ok := p.Sheet.Channel(it.Shows[0])
		require.True(x.t, ok)
		wanted[strings.TrimSpace(fmt.Sprintf("%.*f %s", c.Digits, f.Channel(c, p.At())+1e-9, c.Unit))]++
	}
	for value, times := range wanted {
		got := 0
		for _, w := range x.Built().Front.Words {
			if w.S == value || strings.HasSuffix(w.S, " "+value) {
				got++
			}
		}
		if got < times {
			x.t.Errorf("%s, view %s: %q stands %d times on the screen; that many parts read it: %d", p.Sheet.CarOf().ID, p.Shown().View, value, got, times)
		}
	}
}

// named requires that the name of every part in view is written on the screen.
func (x *house) named(p *cutaway.Panel) {
	x.t.Helper()
	for n := range p.Sheet.Items {
		id := p.Sheet.Items[n].ID
		if _, shown := x.Page.Find("part.0." + id); !shown {
			continue
		}
		name := x.Desk.Msg.T("cutaway.part." + id)
		if !slices.ContainsFunc(x.Built().Front.Words, func(w paint.Word) bool { return w.S == name }) {
			x.t.Errorf("%s, view %s: %q has no name on the screen", p.Sheet.CarOf().ID, p.Shown().View, name)
		}
	}
}
