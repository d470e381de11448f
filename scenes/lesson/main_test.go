package lesson_test

import (
	"os"
	"testing"

	"github.com/hajimehoshi/ebiten/v2"
)

// game hands the tests to the first update of a running engine, so that pictures can be drawn and read back.
type game struct {
	m    *testing.M
	code int
}

func (g *game) Update() error {
	g.code = g.m.Run()
	return ebiten.Termination
}

func (*game) Draw(*ebiten.Image) {}

func (*game) Layout(w, h int) (int, int) { return w, h }

func TestMain(m *testing.M) {
	g := &game{m: m, code: 1}
	ebiten.SetWindowSize(320, 180)
	if err := ebiten.RunGame(g); err != nil {
		panic(err)
	}
	os.Exit(g.code)
}
