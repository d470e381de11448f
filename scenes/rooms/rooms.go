// Package rooms puts all scenes onto one stage.
package rooms

import (
	"coldbay/assets/messages"
	"coldbay/scenarios/lessons"
	"coldbay/scenes/bay"
	"coldbay/scenes/board"
	"coldbay/scenes/cutaway"
	"coldbay/scenes/debrief"
	"coldbay/scenes/info"
	"coldbay/scenes/lesson"
	"coldbay/scenes/notebook"
	"coldbay/scenes/order"
	"coldbay/scenes/scantool"
	"coldbay/scenes/settings"
	"coldbay/scenes/sound"
	"coldbay/scenes/stage"
)

// New makes the window's game over the given work orders.
func New(orders stage.Orders, msg *messages.Catalogue) (*stage.Director, error) {
	desk := stage.NewDesk(orders, msg)
	shelf, open := lesson.New(desk, lessons.Builtin)
	var d *stage.Director
	heard := func() sound.State {
		if d == nil {
			return sound.Off
		}
		s, _ := d.Sound.State()
		return s
	}
	car := bay.New(desk)
	d, err := stage.New(desk, map[string]stage.Scene{
		stage.Board: board.New(desk), stage.Sheet: order.New(desk), stage.Bay: car, stage.Info: info.New(desk, car),
		stage.ScanTool: scantool.New(desk), stage.Notebook: notebook.New(desk), stage.Debrief: debrief.New(desk),
		stage.Settings: settings.New(desk, heard),
		stage.Lessons:  shelf, stage.Lesson: open, stage.Cutaway: cutaway.New(desk, lessons.Builtin),
	})
	return d, err
}
