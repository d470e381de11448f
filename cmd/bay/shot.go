package main

import (
	"fmt"
	"image/png"
	"os"

	"github.com/hajimehoshi/ebiten/v2"

	"coldbay/scenes/stage"
)

// takeShot makes the window write its picture after some frames and end.
func takeShot(d *stage.Director, o options) {
	frames, saved := 0, error(nil)
	d.After = func(screen *ebiten.Image) {
		if frames++; frames == o.frames {
			saved = savePNG(o.shot, screen)
		}
	}
	d.Before = func() error {
		if frames < o.frames {
			return nil
		}
		if saved != nil {
			return saved
		}
		return ebiten.Termination
	}
}

func savePNG(path string, screen *ebiten.Image) error {
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("save the picture: %w", err)
	}
	if err := png.Encode(f, screen); err != nil {
		f.Close()
		return fmt.Errorf("save the picture %s: %w", path, err)
	}
	return f.Close()
}
