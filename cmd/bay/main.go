package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/hajimehoshi/ebiten/v2"

	"coldbay/assets/messages"
	"coldbay/cmd/bay/start"
	"coldbay/scenes/lesson"
	"coldbay/scenes/platform"
	"coldbay/scenes/prefs"
	"coldbay/scenes/rooms"
	"coldbay/scenes/sound"
	"coldbay/scenes/stage"
)

// version is set when a release is linked.
var version = "dev"

// options are the program's flags.
type options struct {
	order  string
	lesson string
	w, h   int
	still  bool
	audio  string
	lang   string
	shot   string
	frames int
}

func parse(args []string, out io.Writer) (options, error) {
	o := options{w: stage.UsualW, h: stage.UsualH, frames: 60}
	fs := flag.NewFlagSet("bay", flag.ContinueOnError)
	fs.SetOutput(out)
	fs.Usage = func() { fmt.Fprint(out, start.Usage) }
	size := ""
	fs.StringVar(&o.order, "order", "", "")
	fs.StringVar(&o.lesson, "lesson", "", "")
	fs.StringVar(&size, "size", "", "")
	fs.BoolVar(&o.still, "still", false, "")
	fs.StringVar(&o.audio, "audio", "on", "")
	fs.StringVar(&o.lang, "lang", "", "")
	fs.StringVar(&o.shot, "shot", "", "")
	fs.IntVar(&o.frames, "frames", o.frames, "")
	if err := fs.Parse(args); err != nil {
		return o, err
	}
	if fs.NArg() > 0 {
		return o, fmt.Errorf("%q is not expected here; see bay -help", fs.Arg(0))
	}
	if size != "" {
		if _, err := fmt.Sscanf(size, "%dx%d", &o.w, &o.h); err != nil || o.w < 400 || o.h < 240 || o.w > 8192 || o.h > 8192 {
			return o, fmt.Errorf("-size %s: want width x height in between 400x240 and 8192x8192, such as 1280x720", size)
		}
	}
	if o.audio != "on" && o.audio != "off" {
		return o, fmt.Errorf("-audio %s: want on or off", o.audio)
	}
	if o.lang != "" && !slices.Contains(messages.Languages(), o.lang) {
		return o, fmt.Errorf("-lang %s: want one of %s", o.lang, strings.Join(messages.Languages(), ", "))
	}
	if o.frames < 1 {
		return o, fmt.Errorf("-frames %d: want at least 1", o.frames)
	}
	return o, nil
}

// run opens the window and returns when it is closed.
func run(o options) error {
	saved, kept := prefs.Load()
	for _, lang := range []string{platform.Query("lang"), o.lang} {
		if slices.Contains(messages.Languages(), lang) {
			saved.Lang = lang
		}
	}
	msg, err := messages.Load(saved.Lang)
	if err != nil {
		return err
	}
	orders, err := newOrders(msg)
	if err != nil {
		return err
	}
	d, err := rooms.New(orders, msg)
	if err != nil {
		return err
	}
	d.Desk.Prefs, d.Desk.Keep = saved, prefs.Prefs.Save
	if kept != nil {
		d.Desk.Say(kept.Error(), true)
	}
	d.Sound = sound.New(saved.Sound, o.audio == "off" || platform.Query("audio") == "off" || o.shot != "")
	if o.order == "" {
		o.order = platform.Query("order")
	}
	if o.lesson == "" {
		o.lesson = platform.Query("lesson")
	}
	if s, ok := d.Scenes[stage.Lesson].(*lesson.Scene); ok && o.lesson != "" {
		s.Open(o.lesson)
	}
	if o.still {
		d.Still = true
	}
	if o.order != "" {
		d.First = o.order
	}
	if o.shot != "" {
		takeShot(d, o)
	}
	d.Keep = true
	ebiten.SetScreenClearedEveryFrame(false)
	ebiten.SetWindowTitle(msg.T("app.name"))
	ebiten.SetWindowSize(o.w, o.h)
	ebiten.SetWindowResizingMode(ebiten.WindowResizingModeEnabled)
	err = ebiten.RunGame(d)
	if errors.Is(err, ebiten.Termination) {
		err = nil
	}
	if err != nil {
		err = fmt.Errorf("the window: %w", err)
	}
	return errors.Join(err, d.Sound.Close())
}

func main() {
	o, err := parse(os.Args[1:], os.Stderr)
	if errors.Is(err, flag.ErrHelp) {
		return
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "bay:", err)
		os.Exit(2)
	}
	if err := run(o); err != nil {
		fmt.Fprintln(os.Stderr, "bay:", err)
		os.Exit(1)
	}
}
