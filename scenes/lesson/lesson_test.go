package lesson_test

import (
	"fmt"
	"testing"

	"coldbay/scenarios/lessons"
	"coldbay/scenes/stage"

	"github.com/stretchr/testify/require"
)

// views are the windows in which everything has to be legible.
var views = []struct {
	w, h float64
	lang string
}{{1024, 600, "en"}, {1280, 720, "en"}, {1024, 600, "de"}, {1024, 600, "es"}}

// Every page of every lesson, before and after its answer, has no overlapping, cut or lost words and no controls on each other.
func TestLessonsAreLegible(t *testing.T) {
	for _, v := range views {
		t.Run(fmt.Sprintf("%gx%g %s", v.w, v.h, v.lang), func(t *testing.T) {
			x := open(t, v.w, v.h, v.lang)
			tag := map[string]string{"en": "", "de": "-de", "es": "-es"}[v.lang]
			x.good("shelf" + tag)
			shelf, err := lessons.Builtin()
			require.NoError(t, err)
			for _, l := range shelf.Lessons {
				x.lesson.Open(l.ID)
				x.settle()
				for x.Desk.Scene() == stage.Lesson {
					_, step, asking := x.lesson.Lesson()
					name := fmt.Sprintf("lesson%s-%d-%d", tag, l.Number, step+1)
					if !asking {
						if p := x.panel(); p.Playing() {
							p.Seek(p.Shown().At + 0.7*(p.Shown().Until-p.Shown().At))
							p.Play()
						}
						x.settle()
						x.good(name)
					} else {
						x.good(name + "-ask")
						x.wrong(l.Steps[step].Ask)
						x.good(name + "-judged")
					}
					x.press("lesson.next")
				}
			}
		})
	}
}

// wrong answers a question wrongly.
func (x *house) wrong(a *lessons.Ask) {
	x.t.Helper()
	switch a.Kind {
	case lessons.Number:
		c, ok := x.Page.Find("lesson.number")
		require.True(x.t, ok)
		c.Edit("99.5")
		x.settle()
	case lessons.Choice:
		for i, o := range a.Options {
			if !o.Right {
				x.press(fmt.Sprintf("lesson.option.%d", i))
				break
			}
		}
	default:
		for i, s := range a.Suspects {
			if !s.Struck {
				x.press(fmt.Sprintf("lesson.option.%d", i))
				break
			}
		}
	}
	x.press("lesson.answer")
}
