package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"runtime"
)

// errNoDisplay means that there is no screen to show a browser on.
var errNoDisplay = errors.New("no display")

// openBrowser asks the system to show url in the person's usual browser. It
// doesn't wait for the browser to end.
func openBrowser(url string) error {
	var cmd *exec.Cmd
	switch runtime.GOOS {
	case "windows":
		cmd = exec.Command("rundll32", "url.dll,FileProtocolHandler", url)
	case "darwin":
		cmd = exec.Command("open", url)
	default:
		if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
			return errNoDisplay
		}
		cmd = exec.Command("xdg-open", url)
	}
	if err := cmd.Start(); err != nil {
		return fmt.Errorf("open the browser: %w", err)
	}
	go func() { _ = cmd.Wait() }() // reaps the opener, whose exit code says nothing useful
	return nil
}
