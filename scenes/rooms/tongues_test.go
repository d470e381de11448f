package rooms_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/assets/messages"
	"coldbay/scenarios"
	"coldbay/scenes/stage"
	"coldbay/scenes/standin"
	"coldbay/sim/bench"
	"coldbay/sim/bench/phrase"
)

// The pictures and diagrams of every car have room for their labels in every language.
func TestEveryCarInEveryLanguage(t *testing.T) {
	for _, lang := range messages.Languages()[1:] {
		for _, id := range shippedCars(t) {
			t.Run(lang+" "+id, func(t *testing.T) {
				x := openWith(t, 1024, 600, lang, &standin.Orders{Car: id})
				x.press("board.open.first", "order.read", "order.go")
				stop := func(name string) {
					for _, f := range x.Built().Faults() {
						t.Errorf("%s: %s", name, f)
					}
					x.shot("tongue-" + lang + "-" + id + "-" + name)
				}
				for _, p := range x.Desk.Cat.Places {
					x.press("go." + p.ID)
					for _, tool := range []string{"eye", "hands", "meter"} {
						x.press("tool." + tool)
						stop(p.ID + "-" + tool)
					}
				}
				for _, sheet := range []string{"air", "wiring", "spec", "causes"} {
					x.press("way.info", "info."+sheet)
					stop(sheet)
				}
			})
		}
	}
}

// What the work orders say fits on the job board and on the form in every language.
func TestEveryOrderInEveryLanguage(t *testing.T) {
	lib, err := scenarios.Builtin()
	require.NoError(t, err)
	for _, lang := range messages.Languages() {
		msg, err := messages.Load(lang)
		require.NoError(t, err)
		x := openWith(t, 1024, 600, lang, &standin.Orders{})
		var list []stage.Order
		for _, o := range lib.ByLevel() {
			said := phrase.Order(msg, o.Order)
			list = append(list, stage.Order{ID: o.Order.ID, Title: said.Title, Customer: said.Customer, Vehicle: said.Vehicle, Complaint: said.Complaint,
				Minutes: o.Order.Minutes, Level: int(o.Level()), Suspects: o.Suspects()})
		}
		x.Desk.List = list
		x.Desk.Touch()
		x.settle()
		for page := 0; ; page++ {
			for _, f := range x.Built().Faults() {
				t.Errorf("%s: board, page %d: %s", lang, page, f)
			}
			x.shot("tongue-" + lang + "-board" + string(rune('0'+page)))
			c, ok := x.Page.Find("board.page.on")
			if !ok || c.Off {
				break
			}
			x.press("board.page.on")
		}
		x.press("board.page.back", "board.page.back")
		x.Desk.Go(stage.Board)
		x.settle()
		x.Desk.Open("first", false)
		x.settle()
		for _, o := range lib.ByLevel() {
			l, err := bench.NewLocal(lib.Config(o, "test"))
			require.NoError(t, err)
			x.Desk.Cat = phrase.Named(msg, o.Order.Car, l.Catalogue())
			x.Desk.Go(stage.Sheet)
			x.Desk.Touch()
			x.settle()
			for _, f := range x.Built().Faults() {
				t.Errorf("%s: order %s: %s", lang, o.Order.ID, f)
			}
			x.shot("tongue-" + lang + "-order-" + o.Order.ID)
		}
	}
}
