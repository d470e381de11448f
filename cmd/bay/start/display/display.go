// Package display tells whether there is an X screen to open a window on.
package display

import (
	"errors"
	"fmt"
	"net"
	"strconv"
	"strings"
)

const remedy = "; start it in a desktop session (X11, or Wayland with Xwayland; over ssh with -X), or open the bay in a browser with: coldbay"

// Lacking says why no window can be opened on a display, by name: host:number.screen, where no host means this machine. Reach tries to reach a
// display of this machine by its number.
func Lacking(display string, reach func(number int) error) error {
	if display == "" {
		return errors.New("there is no screen to open a window on: DISPLAY is not set" + remedy)
	}
	host, rest, ok := strings.Cut(display, ":")
	if ok && host != "" && host != "unix" {
		return nil // another machine's: the engine will find out
	}
	number, _, _ := strings.Cut(rest, ".")
	n, err := strconv.Atoi(number)
	if !ok || err != nil || n < 0 {
		if strings.HasPrefix(display, "/") {
			return nil // a socket by its path, as some systems have it
		}
		return fmt.Errorf("DISPLAY is %q, and no screen has such a name; it looks like :0%s", display, remedy)
	}
	if err := reach(n); err != nil {
		return fmt.Errorf("no screen answers on DISPLAY %s (%w)%s", display, err, remedy)
	}
	return nil
}

// Reach connects to a display's socket and hangs up: the abstract one, the one in the file system, or the network's on this machine.
func Reach(number int) error {
	path := "/tmp/.X11-unix/X" + strconv.Itoa(number)
	first := error(nil)
	for _, at := range [][2]string{{"unix", path}, {"unix", "@" + path}, {"tcp", net.JoinHostPort("localhost", strconv.Itoa(6000+number))}} {
		c, err := net.Dial(at[0], at[1])
		if err == nil {
			return c.Close()
		}
		if first == nil {
			first = err
		}
	}
	return first
}
