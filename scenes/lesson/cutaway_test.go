package lesson_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"coldbay/scenes/stage"
)

// The cutaway by itself is legible in every view, alone and with a car beside it, with every fault's name, and with its list of faults.
func TestCutawayIsLegible(t *testing.T) {
	for _, v := range views {
		t.Run(fmt.Sprintf("%gx%g %s", v.w, v.h, v.lang), func(t *testing.T) {
			x := open(t, v.w, v.h, v.lang)
			tag := map[string]string{"en": "", "de": "-de", "es": "-es"}[v.lang]
			x.press("lesson.free")
			require.Equal(t, stage.Cutaway, x.Desk.Scene())
			p := x.panel()
			p.Seek(30)
			x.settle()
			for _, view := range p.Sheet.ViewIDs() {
				x.press("view."+view, "beside.nothing")
				x.good("cut" + tag + "-" + view)
				x.press("beside.without_air")
				x.good("cut" + tag + "-" + view + "-two")
			}
			x.press("view.all", "beside.healthy", "run.actuator")
			x.good("cut" + tag + "-actuator")
			x.press("run.cold_start", "beside.nothing", "cutaway.fault")
			x.good("cut" + tag + "-faults")
			x.press("fault.page.on")
			x.good("cut" + tag + "-faults-2")
			x.press("fault.close")
			for _, f := range p.Sheet.CarOf().Faults {
				p.Fault(f.ID)
				x.settle()
				for _, bad := range x.Built().Faults() {
					t.Errorf("%s: %s", f.ID, bad)
				}
			}
			p.Fault("valve_line_split")
			p.Severity(0.6)
			p.Seek(40)
			x.settle()
			x.press("part.0.reservoir")
			x.good("cut" + tag + "-fault")
		})
	}
}
